#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Find by name, over the board: a field and what it finds. Enter or a touch sets the marker, Esc leaves.

#include "app/scoring/words_part.h"

namespace markerlamp::app {

class ScoringModel;

class FindPart final : public WordsPart {
    Q_OBJECT

public:
    enum Id { Close = 100000 };

    FindPart(const PartKit& kit, QWidget* parent);

    void open(const ScoringModel* model);
    [[nodiscard]] const std::vector<int>& found() const { return m_found; }
    [[nodiscard]] std::vector<Target> targets() const override;

signals:
    void chosen(int step);

protected:
    void paintContent(QPainter& painter) override;
    [[nodiscard]] QRectF fieldRect() const override;
    void entered() override;
    void stepped(int by) override;

private:
    void search();
    [[nodiscard]] int rowsShown() const;
    [[nodiscard]] QRectF rowRect(int row) const;

    const ScoringModel* m_model = nullptr;
    std::vector<int> m_found;
    int m_current = 0;
};

}  // namespace markerlamp::app
