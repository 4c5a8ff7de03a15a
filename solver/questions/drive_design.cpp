// The design state: every zone open, each emitter at its design flow.
#include "networks/protection.hpp"
#include "solver/questions/circuit.hpp"
#include "solver/questions/drive_work.hpp"
#include "solver/questions/variants.hpp"
#include "solver/questions/volume.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::Habit;

constexpr double passing_share = 0.01; // of the source's flow; less past the emitters says nothing

EmitterRow emitter_row(const DriveWork &work, const networks::EmitterLinks &links,
                       std::size_t order) {
    const HeadNeeded &needed = *work.design.needed;
    const Emitter &emitter = work.given.emitters[links.emitter];
    EmitterRow row{};
    row.name = emitter.name;
    row.kind = networks::emitter_word(emitter);
    row.heat_leak = networks::is_heat_leak(work.given, emitter);
    row.heat_w = emitter.heat_w;
    row.drop_k = emitter.drop_k;
    row.design_l_min = litres_per_minute(links.design_flow_kg_s,
                                         needed.solution.fluid[links.links.front()].density_kg_m3);
    if (links.pipe) {
        const auto &friction =
            std::get<networks::PipeFriction>(needed.network.links[*links.pipe].component);
        const models::FluidState &fluid = needed.solution.fluid[*links.pipe];
        const double flow = needed.solution.flow_kg_s[*links.pipe];
        row.velocity_m_s = models::velocity_m_s(friction.pipe.bore_m, fluid, flow);
        row.reynolds = models::reynolds_number(friction.pipe.bore_m, fluid, flow);
        row.regime = regime_name(models::flow_regime(friction.pipe, row.reynolds));
    }
    for (networks::LinkId id : links.links)
        row.own_loss_pa += needed.solution.open_loss_pa[id];
    const networks::LinkId valve = *links.balancing;
    row.surplus_pa = needed.solution.loss_pa[valve] - needed.solution.open_loss_pa[valve];
    if (row.surplus_pa < 1.0)
        row.surplus_pa = 0.0; // the index itself, within the search's tolerance
    row.reaches_share = work.design.emitters[order].flow_kg_s / links.design_flow_kg_s;
    return row;
}

// Where water passes unthrottled (a one-pipe ring, an open bypass), more head also moves more
// water, and the least surplus is not the difference of the heads.
void note_unthrottled(DriveWork &work) {
    const HeadNeeded &needed = *work.design.needed;
    double emitters = 0.0;
    for (const networks::EmitterLinks &links : needed.network.emitters)
        emitters += needed.solution.flow_kg_s[links.links.front()];
    const double past_kg_s = needed.source_flow_kg_s - emitters;
    if (std::abs(past_kg_s) <= passing_share * needed.source_flow_kg_s)
        return;
    const double density = needed.solution.fluid[needed.network.source->pump].density_kg_m3;
    const TextForm form = work.out.form;
    const std::string past = flow_of_l_min(form, litres_per_minute(std::abs(past_kg_s), density));
    const std::string source =
        flow_of_l_min(form, litres_per_minute(needed.source_flow_kg_s, density));
    work.out.remarks.push_back(
        past_kg_s > 0.0
            ? fmt::format("{} of the {} {} pass by the loops and radiators unthrottled (an "
                          "open bypass or a ring), so more head moves more water; headroom is the "
                          "least surplus, not the difference of the heads",
                          past, source, flow_unit(form))
            : fmt::format("loops and radiators pass {0} {2} more than the source's {1} {2} "
                          "(some stand in series); headroom is the least surplus",
                          past, source, flow_unit(form)));
}

// What a heat leak takes with its valves open while the circulator runs.
void note_heat_leak(DriveWork &work) {
    const HeadNeeded &needed = *work.design.needed;
    for (const networks::EmitterLinks &links : needed.network.emitters) {
        const Emitter &emitter = work.given.emitters[links.emitter];
        if (!networks::is_heat_leak(work.given, emitter))
            continue;
        const networks::LinkId first = links.links.front();
        const double takes_l_min = litres_per_minute(needed.solution.flow_kg_s[first],
                                                     needed.solution.fluid[first].density_kg_m3);
        work.out.remarks.push_back(fmt::format(
            "`{}` is the solid-fuel source's heat leak: its valves stay fully open, it is not set "
            "and not judged; the head needed and the settings of all others count the {} {} that "
            "it takes",
            emitter.name, flow_of_l_min(work.out.form, takes_l_min), flow_unit(work.out.form)));
        if (needed.solution.flow_kg_s[first] > passing_share * needed.source_flow_kg_s)
            work.out.remarks.push_back(fmt::format(
                "more head also moves more water through `{}`, so headroom is the least surplus, "
                "not the difference of the heads",
                emitter.name));
    }
}

// A flow beyond the curve's last point is nothing the maker promised.
void note_curve_end(const DriveWork &work, StateRow &row) {
    const networks::Pump &pump = work.ideal.source->circulator;
    const double last_l_min = pump.speed * pump.curve.points.back().flow_m3_s * 6.0e4;
    if (row.source_l_min <= last_l_min * (1.0 + 1e-9))
        return;
    const std::string text =
        fmt::format("the design flow of {0} {2} lies beyond the last point of the circulator's "
                    "curve, {1} {2}",
                    flow_of_l_min(work.out.form, row.source_l_min),
                    flow_of_l_min(work.out.form, last_l_min), flow_unit(work.out.form));
    if (pump.curve.points.size() == 1) {
        row.available_pa = std::max(0.0, row.available_pa);
        row.fault = text;
    } else {
        row.doubt +=
            (row.doubt.empty() ? "" : "; ") + text + "; the curve was carried on along its end";
    }
}

