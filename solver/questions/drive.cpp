#include "solver/questions/drive.hpp"

#include "models/local_loss.hpp"
#include "solver/questions/circuit.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Balancing;
using networks::Emitter;
using networks::Habit;
using networks::House;

constexpr double setting_tolerance = 0.01; // design flow within 1 % with the computed settings

double litres_per_minute(double flow_kg_s, double density_kg_m3) {
    return flow_kg_s / density_kg_m3 * 6.0e4;
}

double source_l_min(const networks::Network &network, const Solution &solution) {
    const networks::LinkId pump = network.source->pump;
    return litres_per_minute(solution.flow_kg_s[pump], solution.fluid[pump].density_kg_m3);
}

class Drive {
public:
    explicit Drive(const House &house)
        : sizing_(size(house)), as_given_(sizing_.house),
          house_(with_ideal_balancing(single_circulator(as_given_))) {}

    DriveAnswer answer() {
        out_.house = as_given_.name;
        out_.fluid = models::fluid_name(as_given_.fluid);
        out_.flow_temperature_c = as_given_.source->flow_temperature_c;
        fill_heat();
        design_ = judge(house_);
        out_.outcome = design_.outcome;
        if (!design_.outcome.converged())
            return std::move(out_);
        if (!design_.needed) {
            no_head_drives_all();
            return std::move(out_);
        }
        fill_design();
        fill_band();
        fill_hot_water();
        fill_settings();
        fill_zones();
        fill_cold_start();
        fill_thermal();
        fill_beside();
        fill_assumed();
        decide();
        return std::move(out_);
    }

private:
    void no_head_drives_all() {
        std::string names;
        for (const EmitterFlow &flow : design_.emitters)
            if (!flow.driven)
                names += fmt::format("{}`{}`", names.empty() ? "" : ", ",
                                     as_given_.emitters[flow.emitter].name);
        out_.verdict = Verdict::No;
        out_.decided_by = "design";
        out_.sentence = fmt::format("no: no head at the source drives {}; something on the way is "
                                    "shut, one-way or limited",
                                    names);
    }

    void fill_heat() {
        out_.temperature_set_by = sizing_.set_by;
        out_.needed_temperature_c = sizing_.needed_c;
        out_.temperature_computed = sizing_.temperature_computed;
        for (const SizedEmitter &sized : sizing_.emitters) {
            HeatRow row{};
            row.name = as_given_.emitters[sized.emitter].name;
            row.room_w = sized.room_w;
            row.down_w = sized.water_w - (sized.reaches ? sized.room_w : sized.most_w);
            row.own_flow_c = sized.own_flow_c;
            row.drop_k = sized.drop_k;
            row.reaches = sized.reaches;
            row.short_w = sized.reaches ? 0.0 : sized.room_w - sized.most_w;
            row.surface_c = sized.surface_c;
            row.surface_limit_c = sized.surface_limit_c;
            row.conduction_w_m2k = sized.conduction_w_m2k;
            row.standard_w_m2k = sized.standard_w_m2k;
            if (sized.surface_limit_c && !as_given_.emitters[sized.emitter].surface_limit_c)
                used_.set(static_cast<std::size_t>(Habit::SurfaceLimit));
            out_.heat.push_back(std::move(row));
        }
    }

    // Too cold a water for a room, or too warm a floor: the emitter, not the pump, is the fault.
    std::string heat_fault() const {
        for (const HeatRow &row : out_.heat)
            if (!row.reaches)
                return fmt::format(
                    "no: water at {:.1f} degC cannot heat the room of `{}`: it is {:.0f} "
                    "W short at any flow and needs {:.1f} degC",
                    out_.flow_temperature_c, row.name, row.short_w, row.own_flow_c);
        for (const HeatRow &row : out_.heat)
            if (row.surface_limit_c && row.surface_c > *row.surface_limit_c)
                return fmt::format(
                    "no: the floor over `{}` would reach {:.1f} degC, its limit is {:g} "
                    "degC: more floor, closer pipes or another emitter must help",
                    row.name, row.surface_c, *row.surface_limit_c);
        return {};
    }

