// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/rubric/rubric_reader.h"

#include "core/base/text.h"

#include <yaml-cpp/yaml.h>

namespace markerlamp::core {

namespace {

class Writer {
public:
    Writer& key(const char* k) {
        m_out << YAML::Key << k << YAML::Value;
        return *this;
    }
    // Quotes keep "80", "yes" or "no" text.
    void text(const char* k, const std::string& v) { key(k).m_out << YAML::DoubleQuoted << v; }
    void textIf(const char* k, const std::string& v) {
        if (!v.empty()) text(k, v);
    }
    void plain(const char* k, const std::string& v) { key(k).m_out << v; }
    void number(const char* k, double v) { plain(k, shortestText(v)); }
    void numberIf(const char* k, const std::optional<double>& v) {
        if (v) number(k, *v);
    }
    void flagIf(const char* k, bool v) {
        if (v) plain(k, "true");
    }
    void list(const char* k, const std::vector<std::string>& values) {
        if (values.empty()) return;
        key(k).m_out << YAML::Flow << YAML::BeginSeq;
        for (const std::string& v : values) m_out << YAML::DoubleQuoted << v;
        m_out << YAML::EndSeq;
    }
    void beginMap() { m_out << YAML::BeginMap; }
    void endMap() { m_out << YAML::EndMap; }
    void beginList(const char* k) { key(k).m_out << YAML::BeginSeq; }
    void endList() { m_out << YAML::EndSeq; }
    [[nodiscard]] std::string done() const { return std::string(m_out.c_str()) + "\n"; }

private:
    YAML::Emitter m_out;
};

void writeLimits(Writer& out, const std::vector<Limit>& limits) {
    if (limits.empty()) return;
    out.key("limits").beginMap();
    for (const Limit& limit : limits) {
        out.key(limit.id.c_str()).beginMap();
        out.numberIf("low", limit.low);
        out.numberIf("high", limit.high);
        out.text("unit", limit.unit);
        out.flagIf("exclusive", limit.exclusive);
        out.text("source", limit.source);
        out.endMap();
    }
    out.endMap();
}

void writeStep(Writer& out, const Step& step) {
    out.beginMap();
    out.text("id", step.id);
    out.text("title", step.title);
    out.textIf("show", step.show);
    if (!step.say.empty()) {
        out.beginList("say");
        for (const Point& point : step.say) {
            out.beginMap();
            out.text("id", point.id);
            out.text("text", point.text);
            out.list("like", point.like);
            if (point.number) {
                out.key("number").beginMap();
                out.textIf("limit", point.number->limit);
                out.numberIf("low", point.number->low);
                out.numberIf("high", point.number->high);
                out.textIf("unit", point.number->unit);
                if (point.number->tolerance != 0) out.number("tolerance", point.number->tolerance);
                out.endMap();
            }
            out.endMap();
        }
        out.endList();
    }
    if (step.sayNeeded != static_cast<int>(step.say.size())) out.number("say_needed", step.sayNeeded);
    if (step.weight != 1) out.number("weight", step.weight);
    out.flagIf("must_pass", step.mustPass);
    out.list("when", step.when);
    if (step.reading) {
        const ReadingRule& reading = *step.reading;
        out.key("reading").beginMap();
        out.text("quantity", reading.quantity);
        out.textIf("limit", reading.limit);
        out.numberIf("low", reading.low);
        out.numberIf("high", reading.high);
        out.textIf("unit", reading.unit);
        out.flagIf("exclusive", reading.exclusive);
        out.textIf("source", reading.source);
        out.flagIf("required", reading.required);
        if (reading.tolerance != 0) out.number("tolerance", reading.tolerance);
        out.endMap();
    }
    out.number("minutes", step.minutes);
    out.textIf("caution", step.caution);
    out.textIf("source", step.source);
    out.endMap();
}

}  // namespace

std::string writeRubric(const Rubric& rubric) {
    Writer out;
    out.beginMap();
    out.plain("format", "markerlamp.rubric/1");
    out.text("id", rubric.id);
    out.number("edition", rubric.edition);
    out.text("title", rubric.title);
    out.textIf("about", rubric.about);
    if (!rubric.equipment.empty()) {
        out.key("equipment").beginMap();
        for (const auto& [tag, title] : rubric.equipment) out.text(tag.c_str(), title);
        out.endMap();
    }
    out.key("pass").beginMap();
    out.number("percent", rubric.pass.percent);
    out.numberIf("minutes", rubric.pass.minutes);
    out.flagIf("minutes_fail", rubric.pass.minutesFail);
    out.endMap();
    writeLimits(out, rubric.limits);
    out.beginList("zones");
    for (const Zone& zone : rubric.zones) {
        out.beginMap();
        out.text("id", zone.id);
        out.text("title", zone.title);
        out.beginList("steps");
        for (const Step& step : zone.steps) writeStep(out, step);
        out.endList();
        out.endMap();
    }
    out.endList();
    if (!rubric.order.empty()) {
        out.beginList("order");
        for (const OrderRule& rule : rubric.order) {
            out.beginMap();
            out.text("id", rule.id);
            out.list("chain", rule.chain);
            out.list("first", rule.first);
            out.list("then", rule.then);
            out.flagIf("strict", rule.strict);
            out.flagIf("must_pass", rule.mustPass);
            out.textIf("why", rule.why);
            out.endMap();
        }
        out.endList();
    }
    if (!rubric.sections.empty()) {
        out.beginList("sections");
        for (const Section& section : rubric.sections) {
            out.beginMap();
            out.text("id", section.id);
            out.text("title", section.title);
            out.list("zones", section.zones);
            out.number("share", section.share);
            out.endMap();
        }
        out.endList();
    }
    out.endMap();
    return out.done();
}

std::string writeLimitSet(const LimitSet& set) {
    Writer out;
    out.beginMap();
    out.plain("format", "markerlamp.limits/1");
    out.text("id", set.id);
    out.text("title", set.title);
    out.textIf("about", set.about);
    writeLimits(out, set.limits);
    out.endMap();
    return out.done();
}

}  // namespace markerlamp::core
