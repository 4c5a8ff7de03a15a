#include "solver/questions/convert.hpp"
#include "solver/questions/figure_words.hpp"

#include "solver/questions/drive_work.hpp"
#include "solver/questions/flows.hpp"
#include "solver/questions/lay.hpp"
#include "solver/questions/season.hpp"
#include "solver/questions/variants.hpp"
#include "solver/questions/volume.hpp"

#include <algorithm>
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
    const SeasonTotals totals = season(house).with_curve.totals;
    state.seasonal_performance = totals.performance_with_pumps;
    state.electricity_kwh = totals.electricity_kwh;
    state.gas_kwh = totals.gas_kwh;
    state.yearly_cost = totals.cost;
    state.co2_kg = totals.co2_kg;
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
    return state;
}

// Every pipe of every run with each emitter at its design flow.
void add_runs(const House &house, ConvertAnswer &out) {
    const House ideal = with_ideal_balancing(single_circulator(size(house).house));
    const SolvedHouse at_need = solved(with_ideal_rise(ideal, out.driven.needed_pa));
    if (!at_need.solution.outcome.converged())
        return;
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
        row.loss_pa_m = std::abs(at_need.solution.loss_pa[e]) / pipe->pipe.length_m;
        row.within =
            row.velocity_m_s <= out.velocity_limit_m_s && row.loss_pa_m <= out.loss_limit_pa_m;
        out.runs.push_back(std::move(row));
    }
}

void add_limits(const House &house, ConvertAnswer &out) {
    const networks::PipeLimits &limits = house.pipe_limits;
    out.velocity_limit_m_s = limits.velocity_m_s.value_or(house.habits[Habit::PipeVelocity]);
    out.loss_limit_pa_m = limits.loss_pa_m.value_or(house.habits[Habit::PipeLossPerMetre]);
    out.limits_assumed = !limits.velocity_m_s || !limits.loss_pa_m;
}

void add_least_flow(const House &house, ConvertAnswer &out) {
    if (house.source->least_flow_m3_s)
        out.least_flow_l_min = *house.source->least_flow_m3_s * 6.0e4;
    out.least_state_l_min = out.driven.source_l_min;
    for (const StateRow &row : out.driven.states)
        if (!row.state.starts_with("hot water"))
            out.least_state_l_min = std::min(out.least_state_l_min, row.source_l_min);
    out.least_open_volume_m3 = house.source->least_open_volume_m3;
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
    const bool pipes_only = out.driven.verdict == Verdict::Yes && !out.reasons.empty();
    if (out.reasons.empty()) {
        out.feasible = Feasible::Yes;
        out.sentence = fmt::format(
            "feasible: the heat pump's circulator drives every loop and radiator at {:.1f} degC, "
            "with {} to spare",
            out.driven.flow_temperature_c, pressure_words(out.form, out.driven.headroom_pa));
    } else if (changes_known || pipes_only) {
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
    out.yearly_currency = converted.tariff.currency;
    const House alone = without_other_pumps(converted);
    out.taken_out = taken_out(base, alone);
    if (base.separator && converted.separator)
        out.taken_out.push_back("the header, bridged out for the verdict");
    out.found = as_it_stands(base, out.outcome);
    if (!out.outcome.converged())
        return out;
    out.driven = drive_with_changes(converted, limits, progress);
    out.outcome = out.driven.outcome;
    if (out.driven.verdict == Verdict::NotSolved)
        return out;
    out.converted = as_converted(alone, out.driven);
    add_limits(converted, out);
    if (out.driven.needed_pa > 0.0)
        add_runs(converted, out);
    add_least_flow(converted, out);
    decide(out);
    return out;
}

} // namespace headroom::solver
