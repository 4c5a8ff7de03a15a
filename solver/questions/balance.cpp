#include "solver/questions/balance.hpp"

#include "solver/questions/balance_words.hpp"
#include "solver/questions/balanced.hpp"
#include "solver/questions/faults.hpp"
#include "solver/questions/figure_words.hpp"
#include "solver/questions/mixed.hpp"
#include "solver/questions/next_turn.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Balancing;
using networks::Emitter;
using networks::House;

constexpr double driven_share = 0.999; // pumps that feed each other settle to less than that

const BalancedPump &pump_for(const Balanced &work, std::size_t emitter) {
    return *std::find_if(work.pumps.begin(), work.pumps.end(), [&](const BalancedPump &pump) {
        return std::find(pump.circuit.emitters.begin(), pump.circuit.emitters.end(), emitter) !=
               pump.circuit.emitters.end();
    });
}

void add_pumps(const Balanced &work, BalanceAnswer &out) {
    for (const BalancedPump &pump : work.pumps) {
        const networks::Pump &found = pump_found(work, pump);
        BalancePump row{};
        row.name = pump_name(work.house, pump.circuit);
        row.title = pump_title(work.house, pump.circuit);
        row.mode = mode_words(found);
        row.setting = setting_words(work, pump);
        row.index = pump.index ? work.house.emitters[*pump.index].name : "";
        row.emitters = pump.circuit.emitters.size();
        row.driven = pump.driven;
        row.flow_m3_s = pump.flow_m3_s;
        row.needed_pa = pump.needed_pa;
        row.available_pa = pump.available_pa;
        row.found_pa = pump.found_pa;
        row.set_pa = pump.set_pa;
        const auto power_w = [&](double rise_pa) {
            return rise_pa < 0.0 ? std::optional<double>()
                                 : pump.flow_m3_s * rise_pa / out.efficiency;
        };
        row.found_power_w = power_w(pump.found_pa);
        row.set_power_w = power_w(pump.set_pa);
        if (row.found_power_w && row.set_power_w)
            out.saved_w += *row.found_power_w - *row.set_power_w;
        if (!row.found_power_w)
            out.remarks.push_back(fmt::format(
                "as the file has it set, {} gives less at {} than stands in the water's way there: "
                "only other pumps could push that much through it, beyond its curve, so that no "
                "power is told for it",
                row.title, flow_words(out.form, row.flow_m3_s, 1)));
        out.pumps.push_back(std::move(row));
    }
}

// It is not among the valves to set; what it takes counts in the settings of the others.
void add_heat_leak(const Balanced &work, std::size_t valve, BalanceAnswer &out) {
    const Emitter &leak = work.house.emitters[work.settings.valves[valve].emitter];
    out.remarks.push_back(fmt::format(
        "`{}` is the solid-fuel source's heat leak: its valves stay fully open and are not "
        "set{}; the settings of all others count the {} that it takes",
        leak.name,
        leak.balancing.kind == Balancing::Kind::Kv
            ? fmt::format(", and the Kv {:.3g} m3/h of the file must be opened",
                          leak.balancing.kv_m3_h)
            : "",
        flow_words(out.form, valve_m3_s(work.settings.free, valve))));
}

void add_valves(const Balanced &work, const SolvedHouse &now, BalanceAnswer &out) {
    bool least_assumed = false;
    for (std::size_t i = 0; i < work.settings.valves.size(); ++i) {
        const ValveSetting &valve = work.settings.valves[i];
        const Emitter &emitter = work.house.emitters[valve.emitter];
        if (!valve.is_set) {
            add_heat_leak(work, i, out);
            continue;
        }
        BalanceValve row{};
        row.name = emitter.name;
        row.kind = emitter.kind == Emitter::Kind::FloorLoop ? "loop" : "radiator";
        const BalancedPump &pump = pump_for(work, valve.emitter);
        row.pump = pump_name(work.house, pump.circuit);
        row.blocked = std::find(pump.blocked.begin(), pump.blocked.end(), valve.emitter) !=
                      pump.blocked.end();
        const networks::LinkId link = *work.settings.free.network.emitters[i].balancing;
        row.design_m3_s = valve.design_kg_s / work.settings.free.solution.fluid[link].density_kg_m3;
        row.now_share =
            now.solution.flow_kg_s[*now.network.emitters[i].balancing] / valve.design_kg_s;
        row.set_share = valve.free_kg_s / valve.design_kg_s;
        row.surplus_pa = valve.stays_open() ? 0.0 : valve.surplus_pa;
        row.valve_loss_pa = valve.loss_pa;
        row.circuit_pa = valve.circuit_pa;
        row.authority_share = valve.circuit_pa > 0.0 ? valve.loss_pa / valve.circuit_pa : 0.0;
        row.kv_m3_h = valve.kv_m3_h;
        row.now_kv_m3_h = present_kv_m3_h(work.house, emitter);
        row.open = valve.stays_open();
        row.driven = valve.flow_kg_s >= driven_share * valve.design_kg_s;
        row.in_range = valve.in_range();
        row.finest_kv_m3_h = valve.finest_kv_m3_h;
        if (emitter.balancing.kind == Balancing::Kind::Shut)
            out.remarks.push_back(
                fmt::format("`{}` is shut in the file; the settings have it open", row.name));
        row.turns = turns_of(emitter, valve.kv_m3_h);
        row.meter = emitter.meter;
        row.meter_holds = meter_holds(emitter.meter, row.design_m3_s);
        least_assumed = least_assumed || valve.finest_assumed;
        out.valves.push_back(std::move(row));
    }
    out.worst_error_share = work.settings.worst_error;
    if (least_assumed)
        out.assumed.push_back(
            fmt::format("a balancing valve can be set down to Kv {:g} m3/h where the file gives no "
                        "`least_kv`",
                        work.house.habits[networks::Habit::LeastValveKv]));
}

