#include "networks/protection.hpp"
#include "networks/read_parts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::networks {
namespace {

void check_stats(const House &house, Diagnostics &diagnostics) {
    for (const Stat &stat : high_limit_stats(house)) {
        const HighLimit &limit = stat.limit;
        if (limit.stops == HighLimit::Stops::Pump && !stat.pump_run)
            diagnostics.error(
                "stat-without-pump", limit.pump_run.empty() ? limit.place : limit.pump_place,
                limit.pump_run.empty()
                    ? fmt::format("the high limit of {} has no pump to stop", stat.where)
                    : fmt::format("there is no run `{}` with a pump", limit.pump_run),
                "name its run with `pump_of:`; without a floor pump, let a valve fall shut and the "
                "heat stop: `stops: valve, valve: floor valve, stops_heat: yes`");
        if (limit.stops == HighLimit::Stops::Valve && !stat.valve && !limit.valve.empty())
            diagnostics.error(
                "stat-without-valve", limit.valve_place,
                fmt::format("no zone valve is called `{}`, or more than one is", limit.valve),
                "give a zone valve of the run that feeds the floor this `name:`");
    }
}

const char *shuttable(const Run &run) {
    if (run.pump)
        return "a pump";
    if (run.mixer)
        return "a mixer";
    const bool valve = std::any_of(run.parts.begin(), run.parts.end(),
                                   [](const Part &part) { return part.kind != Part::Kind::Plain; });
    return valve ? "a valve" : nullptr;
}

// Nothing may stand in the way of a heat leak.
void check_heat_leak(const House &house, Diagnostics &diagnostics) {
    if (!house.source || house.source->heat_leak.empty())
        return;
    const Source &source = *house.source;
    const auto run = std::find_if(house.runs.begin(), house.runs.end(),
                                  [&](const Run &r) { return r.name == source.heat_leak; });
    if (run == house.runs.end()) {
        diagnostics.error("unknown-run", source.heat_leak_place,
                          fmt::format("there is no run `{}`", source.heat_leak),
                          "name the run that takes the source's heat by gravity");
        return;
    }
    if (!house.levels_given)
        diagnostics.error("heat-leak-without-levels", source.heat_leak_place,
                          "whether the heat leak works by gravity needs levels, and none are given",
                          "give the source and the places of the heat leak their `level:`");
    std::vector<std::size_t> way = feeding_runs(house, run->to);
    for (std::size_t r : way)
        if (const char *what = shuttable(house.runs[r]))
            diagnostics.error("heat-leak-can-shut", house.runs[r].place,
                              fmt::format("{} in run `{}` can stop the heat leak of the solid-fuel "
                                          "source",
                                          what, house.runs[r].name),
                              "keep the heat leak free of pumps and valves from the source on");
    bool taken = false;
    for (const Emitter &emitter : house.emitters) {
        if (!is_heat_leak(house, emitter))
            continue;
        taken = true;
        if (emitter.balancing.kind == Balancing::Kind::Shut || !emitter.zone.empty())
            diagnostics.error(
                "heat-leak-can-shut", emitter.place,
                fmt::format("`{}` is the heat leak, but it can be shut", emitter.name),
                "leave it open and out of every zone");
        else if (emitter.balancing.kind == Balancing::Kind::Kv)
            diagnostics.warning(
                "heat-leak-throttled", emitter.place,
                fmt::format("`{}` is the heat leak, but its valve is throttled to Kv {:.3g} m3/h",
                            emitter.name, emitter.balancing.kv_m3_h),
                "open it fully, and fit no valve there that can be turned by hand");
    }
    if (!taken)
        diagnostics.error(
            "heat-leak-nowhere", source.heat_leak_place,
            fmt::format("no radiator is fed from `{}`, where the heat leak ends", run->to),
            "connect the radiator that takes the heat there");
}

void warn_of_parted(const House &house, Diagnostics &diagnostics) {
    for (const Parted &parted : parted_from_source(house))
        if (!parted.by_isolating_valves)
            diagnostics.warning(
                "parted-from-source", parted.place,
                fmt::format("valves can part the source from {} at `{}`", parted.what, parted.at),
                "join it to the source without a valve between, such as at "
                "`source.return`");
}

void warn_of_draining(const House &house, Diagnostics &diagnostics) {
    for (const std::string &name : draining_glycol(house)) {
        const auto run = std::find_if(house.runs.begin(), house.runs.end(),
                                      [&](const Run &r) { return r.name == name; });
        diagnostics.warning(
            "glycol-drains", run->place,
            fmt::format("the anti-freeze valves of run `{}` would drain the glycol", name),
            "use one or the other against frost");
    }
}

} // namespace

void validate_protection(Reading &reading) {
    check_stats(reading.house, reading.diagnostics);
    check_heat_leak(reading.house, reading.diagnostics);
    if (reading.diagnostics.has_errors())
        return;
    warn_of_parted(reading.house, reading.diagnostics);
    warn_of_draining(reading.house, reading.diagnostics);
}

} // namespace headroom::networks
