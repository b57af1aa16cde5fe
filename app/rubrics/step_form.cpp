// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/step_form.h"

#include "app/rubrics/editing_links.h"
#include "app/rubrics/edition_forms.h"
#include "app/rubrics/rubric_text.h"
#include "app/support/display.h"
#include "app/support/table_view.h"

#include <QCheckBox>
#include <QDoubleSpinBox>
#include <QHBoxLayout>
#include <QItemSelectionModel>
#include <QLineEdit>
#include <QSpinBox>
#include <QStyleOptionButton>
#include <QStylePainter>
#include <QVBoxLayout>

namespace markerlamp::app {

namespace {

QLineEdit* makeField(const Theme& theme) {
    auto* field = new QLineEdit;
    field->setProperty("small", true);
    field->setMaxLength(2000);
    field->setMinimumWidth(qRound(theme.s(60)));
    // A caution or source is often longer than its field.
    QObject::connect(field, &QLineEdit::textChanged, field, [field](const QString& words) {
        const bool fits = field->fontMetrics().horizontalAdvance(words) < field->width();
        field->setToolTip(fits ? QString() : words);
    });
    return field;
}

/// A button that looks like a field: its words are cut where it is narrow.
class FieldButton final : public QPushButton {
public:
    FieldButton() { setProperty("field", true); }
    [[nodiscard]] QSize minimumSizeHint() const override {
        return {60, QPushButton::minimumSizeHint().height()};
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QStyleOptionButton option;
        initStyleOption(&option);
        option.text = fontMetrics().elidedText(option.text, Qt::ElideRight, width() - 24);
        QStylePainter(this).drawControl(QStyle::CE_PushButton, option);
    }
};

std::string joinedTags(const std::vector<std::string>& tags) {
    std::string all;
    for (const std::string& tag : tags) all += (all.empty() ? "" : ", ") + tag;
    return all;
}

std::vector<std::string> tagsIn(const std::string& text) {
    std::vector<std::string> tags;
    for (const QString& part : qs(text).split(QLatin1Char(','), Qt::SkipEmptyParts))
        if (const QString tag = part.trimmed(); !tag.isEmpty()) tags.push_back(ss(tag));
    return tags;
}

}  // namespace

QWidget* labelled(const Theme& theme, const QString& label, QWidget* field) {
    auto* whole = new QWidget;
    auto* column = new QVBoxLayout(whole);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    auto* text = new Text(theme, 13, false, Ink::Muted, label);
    text->setBuddy(field);
    QString name = label;
    field->setAccessibleName(name.remove(QLatin1Char('&')));
    column->addWidget(text);
    column->addWidget(field);
    return whole;
}

StepForm::StepForm(const Theme& theme, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_fields(new DraftFields(this)),
      m_head(new BlockHead(theme, tr("Step"))) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(theme.s(4)));
    column->addWidget(m_head);
    column->addWidget(makeFields());
    column->addWidget(makePoints(), 1);
    tieFields();
    connect(m_pointsTable, &TableView::opened, this, &StepForm::editPoint);
    connect(m_pointsTable->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
            &StepForm::showLike);
    connect(m_reading, &QPushButton::clicked, this, &StepForm::editReading);
}

QWidget* StepForm::makeFields() {
    auto* fields = new QWidget;
    auto* column = new QVBoxLayout(fields);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(m_theme.s(4)));
    const auto row = [&](std::vector<std::pair<QWidget*, int>> parts) {
        auto* line = new QHBoxLayout;
        line->setSpacing(qRound(m_theme.s(12)));
        for (const auto& [part, stretch] : parts) line->addWidget(part, stretch);
        column->addLayout(line);
    };
    m_title = makeField(m_theme);
    m_show = makeField(m_theme);
    m_when = makeField(m_theme);
    m_caution = makeField(m_theme);
    m_source = makeField(m_theme);
    m_when->setPlaceholderText(tr("always; tags, !tag for without"));
    m_weight = new QSpinBox;
    m_weight->setRange(1, 1'000'000);
    m_minutes = new QDoubleSpinBox;
    m_minutes->setRange(0, 240);
    m_minutes->setDecimals(2);
    m_minutes->setSingleStep(0.1);
    m_needed = new QSpinBox;
    for (QAbstractSpinBox* box : std::vector<QAbstractSpinBox*>{m_weight, m_minutes, m_needed}) {
        box->setProperty("small", true);
        box->setButtonSymbols(QAbstractSpinBox::NoButtons);
        box->setFixedWidth(qRound(m_theme.s(72)));
    }
    m_needed->setFixedWidth(qRound(m_theme.s(44)));
    m_needed->setAccessibleName(tr("Points needed"));
    m_reading = new FieldButton;
    m_reading->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
    m_mustPass = new QCheckBox(tr("Must pass"));
    row({{labelled(m_theme, tr("Title"), m_title), 1},
         {labelled(m_theme, tr("Weight"), m_weight), 0},
         {labelled(m_theme, tr("Minutes"), m_minutes), 0}});
    row({{labelled(m_theme, tr("Show"), m_show), 1}});
    row({{labelled(m_theme, tr("Only when the bus has"), m_when), 1},
         {labelled(m_theme, tr("Reading"), m_reading), 1}});
    row({{labelled(m_theme, tr("Caution"), m_caution), 1}, {labelled(m_theme, tr("Source"), m_source), 1}});
    auto* line = new QHBoxLayout;
    line->setSpacing(qRound(m_theme.s(8)));
    line->addWidget(m_mustPass);
    line->addStretch(1);
    line->addWidget(new Text(m_theme, 15, false, Ink::Full, tr("needs", "so many points")));
    line->addWidget(m_needed);
    m_ofPoints = new Text(m_theme, 15);
    line->addWidget(m_ofPoints);
    column->addLayout(line);
    return fields;
}

