#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Find by name, over the board: a field and what it finds. Enter or a touch sets the marker, Esc leaves.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"

class QLineEdit;

namespace markerlamp::app {

class ScoringModel;

class FindPart final : public Surface {
    Q_OBJECT

public:
    enum Id { Close = 100000 };

    FindPart(const PartKit& kit, QWidget* parent);

    void open(const ScoringModel* model);
    [[nodiscard]] QLineEdit* field() const { return m_field; }
    [[nodiscard]] const std::vector<int>& found() const { return m_found; }
    [[nodiscard]] std::vector<Target> targets() const override;

signals:
    void chosen(int step);
    void left();

protected:
    void paintContent(QPainter& painter) override;
    void resizeEvent(QResizeEvent* event) override;
    bool eventFilter(QObject* object, QEvent* event) override;

private:
    void search();
    void placeField();
    [[nodiscard]] int rowsShown() const;
    [[nodiscard]] QRectF rowRect(int row) const;

    const ScoringModel* m_model = nullptr;
    QLineEdit* m_field;
    std::vector<int> m_found;
    int m_current = 0;
};

}  // namespace markerlamp::app
