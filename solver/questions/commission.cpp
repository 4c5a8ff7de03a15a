#include "solver/questions/commission.hpp"

#include "models/units.hpp"
#include "networks/protection.hpp"
#include "solver/questions/balance_words.hpp"
#include "solver/questions/cautions.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/figure_words.hpp"
#include "solver/questions/fill.hpp"
#include "solver/questions/source_heat.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::Habit;
using networks::House;

bool is_loop(const Emitter &emitter) {
    return emitter.kind == Emitter::Kind::FloorLoop;
}

const Emitter &emitter_of(const House &house, const std::string &name) {
    return *std::find_if(house.emitters.begin(), house.emitters.end(),
                         [&](const Emitter &emitter) { return emitter.name == name; });
}

bool has_floor(const House &house) {
    return std::any_of(house.emitters.begin(), house.emitters.end(), is_loop);
}

// What of the pipework the tests meet; of the house on the source's circulator.
struct Stock {
    bool new_loops = false;
    bool new_parts = false; ///< pipes and radiators
    bool existing = false;  ///< any of them
};

Stock stock_of(const House &house) {
    Stock out;
    for (const networks::Run &run : house.runs)
        (run.existing ? out.existing : out.new_parts) = true;
    for (const Emitter &emitter : house.emitters)
        (emitter.existing ? out.existing : is_loop(emitter) ? out.new_loops : out.new_parts) = true;
    return out;
}

std::string loops_before(Screed screed) {
    return screed == Screed::Known ? "floor loops, before the screed"
                                   : "floor loops, before they are covered";
}

// Old joints and radiators were never made for a test's pressure: they get no more than they work
// at, and stand apart while the new work is tested.
PressureTest existing_test(const FillAnswer &water) {
    const double works_at_pa = water.pressure.hot_pa.value_or(
        water.pressure.given_pa.value_or(water.pressure.range.least_pa));
    return {"existing pipes, loops and radiators, at working pressure only",
            works_at_pa,
            std::nullopt,
            models::seconds_per_hour,
            "shut off or taken apart from the new while that is tested; what cannot be parted "
            "from them is tested at this pressure too; no drop, joints dry",
            std::string(water.pressure.hot_pa     ? "the file's fill, hot"
                        : water.pressure.given_pa ? "the file's fill"
                                                  : "the least cold fill") +
                ": common practice, no source"};
}

void add_tests(const House &house, const FillAnswer &water, CommissionAnswer &out) {
    constexpr double loops_least_pa = 4e5;
    constexpr double loops_most_pa = 6e5;
    constexpr double factor = 1.5;
    const Stock stock = stock_of(house);
    if (stock.new_loops)
        out.tests.push_back({loops_before(screed_of(house)), loops_least_pa, loops_most_pa,
                             2.0 * models::seconds_per_hour,
                             "filled loop by loop, manifold shut off from the rest; kept under "
                             "pressure while they are covered",
                             "EN 1264-4, from memory; the time is common practice"});
    if (stock.new_parts)
        out.tests.push_back(
            {stock.existing ? "new pipework and radiators" : "pipework and radiators",
             factor * water.safety_valve_pa, std::nullopt, models::seconds_per_hour,
             std::string("safety valve, vessel and source shut off") +
                 (stock.existing ? ", and all that is existing" : "") + "; no drop, joints dry",
             "1.5 times the safety valve's pressure: common practice, no source"});
    if (stock.existing)
        out.tests.push_back(existing_test(water));
}

// [EN1264-4, from memory]: cement 21 days and calcium sulphate 7 after laying at the earliest,
// three days at 20 to 25 degC, then four at the design temperature.
void add_screed(const House &house, double flow_c, CommissionAnswer &out) {
    if (screed_of(house) != Screed::Known)
        return;
    struct Kind {
        const char *name;
        int wait_days;
    };
    constexpr double first_c = 25.0;
    constexpr int first_days = 3;
    constexpr int design_days = 4;
    for (const Kind &kind : {Kind{"cement", 21}, Kind{"calcium sulphate", 7}}) {
        out.screed.push_back({kind.name, kind.wait_days, first_days, std::min(first_c, flow_c)});
        out.screed.push_back({kind.name, kind.wait_days + first_days, design_days, flow_c});
    }
}

void add_floor_limit(const House &house, DialIn &dial) {
    for (const Emitter &emitter : house.emitters) {
        if (!is_loop(emitter))
            continue;
        const double limit = floor_limit_c(house, emitter);
        dial.floor_limit_assumed = dial.floor_limit_assumed || !emitter.flow_limit_c;
        dial.floor_limit_c = std::min(dial.floor_limit_c.value_or(limit), limit);
    }
}

std::string stat_stops(const House &house, const networks::Stat &stat) {
    std::string out = stat.pump_run
                          ? fmt::format("the pump of run `{}`", house.runs[*stat.pump_run].name)
                          : fmt::format("valve `{}`, shut", stat.limit.valve);
    return out + (stat.limit.stops_heat ? " and the source's heat" : "");
}

