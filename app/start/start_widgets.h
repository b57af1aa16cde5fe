#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of the start form that are painted by hand: rows of trainees, boxes of zones, numbered heads.

#include "app/support/theme.h"

#include <QAbstractButton>
#include <QStyledItemDelegate>

namespace markerlamp::app {

/// Two lines (name; attempts) and the permit at the right.
class TraineeDelegate final : public QStyledItemDelegate {
    Q_OBJECT

public:
    enum Role { Key = Qt::UserRole, Below, Right, RightBold };

    explicit TraineeDelegate(const Theme& theme, QObject* parent = nullptr);
    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override;
    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;

private:
    const Theme& m_theme;
};

/// A zone of the plan that can be taken into the attempt.
class ZoneBox final : public QAbstractButton {
    Q_OBJECT

public:
    ZoneBox(const Theme& theme, const QString& keyCaption, const QString& title, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    QString m_key;
};

/// "1  Trainee": number in an outlined block, bold title.
class NumberedHead final : public QWidget {
    Q_OBJECT

public:
    NumberedHead(const Theme& theme, int number, const QString& title, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    int m_number;
    QString m_title;
};

/// Panel with a two-pixel outline and the bar of what comes first.
class ResumeCard final : public QWidget {
    Q_OBJECT

public:
    explicit ResumeCard(const Theme& theme, QWidget* parent = nullptr);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
};

/// Lines of `text` that fit `width`, at most `most`, the last one elided.
[[nodiscard]] QStringList wrapped(const QString& text, const QFont& font, double width, int most);

}  // namespace markerlamp::app
