// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/store/json_columns.h"

#include <nlohmann/json.hpp>

namespace markerlamp::db {

using nlohmann::json;

std::string toJsonText(const std::vector<std::string>& list) {
    return json(list).dump();
}

std::string toJsonText(const std::map<std::string, core::LimitBounds>& limits) {
    json object = json::object();
    for (const auto& [id, bounds] : limits) {
        json& entry = object[id] = json::object();
        if (bounds.low) entry["low"] = *bounds.low;
        if (bounds.high) entry["high"] = *bounds.high;
    }
    return object.dump();
}

std::vector<std::string> listFromJson(std::string_view text) {
    if (text == "[]") return {};
    return json::parse(text).get<std::vector<std::string>>();
}

std::map<std::string, core::LimitBounds> limitsFromJson(std::string_view text) {
    std::map<std::string, core::LimitBounds> limits;
    if (text == "{}") return limits;
    const json object = json::parse(text);
    for (const auto& [id, entry] : object.items()) {
        core::LimitBounds& bounds = limits[id];
        if (entry.contains("low")) bounds.low = entry.at("low").get<double>();
        if (entry.contains("high")) bounds.high = entry.at("high").get<double>();
    }
    return limits;
}

}  // namespace markerlamp::db