// What circulates with all zones open; less than the source needs is a fault of the whole house.
void note_open_volume(DriveWork &work, StateRow &row) {
    const auto &wanted = work.given.source->least_open_volume_m3;
    if (!wanted)
        return;
    for (const Emitter &emitter : work.ideal.emitters)
        if (emitter.kind == Emitter::Kind::Radiator && !emitter.volume_m3)
            work.used(Habit::RadiatorVolume);
    const double open_m3 = open_volume_m3(work.ideal, zone_names(work.ideal));
    row.remark = fmt::format("{:.0f} l can circulate, the source needs {:.0f} l", open_m3 * 1e3,
                             *wanted * 1e3);
    if (open_m3 < *wanted)
        row.fault += fmt::format("{}{}: a buffer must add to them", row.fault.empty() ? "" : "; ",
                                 row.remark);
}

void note_defrost(DriveWork &work) {
    const auto *pump = std::get_if<models::HeatPump>(&work.given.source->heat);
    if (pump == nullptr || !work.given.outdoor_c ||
        *work.given.outdoor_c >= pump->defrost.below_c || pump->defrost.output_share_lost <= 0.0)
        return;
    work.out.remarks.push_back(fmt::format(
        "defrosting, below {:g} degC, takes {:.0f} % of the heat pump's output and "
        "COP; its figures are after that, and its heat comes from the water that can circulate",
        pump->defrost.below_c, 100.0 * pump->defrost.output_share_lost));
}

// Cool water corrodes a boiler that is not made for condensate.
void note_cold_return(DriveWork &work) {
    if (!work.given.source->least_return_c && least_return_c(work.given))
        work.used(Habit::LeastReturn);
    if (std::string words = cold_return(work.given, work.out.return_temperature_c); !words.empty())
        work.out.remarks.push_back(std::move(words));
}

// What emitters take at their rooms' temperatures beyond what the rooms ask for, where the greatest
// drop gives them more flow: their control takes that back, so that the source need not give it.
double beyond_need_w(const DriveWork &work, const HeatBalance &heat) {
    if (!work.given.source->greatest_drop_k)
        return 0.0;
    const auto &emitters = work.design.needed->network.emitters;
    double sum_w = 0.0;
    for (const SizedEmitter &sized : work.sizing.emitters)
        for (std::size_t i = 0; i < emitters.size(); ++i)
            if (emitters[i].emitter == sized.emitter)
                sum_w += std::max(0.0, heat.emitters[i].from_water_w - sized.water_w);
    return sum_w;
}

} // namespace

void add_design(DriveWork &work) {
    const HeadNeeded &needed = *work.design.needed;
    DriveAnswer &out = work.out;
    StateRow row;
    row.state = "design, all open";
    row.all_emitters = true;
    const networks::LinkId pump = needed.network.source->pump;
    row.source_l_min =
        litres_per_minute(needed.source_flow_kg_s, needed.solution.fluid[pump].density_kg_m3);
    row.needed_pa = needed.pressure_pa;
    row.available_pa = work.design.available_pa;
    row.headroom_pa = work.design.headroom_pa;
    out.return_temperature_c = needed.solution.heat.node_c[needed.network.source->back];
    const networks::EmitterLinks &index = needed.network.emitters[needed.index];
    out.index = work.given.emitters[index.emitter].name;
    out.index_circuit = circuit_steps(work.ideal, needed.network, needed.solution, index);
    for (std::size_t i = 0; i < needed.network.emitters.size(); ++i)
        out.emitters.push_back(emitter_row(work, needed.network.emitters[i], i));
    out.remarks.insert(out.remarks.end(), work.design.solution.remarks.begin(),
                       work.design.solution.remarks.end());
    note_unthrottled(work);
    note_heat_leak(work);
    add_band(work, row, false);
    note_curve_end(work, row);
    if (const auto least = least_flow_l_min(work.given);
        least && row.source_l_min < *least && row.fault.empty())
        row.fault = below_least_flow(work.out.form, row.source_l_min, *least);
    if (const auto least = least_flow_l_min(work.given); least && row.source_l_min < *least)
        out.least_flow_l_min = least;
    note_open_volume(work, row);
    out.headroom_note = headroom_note(work, row);
    out.needed_pa = row.needed_pa;
    out.available_pa = row.available_pa;
    out.headroom_pa = row.headroom_pa;
    out.headroom_low_pa = row.headroom_low_pa;
    out.headroom_high_pa = row.headroom_high_pa;
    out.source_l_min = row.source_l_min;
    out.states.push_back(std::move(row));
    const HeatBalance heat = heat_balance(work.given, needed.network, needed.solution);
    out.load_w = heat.source_w - beyond_need_w(work, heat);
    out.pipe_losses = heat.pipes;
    out.pipe_loss_w = heat.pipes_w;
    out.source =
        source_heat(work.given, out.flow_temperature_c, out.return_temperature_c, out.load_w);
    note_defrost(work);
    note_cold_return(work);
}

} // namespace headroom::solver