// With the source's circulator as the only pump.
void add_least_flow(const Balanced &work, BalanceAnswer &out) {
    const BalancedPump &pump = work.pumps.front();
    if (work.pumps.size() > 1 || !pump.driven || !pump.blocked.empty())
        return;
    const SourceSetting setting = source_setting(at_full_speed(work.house), work.settings.set,
                                                 {pump.flow_m3_s, pump.needed_pa, pump.set_pa});
    if (setting.below_least_flow())
        out.least_flow = setting;
}

// Pumps at their settings, every valve open; then one after another to its final place.
bool add_steps(const Balanced &work, BalanceAnswer &out) {
    House house = work.settings.set;
    for (Emitter &emitter : house.emitters)
        emitter.balancing = {};
    const std::vector<std::size_t> order = setting_order(work);
    SolvedHouse before = solved(house);
    for (std::size_t k = 0; k < order.size() && before.solution.outcome.converged(); ++k) {
        const ValveSetting &valve = work.settings.valves[order[k]];
        const Emitter &emitter = work.house.emitters[valve.emitter];
        BalanceStep step{};
        step.valve = emitter.name;
        step.kv_m3_h = valve.kv_m3_h;
        step.turns = turns_of(emitter, valve.kv_m3_h);
        step.open = valve.stays_open();
        step.before_m3_s = valve_m3_s(before, order[k]);
        house.emitters[valve.emitter].balancing = {Balancing::Kind::Kv, valve.kv_m3_h};
        SolvedHouse after = solved(house);
        if (!after.solution.outcome.converged()) {
            before = std::move(after);
            break;
        }
        step.reads_m3_s = valve_m3_s(after, order[k]);
        step.meter_holds = meter_holds(emitter.meter, step.reads_m3_s);
        step.others_m3_s = k + 1 < order.size() ? valve_m3_s(after, order[k + 1]) : 0.0;
        step.final_m3_s = valve_m3_s(work.settings.free, order[k]);
        out.steps.push_back(std::move(step));
        before = std::move(after);
    }
    out.outcome = before.solution.outcome;
    out.state = "setting the valves one by one";
    return out.outcome.converged();
}

bool add_readings(const House &house, BalanceAnswer &out) {
    if (house.readings.empty())
        return true;
    const Sizing sizing = size_as_found(house);
    out.outcome = sizing_outcome(sizing);
    out.state = "the house as the readings found it";
    if (!out.outcome.converged())
        return false;
    out.diagnosis = diagnose(sizing.house);
    out.outcome = out.diagnosis->outcome;
    if (!out.outcome.converged())
        return false;
    const Balanced work = balanced(out.diagnosis->fitted);
    out.outcome = work.outcome;
    out.state = "the house as the readings make it, " + work.state;
    if (!out.outcome.converged())
        return false;
    out.next = next_turn(work);
    out.remarks.push_back("readings are compared with the house as it stands at its design "
                          "temperatures; take them with the water as warm as on the design day, or "
                          "nearly so");
    return true;
}

std::string list_of(const std::vector<std::string> &names) {
    std::string out;
    for (std::size_t i = 0; i < names.size() && i < 3; ++i)
        out += fmt::format("{}`{}`", i > 0 ? ", " : "", names[i]);
    if (names.size() > 3)
        out += fmt::format(" and {} more", names.size() - 3);
    return out;
}