QWidget* StepForm::makePoints() {
    auto* block = new QWidget;
    auto* column = new QVBoxLayout(block);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    m_pointsHead = new BlockHead(m_theme, tr("Points to be said"));
    m_points = new RowsModel(
        {{QString(), true}, {tr("id")}, {tr("text")}, {tr("number")}, {tr("tol."), true}}, this);
    m_pointsTable = new TableView(m_theme, tr("Points to be said"));
    m_pointsTable->setModel(m_points);
    m_pointsHead->addRight(new EditingLinks(m_theme, m_pointsTable,
                                            {PageCommand::Add, PageCommand::Edit, PageCommand::MoveUp,
                                             PageCommand::MoveDown, PageCommand::Retire}));
    m_pointsTable->setWidths({28, 104, 0, 136, 44});
    m_pointsTable->setMinimumHeight(qRound(m_theme.s(24 + 2 * 26)));
    m_like = new Text(m_theme, 13, false, Ink::Muted);
    m_like->setElided();
    column->addWidget(m_pointsHead);
    column->addWidget(m_pointsTable, 1);
    column->addWidget(m_like);
    return block;
}

void StepForm::tieFields() {
    using Rubric = core::Rubric;
    const auto text = [this](QLineEdit* field, const QString& name, std::string core::Step::*part) {
        m_fields->tie(field, {name,
                              [this, part](const Rubric& rubric) -> std::optional<std::string> {
                                  const core::Step* step = rubric.step(ss(m_step));
                                  return step == nullptr ? std::nullopt : std::optional(step->*part);
                              },
                              [this, part](Rubric& rubric, const std::string& value) {
                                  core::findStep(rubric, ss(m_step))->*part = value;
                              }});
    };
    text(m_title, tr("title"), &core::Step::title);
    text(m_show, tr("show"), &core::Step::show);
    text(m_caution, tr("caution"), &core::Step::caution);
    text(m_source, tr("source"), &core::Step::source);
    const auto reader = [this](auto part) {
        return [this, part](const Rubric& rubric) {
            const core::Step* step = rubric.step(ss(m_step));
            return step == nullptr ? std::nullopt : std::optional(part(*step));
        };
    };
    const auto find = [this](Rubric& rubric) { return core::findStep(rubric, ss(m_step)); };
    m_fields->tie(m_when, {tr("equipment"), reader([](const core::Step& s) { return joinedTags(s.when); }),
                           [find](Rubric& r, const std::string& value) { find(r)->when = tagsIn(value); }});
    m_fields->tie(m_weight, {tr("weight"), reader([](const core::Step& s) { return s.weight; }),
                             [find](Rubric& r, const int& value) { find(r)->weight = value; }});
    m_fields->tie(m_needed, {tr("points needed"), reader([](const core::Step& s) { return s.sayNeeded; }),
                             [find](Rubric& r, const int& value) { find(r)->sayNeeded = value; }});
    m_fields->tie(m_minutes, {tr("minutes"), reader([](const core::Step& s) { return s.minutes; }),
                              [find](Rubric& r, const double& value) { find(r)->minutes = value; }});
    m_fields->tie(m_mustPass, {tr("must pass"), reader([](const core::Step& s) { return s.mustPass; }),
                               [find](Rubric& r, const bool& value) { find(r)->mustPass = value; }});
}

