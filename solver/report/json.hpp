#pragma once

#include "solver/outcome.hpp"
#include "solver/report/report.hpp"

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

namespace headroom::solver {

using Json = nlohmann::ordered_json;

/// Version of the JSON layout; raised when a key changes its meaning or goes.
inline constexpr int json_version = 1;

/// The head every answer starts with: what it is, its version, whose house.
Json json_head(const std::string &question, const std::string &house);
Json outcome_json(const Outcome &outcome);
Json optional_json(const std::optional<double> &value);
/// Indented, ending in a newline; bytes that are not UTF-8 are replaced.
std::string json_text(const Json &json);

std::string stop_reason_name(StopReason reason);

/// Shortest text that reads back as the same number.
std::string number(double value);

/// One of an answer's three forms.
template <class Answer>
std::string report_in(Format format, const Answer &answer, std::string (*text)(const Answer &),
                      Json (*json)(const Answer &), std::string (*csv)(const Answer &)) {
    switch (format) {
    case Format::Json:
        return json_text(json(answer));
    case Format::Csv:
        return csv(answer);
    case Format::Text:
        break;
    }
    return text(answer);
}

} // namespace headroom::solver
