// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/edition_forms.h"

#include "app/support/display.h"
#include "core/base/text.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QPlainTextEdit>

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

namespace {

const QString kNone = QStringLiteral("none"), kOwn = QStringLiteral("own"), kLimit = QStringLiteral("limit:");

void complain(std::vector<core::Problem>& problems, const QString& field, const QString& message,
              const QString& remedy) {
    problems.push_back({{}, 0, ss(field), {}, ss(message), ss(remedy)});
}

/// Numbers are typed with a point or with this country's own sign.
std::optional<double> numberIn(const QLineEdit& field, const QString& name,
                               std::vector<core::Problem>& problems) {
    const QString text = field.text().trimmed();
    if (text.isEmpty()) return std::nullopt;
    bool good = false;
    double value = text.toDouble(&good);
    if (!good) value = field.locale().toDouble(text, &good);
    if (good && std::isfinite(value)) return value;
    complain(problems, name, BoundsFields::tr("\"%1\" is not a number").arg(text),
             BoundsFields::tr("write it like 2.5, or leave it empty"));
    return std::nullopt;
}

QString textOf(const std::optional<double>& value) {
    return value ? qs(core::shortestText(*value)) : QString();
}

void checkId(const QString& id, const std::set<std::string>& taken, const QString& field,
             std::vector<core::Problem>& problems) {
    if (!core::isKebabCase(ss(id)))
        complain(problems, field, BoundsFields::tr("\"%1\" is not an id").arg(id),
                 BoundsFields::tr("use lower-case words joined by hyphens, such as applied-leak"));
    else if (taken.contains(ss(id)))
        complain(problems, field, BoundsFields::tr("\"%1\" is taken, or was in an earlier edition").arg(id),
                 BoundsFields::tr("choose another one"));
}

core::Result<void> verdict(const QString& message, std::vector<core::Problem> problems) {
    if (problems.empty()) return {};
    return core::fail(ss(message), std::move(problems));
}

}  // namespace

BoundsFields::BoundsFields(QFormLayout& form, const core::Rubric* rubric, const QString& none,
                           QObject* parent)
    : QObject(parent), m_low(new QLineEdit), m_high(new QLineEdit), m_unit(new QLineEdit) {
    if (rubric != nullptr) {
        m_choice = new QComboBox;
        if (!none.isEmpty()) m_choice->addItem(none, kNone);
        for (const core::Limit& limit : rubric->limits)
            m_choice->addItem(
                tr("limit %1: %2")
                    .arg(qs(limit.id), boundsText(limit.low, limit.high, qs(limit.unit), limit.exclusive)),
                QString(kLimit + qs(limit.id)));
        m_choice->addItem(tr("bounds of its own"), kOwn);
        form.addRow(tr("N&umber"), m_choice);
        connect(m_choice, &QComboBox::currentIndexChanged, this, &BoundsFields::enable);
    }
    form.addRow(tr("&Low"), m_low);
    form.addRow(tr("&High"), m_high);
    form.addRow(tr("Un&it"), m_unit);
    m_low->setPlaceholderText(tr("no lower bound"));
    m_high->setPlaceholderText(tr("no upper bound"));
    m_unit->setPlaceholderText(tr("psi, s, in"));
    enable();
}

void BoundsFields::set(const std::string& limit, std::optional<double> low, std::optional<double> high,
                       const std::string& unit) {
    if (m_choice != nullptr)
        m_choice->setCurrentIndex(
            std::max(0, m_choice->findData(limit.empty() ? kOwn : QString(kLimit + qs(limit)))));
    m_low->setText(textOf(low));
    m_high->setText(textOf(high));
    m_unit->setText(qs(unit));
    enable();
}

void BoundsFields::setNone() {
    m_choice->setCurrentIndex(std::max(0, m_choice->findData(kNone)));
}
bool BoundsFields::isNone() const {
    return m_choice != nullptr && m_choice->currentData().toString() == kNone;
}
std::string BoundsFields::limit() const {
    const QString chosen = m_choice == nullptr ? kOwn : m_choice->currentData().toString();
    return chosen.startsWith(kLimit) ? ss(chosen.mid(kLimit.size())) : std::string();
}
std::string BoundsFields::unit() const {
    return ss(m_unit->text().trimmed());
}

