// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/find_part.h"

#include "app/scoring/scoring_model.h"
#include "app/scoring/step_finder.h"

#include <QLineEdit>

#include <algorithm>

namespace markerlamp::app {

namespace {

constexpr double kTop = 64;
constexpr double kRow = 56;

}  // namespace

FindPart::FindPart(const PartKit& kit, QWidget* parent)
    : WordsPart(kit, tr("Find a step"), tr("Words of the step"), parent) {
    connect(field(), &QLineEdit::textChanged, this, &FindPart::search);
    connect(this, &Surface::pressed, this, [this](int id) {
        if (id == Close)
            emit left();
        else
            emit chosen(id);
    });
}

void FindPart::open(const ScoringModel* model) {
    m_model = model;
    m_found.clear();
    m_current = 0;
    openEmpty(tr("Words of the step, or its number"));
}

void FindPart::search() {
    if (m_model == nullptr) return;
    m_found = findSteps(*m_model, field()->text());
    m_current = 0;
    setAccessibleDescription(m_found.empty()
                                 ? tr("no step found")
                                 : tr("%n step(s) found", nullptr, static_cast<int>(m_found.size())));
    contentChanged();
}

QRectF FindPart::fieldRect() const {
    return QRectF(s(12), s(12), width() - s(24) - s(100), s(44));
}

int FindPart::rowsShown() const {
    return std::max(1, static_cast<int>((height() / look().factor() - kTop) / kRow));
}

QRectF FindPart::rowRect(int row) const {
    return QRectF(s(12), std::round(s(kTop + row * kRow)), width() - s(24), std::round(s(kRow - 4)));
}

std::vector<Surface::Target> FindPart::targets() const {
    std::vector<Target> all;
    Target close;
    close.id = Close;
    close.rect = QRectF(width() - s(104), s(12), s(92), s(44));
    close.name = tr("Close");
    close.key = tr("Esc");
    all.push_back(close);
    if (m_model == nullptr) return all;
    for (int row = 0; row < std::min<int>(rowsShown(), static_cast<int>(m_found.size())); ++row) {
        const int step = m_found[static_cast<std::size_t>(row)];
        Target target;
        target.id = step;
        target.rect = rowRect(row);
        target.name = m_model->describe(step);
        target.role = QAccessible::ListItem;
        target.checked = row == m_current;
        all.push_back(std::move(target));
    }
    return all;
}

void FindPart::entered() {
    const int rows = std::min<int>(rowsShown(), static_cast<int>(m_found.size()));
    if (m_current < rows) emit chosen(m_found[static_cast<std::size_t>(m_current)]);
}

void FindPart::stepped(int by) {
    const int rows = std::min<int>(rowsShown(), static_cast<int>(m_found.size()));
    if (rows == 0) return;
    m_current = std::clamp(m_current + by, 0, rows - 1);
    setAccessibleDescription(m_model->describe(m_found[static_cast<std::size_t>(m_current)]));
    update();
}

void FindPart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    look().box(p, rect(), roles.ground, roles.ink, 2);
    paintWideButton(p, look(), QRectF(width() - s(104), s(12), s(92), s(44)), tr("Close"), tr("Esc"));
    if (m_model == nullptr) return;
    if (m_found.empty()) {
        const QString words = field()->text().trimmed().isEmpty()
                                  ? tr("Enter sets the marker on the first one found.")
                                  : tr("No step holds these words.");
        look().text(p, s(16), s(kTop + 28), words, look().font(20), roles.muted, width() - s(32));
        return;
    }
    for (int row = 0; row < std::min<int>(rowsShown(), static_cast<int>(m_found.size())); ++row) {
        const int step = m_found[static_cast<std::size_t>(row)];
        const QRectF r = rowRect(row);
        const bool here = row == m_current;
        look().box(p, r, roles.ground, here ? roles.ink : roles.hair, here ? 4 : 1);
        if (here) look().fill(p, QRectF(r.left(), r.top(), s(6), r.height()), roles.ink);
        const double yc = r.center().y();
        look().right(p, r.left() + s(56), yc, QString::number(step + 1), look().mono(18), roles.muted);
        look().lamp(p, r.left() + s(68), yc, 28, m_model->sign(step).shown);
        const double capsule = look().capsule(p, r.right() - s(12), yc, 28, m_model->sign(step));
        const QString zone = m_model->zones()[static_cast<std::size_t>(m_model->zoneOf(step))].title;
        const double x = r.left() + s(112);
        const double titleWidth = Look::width(m_model->title(step), look().font(25, here));
        const double room = capsule - s(12) - x;
        look().text(p, x, yc, m_model->title(step), look().font(25, here), roles.ink, room);
        if (titleWidth + s(16) + s(80) < room)
            look().text(p, x + titleWidth + s(16), yc, zone, look().font(18), roles.muted,
                        room - titleWidth - s(16));
    }
}

}  // namespace markerlamp::app
