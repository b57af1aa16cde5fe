// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/ribbon_part.h"

#include "app/scoring/scoring_model.h"

#include <algorithm>

namespace markerlamp::app {

RibbonPart::RibbonPart(const PartKit& kit, QWidget* parent)
    : Surface(kit.theme, kit.guard, tr("Order"), parent) {
    setKeepsSides(true);
    setFocusPolicy(Qt::NoFocus);  // nothing to press
}

void RibbonPart::setModel(const ScoringModel* model) {
    m_model = model;
    m_scorer = model == nullptr ? nullptr : std::make_unique<core::Scorer>(model->recorder().rubricPtr());
    refresh();
}

void RibbonPart::refresh() {
    m_sequence.clear();
    m_always.clear();
    m_others.clear();
    if (m_model == nullptr) return;
    const core::Scorecard card = m_scorer->score(m_model->recorder().attempt(), true);
    for (int i = 0; i < m_model->stepCount(); ++i)
        if (m_model->marks(i).engaged()) m_sequence.push_back(i);
    std::ranges::sort(m_sequence, {}, [this](int i) { return m_model->marks(i).position; });
    for (const std::string& id : card.displaced) {
        const bool always = std::ranges::find(card.alwaysDisplaced, id) != card.alwaysDisplaced.end();
        (always ? m_always : m_others).push_back(m_model->indexOf(id));
    }
    // The row is as long as the attempt usually takes, and grows when it takes longer.
    double usual = 0;
    for (int i = 0; i < m_model->stepCount(); ++i) usual += m_model->step(i).minutes * 60;
    double last = 1;
    for (const int i : m_sequence) last = std::max(last, m_model->marks(i).firstSeconds);
    m_span = std::max({60.0, usual, last * 1.02});
    setAccessibleDescription(words());
    contentChanged();
}

double RibbonPart::axisRight() const {
    return width() - s(152);
}

double RibbonPart::doneX(int step) const {
    const double share = m_model->marks(step).firstSeconds / m_span;
    return std::round(axisLeft() + std::clamp(share, 0.0, 1.0) * (axisRight() - axisLeft()));
}

double RibbonPart::homeX(int step) const {
    const double share =
        m_model->stepCount() < 2 ? 0 : static_cast<double>(step) / (m_model->stepCount() - 1);
    return std::round(axisLeft() + share * (axisRight() - axisLeft()));
}

QString RibbonPart::countWords() const {
    return outOfPlace() == 0 ? tr("all in place") : tr("%n out of place", nullptr, outOfPlace());
}

QString RibbonPart::stepWords() const {
    const auto numbers = [](const std::vector<int>& steps) {
        QStringList all;
        for (const int i : steps) all << QString::number(i + 1);
        return all.join(QStringLiteral(", "));
    };
    if (m_others.empty()) return numbers(m_always);
    // Where several steps could be the one that went astray, say so.
    if (m_always.empty()) return tr("at %1 or beside").arg(numbers(m_others));
    return tr("%1; at %2 or beside").arg(numbers(m_always), numbers(m_others));
}

QString RibbonPart::words() const {
    return outOfPlace() == 0 ? countWords()
                             : tr("%1: %2", "count, step numbers").arg(countWords(), stepWords());
}

std::vector<RibbonPart::Band> RibbonPart::bands() const {
    std::vector<int> out = m_always;
    out.insert(out.end(), m_others.begin(), m_others.end());
    std::ranges::sort(out, {}, [this](int i) { return m_model->marks(i).position; });
    const auto after = [this](int step) {
        const auto at = std::ranges::find(m_sequence, step);
        return at + 1 == m_sequence.end() ? -1 : *(at + 1);
    };
    std::vector<Band> all;
    for (const int step : out) {
        if (!all.empty() && after(all.back().steps.back()) == step && step > all.back().steps.back())
            all.back().steps.push_back(step);
        else
            all.push_back({{step}});
    }
    return all;
}

void RibbonPart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    look().fill(p, rect(), roles.ground);
    look().fill(p, QRectF(0, 0, width(), look().stroke(1)), roles.hair);
    if (m_model == nullptr) return;
    const double done = std::round(s(20));
    const double home = std::round(s(56));
    const double half = s(7);
    const bool rtl = layoutDirection() == Qt::RightToLeft;
    const auto label = [&](double y, const QString& text) {
        const double x = rtl ? axisLeft() - s(8) - Look::width(text, look().font(15)) : 0;
        look().text(p, std::max(0.0, x), y, text, look().font(15), roles.ink, axisLeft() - s(8));
    };
    label(done, tr("as done"));
    label(home, tr("in order"));
    for (const double y : {done, home})
        look().fill(p, QRectF(axisLeft(), y, axisRight() - axisLeft(), look().stroke(1)), roles.hair);
    const auto tick = [&](double x, double y, double width, const QColor& color) {
        look().fill(
            p, QRectF(x - std::floor(look().stroke(width) / 2), y - half, look().stroke(width), 2 * half),
            color);
    };
    for (const int step : m_sequence) {
        tick(doneX(step), done, 1, roles.muted);
        tick(homeX(step), home, 1, roles.muted);
    }
    for (const Band& band : bands()) {
        for (const int step : band.steps) {
            tick(doneX(step), done, 3, roles.ink);
            tick(homeX(step), home, 3, roles.ink);
        }
        p.save();
        p.setRenderHint(QPainter::Antialiasing);
        p.setPen(QPen(roles.ink, look().stroke(2)));
        const auto link = [&](int step) {
            const QPolygonF path{QPointF(doneX(step), done + half), QPointF(doneX(step), done + half + s(2)),
                                 QPointF(homeX(step), home - half - s(2)), QPointF(homeX(step), home - half)};
            p.drawPolyline(path);
        };
        if (band.steps.size() < 3) {
            for (const int step : band.steps) link(step);
        } else {
            // Three and more side by side are one band with their number.
            const int first = band.steps.front();
            const int last = band.steps.back();
            p.setBrush(roles.panel);
            p.drawPolygon(QPolygonF{QPointF(doneX(first), done + half), QPointF(doneX(last), done + half),
                                    QPointF(homeX(last), home - half), QPointF(homeX(first), home - half)});
            const double xc = (doneX(first) + doneX(last) + homeX(first) + homeX(last)) / 4;
            look().centred(p, xc, (done + home) / 2, QString::number(band.steps.size()),
                           look().font(15, true), roles.ink);
        }
        p.restore();
    }
    const double room = width() - axisRight() - s(12);
    const auto right = [&](double y, const QString& text, const QList<double>& sizes, bool bold,
                           const QColor& ink) {
        const Fitted fitted = fitText(look(), text, room, 1, sizes, bold);
        look().right(p, width(), y, fitted.lines.value(0), fitted.font, ink);
    };
    right(done, countWords(), {18, 15}, true, roles.ink);
    if (outOfPlace() > 0) right(home, stepWords(), {15, 13}, false, roles.muted);
}

}  // namespace markerlamp::app