void BoundsFields::enable() {
    const bool own = !isNone() && limit().empty();
    for (QLineEdit* field : {m_low, m_high, m_unit}) field->setEnabled(own);
}

void BoundsFields::check(std::vector<core::Problem>& problems) {
    m_lowValue = m_highValue = std::nullopt;
    if (isNone() || !limit().empty()) return;
    const std::size_t before = problems.size();
    m_lowValue = numberIn(*m_low, tr("low"), problems);
    m_highValue = numberIn(*m_high, tr("high"), problems);
    if (problems.size() > before) return;
    if (!m_lowValue && !m_highValue)
        complain(problems, tr("low"), tr("neither low nor high is given"), tr("give one or both"));
    if (m_lowValue && m_highValue && *m_lowValue > *m_highValue)
        complain(problems, tr("low"), tr("low is above high"), tr("give the smaller number as low"));
    if (unit().empty())
        complain(problems, tr("unit"), tr("the unit is missing"), tr("write it, such as psi"));
}

PointDialog::PointDialog(const Theme& theme, const core::Rubric& rubric, const core::Point* point,
                         QWidget* parent)
    : FormDialog(theme, point == nullptr ? tr("Add a point") : tr("Edit the point"),
                 point == nullptr ? tr("&Add the point") : tr("&Keep the changes"), parent) {
    if (point != nullptr) m_point = *point;
    m_text = addField(tr("&Text"), qs(m_point.text), tr("what the trainee must say"));
    QStringList like;
    for (const std::string& one : m_point.like) like << qs(one);
    m_like = new QPlainTextEdit(like.join(QLatin1Char('\n')));
    m_like->setTabChangesFocus(true);
    m_like->setMaximumHeight(qRound(theme.s(84)));
    m_like->setPlaceholderText(tr("other ways to say it, one a line"));
    form()->addRow(tr("Al&so takes"), m_like);
    m_bounds = new BoundsFields(*form(), &rubric, tr("no number"), this);
    if (m_point.number)
        m_bounds->set(m_point.number->limit, m_point.number->low, m_point.number->high, m_point.number->unit);
    else
        m_bounds->setNone();
    m_tolerance = addField(
        tr("T&olerance"),
        m_point.number && m_point.number->tolerance != 0 ? textOf(m_point.number->tolerance) : QString(),
        tr("0: the number must be said exactly"));
    m_text->setFocus();
}

core::Result<void> PointDialog::check() {
    std::vector<core::Problem> problems;
    core::Point point = m_point;
    point.text = ss(m_text->text().trimmed());
    if (point.text.empty())
        complain(problems, tr("text"), tr("the text is empty"), tr("write what must be said"));
    point.like.clear();
    for (const QString& line : m_like->toPlainText().split(QLatin1Char('\n')))
        if (!line.trimmed().isEmpty()) point.like.push_back(ss(line.trimmed()));
    m_bounds->check(problems);
    const double tolerance = numberIn(*m_tolerance, tr("tolerance"), problems).value_or(0);
    if (tolerance < 0) complain(problems, tr("tolerance"), tr("it is below 0"), tr("give 0 or more"));
    point.number.reset();
    if (!m_bounds->isNone()) {
        const bool own = m_bounds->limit().empty();
        point.number = core::PointNumber{m_bounds->limit(), m_bounds->low(), m_bounds->high(),
                                         own ? m_bounds->unit() : std::string(), tolerance};
    }
    if (!problems.empty()) return verdict(tr("The point is not complete"), std::move(problems));
    m_point = std::move(point);
    return {};
}

