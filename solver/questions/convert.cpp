#include "solver/questions/convert.hpp"
#include "solver/questions/figure_words.hpp"

#include "solver/questions/flows.hpp"
#include "solver/questions/lay.hpp"
#include "solver/questions/season.hpp"
#include "solver/questions/settings.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Habit;
using networks::House;
using networks::Source;

bool has_heat_pump(const House &house) {
    return house.source && house.source->kind == Source::Kind::HeatPump;
}

std::vector<std::string> taken_out(const House &found, const House &converted) {
    std::vector<std::string> out;
    if (found.separator && !converted.separator)
        out.push_back("the " + found.separator->name);
    for (const networks::Run &run : found.runs) {
        const auto same = std::find_if(converted.runs.begin(), converted.runs.end(),
                                       [&](const networks::Run &r) { return r.name == run.name; });
        const bool gone = same == converted.runs.end();
        if (run.pump && (gone || !same->pump))
            out.push_back(fmt::format("the pump of run `{}`", run.name));
        if (run.mixer && (gone || !same->mixer))
            out.push_back(fmt::format("the mixer of run `{}`", run.name));
    }
    return out;
}

void add_year(const House &house, ConvertState &state) {
    if (!why_no_season(house).empty())
        return;
    const SeasonAnswer ways = season(house);
    const SeasonTotals &year = ways.with_curve.totals;
    state.electricity_kwh = year.electricity_kwh;
    if (!year.fuel_known)
        return;
    state.seasonal_performance = year.performance_with_pumps;
    state.gas_kwh = year.gas_kwh;
    state.yearly_cost = year.cost;
    state.co2_kg = year.co2_kg;
    state.cost_caution = flattered_words(year);
    state.fixed_performance = ways.fixed.totals.performance_with_pumps;
    state.fixed_c = ways.stated_c.value_or(ways.needed_c);
}

ConvertState as_it_stands(const House &house, Outcome &outcome) {
    ConvertState state;
    const FlowsAnswer answer = flows(house);
    outcome = answer.outcome;
    state.what = "as found";
    if (!answer.source)
        return state;
    state.flow_temperature_c = answer.source->sent_c;
    state.return_temperature_c = answer.source->return_c;
    state.source_l_min = answer.source->flow_m3_s * 6.0e4;
    state.heat = answer.source->heat;
    for (const RoomTemperatureRow &room : answer.rooms)
        state.rooms_over_k = std::max(state.rooms_over_k, room.reached_c - room.wanted_c);
    add_year(house, state);
    return state;
}

ConvertState as_converted(const House &house, const DriveAnswer &driven) {
    ConvertState state;
    state.what = "as converted";
    state.flow_temperature_c = driven.flow_temperature_c;
    state.return_temperature_c = driven.return_temperature_c;
    state.source_l_min = driven.source_l_min;
    state.heat = driven.source;
    add_year(house, state);
    state.year_note =
        year_note(house, state.what, driven.flow_temperature_c, driven.needed_temperature_c);
    return state;
}

void add_limits(const House &house, ConvertAnswer &out) {
    const networks::PipeLimits &limits = house.pipe_limits;
    out.velocity_limit_m_s = limits.velocity_m_s.value_or(house.habits[Habit::PipeVelocity]);
    out.loss_limit_pa_m = limits.loss_pa_m.value_or(house.habits[Habit::PipeLossPerMetre]);
    out.limits_assumed = !limits.velocity_m_s || !limits.loss_pa_m;
}

// Every pipe of every run with each emitter at its design flow.
std::vector<ConvertRun> runs_at(const House &house, double needed_pa, const ConvertAnswer &limits) {
    const House ideal = with_ideal_balancing(single_circulator(size(house).house));
    const SolvedHouse at_need = solved(with_ideal_rise(ideal, needed_pa));
    std::vector<ConvertRun> rows;
    if (!at_need.solution.outcome.converged())
        return rows;
    for (std::size_t e = 0; e < at_need.network.links.size(); ++e) {
        const networks::Link &link = at_need.network.links[e];
        const auto *pipe = std::get_if<networks::PipeFriction>(&link.component);
        if (pipe == nullptr || link.owner.kind != networks::Owner::Kind::Run ||
            link.owner.side != networks::Side::Flow)
            continue;
        const networks::Run &run = house.runs[link.owner.index];
        const models::FluidState &fluid = at_need.solution.fluid[e];
        const double flow = at_need.solution.flow_kg_s[e];
        ConvertRun row{};
        row.name = run.name;
        row.pipe = run.pipe.name;
        row.existing = run.existing;
        row.flow_l_min = litres_per_minute(std::abs(flow), fluid.density_kg_m3);
        row.velocity_m_s = std::abs(models::velocity_m_s(pipe->pipe.bore_m, fluid, flow));
        if (pipe->pipe.length_m > 0.0)
            row.loss_pa_m = std::abs(at_need.solution.loss_pa[e]) / pipe->pipe.length_m;
        row.within = row.velocity_m_s <= limits.velocity_limit_m_s &&
                     row.loss_pa_m <= limits.loss_limit_pa_m;
        rows.push_back(std::move(row));
    }
    return rows;
}

bool all_within(const std::vector<ConvertRun> &runs) {
    return std::all_of(runs.begin(), runs.end(), [](const ConvertRun &run) { return run.within; });
}

