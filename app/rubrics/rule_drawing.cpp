// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/rule_drawing.h"

#include "app/support/display.h"
#include "forms/signs/signs.h"

#include <QKeyEvent>
#include <QPainter>
#include <QStyledItemDelegate>

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

namespace {

constexpr int kRuleRole = Qt::UserRole + 30;

std::vector<QString> titlesOf(const Draft& draft, const std::vector<std::string>& entries) {
    std::vector<QString> titles;
    for (const std::string& entry : entries) titles.push_back(draft.titleOfEntry(entry));
    return titles;
}

QString inWords(const std::vector<std::vector<QString>>& groups) {
    QStringList sides;
    for (const std::vector<QString>& group : groups)
        sides << QStringList(group.begin(), group.end()).join(RuleDrawing::tr(" and "));
    return sides.join(RuleDrawing::tr(" before "));
}

}  // namespace

std::vector<OrderRow> orderRows(const Draft& draft) {
    std::vector<OrderRow> rows;
    const core::OrderCircle& circle = draft.check().circle;
    if (!circle.steps.empty()) {
        OrderRow row;
        row.title = RuleDrawing::tr("These rules go in a circle");
        row.kind = RuleDrawing::tr("change or retire one");
        for (const std::string& step : circle.steps) row.groups.push_back({draft.titleOfEntry(step)});
        row.words = RuleDrawing::tr("The order rules go in a circle: %1").arg(draft.circleInWords());
        row.inCircle = true;
        rows.push_back(std::move(row));
    }
    for (const core::OrderRule& rule : draft.rubric().order) {
        OrderRow row;
        row.rule = row.title = qs(rule.id);
        row.kind = rule.strict ? RuleDrawing::tr("strict") : RuleDrawing::tr("advice");
        if (rule.mustPass) row.kind = RuleDrawing::tr("%1, must pass").arg(row.kind);
        if (!rule.chain.empty())
            for (const QString& title : titlesOf(draft, rule.chain)) row.groups.push_back({title});
        else
            row.groups = {titlesOf(draft, rule.first), titlesOf(draft, rule.then)};
        row.inCircle = std::ranges::find(circle.rules, rule.id) != circle.rules.end();
        row.words =
            RuleDrawing::tr("%1, %2: %3", "rule, kind, order").arg(row.title, row.kind, inWords(row.groups));
        if (!rule.why.empty()) row.words = RuleDrawing::tr("%1. Why: %2").arg(row.words, qs(rule.why));
        if (row.inCircle) row.words = RuleDrawing::tr("%1. It is part of the circle.").arg(row.words);
        rows.push_back(std::move(row));
    }
    return rows;
}

class RuleDrawing::Delegate final : public QStyledItemDelegate {
public:
    Delegate(const RuleDrawing& view, const Theme& theme) : m_view(view), m_theme(theme) {}

    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem&, const QModelIndex& index) const override {
        return {qRound(m_theme.s(120)), qCeil(layOut(rowOf(index)).bottom)};
    }

    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override {
        const forms::Roles& roles = m_theme.roles();
        const OrderRow& row = rowOf(index);
        const bool here = index == m_view.currentIndex();
        const QRectF place = option.rect;
        painter->save();
        painter->fillRect(place, here ? roles.panel : roles.ground);
        painter->fillRect(QRectF(place.left(), place.bottom() - 1, place.width(), 1), roles.hair);
        if (here)
            painter->fillRect(QRectF(place.left(), place.top(), m_theme.s(6), place.height()), roles.ink);
        painter->translate(place.topLeft());
        const QFont small = m_theme.font(13);
        const double head = m_theme.s(12);
        const double kind = QFontMetricsF(small).horizontalAdvance(row.kind);
        forms::drawTextMiddleRight(*painter, place.width() - m_theme.s(8), head, row.kind, small,
                                   roles.muted);
        forms::drawTextMiddle(*painter, m_theme.s(12), head, row.title, m_theme.font(13, true), roles.ink,
                              place.width() - kind - m_theme.s(32));
        drawBoxes(*painter, row);
        painter->restore();
        if (here && m_view.hasFocus()) {
            painter->setPen(QPen(roles.ink, 3, Qt::SolidLine, Qt::SquareCap, Qt::MiterJoin));
            painter->drawRect(place.adjusted(1.5, 1.5, -1.5, -1.5));
        }
    }

