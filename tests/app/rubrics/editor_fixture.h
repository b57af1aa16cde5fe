#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The rubric editor in the window over an empty program, and short ways to its parts.

#include "../window_fixture.h"

#include "app/rubrics/editor_page.h"
#include "app/rubrics/effect_block.h"
#include "app/rubrics/rubric_page.h"
#include "app/rubrics/rule_drawing.h"
#include "app/rubrics/step_tree.h"

#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include <stdexcept>
#include <string>

namespace markerlamp::testing {

class EditorFixture : public WindowFixture {
protected:
    using PageId = app::MainWindow::PageId;

    void SetUp() override { openEmpty(); }

    [[nodiscard]] app::EditorPage& page() { return *m_window->findChild<app::EditorPage*>(); }
    [[nodiscard]] app::RubricPage& editions() { return *m_window->findChild<app::RubricPage*>(); }
    [[nodiscard]] app::Draft& draft() { return *page().draft(); }
    [[nodiscard]] const core::Rubric& rubric() { return draft().rubric(); }
    [[nodiscard]] db::ProgramFile& file() { return m_window->session()->file(); }
    [[nodiscard]] app::StepTree& tree() { return *page().findChild<app::StepTree*>(); }
    [[nodiscard]] app::RuleDrawing& rules() { return *page().findChild<app::RuleDrawing*>(); }
    template <class W>
    W& named(const char* name) {
        for (auto* one : page().findChildren<W*>())
            if (one->isVisible() && one->accessibleName() == QLatin1String(name)) return *one;
        throw std::runtime_error(std::string("nothing is called ") + name);
    }
    [[nodiscard]] QLineEdit& field(const char* name) { return named<QLineEdit>(name); }

    void begin(const char* id = "air-brake-school-bus") {
        m_window->showPage(PageId::Rubric);
        settle();
        editions().choose(QLatin1String(id), 1);
        trigger("edition.edit");
        ASSERT_TRUE(page().isOpen());
        ASSERT_EQ(m_window->currentPage(), &page());
    }
    void select(const char* zone, const char* step = "") {
        ASSERT_TRUE(tree().select(QLatin1String(zone), QLatin1String(step)));
        tree().setFocus();
        settle();
    }
    static void type(QLineEdit& field, const QString& text) {
        field.setFocus();
        field.selectAll();
        QTest::keyClicks(&field, text);
    }
    /// A key where the focus is.
    void key(Qt::Key key, Qt::KeyboardModifiers modifiers = Qt::NoModifier) {
        QTest::keyClick(QApplication::focusWidget(), key, modifiers);
        settle();
    }
    /// The same of a key that opens a dialog.
    void keyWithDialog(Qt::Key code, const std::function<void(QDialog&)>& look) {
        whileDialog([&] { QTest::keyClick(QApplication::focusWidget(), code); }, look);
        QApplication::setActiveWindow(m_window.get());
        settle();
    }
    static QLineEdit* fieldOf(QDialog& dialog, const char* label) {
        for (auto* one : dialog.findChildren<QLabel*>())
            if (one->text().remove(QLatin1Char('&')) == QLatin1String(label))
                if (auto* found = qobject_cast<QLineEdit*>(one->buddy())) return found;
        throw std::runtime_error(std::string("no field ") + label);
    }
    static QPushButton* buttonOf(QWidget& root, const QString& words) {
        for (auto* one : root.findChildren<QPushButton*>())
            if (one->text().remove(QLatin1Char('&')) == words) return one;
        throw std::runtime_error("no button " + app::ss(words));
    }
    static std::string wordsIn(QWidget& root) {
        QString all;
        for (auto* text : root.findChildren<QLabel*>())
            if (text->isVisible()) all += text->text() + QLatin1Char('\n');
        return app::ss(all);
    }
    /// Types a title into the small question for it.
    static std::function<void(QDialog&)> answer(const QString& title) {
        return [title](QDialog& dialog) {
            auto* line = dialog.findChild<QLineEdit*>();
            ASSERT_NE(line, nullptr);
            line->setText(title);
            dialog.accept();
        };
    }
    void waitForEffect() {
        ASSERT_TRUE(QTest::qWaitFor([this] { return page().effect().effect() != nullptr; }, 120000));
    }
};

}  // namespace markerlamp::testing