    void fill_design() {
        const HeadNeeded &needed = *design_.needed;
        out_.needed_pa = needed.pressure_pa;
        out_.available_pa = design_.available_pa;
        out_.headroom_pa = design_.headroom_pa;
        out_.source_l_min = source_l_min(needed.network, needed.solution);
        out_.return_temperature_c = needed.solution.heat.node_c[needed.network.source->back];
        const networks::EmitterLinks &index = needed.network.emitters[needed.index];
        out_.index = as_given_.emitters[index.emitter].name;
        out_.index_circuit = circuit_steps(house_, needed.network, needed.solution, index);
        for (std::size_t i = 0; i < needed.network.emitters.size(); ++i)
            out_.emitters.push_back(emitter_row(needed, needed.network.emitters[i], i));
        for (const std::string &remark : needed.solution.remarks)
            out_.remarks.push_back(remark);
        note_unthrottled();
        StateRow row;
        row.state = "design, all open";
        row.good = design_.headroom_pa >= 0.0;
        row.source_l_min = out_.source_l_min;
        row.needed_pa = out_.needed_pa;
        row.available_pa = out_.available_pa;
        row.headroom_pa = out_.headroom_pa;
        if (const auto least = least_flow_l_min(); least && out_.source_l_min < *least) {
            row.remark = fmt::format("below the source's least flow of {:.1f} l/min", *least);
            row.good = false;
        }
        out_.states.push_back(std::move(row));
    }

    EmitterRow emitter_row(const HeadNeeded &needed, const networks::EmitterLinks &links,
                           std::size_t order) const {
        const Emitter &emitter = as_given_.emitters[links.emitter];
        EmitterRow row{};
        row.name = emitter.name;
        row.kind = emitter.kind == Emitter::Kind::FloorLoop ? "loop" : "radiator";
        row.heat_w = emitter.heat_w;
        row.drop_k = emitter.drop_k;
        const networks::LinkId inlet = links.links.front();
        row.design_l_min =
            litres_per_minute(links.design_flow_kg_s, needed.solution.fluid[inlet].density_kg_m3);
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
        row.surplus_pa =
            std::max(0.0, needed.solution.loss_pa[valve] - needed.solution.open_loss_pa[valve]);
        if (row.surplus_pa < 1.0)
            row.surplus_pa = 0.0; // the index itself, within the search's tolerance
        row.valve_in_range = true;
        row.reaches_share = design_.emitters[order].flow_kg_s / links.design_flow_kg_s;
        return row;
    }

    // Headroom of the house under a changed condition, by the same judgement.
    std::optional<double> headroom_of(const House &house) const {
        const Judgement result = judge(house);
        if (!result.outcome.converged() || !result.needed)
            return std::nullopt;
        return result.headroom_pa;
    }

    // Where some water goes unthrottled (a one-pipe ring, an open bypass), more head also moves
    // more water, and the two measures part.
    void note_unthrottled() {
        const double difference = out_.available_pa - out_.needed_pa;
        if (std::abs(difference - out_.headroom_pa) > 100.0)
            out_.remarks.push_back(fmt::format(
                "some water here passes unthrottled (a ring or an open bypass), so the least "
                "surplus of {:.1f} kPa is not the difference of the heads, {:.1f} kPa",
                out_.headroom_pa * 1e-3, difference * 1e-3));
    }

    void fill_band() {
        const networks::Margin &margin = house_.margin;
        House worse = house_;
        worse.condition.transition = models::Transition::Early;
        worse.condition.bore_factor = 1.0 - margin.bore;
        worse.condition.filter_factor = 1.0 + margin.filter;
        worse.condition.curve_factor = 1.0 - margin.curve;
        House better = house_;
        better.condition.transition = models::Transition::Late;
        better.condition.bore_factor = 1.0 + margin.bore;
        better.condition.curve_factor = 1.0 + margin.curve;
        better.condition.buoyancy = true;
        out_.headroom_low_pa = headroom_of(worse).value_or(out_.headroom_pa);
        out_.headroom_high_pa = headroom_of(better).value_or(out_.headroom_pa);
        out_.band = {"laminar-turbulent transition early (Re 2000-2300) or late (Re 3800-4600)",
                     fmt::format("circulator curve -/+ {:.3g} %, bores -/+ {:.3g} %",
                                 100.0 * margin.curve, 100.0 * margin.bore),
                     fmt::format("filters {:.3g} % dirtier at the low end", 100.0 * margin.filter),
                     house_.levels_given ? "help from buoyancy counted at the high end only"
                                         : "buoyancy left out (no levels given)"};
        if (!margin.stated)
            out_.band.push_back("these tolerances are assumed: common practice, no source; state "
                                "yours under `margin:`");
    }