private:
    struct Box {
        QRectF rect;
        QString text;
        bool arrowAfter = false;
    };
    struct Drawing {
        std::vector<Box> boxes;
        double bottom = 0;
    };

    [[nodiscard]] const OrderRow& rowOf(const QModelIndex& index) const {
        return m_view.m_rows[static_cast<std::size_t>(index.row())];
    }

    /// Boxes from left to right; what does not fit goes on below.
    [[nodiscard]] Drawing layOut(const OrderRow& row) const {
        Drawing drawing;
        const QFontMetricsF metrics(m_theme.font(13));
        const double left = m_theme.s(12),
                     right = std::max(m_theme.s(100), m_view.viewport()->width() - m_theme.s(8.0));
        const double high = m_theme.s(22), arrow = m_theme.s(16), gap = m_theme.s(4);
        double x = left, y = m_theme.s(25);
        for (std::size_t g = 0; g < row.groups.size(); ++g)
            for (std::size_t i = 0; i < row.groups[g].size(); ++i) {
                const QString& text = row.groups[g][i];
                const bool last = i + 1 == row.groups[g].size();
                const bool arrowAfter = last && g + 1 < row.groups.size();
                const double wide =
                    std::min(metrics.horizontalAdvance(text) + m_theme.s(14), right - left - arrow);
                if (x > left && x + wide + (arrowAfter ? arrow : 0) > right) {
                    x = left;
                    y += high + m_theme.s(5);
                }
                drawing.boxes.push_back({QRectF(x, y, wide, high), text, arrowAfter});
                x += wide + (arrowAfter ? arrow : gap);
            }
        drawing.bottom = y + high + m_theme.s(7);
        return drawing;
    }

    void drawBoxes(QPainter& painter, const OrderRow& row) const {
        const forms::Roles& roles = m_theme.roles();
        const QFont font = m_theme.font(13, row.inCircle);
        const double pen = std::max(row.inCircle ? 2.0 : 1.0, roles.minStroke);
        for (const Box& box : layOut(row).boxes) {
            painter.setRenderHint(QPainter::Antialiasing);
            painter.setPen(QPen(row.inCircle ? roles.ink : roles.line, pen));
            painter.setBrush(roles.ground);
            painter.drawRoundedRect(box.rect.adjusted(0.5, 0.5, -0.5, -0.5), 4, 4);
            const double room = box.rect.width() - m_theme.s(10);
            forms::drawTextMiddle(painter, box.rect.left() + m_theme.s(6), box.rect.center().y(),
                                  QFontMetricsF(font).elidedText(box.text, Qt::ElideRight, room), font,
                                  roles.ink);
            if (box.arrowAfter) drawArrow(painter, box.rect, roles.ink);
        }
    }

    void drawArrow(QPainter& painter, const QRectF& from, const QColor& ink) const {
        const double y = std::round(from.center().y()) + 0.5;
        const double x = from.right() + m_theme.s(1), end = x + m_theme.s(13), head = m_theme.s(5);
        painter.setPen(QPen(ink, std::max(1.5, m_theme.roles().minStroke)));
        painter.drawLine(QPointF(x, y), QPointF(end - head, y));
        painter.setPen(Qt::NoPen);
        painter.setBrush(ink);
        const QPointF tip[] = {{end, y}, {end - head, y - head * 0.7}, {end - head, y + head * 0.7}};
        painter.drawPolygon(tip, 3);
    }

    const RuleDrawing& m_view;
    const Theme& m_theme;
};

RuleDrawing::RuleDrawing(const Theme& theme, QWidget* parent)
    : QListView(parent), m_theme(theme), m_model(new QStandardItemModel(this)) {
    setAccessibleName(tr("Order rules"));
    setProperty("flat", true);
    setFrameShape(QFrame::NoFrame);
    setEditTriggers(NoEditTriggers);
    setVerticalScrollMode(ScrollPerPixel);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setResizeMode(Adjust);
    setModel(m_model);
    auto* delegate = new Delegate(*this, theme);
    delegate->setParent(this);
    setItemDelegate(delegate);
    connect(this, &QListView::doubleClicked, this, [this] { emit opened(); });
    connect(&theme, &Theme::changed, this, [this] { doItemsLayout(); });
}

void RuleDrawing::setDraft(const Draft& draft) {
    const QString before = currentRule();
    m_rows = orderRows(draft);
    m_model->clear();
    for (const OrderRow& row : m_rows) {
        auto* item = new QStandardItem(row.title);
        item->setData(row.rule, kRuleRole);
        item->setData(row.words, Qt::AccessibleTextRole);
        item->setToolTip(row.words);
        m_model->appendRow(item);
    }
    if (!m_rows.empty()) setCurrentIndex(m_model->index(0, 0));
    selectRule(before);
}

QString RuleDrawing::currentRule() const {
    return currentIndex().data(kRuleRole).toString();
}

void RuleDrawing::selectRule(const QString& rule) {
    for (std::size_t i = 0; i < m_rows.size(); ++i)
        if (!rule.isEmpty() && m_rows[i].rule == rule) {
            setCurrentIndex(m_model->index(static_cast<int>(i), 0));
            scrollTo(currentIndex());
        }
}

QSize RuleDrawing::sizeHint() const {
    return {qRound(m_theme.s(200)), qRound(m_theme.s(76))};
}

void RuleDrawing::resizeEvent(QResizeEvent* event) {
    QListView::resizeEvent(event);
    doItemsLayout();  // boxes wrap otherwise at another width
}

void RuleDrawing::keyPressEvent(QKeyEvent* event) {
    if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && currentIndex().isValid()) {
        emit opened();
        return;
    }
    QListView::keyPressEvent(event);
}

}  // namespace markerlamp::app