// Where a stat has to stand, if the source can send more than the floor takes: behind the last pump
// on the way, where the water is mixed; without a pump it needs a valve to shut, and the source
// must keep its flow.
StatPlace stat_wanted(const House &house, const networks::Manifold &manifold) {
    if (!networks::can_overheat(house, manifold))
        return {manifold.name, 0.0,
                fmt::format("none, and none needed for this limit: the source sends at most {:g} "
                            "degC, whatever fails; local codes may ask for one",
                            networks::highest_sent_c(house)),
                "", false};
    const auto path = networks::feeding_runs(house, manifold.name);
    const auto pumped = std::find_if(path.begin(), path.end(),
                                     [&](std::size_t r) { return house.runs[r].pump.has_value(); });
    if (pumped == path.end())
        return {manifold.name, 0.0, fmt::format("MISSING: on the flow pipe at `{}`", manifold.name),
                "a valve that falls shut, and the source's heat but not its flow", false};
    const networks::Run &run = house.runs[*pumped];
    return {manifold.name, 0.0,
            fmt::format("MISSING: on the flow pipe of run `{}`, behind its {}pump", run.name,
                        run.mixer ? "mixer and " : ""),
            "that pump, with a check valve against creeping", false};
}

void add_stats(const House &house, CommissionAnswer &out) {
    const std::vector<networks::Stat> stats = networks::high_limit_stats(house);
    for (std::size_t m = 0; m < house.manifolds.size(); ++m) {
        const networks::Manifold &manifold = house.manifolds[m];
        const double limit_c = networks::manifold_limit_c(house, manifold);
        const std::size_t before = out.stats.size();
        for (const networks::Stat &stat : stats) {
            if (std::find(stat.floors.begin(), stat.floors.end(), m) == stat.floors.end())
                continue;
            const bool feels = stat.blind.empty();
            out.stats.push_back({manifold.name, limit_c,
                                 fmt::format("{}, set to {:g} degC{}", stat.where, stat.limit.at_c,
                                             feels ? "" : "; it does not feel them: " + stat.blind),
                                 stat_stops(house, stat), feels});
        }
        if (out.stats.size() == before) {
            out.stats.push_back(stat_wanted(house, manifold));
            out.stats.back().limit_c = limit_c;
        }
    }
}

// On the design day: what the source sends, a mixer mixes or the floors take, the least of them.
double warmest_to_floors_c(const House &house, const SiteSettings &settings, const DialIn &dial) {
    double warmest_c = 0.0;
    for (const SiteValve &valve : settings.valves)
        if (is_loop(emitter_of(house, valve.name)))
            warmest_c = std::max(warmest_c, valve.water_c);
    return std::min({warmest_c, settings.flow_c, dial.floor_limit_c.value_or(settings.flow_c)});
}

void add_dial(const House &house, const SiteSettings &settings, CommissionAnswer &out) {
    DialIn &dial = out.dial;
    dial.flow_c = settings.flow_c;
    dial.return_c = settings.return_c;
    dial.source_flow_m3_s = settings.source_m3_s;
    if (settings.least_flow) {
        dial.least_flow_m3_s = settings.least_flow->flow_m3_s;
        dial.balancing_pa = settings.least_flow->balanced.set_pa;
    }
    dial.pumps = settings.pumps;
    if (!dial.pumps.empty() && !dial.pumps.front().setting.empty() && dial.pumps.front().driven)
        dial.circulator_pa = dial.pumps.front().set_pa;
    add_floor_limit(house, dial);
    if (house.hot_water) {
        dial.hot_water_flow_c = house.hot_water->flow_temperature_c;
        dial.hot_water_flow_m3_s = house.hot_water->flow_m3_s;
        dial.store_to_c = house.hot_water->cylinder.store_to_c;
    }
}

void add_meters(const House &house, const SiteSettings &settings, CommissionAnswer &out) {
    for (const SiteValve &valve : settings.valves) {
        if (valve.heat_leak) {
            out.remarks.push_back(fmt::format(
                "`{}` is the solid-fuel source's heat leak: its valves stay fully open, so that it "
                "is not in the table of settings; the others count what it takes",
                valve.name));
            continue;
        }
        const Emitter &emitter = emitter_of(house, valve.name);
        out.meters.push_back({valve.name, emitter.room, valve.kind, valve.design_m3_s, valve.drop_k,
                              valve.kv_m3_h, !valve.kv_m3_h || valve.in_range, emitter.meter,
                              meter_holds(emitter.meter, valve.design_m3_s)});
    }
}

void add_remarks(const House &house, const DriveAnswer &driven, const SiteSettings &settings,
                 CommissionAnswer &out) {
    for (const SitePump &pump : settings.pumps)
        if (!pump.driven)
            out.remarks.push_back(fmt::format("{} does not drive all that it is for; see `headroom "
                                              "balance`",
                                              pump.title));
    if (settings.pumps.empty() && !out.dial.least_flow_m3_s)
        out.remarks.emplace_back("the circulator does not drive every loop and radiator, so there "
                                 "are no valve settings yet; see `headroom drive`");
    else if (driven.verdict != Verdict::Yes && settings.scope == BalanceScope::SingleCirculator)
        out.remarks.emplace_back("settle first what speaks against a yes; see `headroom drive`");
    if (std::string words = cold_return(house, out.dial.return_c); !words.empty())
        out.remarks.push_back(std::move(words));
    if (has_more_than_circulator(house))
        out.remarks.push_back("settings are for " + settings.house);
    for (const Emitter &emitter : house.emitters)
        if (emitter.balancing.kind == networks::Balancing::Kind::Shut)
            out.remarks.push_back(
                fmt::format("`{}` is shut in the file; its setting has it open", emitter.name));
}

