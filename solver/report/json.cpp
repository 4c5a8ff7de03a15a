#include "solver/report/json.hpp"

#include "solver/report/report.hpp"

#include <fmt/format.h>

namespace headroom::solver {

Json json_head(const std::string &question, const std::string &house) {
    Json j;
    j["answer"] = question;
    j["version"] = json_version;
    j["house"] = house;
    return j;
}

Json optional_json(const std::optional<double> &value) {
    return value ? Json(*value) : Json();
}

std::string json_text(const Json &json) {
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string stop_reason_name(StopReason reason) {
    switch (reason) {
    case StopReason::NotSolved:
        return "not solved";
    case StopReason::Converged:
        return "converged";
    case StopReason::IterationLimit:
        return "iteration limit";
    case StopReason::CheckFailed:
        return "check of the whole network failed";
    case StopReason::Singular:
        return "singular equations";
    case StopReason::NonFinite:
        return "not finite";
    case StopReason::Contradiction:
        return "contradictory flows";
    case StopReason::Unsettled:
        return "outer iteration unsettled";
    }
    return "";
}

Json outcome_json(const Outcome &outcome) {
    return {{"reason", stop_reason_name(outcome.reason)},
            {"newton_steps", outcome.newton_steps},
            {"worst_mass_kg_s", outcome.worst_mass_kg_s},
            {"mass_tolerance_kg_s", outcome.mass_tolerance_kg_s},
            {"worst_law_pa", outcome.worst_law_pa},
            {"law_tolerance_pa", outcome.law_tolerance_pa},
            {"worst_equation", outcome.worst_equation},
            {"explanation", outcome.explanation}};
}

std::string number(double value) {
    return fmt::format("{}", value);
}

std::string failure_text(const Outcome &outcome) {
    std::string out = fmt::format("error[not-solved]: {}", stop_reason_name(outcome.reason));
    if (!outcome.worst_equation.empty())
        out += fmt::format(" in the {}", outcome.worst_equation);
    out += "\n";
    if (!outcome.explanation.empty())
        out += "  " + outcome.explanation + "\n";
    if (outcome.reason != StopReason::Contradiction && outcome.newton_steps > 0)
        out +=
            fmt::format("  mass closes to {:.3g} kg/s (asked: {:.3g}), laws to {:.3g} Pa (asked: "
                        "{:.3g}) after {} steps\n",
                        outcome.worst_mass_kg_s, outcome.mass_tolerance_kg_s, outcome.worst_law_pa,
                        outcome.law_tolerance_pa, outcome.newton_steps);
    return out;
}

} // namespace headroom::solver
