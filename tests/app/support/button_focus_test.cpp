// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A push button keeps the room of its words when it takes the focus, and the focus is seen: at least 2 px
// of 3:1 all round (WCAG 2.1, success criteria 1.4.11 and 2.4.7; 2.4.13 of WCAG 2.2 for the 2 px).

#include "app/support/text_widgets.h"
#include "app/support/theme.h"

#include "contrast.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QDialog>
#include <QDialogButtonBox>
#include <QPushButton>
#include <QStyleOptionButton>
#include <QTest>
#include <QVBoxLayout>

namespace markerlamp::app {
namespace {

using testing::contrast;

using Choice = Theme::Choice;

/// The program's buttons of every kind, in a dialog as the program has them.
class ButtonFocus : public ::testing::TestWithParam<Choice> {
protected:
    ButtonFocus() : m_styleSheet(qApp->styleSheet()), m_font(QApplication::font()) {
        m_theme.setChoice(GetParam());
        QApplication::setFont(m_theme.font(15));
        QApplication::setPalette(m_theme.palette());
        qApp->setStyleSheet(m_theme.styleSheet());
        m_dialog = std::make_unique<QDialog>();
        auto* column = new QVBoxLayout(m_dialog.get());
        m_box = new QDialogButtonBox;
        m_box->addButton(QStringLiteral("&Keep the changes"), QDialogButtonBox::AcceptRole)
            ->setProperty("primary", true);
        m_box->addButton(QStringLiteral("&Print..."), QDialogButtonBox::ActionRole);
        m_box->addButton(QStringLiteral("Close"), QDialogButtonBox::RejectRole);
        column->addWidget(new QPushButton(QStringLiteral("&Choose another...")));
        column->addWidget(makeLink(m_theme, QStringLiteral("weakest first")));
        column->addWidget(new KeyButton(m_theme, QStringLiteral("Amend"), QStringLiteral("Ctrl+E")));
        column->addWidget(new KeyButton(m_theme, QStringLiteral("Start"), QStringLiteral("Ctrl+N"), true));
        column->addWidget(m_box);
        m_dialog->show();
        QApplication::setActiveWindow(m_dialog.get());
    }
    ~ButtonFocus() override {
        m_dialog.reset();
        qApp->setStyleSheet(m_styleSheet);
        QApplication::setPalette(QPalette());
        QApplication::setFont(m_font);
    }

    [[nodiscard]] std::vector<QPushButton*> buttons() const {
        const auto all = m_dialog->findChildren<QPushButton*>();
        return {all.begin(), all.end()};
    }
    static QRect roomFor(const QPushButton& button, bool focus) {
        QStyleOptionButton option;
        option.initFrom(&button);
        option.text = button.text();
        option.state.setFlag(QStyle::State_HasFocus, focus);
        option.state.setFlag(QStyle::State_Raised);
        return button.style()->subElementRect(QStyle::SE_PushButtonContents, &option, &button);
    }
    /// The button on the ground of its dialog.
    [[nodiscard]] QImage look(QPushButton& button, bool focus) const {
        if (focus)
            button.setFocus(Qt::TabFocusReason);
        else
            button.clearFocus();
        QTest::qWait(1);
        EXPECT_EQ(button.hasFocus(), focus);
        QImage image(button.size(), QImage::Format_RGB32);
        image.fill(m_theme.roles().ground);
        button.render(&image, QPoint(), QRegion(), QWidget::DrawChildren);
        return image;
    }

    Theme m_theme;
    std::unique_ptr<QDialog> m_dialog;
    QDialogButtonBox* m_box = nullptr;

private:
    QString m_styleSheet;
    QFont m_font;
};

TEST_P(ButtonFocus, KeepsTheRoomOfTheWords) {
    for (QPushButton* button : buttons()) {
        if (qobject_cast<KeyButton*>(button) != nullptr) continue;  // painted whole, not by the style
        SCOPED_TRACE(button->text().toStdString());
        const QRect without = roomFor(*button, false), with = roomFor(*button, true);
        EXPECT_TRUE(with == without);
        const QSize words = button->fontMetrics().size(Qt::TextShowMnemonic, button->text());
        EXPECT_GE(with.width(), words.width());
        EXPECT_GE(with.height(), words.height());
    }
}

/// Under System the style of the desktop draws the focus.
class FocusWeDraw : public ButtonFocus {};

TEST_P(FocusWeDraw, LeavesTheWordsAsTheyWere) {
    for (QPushButton* button : buttons()) {
        SCOPED_TRACE(button->text().toStdString());
        QRect words = button->fontMetrics().tightBoundingRect(button->text());
        words.moveCenter(button->rect().center());
        EXPECT_EQ(look(*button, true).copy(words), look(*button, false).copy(words));
    }
}

TEST_P(FocusWeDraw, IsSeenOnEverySide) {
    for (QPushButton* button : buttons()) {
        SCOPED_TRACE(button->text().toStdString());
        const QImage with = look(*button, true), without = look(*button, false);
        const QPoint middle = button->rect().center();
        const struct {
            QPoint edge, inwards;
        } sides[]{{{0, middle.y()}, {1, 0}},
                  {{button->width() - 1, middle.y()}, {-1, 0}},
                  {{middle.x(), 0}, {0, 1}},
                  {{middle.x(), button->height() - 1}, {0, -1}}};
        for (const auto& side : sides) {
            EXPECT_GE(contrast(with.pixelColor(side.edge), m_theme.roles().ground), 3)
                << "the frame reaches the edge: a shrunken fill alone is no focus";
            int wide = 0, widest = 0;
            for (int depth = 0; depth < 10; ++depth) {
                const QPoint at = side.edge + depth * side.inwards;
                wide = contrast(with.pixelColor(at), without.pixelColor(at)) >= 3 ? wide + 1 : 0;
                widest = std::max(widest, wide);
            }
            EXPECT_GE(widest, 2) << side.inwards.x() << "," << side.inwards.y();
        }
    }
}

INSTANTIATE_TEST_SUITE_P(Palettes, ButtonFocus,
                         ::testing::Values(Choice::Day, Choice::Sun, Choice::PreDawn, Choice::System));
INSTANTIATE_TEST_SUITE_P(Palettes, FocusWeDraw, ::testing::Values(Choice::Day, Choice::Sun, Choice::PreDawn));

}  // namespace
}  // namespace markerlamp::app