void add_sentence(BalanceAnswer &out) {
    std::vector<std::string> blocked, weak, coarse, dark;
    for (const BalanceValve &row : out.valves) {
        if (row.blocked)
            blocked.push_back(row.name);
        else if (!row.driven)
            weak.push_back(row.name);
        if (!row.in_range)
            coarse.push_back(row.name);
        if (!row.meter_holds)
            dark.push_back(row.name);
    }
    const auto turn = std::count_if(out.valves.begin(), out.valves.end(),
                                    [](const BalanceValve &row) { return !row.open; });
    if (!weak.empty())
        out.sentence =
            fmt::format("the pump is too weak for {}; the settings give the others their design "
                        "flows",
                        list_of(weak));
    else if (!coarse.empty())
        out.sentence =
            fmt::format("the valves of {} cannot be set finely enough; the settings give "
                        "every flow to {:.1f} %",
                        list_of(coarse), 100.0 * out.worst_error_share);
    else if (!blocked.empty())
        out.sentence =
            fmt::format("turn {} of {} valves and the pump{} for the loops and radiators "
                        "that can be driven",
                        turn, out.valves.size(), out.pumps.size() > 1 ? "s" : "");
    else
        out.sentence = fmt::format("turn {} of {} valves and the pump{}: each flow is then within "
                                   "{:.1f} % of its design flow",
                                   turn, out.valves.size(), out.pumps.size() > 1 ? "s" : "",
                                   std::max(0.1, 100.0 * out.worst_error_share));
    if (!blocked.empty())
        out.sentence +=
            fmt::format("; no head drives {}: a part on the way is shut, turned against "
                        "the flow, or limits it",
                        list_of(blocked));
    if (!dark.empty())
        out.remarks.push_back(fmt::format("the design flow lies off the scale of the meter of {}: "
                                          "set by Kv, or fit a meter that shows it",
                                          list_of(dark)));
}

std::string rule_of(const House &given, BalanceScope scope) {
    if (scope == BalanceScope::SingleCirculator)
        return "the single-circulator house: no pump but the source's, no mixer, a header bridged "
               "out";
    const bool others = std::any_of(given.runs.begin(), given.runs.end(), [](const auto &run) {
        return run.pump && run.pump->mode != networks::PumpMode::Stopped;
    });
    return others
               ? "the house as the file has it; each valve is set against the nearest pump up the "
                 "stream"
               : "the house as the file has it, on the source's circulator";
}

} // namespace

BalanceAnswer balance(const House &house, BalanceScope scope) {
    BalanceAnswer out;
    out.house = house.name;
    out.form = house.text_form;
    out.fluid = models::fluid_name(house.fluid);
    out.rule = rule_of(house, scope);
    out.efficiency = house.habits[networks::Habit::PumpEfficiency];
    const Sizing sizing = scope == BalanceScope::AsDrawn ? size_as_found(house) : size(house);
    out.outcome = sizing_outcome(sizing);
    out.state = "the design state";
    if (!out.outcome.converged())
        return out;
    const House found =
        scope == BalanceScope::AsDrawn ? sizing.house : single_circulator(sizing.house);
    for (const FixedMixer &mixer : sizing.fixed_mixers)
        out.assumed.push_back(fixed_mixer_words(house, mixer));
    Balanced work = balanced(found);
    out.outcome = work.outcome;
    out.state = work.state;
    if (!out.outcome.converged())
        return out;
    const SolvedHouse now = solved(found);
    out.outcome = now.solution.outcome;
    out.state = "as the file has it";
    if (!out.outcome.converged())
        return out;
    add_pumps(work, out);
    add_valves(work, now, out);
    add_least_flow(work, out);
    for (std::string &words : unpumped_mixer_words(found))
        out.remarks.push_back(std::move(words));
    for (std::string &words : assumed_mixer_ends(found))
        out.assumed.push_back(std::move(words));
    if (!add_steps(work, out))
        return out;
    if (!add_readings(house, out))
        return out;
    const networks::HabitInfo &efficiency = networks::habit_info(networks::Habit::PumpEfficiency);
    out.assumed.push_back(fmt::format("{}: {:.0f} % ({}; {:.0f} to {:.0f} %)", efficiency.name,
                                      100.0 * out.efficiency, efficiency.remark,
                                      100.0 * efficiency.low, 100.0 * efficiency.high));
    add_sentence(out);
    return out;
}

} // namespace headroom::solver