ReadingDialog::ReadingDialog(const Theme& theme, const core::Rubric& rubric,
                             const std::optional<core::ReadingRule>& reading, QWidget* parent)
    : FormDialog(theme, tr("Reading of the step"), tr("&Keep the reading"), parent), m_reading(reading) {
    const core::ReadingRule rule = reading.value_or(core::ReadingRule());
    m_bounds = new BoundsFields(*form(), &rubric, tr("nothing is measured"), this);
    if (reading)
        m_bounds->set(rule.limit, rule.low, rule.high, rule.unit);
    else
        m_bounds->setNone();
    m_quantity = addField(tr("&Quantity"), qs(rule.quantity), tr("pressure, loss, seconds"));
    m_exclusive = new QCheckBox(tr("The bounds themselves are &outside"));
    m_exclusive->setChecked(rule.exclusive);
    m_required = new QCheckBox(tr("The &reading must be taken"));
    m_required->setChecked(rule.required);
    form()->addRow(QString(), m_exclusive);
    form()->addRow(QString(), m_required);
    m_source = addField(tr("&Source"), qs(rule.source), tr("of bounds of its own"));
    m_tolerance =
        addField(tr("&Gauge can be read to"), rule.tolerance != 0 ? textOf(rule.tolerance) : QString(),
                 tr("in its unit; only for words on the screen"));
}

core::Result<void> ReadingDialog::check() {
    std::vector<core::Problem> problems;
    if (m_bounds->isNone()) {
        m_reading.reset();
        return {};
    }
    m_bounds->check(problems);
    core::ReadingRule rule;
    rule.quantity = ss(m_quantity->text().trimmed());
    if (rule.quantity.empty())
        complain(problems, tr("quantity"), tr("it is empty"), tr("write what is measured, such as pressure"));
    rule.limit = m_bounds->limit();
    rule.low = m_bounds->low();
    rule.high = m_bounds->high();
    if (rule.limit.empty()) {
        rule.unit = m_bounds->unit();
        rule.exclusive = m_exclusive->isChecked();
    } else if (m_exclusive->isChecked()) {
        complain(problems, tr("exclusive"), tr("a named limit says itself whether its bounds are outside"),
                 tr("clear the box here and set it at the limit"));
    }
    rule.source = ss(m_source->text().trimmed());
    rule.required = m_required->isChecked();
    rule.tolerance = numberIn(*m_tolerance, tr("gauge"), problems).value_or(0);
    if (rule.tolerance < 0) complain(problems, tr("gauge"), tr("it is below 0"), tr("give 0 or more"));
    if (!problems.empty()) return verdict(tr("The reading is not complete"), std::move(problems));
    m_reading = std::move(rule);
    return {};
}

LimitDialog::LimitDialog(const Theme& theme, const core::Limit* limit, std::set<std::string> taken,
                         QWidget* parent)
    : FormDialog(theme, limit == nullptr ? tr("Add a limit") : tr("Edit the limit"),
                 limit == nullptr ? tr("&Add the limit") : tr("&Keep the changes"), parent),
      m_isNew(limit == nullptr),
      m_taken(std::move(taken)) {
    if (limit != nullptr) m_limit = *limit;
    m_id = addField(tr("I&d"), qs(m_limit.id), tr("such as applied-leak"));
    m_id->setReadOnly(!m_isNew);
    if (!m_isNew) m_id->setToolTip(tr("Steps and buses name the limit by this id: it stays."));
    m_bounds = new BoundsFields(*form(), nullptr, {}, this);
    m_bounds->set({}, m_limit.low, m_limit.high, m_limit.unit);
    m_exclusive = new QCheckBox(tr("The bounds themselves are &outside"));
    m_exclusive->setChecked(m_limit.exclusive);
    form()->addRow(QString(), m_exclusive);
    m_source = addField(tr("&Source"), qs(m_limit.source), tr("where the number comes from"));
}

core::Result<void> LimitDialog::check() {
    std::vector<core::Problem> problems;
    core::Limit limit = m_limit;
    limit.id = ss(m_id->text().trimmed());
    if (m_isNew) checkId(qs(limit.id), m_taken, tr("id"), problems);
    m_bounds->check(problems);
    limit.low = m_bounds->low();
    limit.high = m_bounds->high();
    limit.unit = m_bounds->unit();
    limit.exclusive = m_exclusive->isChecked();
    limit.source = ss(m_source->text().trimmed());
    if (limit.source.empty())
        complain(problems, tr("source"), tr("the source is missing"),
                 tr("name it, or write \"common practice, no published source\""));
    if (!problems.empty()) return verdict(tr("The limit is not complete"), std::move(problems));
    m_limit = std::move(limit);
    return {};
}

