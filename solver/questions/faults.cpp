#include "solver/questions/faults.hpp"
#include "solver/questions/figure_words.hpp"

#include "models/local_loss.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Balancing;
using networks::Emitter;
using networks::House;
using networks::Pump;
using networks::PumpMode;

// Ranges of u: lengths from a fifth to twenty times the drawn one, losses up to e^6 times, speeds
// from a fifth to one and a half times.
constexpr double tails_and_a_little = 1.05; // a loop is no shorter than that
constexpr double least_length = -1.6, most_length = 3.0;
constexpr double most_loss = 6.0;
constexpr double least_speed = -1.6, most_speed = 0.4;

Pump &pump_of(House &house, const FaultyPart &part) {
    return part.index == 0 ? house.source->circulator : *house.runs[part.index - 1].pump;
}

const Pump &pump_of(const House &house, const FaultyPart &part) {
    return part.index == 0 ? house.source->circulator : *house.runs[part.index - 1].pump;
}

void add_emitter_faults(const House &house, const SolvedHouse &drawn,
                        const networks::EmitterLinks &links, std::vector<Fault> &out) {
    const Emitter &emitter = house.emitters[links.emitter];
    const Solution &solution = drawn.solution;
    const networks::LinkId valve = *links.balancing;
    const double flow = solution.flow_kg_s[valve];
    double loss = 0.0;
    for (networks::LinkId id : links.links)
        loss += solution.loss_pa[id];
    if (flow <= 0.0 || loss <= 0.0)
        return; // shut, or turned against its flow: nothing to measure it by
    const FaultyPart part{FaultyPart::Kind::Emitter, links.emitter};
    out.push_back({part, Fault::Way::AddedLoss, 0.0, most_loss,
                   models::kv_for_loss(flow, loss, solution.fluid[valve].density_kg_m3)});
    if (emitter.pipe.bore_m > 0.0 && emitter.length_m > 0.0) {
        const double tails = std::log(tails_and_a_little * emitter.tails_m / emitter.length_m);
        out.push_back({part, Fault::Way::Length, std::max(least_length, tails), most_length});
    }
    const double open = open_kv_m3_h(house, emitter);
    if (const double now = present_kv_m3_h(house, emitter); now < open)
        out.push_back({part, Fault::Way::ValveOpened, 0.0, std::log(open / now)});
}

void add_run_fault(const House &house, const SolvedHouse &drawn, std::size_t index,
                   std::vector<Fault> &out) {
    const double bore = house.runs[index].pipe.bore_m;
    double loss = 0.0;
    double flow = 0.0;
    double density = 1000.0;
    for (networks::LinkId e = 0; e < drawn.network.links.size(); ++e) {
        const networks::Link &link = drawn.network.links[e];
        if (link.owner.kind != networks::Owner::Kind::Run || link.owner.index != index)
            continue;
        if (std::holds_alternative<networks::PipeFriction>(link.component) &&
            link.owner.side == networks::Side::Flow) {
            flow = std::abs(drawn.solution.flow_kg_s[e]);
            density = drawn.solution.fluid[e].density_kg_m3;
        }
        if (!std::holds_alternative<networks::RunningPump>(link.component))
            loss += std::abs(drawn.solution.loss_pa[e]);
    }
    if (flow <= 0.0 || loss <= 0.0 || bore <= 0.0)
        return;
    const double zeta = loss / (models::zeta_resistance(1.0, bore, density) * flow * flow);
    out.push_back(
        {{FaultyPart::Kind::Run, index}, Fault::Way::AddedLoss, 0.0, most_loss, 0.0, zeta});
}

} // namespace

std::vector<Fault> possible_faults(const House &house, const SolvedHouse &drawn) {
    std::vector<Fault> out;
    for (const networks::EmitterLinks &links : drawn.network.emitters)
        add_emitter_faults(house, drawn, links, out);
    for (std::size_t r = 0; r < house.runs.size(); ++r)
        add_run_fault(house, drawn, r, out);
    const auto add_pump = [&](std::size_t index) {
        const FaultyPart part{FaultyPart::Kind::Pump, index};
        if (pump_of(house, part).mode != PumpMode::Stopped)
            out.push_back({part, Fault::Way::PumpSpeed, least_speed, most_speed});
    };
    add_pump(0);
    for (std::size_t r = 0; r < house.runs.size(); ++r)
        if (house.runs[r].pump)
            add_pump(r + 1);
    return out;
}

House with_fault(House house, const Fault &fault, double u) {
    const double factor = std::exp(u);
    switch (fault.way) {
    case Fault::Way::Length:
        house.emitters[fault.part.index].length_m *= factor;
        break;
    case Fault::Way::AddedLoss:
        if (u <= 0.0)
            break;
        // A loss of x times a drawn one is that of its Kv over sqrt(x).
        if (fault.part.kind == FaultyPart::Kind::Run)
            house.runs[fault.part.index].flow.zeta += std::expm1(u) * fault.drawn_zeta;
        else
            house.emitters[fault.part.index].added_kv_m3_h =
                fault.drawn_kv_m3_h / std::sqrt(std::expm1(u));
        break;
    case Fault::Way::ValveOpened:
        house.emitters[fault.part.index].balancing.kv_m3_h *= factor;
        break;
    case Fault::Way::PumpSpeed: {
        Pump &pump = pump_of(house, fault.part);
        (pump.mode == PumpMode::FixedSpeed     ? pump.speed
         : pump.mode == PumpMode::ConstantFlow ? pump.flow_m3_s
                                               : pump.setting_pa) *= factor;
        break;
    }
    }
    return house;
}

