#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Small building blocks of the pages: text in a role of the palette, the head of a block, a button with its
// key behind the verb, and the one-button empty state.

#include "app/support/theme.h"

#include <QAction>
#include <QLabel>
#include <QPushButton>

class QHBoxLayout;

namespace markerlamp::app {

enum class Ink { Full, Muted, Shown, Said };

/// A label whose size and colour follow the theme.
class Text final : public QLabel {
    Q_OBJECT

public:
    Text(const Theme& theme, double designPixels, bool bold = false, Ink ink = Ink::Full,
         const QString& text = {}, QWidget* parent = nullptr);
    void setInk(Ink ink);
    /// Gives way in a narrow row: cut at the end with the whole text as tool tip.
    void setElided();

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    void applyTheme();

    const Theme& m_theme;
    double m_pixels;
    bool m_bold;
    Ink m_ink;
    bool m_elided = false;
};

/// Facts in a row, for a text that wraps: a narrow row breaks between facts and not inside one.
[[nodiscard]] QString factLine(QStringList facts);

/// Head of a block: bold title, muted remark, muted remark at the right, a line under it.
class BlockHead final : public QWidget {
    Q_OBJECT

public:
    BlockHead(const Theme& theme, const QString& title, QWidget* parent = nullptr);
    void setRemark(const QString& remark);
    void setRight(const QString& remark);
    /// A small control at the right end instead of a remark.
    void addRight(QWidget* widget);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    Text* m_title;
    Text* m_remark;
    Text* m_right;
};

/// A push button with the key in small muted type behind the verb; may stand for an action.
class KeyButton final : public QPushButton {
    Q_OBJECT

public:
    KeyButton(const Theme& theme, const QString& verb, const QString& key = {}, bool primary = false,
              QWidget* parent = nullptr);
    /// Triggers the action and follows whether it is enabled; the verb stays.
    void standFor(QAction* action);
    /// For the few buttons that a page ends in: 48 high, larger type.
    void setLarge(bool bold = false);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    [[nodiscard]] QFont verbFont() const;
    [[nodiscard]] QFont keyFont() const;

    const Theme& m_theme;
    QString m_key;
    bool m_large = false;
    bool m_bold = false;
};

/// What a page shows when it has nothing yet: one sentence and one button; a quieter way may follow as a
/// link.
class EmptyState final : public QWidget {
    Q_OBJECT

public:
    EmptyState(const Theme& theme, const QString& title, const QString& sentence, QWidget* parent = nullptr);
    KeyButton* setButton(const QString& verb, const QString& key);
    QPushButton* addLink(const QString& words);
    void setSentence(const QString& sentence);
    void setFoot(const QString& text);

private:
    const Theme& m_theme;
    void place(Text* text);

    Text* m_sentence;
    Text* m_foot;
    QHBoxLayout* m_ways;
};

/// Removes all widgets and layouts below a layout.
void clearLayout(QLayout* layout);

/// A flat, underlined button for a quieter way.
[[nodiscard]] QPushButton* makeLink(const Theme& theme, const QString& words, QWidget* parent = nullptr);
/// In the size of a head's remarks. name: said aloud and shown as tool tip; the words when empty.
[[nodiscard]] QPushButton* makeSmallLink(const Theme& theme, const QString& words, const QString& name = {});

}  // namespace markerlamp::app