EquipmentDialog::EquipmentDialog(const Theme& theme, const QString& tag, const QString& title,
                                 std::set<std::string> taken, QWidget* parent)
    : FormDialog(theme, tag.isEmpty() ? tr("Add equipment") : tr("Edit the equipment"),
                 tag.isEmpty() ? tr("&Add it") : tr("&Keep the changes"), parent),
      m_isNew(tag.isEmpty()),
      m_taken(std::move(taken)) {
    m_title = addField(tr("&Title"), title, tr("as forms show it"));
    m_tag = addField(tr("Ta&g"), tag, tr("such as air-brakes"));
    m_tag->setReadOnly(!m_isNew);
}

std::pair<std::string, std::string> EquipmentDialog::equipment() const {
    return {ss(m_tag->text().trimmed()), ss(m_title->text().trimmed())};
}

core::Result<void> EquipmentDialog::check() {
    std::vector<core::Problem> problems;
    const auto [tag, title] = equipment();
    if (title.empty()) complain(problems, tr("title"), tr("it is empty"), tr("write what the bus has"));
    if (m_isNew) checkId(qs(tag), m_taken, tr("tag"), problems);
    return verdict(tr("The equipment is not complete"), std::move(problems));
}

SectionDialog::SectionDialog(const Theme& theme, const core::Rubric& rubric, const core::Section* section,
                             std::set<std::string> taken, QWidget* parent)
    : FormDialog(theme, section == nullptr ? tr("Add a section") : tr("Edit the section"),
                 section == nullptr ? tr("&Add the section") : tr("&Keep the changes"), parent),
      m_isNew(section == nullptr),
      m_taken(std::move(taken)) {
    if (section != nullptr) m_section = *section;
    m_title = addField(tr("&Title"), qs(m_section.title), tr("what a test may draw"));
    m_id = addField(tr("I&d"), qs(m_section.id), tr("such as cab-and-front"));
    m_id->setReadOnly(!m_isNew);
    m_share =
        addField(tr("&Share of tests"), qs(core::shortestText(m_section.share)), tr("0.25 for a quarter"));
    for (const core::Zone& zone : rubric.zones) {
        auto* box = new QCheckBox(qs(zone.title).replace(QLatin1Char('&'), QLatin1String("&&")));
        box->setChecked(std::ranges::find(m_section.zones, zone.id) != m_section.zones.end());
        form()->addRow(m_zones.empty() ? tr("Zones") : QString(), box);
        m_zones.emplace_back(zone.id, box);
    }
}

core::Result<void> SectionDialog::check() {
    std::vector<core::Problem> problems;
    core::Section section = m_section;
    section.title = ss(m_title->text().trimmed());
    section.id = ss(m_id->text().trimmed());
    if (section.title.empty()) complain(problems, tr("title"), tr("it is empty"), tr("write what is drawn"));
    if (m_isNew) checkId(qs(section.id), m_taken, tr("id"), problems);
    section.share = numberIn(*m_share, tr("share"), problems).value_or(0);
    if (section.share < 0 || section.share > 1)
        complain(problems, tr("share"), tr("it is not between 0 and 1"), tr("give 0.25 for a quarter"));
    std::erase_if(section.zones, [this](const std::string& zone) {
        return std::ranges::any_of(
            m_zones, [&](const auto& one) { return one.first == zone && !one.second->isChecked(); });
    });
    for (const auto& [zone, box] : m_zones)
        if (box->isChecked() && std::ranges::find(section.zones, zone) == section.zones.end())
            section.zones.push_back(zone);
    if (section.zones.empty())
        complain(problems, tr("zones"), tr("no zone is chosen"), tr("choose at least one"));
    if (!problems.empty()) return verdict(tr("The section is not complete"), std::move(problems));
    m_section = std::move(section);
    return {};
}

}  // namespace markerlamp::app
