#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The keys of the scoring page as a list, and a field that takes the next key for the chosen row. Nothing is
// stored before keep().

#include "app/scoring/key_map.h"
#include "app/support/theme.h"

#include <QLineEdit>
#include <QWidget>

namespace markerlamp::app {

class RowsModel;
class Settings;
class TableView;
class Text;

/// Shows the key that was pressed in it, and tells it. Tab and Esc keep their meaning.
class KeyField final : public QLineEdit {
    Q_OBJECT

public:
    explicit KeyField(QWidget* parent = nullptr);

signals:
    void captured(QKeySequence key);

protected:
    bool event(QEvent* event) override;
};

class KeyEditor final : public QWidget {
    Q_OBJECT

public:
    KeyEditor(const Theme& theme, Settings& settings, QWidget* parent = nullptr);

    [[nodiscard]] KeyMap& keys() { return m_keys; }
    void keep();

private:
    void fill();
    void capture(const QKeySequence& key);

    Settings& m_settings;
    KeyMap m_keys;
    RowsModel* m_rows;
    TableView* m_table;
    KeyField* m_field;
    Text* m_words;
    bool m_changed = false;
};

}  // namespace markerlamp::app