    void fill_hot_water() {
        if (!house_.hot_water)
            return;
        const Judgement hot = judge_hot_water(house_);
        StateRow row;
        row.state = "hot water, coil on the diverter";
        row.good = false;
        if (!hot.outcome.converged() || !hot.needed) {
            row.remark = "not solved: " + hot.outcome.worst_equation;
            out_.outcome = hot.outcome.converged() ? out_.outcome : hot.outcome;
        } else {
            row.good = hot.headroom_pa >= 0.0;
            row.source_l_min = source_l_min(hot.needed->network, hot.needed->solution);
            row.needed_pa = hot.needed->pressure_pa;
            row.available_pa = hot.available_pa;
            row.headroom_pa = hot.headroom_pa;
            hot_headroom_pa_ = hot.headroom_pa;
        }
        out_.states.push_back(std::move(row));
    }

    // The settings that take each circuit's surplus once the circulator is turned down to the head
    // needed, and the free-running house with them.
    void fill_settings() {
        settings_ = house_;
        if (!design_.all_driven)
            return;
        const HeadNeeded &needed = *design_.needed;
        for (std::size_t i = 0; i < needed.network.emitters.size(); ++i) {
            const networks::EmitterLinks &links = needed.network.emitters[i];
            const networks::LinkId valve = *links.balancing;
            const double kv = models::kv_for_loss(needed.solution.flow_kg_s[valve],
                                                  needed.solution.loss_pa[valve],
                                                  needed.solution.fluid[valve].density_kg_m3);
            settings_.emitters[links.emitter].balancing = {Balancing::Kind::Kv, kv};
            EmitterRow &row = out_.emitters[i];
            row.valve_kv_m3_h = kv;
            const auto &least = as_given_.emitters[links.emitter].least_kv_m3_h;
            if (!least)
                used_.set(static_cast<std::size_t>(Habit::LeastValveKv));
            row.valve_in_range = kv >= (least ? *least : house_.habits[Habit::LeastValveKv]);
            if (!row.valve_in_range)
                out_.remarks.push_back(
                    fmt::format("the valve of `{}` would have to be set to Kv {:.3f} m3/h, finer "
                                "than it can",
                                row.name, kv));
        }
        const House turned_down = with_ideal_rise(settings_, needed.pressure_pa);
        const networks::Network network = networks::expand(turned_down);
        const Solution free = solve(network, &turned_down);
        have_settings_ = free.outcome.converged();
        if (!have_settings_) {
            out_.outcome = free.outcome;
            return;
        }
        for (const networks::EmitterLinks &links : network.emitters)
            out_.worst_setting_error = std::max(
                out_.worst_setting_error,
                std::abs(free.flow_kg_s[links.links.front()] / links.design_flow_kg_s - 1.0));
        note_least_speed();
    }

    // Too much head even at the circulator's least speed.
    void note_least_speed() {
        if (!as_given_.source->circulator.least_speed)
            return;
        House slow = house_;
        slow.source->circulator.speed = *as_given_.source->circulator.least_speed;
        const double head = residual_head_pa(slow, design_.needed->source_flow_kg_s);
        if (head > out_.needed_pa)
            out_.remarks.push_back(fmt::format(
                "even at its least speed of {:.0f} % the circulator gives {:.1f} kPa more than is "
                "needed: throttle at the source or expect noise at the valves",
                100.0 * slow.source->circulator.speed, (head - out_.needed_pa) * 1e-3));
    }

    bool by_least_flow() const { return as_given_.source->least_flow_m3_s.has_value(); }
    std::string judged_by_least_flow() const {
        return by_least_flow() ? "least flow" : "shown only";
    }

    std::optional<double> least_flow_l_min() const {
        if (!as_given_.source->least_flow_m3_s)
            return std::nullopt;
        return *as_given_.source->least_flow_m3_s * 6.0e4;
    }

