// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/scoring/scorecard.h"

#include <nlohmann/json.hpp>

namespace markerlamp::core {

std::string_view toWord(Reason::Code code) {
    switch (code) {
        case Reason::Code::BelowPercent:
            return "below-percent";
        case Reason::Code::MustPass:
            return "must-pass";
        case Reason::Code::StrictOrder:
            return "strict-order";
        case Reason::Code::OverTime:
            return "over-time";
        case Reason::Code::Unseen:
            return "unseen";
        case Reason::Code::Unfinished:
            return "unfinished";
    }
    return {};
}

std::string_view toWord(StepOutcome outcome) {
    switch (outcome) {
        case StepOutcome::Satisfied:
            return "satisfied";
        case StepOutcome::Partial:
            return "partial";
        case StepOutcome::Wrong:
            return "wrong";
        case StepOutcome::Prompted:
            return "prompted";
        case StepOutcome::Omitted:
            return "omitted";
        case StepOutcome::Unseen:
            return "unseen";
        case StepOutcome::Unreached:
            return "unreached";
    }
    return {};
}

std::string_view toWord(AttemptResult result) {
    switch (result) {
        case AttemptResult::Pass:
            return "pass";
        case AttemptResult::Incomplete:
            return "incomplete";
        case AttemptResult::Fail:
            return "fail";
    }
    return {};
}

std::string toJson(const Scorecard& card) {
    using Json = nlohmann::ordered_json;
    Json reasons = Json::array();
    for (const Reason& reason : card.reasons) {
        Json entry{{"code", toWord(reason.code)}};
        if (!reason.step.empty()) entry["step"] = reason.step;
        if (!reason.rule.empty()) entry["rule"] = reason.rule;
        reasons.push_back(std::move(entry));
    }
    Json faults = Json::array();
    for (const OrderFault& fault : card.orderFaults)
        faults.push_back({{"first", fault.first}, {"then", fault.then}, {"rule", fault.rule}});
    Json zones = Json::array();
    for (const ZoneScore& zone : card.zones)
        zones.push_back({{"zone", zone.zone},
                         {"percent", zone.percent},
                         {"earned", zone.earned},
                         {"possible", zone.possible}});
    Json steps = Json::array();
    for (const StepScore& step : card.steps)
        steps.push_back({{"step", step.step},
                         {"zone", step.zone},
                         {"outcome", toWord(step.outcome)},
                         {"shown", step.shown},
                         {"said", step.said},
                         {"needed", step.needed},
                         {"missed_points", step.missedPoints},
                         {"prompted", step.prompted},
                         {"position", step.position > 0 ? Json(step.position) : Json(nullptr)}});
    const Json document{{"format", "markerlamp.scorecard/1"},
                        {"attempt", card.attempt},
                        {"rubric", card.rubric},
                        {"edition", card.edition},
                        {"result", toWord(card.result)},
                        {"reasons", std::move(reasons)},
                        {"percent", card.percent},
                        {"earned", card.earned},
                        {"possible", card.possible},
                        {"shown_percent", card.shownPercent},
                        {"said_percent", card.saidPercent},
                        {"order_percent", card.orderPercent},
                        {"displaced", card.displaced},
                        {"order_faults", std::move(faults)},
                        {"broken_rules", card.brokenRules},
                        {"seconds", card.seconds},
                        {"zones", std::move(zones)},
                        {"steps", std::move(steps)}};
    // Ids came out of readers that refuse text that is not UTF-8; "replace" keeps a hand-made card from
    // throwing.
    return document.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace markerlamp::core
