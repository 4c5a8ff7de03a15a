#pragma once

#include "solver/outcome.hpp"

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

} // namespace headroom::solver