    House circulator_as_given(House house) const {
        house.source->circulator = as_given_.source->circulator;
        return house;
    }

    // Each permitted set of open zones with the settings found: least flow, and the pressure that a
    // shut zone's valve must hold.
    void fill_zones() {
        const std::vector<std::string> zones = zone_names(house_);
        if (zones.empty() || !have_settings_)
            return;
        const House base = circulator_as_given(settings_);
        constexpr std::size_t most_for_all_sets = 6;
        std::vector<std::vector<std::string>> sets;
        if (zones.size() <= most_for_all_sets) {
            for (std::size_t mask = 1; mask + 1 < (std::size_t{1} << zones.size()); ++mask) {
                std::vector<std::string> open;
                for (std::size_t z = 0; z < zones.size(); ++z)
                    if ((mask >> z & 1U) != 0)
                        open.push_back(zones[z]);
                sets.push_back(std::move(open));
            }
        } else {
            for (const std::string &zone : zones)
                sets.push_back({zone});
        }
        if (sets.empty())
            sets.push_back({});
        StateRow least;
        least.judged_by = judged_by_least_flow();
        least.decides = by_least_flow();
        least.source_l_min = models::no_limit;
        double most_head = 0.0;
        for (const auto &open : sets) {
            const House house = with_zones(base, open);
            const networks::Network network = networks::expand(house);
            const Solution solution = solve(network, &house);
            if (!solution.outcome.converged()) {
                out_.outcome = solution.outcome;
                return;
            }
            const double flow = source_l_min(network, solution);
            const networks::SourceLinks &source = *network.source;
            const double head =
                solution.pressure_pa[source.flow] - solution.pressure_pa[source.back];
            most_head = std::max(most_head, head);
            if (flow < least.source_l_min) {
                least.source_l_min = flow;
                std::string names;
                for (const std::string &zone : open)
                    names += (names.empty() ? "" : ", ") + zone;
                least.state = open.empty() ? "all zones shut" : "only " + names + " open";
            }
        }
        if (const auto limit = least_flow_l_min(); limit && least.source_l_min < *limit) {
            least.good = false;
            least.remark = fmt::format("source needs {:.1f} l/min: add a bypass, a buffer or open "
                                       "loops",
                                       *limit);
        } else if (!limit) {
            least.remark = "source's least flow not given";
        }
        least.remark += fmt::format("{}a shut valve must hold up to {:.0f} kPa",
                                    least.remark.empty() ? "" : "; ", most_head * 1e-3);
        least.state += " (least flow of all zone sets)";
        out_.states.push_back(std::move(least));
    }

    double cold_c() {
        if (as_given_.cold_start_c)
            return *as_given_.cold_start_c;
        used_.set(static_cast<std::size_t>(Habit::ColdStart));
        return house_.habits[Habit::ColdStart];
    }

    void fill_cold_start() {
        const double cold = cold_c();
        House house = house_;
        house.condition.all_water_c = cold;
        const Judgement judged = judge(house);
        StateRow row;
        row.state = fmt::format("cold start, water at {:g} degC", cold);
        row.judged_by = judged_by_least_flow();
        row.decides = by_least_flow();
        if (!judged.outcome.converged() || !judged.needed) {
            out_.outcome = judged.outcome;
            return;
        }
        row.needed_pa = judged.needed->pressure_pa;
        row.available_pa = judged.available_pa;
        row.headroom_pa = judged.headroom_pa;
        // What it really does: runs free with the settings made for the design day.
        House free_house = circulator_as_given(have_settings_ ? settings_ : house_);
        free_house.condition.all_water_c = cold;
        const networks::Network network = networks::expand(free_house);
        const Solution free = solve(network, &free_house);
        if (!free.outcome.converged()) {
            out_.outcome = free.outcome;
            return;
        }
        row.source_l_min = source_l_min(network, free);
        for (std::size_t i = 0; i < network.emitters.size(); ++i)
            out_.emitters[i].cold_share = free.flow_kg_s[network.emitters[i].links.front()] /
                                          network.emitters[i].design_flow_kg_s;
        row.remark = fmt::format("runs at {:.0f} % of the design flow",
                                 100.0 * row.source_l_min / out_.source_l_min);
        if (const auto least = least_flow_l_min(); least && row.source_l_min < *least) {
            row.good = false;
            row.remark += fmt::format(", below the source's least {:.1f} l/min", *least);
        }
        out_.states.push_back(std::move(row));
    }