const core::Step* StepForm::step() const {
    return m_draft == nullptr ? nullptr : m_draft->rubric().step(ss(m_step));
}

void StepForm::setStep(Draft* draft, const QString& id) {
    m_draft = draft;
    m_step = id;
    const core::Step* here = step();
    if (here == nullptr) {
        m_fields->setDraft(nullptr, {}, {});
        return;
    }
    const core::Zone& zone = *draft->rubric().zoneOfStep(here->id);
    const auto at = core::placeOf(draft->rubric(), here->id)->step + 1;
    m_head->setRemark(tr("%1, %2 of %3", "zone, number in it")
                          .arg(draft->titleOfZone(qs(zone.id)))
                          .arg(at)
                          .arg(zone.steps.size()));
    m_head->setRight(draft->isNewStep(id) ? tr("new, id %1").arg(id) : tr("id %1").arg(id));
    const int points = static_cast<int>(here->say.size());
    // The range first: it must not clip what the draft holds.
    if (m_needed->maximum() != points) {
        const QSignalBlocker quiet(m_needed);
        m_needed->setRange(0, points);
    }
    m_fields->setDraft(draft, {qs(zone.id), id, {}}, draft->titleOfStep(id));
    m_ofPoints->setText(tr("of %n point(s)", nullptr, points));
    QString reading = tr("none");
    if (here->reading) reading = readingWords(draft->rubric(), *here->reading);
    m_reading->setText(reading);
    m_reading->setToolTip(reading);
    m_reading->setAccessibleName(tr("Reading: %1").arg(reading));
    fillPoints();
}

void StepForm::fillPoints() {
    const QString before = currentPoint();
    std::vector<Row> rows;
    int number = 0;
    for (const core::Point& point : step()->say)
        rows.push_back({qs(point.id),
                        {{QString::number(++number)},
                         mutedCell(qs(point.id)),
                         longCell(qs(point.text)),
                         longCell(point.number ? numberWords(m_draft->rubric(), *point.number) : QString()),
                         {point.number ? numberText(point.number->tolerance) : QString()}}});
    m_pointsHead->setRemark(QString::number(rows.size()));
    m_points->setRows(std::move(rows));
    m_pointsTable->selectRowAt(std::max(0, m_points->rowOf(before)));
    showLike();
}

void StepForm::showLike() {
    const core::Step* here = step();
    const int row = m_points->rowOf(currentPoint());
    QString words;
    if (here != nullptr && row >= 0 && row < static_cast<int>(here->say.size())) {
        QStringList like;
        for (const std::string& other : here->say[static_cast<std::size_t>(row)].like) like << qs(other);
        if (!like.isEmpty())
            words = tr("Point %1 also takes: %2").arg(row + 1).arg(like.join(tr("; ", "between phrases")));
    }
    m_like->setText(words);
}

void StepForm::editTitle() {
    m_title->setFocus(Qt::ShortcutFocusReason);
    m_title->selectAll();
}

void StepForm::selectPoint(const QString& point) {
    m_pointsTable->selectRowAt(m_points->rowOf(point));
}
QString StepForm::currentPoint() const {
    return m_pointsTable->currentId();
}
QWidget* StepForm::pointsTable() const {
    return m_pointsTable;
}

void StepForm::addPoint() {
    if (step() == nullptr) return;
    PointDialog dialog(m_theme, m_draft->rubric(), nullptr, this);
    if (dialog.exec() != QDialog::Accepted) return;
    const QString id = m_draft->addPoint(m_step, dialog.point(), currentPoint());
    selectPoint(id);
    emit said(tr("Point added: %1").arg(qs(dialog.point().text)));
}

void StepForm::editPoint() {
    const int row = m_points->rowOf(currentPoint());
    if (step() == nullptr || row < 0) return;
    const core::Point point = step()->say[static_cast<std::size_t>(row)];
    PointDialog dialog(m_theme, m_draft->rubric(), &point, this);
    if (dialog.exec() == QDialog::Accepted) m_draft->changePoint(m_step, dialog.point());
}

void StepForm::editReading() {
    if (step() == nullptr) return;
    ReadingDialog dialog(m_theme, m_draft->rubric(), step()->reading, this);
    if (dialog.exec() != QDialog::Accepted) return;
    const QString title = m_draft->titleOfStep(m_step);
    m_draft->change(
        tr("reading of %1").arg(title), {qs(m_draft->rubric().zoneOfStep(ss(m_step))->id), m_step, {}},
        [&](core::Rubric& rubric) { core::findStep(rubric, ss(m_step))->reading = dialog.reading(); });
}

}  // namespace markerlamp::app
