#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The steps of the zone at hand as tiles, or with their readings while these are taken. Says what was touched
// and typed; keeps only which page is in front.

#include "app/scoring/board_slots.h"
#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"

#include <map>

namespace markerlamp::app {

class BrakeMinute;
class NumberField;
class ScoringModel;

class BoardPart final : public Surface {
    Q_OBJECT

public:
    /// Steps are their index.
    enum Id { ZoneHead = 100000, PageBefore, PageAfter, StartStop };
    /// Areas of a tile: the middle is both.
    enum Area { Middle = 0, ShownEnd = 1, SaidEnd = 2 };
    /// Head and board stand in a frame this wide, for the outlines outside the tiles; design pixels.
    inline static constexpr double kMargin = 6;
    inline static constexpr double kHead = 40;

    BoardPart(const PartKit& kit, QWidget* parent);

    void setModel(const ScoringModel* model, const BrakeMinute* minute);
    void setRoom(const BoardRoom& room);
    [[nodiscard]] bool readings() const { return m_room.readings; }
    /// After anything changed: lays out, brings the marker's page to the front, refills the fields.
    void refresh();
    /// The stopwatch of this step is on the page in front.
    [[nodiscard]] bool showsMinute(int step) const;
    /// First step of the page before or after this one that is dark, else its first; -1: there is no such
    /// page.
    [[nodiscard]] int stepOnPage(int by) const;
    [[nodiscard]] int pages() const { return pageCount(m_slots); }

    /// Field that takes keys now; nullptr: none.
    [[nodiscard]] NumberField* activeField() const;
    void focusAfter(int step);
    void focusField(int step);
    void keepFields();

    [[nodiscard]] std::vector<Target> targets() const override;
    [[nodiscard]] int partAt(int id, const QPointF& position) const override;

signals:
    void readingTyped(int step, double value);
    void beforeTyped(int step, double value);
    void afterTyped(int step, double value);
    void fieldsChanged();
    void refused(QString words);

protected:
    void paintContent(QPainter& painter) override;
    bool eventFilter(QObject* object, QEvent* event) override;

private:
    enum Field { Reading, Before, After };
    struct Areas {
        double shownRight;
        double saidLeft;
    };
    [[nodiscard]] QRectF place(const BoardSlot& slot) const;
    [[nodiscard]] const BoardSlot* slotOf(int index) const;
    [[nodiscard]] int indexOf(const BoardSlot& slot) const;
    [[nodiscard]] QRectF minuteButton(const BoardSlot& slot) const;
    [[nodiscard]] std::vector<Target> pageButtons() const;
    [[nodiscard]] Areas areasOf(const BoardSlot& slot) const;
    NumberField* field(int index, Field which);
    void placeFields();
    void paintHead(QPainter& painter) const;
    void paintSlot(QPainter& painter, const BoardSlot& slot) const;
    void paintReading(QPainter& painter, const BoardSlot& slot, int index) const;
    void paintMinute(QPainter& painter, const BoardSlot& slot, int index) const;
    void paintRuns(QPainter& painter, const QRectF& room, int index) const;

    const Theme& m_theme;
    const KeyMap& m_keys;
    const ScoringModel* m_model = nullptr;
    const BrakeMinute* m_minute = nullptr;
    BoardRoom m_room;
    std::vector<BoardSlot> m_slots;
    int m_page = 0;
    std::map<std::pair<int, Field>, NumberField*> m_fields;
};

}  // namespace markerlamp::app
