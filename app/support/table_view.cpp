// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/table_view.h"

#include "app/support/rows_model.h"
#include "forms/signs/signs.h"

#include <QHeaderView>
#include <QKeyEvent>
#include <QPainter>

namespace markerlamp::app {

RowDelegate::RowDelegate(const Theme& theme, QObject* parent) : QStyledItemDelegate(parent), m_theme(theme) {}

void RowDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                        const QModelIndex& index) const {
    const forms::Roles& roles = m_theme.roles();
    const QRectF cell(option.rect);
    const bool selected = option.state.testFlag(QStyle::State_Selected);
    const auto* view = qobject_cast<const QTableView*>(option.widget);
    painter->save();
    painter->setClipRect(option.rect);
    painter->fillRect(cell, selected ? roles.panel : roles.ground);
    if (m_hairlines) painter->fillRect(QRectF(cell.left(), cell.bottom() - 1, cell.width(), 1), roles.hair);
    const bool rows = view != nullptr && view->selectionBehavior() == QAbstractItemView::SelectRows;
    const bool firstColumn = index.column() == 0;
    const bool lastColumn = index.column() == index.model()->columnCount() - 1;
    if (selected && rows && firstColumn)
        painter->fillRect(QRectF(cell.left(), cell.top(), m_theme.s(6), cell.height()), roles.ink);
    const double pad = m_theme.s(8);
    paintContent(*painter, cell.adjusted(firstColumn ? m_theme.s(12) : pad, 0, -pad, -1), index);

    const bool current = view != nullptr && view->hasFocus() &&
                         (rows ? view->currentIndex().row() == index.row() : view->currentIndex() == index);
    if (current) {
        const double w = 3;
        painter->fillRect(QRectF(cell.left(), cell.top(), cell.width(), w), roles.ink);
        painter->fillRect(QRectF(cell.left(), cell.bottom() - w, cell.width(), w), roles.ink);
        if (!rows || firstColumn)
            painter->fillRect(QRectF(cell.left(), cell.top(), w, cell.height()), roles.ink);
        if (!rows || lastColumn)
            painter->fillRect(QRectF(cell.right() - w, cell.top(), w, cell.height()), roles.ink);
    }
    painter->restore();
}

QSize RowDelegate::sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const QFontMetricsF metrics(m_theme.font(13, index.data(RowsModel::BoldRole).toBool()));
    const QString text = index.data(Qt::DisplayRole).toString();
    Q_UNUSED(option)
    return {qCeil(metrics.horizontalAdvance(text) + m_theme.s(24)), qCeil(m_theme.s(26))};
}

void RowDelegate::paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const {
    const QString text = index.data(Qt::DisplayRole).toString();
    if (text.isEmpty()) return;
    const forms::Roles& roles = m_theme.roles();
    const QFont font = m_theme.font(13, index.data(RowsModel::BoldRole).toBool());
    const QColor color = index.data(RowsModel::MutedRole).toBool() ? roles.muted : roles.ink;
    const auto alignment = index.data(Qt::TextAlignmentRole).value<Qt::Alignment>();
    const QString shown = QFontMetricsF(font).elidedText(text, Qt::ElideRight, place.width());
    if (alignment.testFlag(Qt::AlignRight))
        forms::drawTextMiddleRight(painter, place.right(), place.center().y(), shown, font, color);
    else
        forms::drawTextMiddle(painter, place.left(), place.center().y(), shown, font, color);
}

TableView::TableView(const Theme& theme, const QString& name, QWidget* parent)
    : QTableView(parent), m_theme(theme) {
    setAccessibleName(name);
    setProperty("flat", true);
    setShowGrid(false);
    setFrameShape(QFrame::NoFrame);
    setSelectionBehavior(SelectRows);
    setSelectionMode(SingleSelection);
    setEditTriggers(NoEditTriggers);
    setTabKeyNavigation(false);
    setWordWrap(false);
    setHorizontalScrollMode(ScrollPerPixel);
    setVerticalScrollMode(ScrollPerPixel);
    setItemDelegate(new RowDelegate(theme, this));
    setCornerButtonEnabled(false);
    verticalHeader()->hide();
    verticalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    horizontalHeader()->setHighlightSections(false);
    horizontalHeader()->setSectionsClickable(false);
    horizontalHeader()->setFocusPolicy(Qt::NoFocus);
    connect(this, &QTableView::doubleClicked, this, &TableView::opened);
    connect(&theme, &Theme::changed, this, &TableView::applyTheme);
    applyTheme();
}

void TableView::applyTheme() {
    setFont(m_theme.font(13));
    horizontalHeader()->setFont(m_theme.font(13));
    horizontalHeader()->setFixedHeight(qRound(m_theme.s(24)));
    setRowHeight(m_rowHeight);
    setWidths(m_widths);
    viewport()->update();
}

void TableView::setModel(QAbstractItemModel* model) {
    QTableView::setModel(model);
    setWidths(m_widths);
    if (model != nullptr)
        connect(model, &QAbstractItemModel::modelReset, this, [this] { setWidths(m_widths); });
}

void TableView::setWidths(const std::vector<int>& widths) {
    m_widths = widths;
    if (model() == nullptr) return;
    for (std::size_t i = 0; i < widths.size() && static_cast<int>(i) < model()->columnCount(); ++i) {
        const int column = static_cast<int>(i);
        horizontalHeader()->setSectionResizeMode(column,
                                                 widths[i] == 0 ? QHeaderView::Stretch : QHeaderView::Fixed);
        if (widths[i] != 0) setColumnWidth(column, qRound(m_theme.s(widths[i])));
    }
}

void TableView::setRowHeight(double designPixels) {
    m_rowHeight = designPixels;
    const int height = qRound(m_theme.s(designPixels));
    verticalHeader()->setMinimumSectionSize(height);
    verticalHeader()->setDefaultSectionSize(height);
}

void TableView::selectRowAt(int row) {
    if (model() == nullptr || row < 0 || row >= model()->rowCount()) return;
    setCurrentIndex(model()->index(row, qMax(0, currentIndex().column())));
    scrollTo(currentIndex());
}

QString TableView::currentId() const {
    return currentIndex().isValid() ? currentIndex().data(RowsModel::IdRole).toString() : QString();
}

QSize TableView::sizeHint() const {
    return {qRound(m_theme.s(200)), qMax(minimumHeight(), qRound(m_theme.s(76)))};
}

void TableView::keyPressEvent(QKeyEvent* event) {
    if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) &&
        event->modifiers() == Qt::NoModifier && currentIndex().isValid()) {
        emit opened(currentIndex());
        event->accept();
        return;
    }
    QTableView::keyPressEvent(event);
}

}  // namespace markerlamp::app