    void fill_thermal() {
        for (const Emitter &emitter : as_given_.emitters) {
            if (emitter.kind != Emitter::Kind::FloorLoop)
                continue;
            if (!emitter.flow_limit_c)
                used_.set(static_cast<std::size_t>(Habit::FloorLimit));
            const double limit =
                emitter.flow_limit_c ? *emitter.flow_limit_c : house_.habits[Habit::FloorLimit];
            if (as_given_.source->flow_temperature_c > limit)
                out_.too_hot.push_back({emitter.name, limit, as_given_.source->flow_temperature_c,
                                        "on the design day"});
            if (as_given_.hot_water && as_given_.hot_water->after_run_to_floors &&
                as_given_.hot_water->flow_temperature_c > limit)
                out_.too_hot.push_back({emitter.name, limit,
                                        as_given_.hot_water->flow_temperature_c,
                                        "in the after-run of hot water"});
        }
    }

    void beside(std::string what, const House &house) {
        const networks::Network network = networks::expand(house);
        const Solution solution = solve(network, &house);
        BesideRow row{std::move(what), true, "", models::no_limit};
        if (!solution.outcome.converged()) {
            row.all_driven = false;
            row.worst = "not solved: " + solution.outcome.worst_equation;
            row.worst_share = 0.0;
        } else {
            for (const networks::EmitterLinks &links : network.emitters) {
                const double share =
                    solution.flow_kg_s[links.links.front()] / links.design_flow_kg_s;
                if (share < row.worst_share) {
                    row.worst_share = share;
                    row.worst = as_given_.emitters[links.emitter].name;
                }
            }
            row.all_driven = row.worst_share >= 1.0 - 1e-9;
        }
        out_.beside.push_back(std::move(row));
    }

    void fill_beside() {
        const bool other_pumps =
            std::any_of(as_given_.runs.begin(), as_given_.runs.end(), [](const networks::Run &run) {
                return run.pump.has_value() || run.mixer.has_value();
            });
        if (!other_pumps && !as_given_.separator)
            return;
        beside("as found, every pump running as the file says", with_ideal_balancing(as_given_));
        if (as_given_.separator)
            beside("header kept, no pump but the source's",
                   with_ideal_balancing(at_full_speed(without_other_pumps(as_given_))));
    }

    void fill_assumed() {
        used_ |= design_.network.used_habits;
        for (std::size_t i = 0; i < networks::habit_table.size(); ++i) {
            if (!used_.test(i))
                continue;
            const auto habit = static_cast<Habit>(i);
            const networks::HabitInfo &info = networks::habit_info(habit);
            AssumptionRow row;
            row.what = std::string(info.name);
            row.value = networks::written(info.value, info.dimension);
            row.range = fmt::format("{} to {}", networks::written(info.low, info.dimension),
                                    networks::written(info.high, info.dimension));
            // Cold start, floor limit and least valve setting do not enter the design headroom.
            if (design_.network.used_habits.test(i)) {
                const auto shift = [&](double value) -> std::optional<double> {
                    House changed = house_;
                    changed.habits[habit] = value;
                    const auto headroom = headroom_of(changed);
                    return headroom ? std::optional(*headroom - out_.headroom_pa) : std::nullopt;
                };
                row.low_pa = shift(info.low);
                row.high_pa = shift(info.high);
            }
            out_.assumed.push_back(std::move(row));
        }
        const auto note = [&](std::string what, std::string value) {
            out_.assumed.push_back({std::move(what), std::move(value), "", {}, {}});
        };
        if (!as_given_.fluid_stated)
            note("the liquid in the system", "plain water");
        if (!as_given_.levels_given)
            note("buoyancy", "left out, as no levels are given");
        for (const networks::Manifold &manifold : as_given_.manifolds)
            if (!manifold.bar_bore_m)
                note(fmt::format("bars of {}", manifold.name), "without loss");
        for (const networks::Run &run : as_given_.runs)
            if (run.existing)
                note(fmt::format("existing pipe of run {}", run.name),
                     fmt::format("aged, roughness {:.3g} mm", run.pipe.aged_roughness_m * 1e3));
        if (as_given_.source->circulator.curve.points.size() == 1)
            note("the circulator's curve from one point", "flat up to it, nothing beyond it");
    }

