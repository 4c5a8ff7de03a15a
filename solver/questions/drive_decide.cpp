// From states, settings and limits to one verdict.
#include "models/floor_en1264.hpp"
#include "solver/questions/drive_work.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

bool straddles(const StateRow &row) {
    return row.headroom_low_pa < 0.0 && row.headroom_high_pa > 0.0;
}

// What a state judged by head says against a yes.
void judge_head(TextForm form, StateRow &row, const std::string &index) {
    if (row.judged_by != "head" || !row.fault.empty() || row.headroom_low_pa >= 0.0)
        return;
    if (straddles(row))
        row.doubt = row.headroom_pa < 0.0
                        ? fmt::format("{} short at the middle estimate, but {} at the good end "
                                      "of the tolerances",
                                      pressure_words(form, -row.headroom_pa),
                                      signed_pressure(form, row.headroom_high_pa))
                        : fmt::format("{} to spare, but {} at the bad end of the tolerances",
                                      pressure_words(form, row.headroom_pa),
                                      signed_pressure(form, row.headroom_low_pa));
    else
        row.fault = fmt::format("the circulator is {} short at {} {}{}",
                                pressure_words(form, -row.headroom_pa),
                                flow_of_l_min(form, row.source_l_min), flow_unit(form),
                                index.empty() ? "" : fmt::format("; `{}` decides", index));
}

std::string cold_words(const DriveAnswer &out, const std::vector<const HeatRow *> &cold) {
    const HeatRow &worst =
        **std::max_element(cold.begin(), cold.end(), [](const HeatRow *a, const HeatRow *b) {
            return a->own_flow_c < b->own_flow_c;
        });
    std::string words =
        cold.size() == 1
            ? fmt::format("water at {:.1f} degC cannot heat the room of `{}`: it",
                          out.flow_temperature_c, worst.name)
            : fmt::format("water at {:.1f} degC cannot heat the rooms of {} loops and radiators: "
                          "`{}` is the furthest off; it",
                          out.flow_temperature_c, cold.size(), worst.name);
    words += fmt::format(" is {:.0f} W short at a drop of {:.0f} K and needs {}", worst.short_w,
                         drop_at_most_flow_k(worst.design_drop_k), sought_words(worst.own_flow_c));
    if (worst.rated_needed_w)
        words += fmt::format(", or {:.0f} W of rated output", *worst.rated_needed_w);
    return words;
}

// Too cold a water for a room, or too warm a floor: the emitter, not the pump, is at fault.
void add_heat_reasons(DriveAnswer &out) {
    if (out.source && out.source->short_w > 0.0)
        out.reasons.push_back(fmt::format(
            "the source gives {:.0f} W at these temperatures, {:.0f} W less than the design load",
            out.source->greatest_w, out.source->short_w));
    std::vector<const HeatRow *> cold;
    for (const HeatRow &row : out.heat)
        if (!row.reaches)
            cold.push_back(&row);
    if (!cold.empty())
        out.reasons.push_back(cold_words(out, cold));
    const double lived_on_c = models::surface_limit_c(models::FloorZone::Occupied);
    const double bathroom_c = models::surface_limit_c(models::FloorZone::Bathroom);
    for (const HeatRow &row : out.heat)
        if (row.surface_limit_c && row.surface_c > *row.surface_limit_c)
            out.reasons.push_back(fmt::format(
                "the floor over `{}` would reach {:.1f} degC, its limit is {:g} degC: a larger "
                "share of the room's floor, or another emitter such as a radiator beside it, must "
                "take part of the load{}",
                row.name, row.surface_c, *row.surface_limit_c,
                *row.surface_limit_c == lived_on_c && row.surface_c <= bathroom_c
                    ? fmt::format("; if it is a bathroom, `surface: bathroom` on its loop states "
                                  "the limit of {:g} degC",
                                  bathroom_c)
                    : ""));
}

bool had_mixer(const networks::House &given) {
    return std::any_of(given.runs.begin(), given.runs.end(),
                       [](const networks::Run &run) { return run.mixer.has_value(); });
}

std::string thermal_sentence(const DriveWork &work, const std::string &hydraulic) {
    const ThermalLimit &first = work.out.too_hot.front();
    const bool design = first.when == "on the design day";
    return fmt::format(
        "hydraulically {}, thermally no: {}. {:g} degC water would reach `{}` {}, which "
        "takes at most {:g} degC",
        hydraulic,
        !design                 ? "hot water must run on into the coil, not the floors"
        : had_mixer(work.given) ? "the mixer must stay"
                                : "these floors need cooler water",
        first.water_c, first.emitter, first.when, first.limit_c);
}

} // namespace

// No before marginal before yes; a thermal limit alone is its own verdict. All reasons are kept.
void decide(DriveWork &work) {
    DriveAnswer &out = work.out;
    out.decided_by = out.states.front().state;
    std::vector<std::string> faults;
    std::vector<std::string> doubts;
    const StateRow *deciding = nullptr;
    for (StateRow &row : out.states) {
        judge_head(work.out.form, row, &row == &out.states.front() ? out.index : "");
        if (!row.decides())
            continue;
        if (!row.fault.empty())
            faults.push_back(fmt::format("{}: {}", row.state, row.fault));
        if (!row.doubt.empty())
            doubts.push_back(fmt::format("{}: {}", row.state, row.doubt));
        const bool against = !row.fault.empty() || !row.doubt.empty();
        if (against && (deciding == nullptr || (deciding->fault.empty() && !row.fault.empty())))
            deciding = &row;
    }
    if (deciding != nullptr)
        out.decided_by = deciding->state;
    // Valve range and settings were noted as they were found.
    add_heat_reasons(out);
    out.reasons.insert(out.reasons.begin(), faults.begin(), faults.end());
    if (!out.reasons.empty()) {
        out.verdict = Verdict::No;
        out.sentence = "no: " + out.reasons.front();
    } else if (!out.too_hot.empty()) {
        out.verdict = Verdict::ThermalNo;
        out.sentence = thermal_sentence(work, doubts.empty() ? "yes" : "marginal");
    } else if (!doubts.empty()) {
        out.verdict = Verdict::Marginal;
        out.sentence = "marginal: " + doubts.front();
    } else {
        out.verdict = Verdict::Yes;
        out.sentence = fmt::format("yes: one circulator drives every loop and radiator, with {} to "
                                   "spare",
                                   pressure_words(work.out.form, out.headroom_pa));
    }
    out.reasons.insert(out.reasons.end(), doubts.begin(), doubts.end());
}

std::string verdict_word(Verdict verdict) {
    switch (verdict) {
    case Verdict::Yes:
        return "yes";
    case Verdict::Marginal:
        return "marginal";
    case Verdict::No:
        return "no";
    case Verdict::ThermalNo:
        return "hydraulically yes, thermally no";
    case Verdict::NotSolved:
        break;
    }
    return "not solved";
}

} // namespace headroom::solver