double open_kv_m3_h(const House &house, const Emitter &emitter) {
    if (emitter.kind == Emitter::Kind::FloorLoop)
        return emitter.valve_kv_m3_h.value_or(house.habits[networks::Habit::LoopValveKv]);
    return emitter.lockshield_kv_m3_h.value_or(house.habits[networks::Habit::LockshieldKv]);
}

double present_kv_m3_h(const House &house, const Emitter &emitter) {
    const double open = open_kv_m3_h(house, emitter);
    switch (emitter.balancing.kind) {
    case Balancing::Kind::Kv:
        return std::min(emitter.balancing.kv_m3_h, open);
    case Balancing::Kind::Shut:
        return 0.0;
    case Balancing::Kind::Open:
    case Balancing::Kind::Limiter:
        break;
    }
    return open;
}

std::string part_name(const House &house, const FaultyPart &part) {
    switch (part.kind) {
    case FaultyPart::Kind::Emitter:
        return house.emitters[part.index].name;
    case FaultyPart::Kind::Run:
        return house.runs[part.index].name;
    case FaultyPart::Kind::Pump:
        break;
    }
    return part.index == 0 ? "source" : house.runs[part.index - 1].name;
}

std::string part_title(const House &house, const FaultyPart &part) {
    const std::string name = part_name(house, part);
    switch (part.kind) {
    case FaultyPart::Kind::Emitter:
        return fmt::format("{} `{}`",
                           house.emitters[part.index].kind == Emitter::Kind::FloorLoop ? "loop"
                                                                                       : "radiator",
                           name);
    case FaultyPart::Kind::Run:
        return fmt::format("run `{}`", name);
    case FaultyPart::Kind::Pump:
        break;
    }
    return part.index == 0 ? "circulator of the source" : fmt::format("pump of run `{}`", name);
}

std::string complaint_of(const House &house, const FaultyPart &part, bool more) {
    switch (part.kind) {
    case FaultyPart::Kind::Emitter:
        return more ? "more loss than drawn (longer, kinked, dirt or air, or its valve further "
                      "shut)"
                    : "less loss than drawn (shorter, or its valve further open)";
    case FaultyPart::Kind::Run:
        return "more loss than drawn (a dirty filter, air, a valve part shut)";
    case FaultyPart::Kind::Pump:
        break;
    }
    const bool flow = pump_of(house, part).mode == PumpMode::ConstantFlow;
    return fmt::format("gives {} {} than stated", more ? "more" : "less", flow ? "flow" : "head");
}

std::string fault_words(const House &house, const Fault &fault, double u) {
    const double factor = std::exp(u);
    switch (fault.way) {
    case Fault::Way::Length: {
        const double drawn = house.emitters[fault.part.index].length_m;
        return fmt::format("a length of {:.3g} m in place of {:.3g} m", drawn * factor, drawn);
    }
    case Fault::Way::AddedLoss: {
        if (fault.part.kind == FaultyPart::Kind::Run)
            return fmt::format("{:.2g} times the drawn loss of the run added to it", std::expm1(u));
        const double added = fault.drawn_kv_m3_h / std::sqrt(std::expm1(u));
        const double now = present_kv_m3_h(house, house.emitters[fault.part.index]);
        return fmt::format("an added loss of Kv {:.3g} m3/h, or its valve at Kv {:.3g} in place of "
                           "{:.3g}",
                           added, 1.0 / std::sqrt(1.0 / (now * now) + 1.0 / (added * added)), now);
    }
    case Fault::Way::ValveOpened: {
        const double now = present_kv_m3_h(house, house.emitters[fault.part.index]);
        return fmt::format("its valve at Kv {:.3g} m3/h in place of {:.3g}", now * factor, now);
    }
    case Fault::Way::PumpSpeed:
        break;
    }
    const Pump &pump = pump_of(house, fault.part);
    const TextForm form = house.text_form;
    if (pump.mode == PumpMode::FixedSpeed)
        return fmt::format("a speed of {:.0f} % in place of {:.0f} %", 100.0 * pump.speed * factor,
                           100.0 * pump.speed);
    if (pump.mode == PumpMode::ConstantFlow)
        return fmt::format("a flow of {} in place of {}",
                           flow_words(form, pump.flow_m3_s * factor, 1),
                           flow(form, pump.flow_m3_s, 1));
    return fmt::format("a setting of {} in place of {}",
                       pressure_words(form, pump.setting_pa * factor),
                       pressure(form, pump.setting_pa));
}

} // namespace headroom::solver