void add_order(const House &house, const SiteSettings &settings, CommissionAnswer &out) {
    const auto step = [&](std::string text) { out.order.push_back(std::move(text)); };
    const bool floor = has_floor(house);
    const bool solid_fuel = house.source->kind == networks::Source::Kind::SolidFuel;
    step("test for leaks, as below; note pressure, time and temperature at both ends");
    step("flush loop by loop and run by run until the water runs clear; clean the strainers");
    step("set the vessel's precharge with its water side empty, then fill and bleed, lowest part "
         "first; add what belongs in the water");
    step(fmt::format("prove the safety valve, its discharge{}",
                     solid_fuel && floor ? ", the way of the heat leak and the high-limit stat: it "
                                           "must stop the floor by itself"
                     : solid_fuel        ? " and the way of the heat leak"
                     : floor ? " and the high-limit stat: it must stop the heat by itself"
                             : " and the limit thermostat"));
    if (const Screed screed = screed_of(house); screed == Screed::Known)
        step("warm up what lies in screed, as below; nothing is laid on it before it is dry");
    else if (screed == Screed::Unknown)
        step("only where there is screed, which the file does not say: let it dry, warm it up "
             "slowly by EN 1264-4 and its maker, and lay nothing on it before it is dry");
    const bool pumps = settings.scope == BalanceScope::AsDrawn;
    step(fmt::format("open every valve, zone and thermostat; run {} at full speed and bleed again",
                     pumps ? "the pumps" : "the circulator"));
    const std::optional<SourceSetting> &least = settings.least_flow;
    if (least)
        step(fmt::format("with the source's heat off, turn the circulator down to {}, every "
                         "balancing valve open",
                         pressure_words(house.text_form, least->balanced.set_pa)));
    else if (pumps || !settings.pumps.empty())
        step(fmt::format("turn {} down to {}, every balancing valve open",
                         pumps ? "the pumps" : "the circulator",
                         pumps ? "their settings" : "its setting"));
    step(fmt::format("set the balancing valves{} from the one that is throttled most to the index "
                     "circuit's, which stays open",
                     pumps ? ", pump by pump," : ""));
    step("read every meter and correct the valves in turn until each is within a tenth of its "
         "flow");
    if (least)
        step(
            least->enough()
                ? fmt::format("turn the circulator up to {}, where the source gets its least flow "
                              "of {}: the meters together then read {:.0f} % more",
                              pressure_words(house.text_form, least->set_pa),
                              flow_words(house.text_form, least->flow_m3_s, 1),
                              100.0 * (least->flow_m3_s / least->balanced.flow_m3_s - 1.0))
                : fmt::format("turn the circulator up to its most; even that lets less through the "
                              "source than its least flow of {}",
                              flow_words(house.text_form, least->flow_m3_s, 1)));
    if (house.hot_water)
        step("turn the diverter over: the coil must get its flow, and nothing may creep into the "
             "heating side");
    step("set the flow temperature, let the house settle, and read flow and return everywhere");
    if (!zone_names(house).empty())
        step("shut the zones one by one, then all, and see that the source keeps its least flow");
    step("clean the strainers again, write the settings down and leave them with the house");
}

} // namespace

CommissionAnswer commission(const House &house) {
    CommissionAnswer out;
    out.house = house.name;
    out.form = house.text_form;
    out.fluid = models::fluid_name(house.fluid);
    const DriveAnswer driven = drive(house);
    out.outcome = driven.outcome;
    if (driven.verdict == Verdict::NotSolved)
        return out;
    out.verdict = driven.sentence;
    const FillAnswer water = fill(house);
    if (!water.outcome.converged()) {
        out.outcome = water.outcome;
        return out;
    }
    const SiteSettings settings = site_settings(house, driven);
    out.outcome = settings.outcome;
    if (!out.outcome.converged())
        return out;
    out.settings = settings.house;
    add_tests(house, water, out);
    add_dial(house, settings, out);
    add_screed(house, warmest_to_floors_c(house, settings, out.dial), out);
    if (water.pressure.vessel_m3 > 0.0) {
        out.dial.fill_least_pa = water.pressure.range.least_pa;
        out.dial.fill_most_pa = water.pressure.range.most_pa;
        out.dial.precharge_pa = water.size.precharge_pa;
    }
    add_stats(house, out);
    add_meters(house, settings, out);
    add_order(house, settings, out);
    add_remarks(house, driven, settings, out);
    out.cautions = cautions(house);
    return out;
}

} // namespace headroom::solver