// Each run beyond a limit a size wider, until none is; flows do not depend on it.
House with_wider_runs(House house, ConvertAnswer &out) {
    const House before = house;
    std::vector<ConvertRun> runs = out.runs;
    bool wider = true;
    while (wider && !all_within(runs)) {
        wider = false;
        for (const ConvertRun &row : runs) {
            const auto run =
                std::find_if(house.runs.begin(), house.runs.end(),
                             [&](const networks::Run &r) { return r.name == row.name; });
            const auto pipe = networks::next_larger(house.catalogue, run->pipe);
            if (row.within || !pipe)
                continue;
            const auto index = static_cast<std::size_t>(run - house.runs.begin());
            house = changed(std::move(house), WiderRun{index, *pipe});
            wider = true;
        }
        runs = runs_at(house, out.driven.needed_pa, out);
    }
    out.wider_runs.emplace();
    if (!wider)
        return before;
    for (std::size_t i = 0; i < house.runs.size(); ++i)
        if (house.runs[i].pipe.name != before.runs[i].pipe.name) {
            const Change change = make_change(before, WiderRun{i, house.runs[i].pipe});
            out.wider_runs->changes.push_back(change.words);
            out.wider_runs->cost += change.cost;
        }
    return house;
}

// The converted house with pipes within their limits judged again, and what else it then takes.
void add_changes(const House &converted, const SearchLimits &limits, const Progress &progress,
                 ConvertAnswer &out) {
    House house = converted;
    DriveAnswer driven = out.driven;
    if (!all_within(out.runs)) {
        house = with_wider_runs(converted, out);
        driven = drive_verdict(house);
        out.wider_runs->headroom_pa = driven.headroom_pa;
        out.wider_runs->headroom_low_pa = driven.headroom_low_pa;
        out.wider_runs->flow_temperature_c = driven.flow_temperature_c;
        out.enough_with_wider_runs =
            driven.verdict == Verdict::Yes && !out.wider_runs->changes.empty();
    }
    if (driven.verdict != Verdict::Yes && driven.verdict != Verdict::NotSolved &&
        limits.most_judged > 0)
        out.driven.changes = least_changes(house, driven, limits, progress);
}

void add_least_flow(const House &house, ConvertAnswer &out) {
    if (house.source->least_flow_m3_s)
        out.least_flow_l_min = *house.source->least_flow_m3_s * 6.0e4;
    out.least_state_l_min = out.driven.source_l_min;
    for (const StateRow &row : out.driven.states)
        if (!row.state.starts_with("hot water"))
            out.least_state_l_min = std::min(out.least_state_l_min, row.source_l_min);
    out.wanted_volume = wanted_volume(size(house).house);
    const House alone = single_circulator(house);
    out.open_volume_m3 = open_volume_m3(alone, zone_names(alone));
    out.shut_open_volume_m3 = open_volume_m3(alone, {});
}

void decide(ConvertAnswer &out) {
    out.reasons = out.driven.reasons;
    for (const ConvertRun &run : out.runs)
        if (!run.within)
            out.reasons.push_back(fmt::format(
                "run `{}` in {} would carry {:.2f} m/s at {:.0f} Pa/m; its limits are {:g} m/s and "
                "{:.0f} Pa/m",
                run.name, run.pipe, run.velocity_m_s, run.loss_pa_m, out.velocity_limit_m_s,
                out.loss_limit_pa_m));
    const bool changes_known = out.driven.changes && !out.driven.changes->sets.empty();
    const bool pipes_can = !out.wider_runs || !out.wider_runs->changes.empty();
    const bool after_changes = out.enough_with_wider_runs || (changes_known && pipes_can);
    if (out.reasons.empty()) {
        out.feasible = Feasible::Yes;
        out.sentence = fmt::format(
            "feasible: the heat pump's circulator drives every loop and radiator at {:.1f} degC, "
            "with {} to spare",
            out.driven.flow_temperature_c, pressure_words(out.form, out.driven.headroom_pa));
    } else if (after_changes) {
        out.feasible = Feasible::AfterChanges;
        out.sentence = "feasible after changes: " + out.reasons.front();
    } else {
        out.feasible = Feasible::No;
        out.sentence = "not feasible with the changes known to the program: " + out.reasons.front();
    }
}

} // namespace

Conversion converted_house(const House &base, const std::string &proposal) {
    const auto usable = [](const House &house) {
        return has_heat_pump(house) && why_not_driven(house).empty();
    };
    for (const networks::Proposal &known : base.proposals)
        if (proposal.empty() ? usable(*known.house) : known.name == proposal) {
            if (!usable(*known.house))
                return {std::nullopt,
                        fmt::format("proposal `{}` has no heat pump with something to drive",
                                    known.name),
                        "give it a `source:` with `kind: heat_pump`"};
            return {lay(*known.house), "", ""};
        }
    if (proposal.empty() && usable(base))
        return {base, "", ""};
    return {std::nullopt, "the file says nothing of a heat pump to convert to",
            "lay one over the house under `proposals:`, as networks/examples/conversion.yaml does"};
}

ConvertAnswer convert(const House &base, const House &converted, const SearchLimits &limits,
                      const Progress &progress) {
    ConvertAnswer out;
    out.house = base.name;
    out.form = base.text_form;
    out.converted_house = converted.name;
    out.currency = converted.prices.currency;
    out.yearly_currency = converted.tariff.currency;
    const House alone = without_other_pumps(converted);
    out.taken_out = taken_out(base, alone);
    if (base.separator && converted.separator)
        out.taken_out.push_back("the header, bridged out for the verdict");
    out.found = as_it_stands(base, out.outcome);
    if (!out.outcome.converged())
        return out;
    out.driven = drive(converted);
    out.outcome = out.driven.outcome;
    if (out.driven.verdict == Verdict::NotSolved)
        return out;
    out.converted = as_converted(alone, out.driven);
    add_limits(converted, out);
    if (out.driven.needed_pa > 0.0)
        out.runs = runs_at(converted, out.driven.needed_pa, out);
    add_changes(converted, limits, progress, out);
    add_least_flow(converted, out);
    decide(out);
    return out;
}

} // namespace headroom::solver
