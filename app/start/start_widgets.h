#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of the start form that are painted by hand: rows of trainees, boxes of equipment and zones,
// fields that never clip, numbered heads.

#include "app/support/theme.h"

#include <QCheckBox>
#include <QComboBox>
#include <QLabel>
#include <QListView>
#include <QStyledItemDelegate>
#include <QWheelEvent>

#include <vector>

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

/// Leaves Enter to the page, brings the current row into sight when its size changes, and says why it is
/// empty.
class TraineeList final : public QListView {
    Q_OBJECT

public:
    explicit TraineeList(const Theme& theme, QWidget* parent = nullptr);
    void setEmptyWords(const QString& words);

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    QString m_emptyWords;
};

/// A check box whose words take two lines where one is too short.
class TickBox : public QCheckBox {
    Q_OBJECT

public:
    TickBox(const Theme& theme, const QString& words, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    bool hitButton(const QPoint& position) const override { return rect().contains(position); }
    void paintEvent(QPaintEvent* event) override;
    void paintTick(QPainter& painter, const QRectF& box) const;
    [[nodiscard]] const Theme& theme() const { return m_theme; }

private:
    const Theme& m_theme;
};

/// A zone of the plan that can be taken into the attempt. Disabled: no step of it is on this bus.
class ZoneBox final : public TickBox {
    Q_OBJECT

public:
    ZoneBox(const Theme& theme, const QString& keyCaption, const QString& title, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QString m_key;
};

/// A combo box that elides what is too long, with the whole text as tool tip, and leaves the wheel to the
/// page.
class ChoiceBox final : public QComboBox {
    Q_OBJECT

public:
    ChoiceBox(const Theme& theme, const QString& name, double designPixels, QWidget* parent = nullptr);

protected:
    void wheelEvent(QWheelEvent* event) override { event->ignore(); }
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    double m_pixels;
};

/// One line in the largest of the sizes that fits its width, else two where the height allows; elided, with
/// the whole as tool tip, where nothing fits.
class FitText final : public QLabel {
    Q_OBJECT

public:
    FitText(const Theme& theme, std::vector<double> designPixels, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    std::vector<double> m_sizes;  ///< largest first
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

/// A hairline across the page.
class HairLine final : public QWidget {
    Q_OBJECT

public:
    explicit HairLine(const Theme& theme, QWidget* parent = nullptr);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
};

/// An outline of this width that stays inside the rectangle; dashed: disabled or waiting.
void paintOutline(QPainter& painter, const QRectF& rect, const QColor& color, double width, double radius,
                  bool dashed = false);
/// Lines of `text` that fit `width`, at most `most`, the last one elided.
[[nodiscard]] QStringList wrapped(const QString& text, const QFont& font, double width, int most);

}  // namespace markerlamp::app