    void decide() {
        if (!out_.outcome.converged())
            return;
        const StateRow *failed = nullptr;
        for (const StateRow &row : out_.states)
            if (row.decides && !row.good && failed == nullptr)
                failed = &row;
        const bool range_fails =
            std::any_of(out_.emitters.begin(), out_.emitters.end(),
                        [](const EmitterRow &row) { return !row.valve_in_range; });
        const bool settings_fail = have_settings_ && out_.worst_setting_error > setting_tolerance;
        const bool hydraulic_no = failed != nullptr || range_fails || settings_fail;
        out_.decided_by = failed != nullptr ? failed->state : out_.states.front().state;
        const bool straddles = out_.headroom_low_pa < 0.0 && out_.headroom_high_pa > 0.0;
        const bool only_head = failed == nullptr || failed == &out_.states.front();
        if (straddles && only_head && !range_fails && !settings_fail &&
            (failed == nullptr || failed->remark.empty())) {
            out_.verdict = Verdict::Marginal;
            out_.sentence = fmt::format(
                "marginal: headroom is {:+.1f} kPa, but between {:+.1f} and {:+.1f} kPa within the "
                "tolerances",
                out_.headroom_pa * 1e-3, out_.headroom_low_pa * 1e-3, out_.headroom_high_pa * 1e-3);
            return;
        }
        if (hydraulic_no || out_.headroom_low_pa < 0.0) {
            out_.verdict = Verdict::No;
            out_.sentence = no_sentence(failed, range_fails);
            return;
        }
        if (const std::string fault = heat_fault(); !fault.empty()) {
            out_.verdict = Verdict::No;
            out_.sentence = fault;
            return;
        }
        if (!out_.too_hot.empty()) {
            out_.verdict = Verdict::ThermalNo;
            const ThermalLimit &first = out_.too_hot.front();
            out_.sentence = fmt::format(
                "hydraulically yes, thermally no: the mixer must stay. {:g} degC water would reach "
                "`{}` {}, which takes at most {:g} degC",
                first.water_c, first.emitter, first.when, first.limit_c);
            return;
        }
        out_.verdict = Verdict::Yes;
        out_.sentence =
            fmt::format("yes: one circulator drives every loop and radiator, with {:.1f} kPa to "
                        "spare",
                        out_.headroom_pa * 1e-3);
    }

    std::string no_sentence(const StateRow *failed, bool range_fails) const {
        if (failed == &out_.states.front() && out_.headroom_pa < 0.0)
            return fmt::format("no: the circulator is {:.1f} kPa short at the design flow; `{}` "
                               "decides",
                               -out_.headroom_pa * 1e-3, out_.index);
        if (failed != nullptr)
            return fmt::format("no: {} fails{}", failed->state,
                               failed->remark.empty()
                                   ? fmt::format(" by {:.1f} kPa", -failed->headroom_pa * 1e-3)
                                   : ": " + failed->remark);
        if (range_fails)
            return "no: a balancing valve cannot be set finely enough to take its circuit's "
                   "surplus";
        return "no: the computed settings do not give every design flow within 1 %";
    }

    Sizing sizing_;
    const House &as_given_; // with what sizing filled in
    House house_;
    House settings_;
    bool have_settings_ = false;
    Judgement design_;
    std::optional<double> hot_headroom_pa_;
    std::bitset<static_cast<std::size_t>(Habit::Count)> used_;
    DriveAnswer out_;
};

} // namespace

std::string why_not_driven(const House &house) {
    if (!house.source)
        return "the file has no `source`, so there is no circulator to judge";
    if (house.emitters.empty())
        return "the file has no loops or radiators, so there is nothing to drive";
    return {};
}

DriveAnswer drive(const House &house) {
    return Drive(house).answer();
}

} // namespace headroom::solver
