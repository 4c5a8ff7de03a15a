#include "solver/questions/changes.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <utility>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::FittingCount;
using networks::House;
using networks::Priced;
using networks::Run;

constexpr std::array<std::string_view, 4> throttling{"globe_valve", "gate_valve", "angle_valve",
                                                     "straight_valve"};

bool throttles(const FittingCount &fitting) {
    return std::find(throttling.begin(), throttling.end(), fitting.name) != throttling.end();
}

const Emitter &emitter_of(const House &house, const std::string &name) {
    return *std::find_if(house.emitters.begin(), house.emitters.end(),
                         [&](const Emitter &emitter) { return emitter.name == name; });
}

Emitter &emitter_of(House &house, const std::string &name) {
    return house.emitters[static_cast<std::size_t>(&emitter_of(std::as_const(house), name) -
                                                   house.emitters.data())];
}

template <class... Cases> struct Overloaded : Cases... { using Cases::operator()...; };
template <class... Cases> Overloaded(Cases...) -> Overloaded<Cases...>;

void forget_response(Emitter &emitter) {
    if (auto *part = std::get_if<networks::FloorPart>(&emitter.emission))
        part->response.reset();
}

void put_pipe(Emitter &loop, const networks::PipeChoice &pipe) {
    loop.pipe = pipe;
    loop.existing = false;
    if (auto *part = std::get_if<networks::FloorPart>(&loop.emission)) {
        part->section.pipe.outside_diameter_m = pipe.bore_m + 2.0 * pipe.wall_m;
        part->section.pipe.wall_m = pipe.wall_m;
        part->section.pipe.wall_conductivity_w_m_k = pipe.conductivity_w_m_k;
    }
    forget_response(loop);
}

void split(House &house, const std::string &name) {
    Emitter &loop = emitter_of(house, name);
    const double heated = loop.length_m - loop.tails_m;
    loop.heat_w *= 0.5;
    loop.room_heat_w *= 0.5;
    loop.length_m = 0.5 * heated + loop.tails_m;
    if (auto *part = std::get_if<networks::FloorPart>(&loop.emission))
        part->area_m2 *= 0.5;
    const auto index = static_cast<std::size_t>(&loop - house.emitters.data());
    Emitter second = loop;
    second.name = name + " b";
    house.emitters.push_back(std::move(second)); // `loop` ends here
    house.emitters[index].name = name + " a";
    for (networks::Manifold &manifold : house.manifolds) {
        const auto at = std::find(manifold.loops.begin(), manifold.loops.end(), index);
        if (at != manifold.loops.end())
            manifold.loops.insert(at + 1, house.emitters.size() - 1);
    }
}

void leave_open(House &house, const std::string &zone) {
    for (Emitter &emitter : house.emitters)
        if (emitter.zone == zone)
            emitter.zone.clear();
    for (Run &run : house.runs)
        std::erase_if(run.parts, [&](const networks::Part &part) {
            return part.kind == networks::Part::Kind::Zone && part.zone == zone;
        });
}

void full_bore(std::vector<FittingCount> &fittings) {
    int count = 0;
    for (const FittingCount &fitting : fittings)
        count += throttles(fitting) ? fitting.count : 0;
    std::erase_if(fittings, throttles);
    if (count > 0)
        fittings.push_back({"full_bore_valve", count});
}

int throttling_valves(const Run &run) {
    int count = 0;
    for (const auto *fittings : {&run.flow.fittings, &run.back.fittings})
        for (const FittingCount &fitting : *fittings)
            count += throttles(fitting) ? fitting.count : 0;
    return count;
}

double run_length_m(const Run &run) {
    return run.flow.length_m + (run.one_way ? 0.0 : run.back.length_m);
}

int run_fittings(const Run &run) {
    int count = 0;
    for (const auto *fittings : {&run.flow.fittings, &run.back.fittings})
        for (const FittingCount &fitting : *fittings)
            count += fitting.count;
    return count;
}

} // namespace

House changed(House house, const ChangeKind &change) {
    std::visit(Overloaded{
                   [&](const WiderRun &c) {
                       house.runs[c.run].pipe = c.pipe;
                       house.runs[c.run].existing = false;
                   },
                   [&](const FullBoreValves &c) {
                       full_bore(house.runs[c.run].flow.fittings);
                       full_bore(house.runs[c.run].back.fittings);
                   },
                   [&](const SplitLoop &c) { split(house, c.loop); },
                   [&](const LoopPipe &c) {
                       for (Emitter &emitter : house.emitters)
                           if (emitter.kind == Emitter::Kind::FloorLoop &&
                               emitter.from == c.manifold)
                               put_pipe(emitter, c.pipe);
                   },
                   [&](const OneLoopPipe &c) { put_pipe(emitter_of(house, c.loop), c.pipe); },
                   [&](const LoopSpacing &c) {
                       Emitter &loop = emitter_of(house, c.loop);
                       auto &part = std::get<networks::FloorPart>(loop.emission);
                       loop.length_m = part.area_m2 / c.spacing_m + loop.tails_m;
                       part.section.spacing_m = c.spacing_m;
                       forget_response(loop);
                   },
                   [&](const LargerRadiator &c) {
                       std::get<models::Radiator>(emitter_of(house, c.radiator).emission).rated_w *=
                           c.factor;
                   },
                   [&](const FittingRadiators &c) {
                       for (const FittingRadiator &fitting : c.radiators)
                           std::get<models::Radiator>(emitter_of(house, fitting.radiator).emission)
                               .rated_w = fitting.rated_w;
                   },
                   [&](const OtherDrop &c) {
                       house.source->drop_k = c.drop_k;
                       for (Emitter &emitter : house.emitters)
                           emitter.drop_k = c.drop_k;
                   },
                   [&](const GreatestDrop &c) {
                       house.source->greatest_drop_k = c.drop_k;
                       if (c.lower_temperature)
                           house.source->flow_temperature_given = false;
                   },
                   [&](const FinerValves &c) {
                       for (const std::string &name : c.emitters)
                           emitter_of(house, name).least_kv_m3_h = c.least_kv_m3_h;
                   },
                   [&](const FlowTemperature &c) {
                       house.source->flow_temperature_c = c.flow_c;
                       house.source->flow_temperature_given = true;
                   },
                   [&](const OtherCirculator &c) {
                       house.source->circulator.curve =
                           models::make_pump_curve(house.catalogue.circulator(c.model)->curve);
                       house.source->circulator.model = c.model;
                   },
                   [&](const PlainWater &) { house.fluid = {}; },
                   [&](const OpenBypass &c) {
                       networks::Bypass bypass;
                       bypass.name = "open bypass";
                       bypass.at = c.at;
                       bypass.kv_m3_h = c.kv_m3_h;
                       house.bypasses.push_back(std::move(bypass));
                   },
                   [&](const ZoneLeftOpen &c) { leave_open(house, c.zone); },
               },
               change);
    return house;
}

const char *floor_fault(const House &house) {
    for (const Emitter &emitter : house.emitters)
        if (const auto *part = std::get_if<networks::FloorPart>(&emitter.emission))
            if (const char *fault = models::floor_section_fault(part->section))
                return fault;
    return nullptr;
}

Change make_change(const House &house, ChangeKind kind) {
    const networks::Prices &prices = house.prices;
    Change out{kind, "", 0.0, ""};
    const auto set = [&](std::string words, double cost, std::string target) {
        out.words = std::move(words);
        out.cost = cost;
        out.target = std::move(target);
    };
    std::visit(
        Overloaded{
            [&](const WiderRun &c) {
                const Run &run = house.runs[c.run];
                const double length = run_length_m(run);
                set(fmt::format("run `{}` in {}", run.name, c.pipe.name),
                    length * (prices[Priced::RepipingPerMetre] +
                              prices.pipe_per_metre(c.pipe.name, c.pipe.bore_m)) +
                        run_fittings(run) * prices[Priced::Fitting],
                    "run " + run.name);
            },
            [&](const FullBoreValves &c) {
                const Run &run = house.runs[c.run];
                set(fmt::format("full-bore valves in run `{}`", run.name),
                    throttling_valves(run) * prices[Priced::Valve], "valves " + run.name);
            },
            [&](const SplitLoop &c) {
                const Emitter &loop = emitter_of(house, c.loop);
                set(fmt::format("loop `{}` as two loops", c.loop),
                    prices[Priced::LoopPort] +
                        loop.length_m * (prices[Priced::LayingPerMetre] +
                                         prices.pipe_per_metre(loop.pipe.name, loop.pipe.bore_m)),
                    "loop " + c.loop);
            },
            [&](const LoopPipe &c) {
                double metres = 0.0;
                for (const Emitter &emitter : house.emitters)
                    if (emitter.kind == Emitter::Kind::FloorLoop && emitter.from == c.manifold)
                        metres += emitter.length_m;
                set(fmt::format("loops of `{}` in {}", c.manifold, c.pipe.name),
                    metres * (prices[Priced::LayingPerMetre] +
                              prices.pipe_per_metre(c.pipe.name, c.pipe.bore_m)),
                    "pipe " + c.manifold);
            },
            [&](const OneLoopPipe &c) {
                const Emitter &emitter = emitter_of(house, c.loop);
                const bool loop = emitter.kind == Emitter::Kind::FloorLoop;
                const double each = prices.pipe_per_metre(c.pipe.name, c.pipe.bore_m);
                set(fmt::format("{} `{}` in {}", loop ? "loop" : "both tails of radiator", c.loop,
                                c.pipe.name),
                    loop ? emitter.length_m * (prices[Priced::LayingPerMetre] + each)
                         : 2.0 * emitter.length_m * (prices[Priced::RepipingPerMetre] + each),
                    (loop ? "loop " : "tails ") + c.loop);
            },
            [&](const LoopSpacing &c) {
                const Emitter &loop = emitter_of(house, c.loop);
                const auto &part = std::get<networks::FloorPart>(loop.emission);
                set(fmt::format("loop `{}` at {:g} mm", c.loop, c.spacing_m * 1e3),
                    part.area_m2 / c.spacing_m *
                        (prices[Priced::LayingPerMetre] +
                         prices.pipe_per_metre(loop.pipe.name, loop.pipe.bore_m)),
                    "loop " + c.loop);
            },
            [&](const LargerRadiator &c) {
                const double rated_w =
                    std::get<models::Radiator>(emitter_of(house, c.radiator).emission).rated_w;
                set(fmt::format("radiator `{}` of {:.0f} W rated output", c.radiator,
                                c.factor * rated_w),
                    prices[Priced::RadiatorSwap] +
                        prices[Priced::RadiatorPerKilowatt] * c.factor * rated_w * 1e-3,
                    "radiator " + c.radiator);
            },
            [&](const FittingRadiators &c) {
                double rated_w = 0.0;
                for (const FittingRadiator &fitting : c.radiators)
                    rated_w += fitting.rated_w;
                const auto count = static_cast<double>(c.radiators.size());
                set(c.radiators.size() == 1
                        ? fmt::format("radiator `{}` of {:.0f} W rated output",
                                      c.radiators.front().radiator, rated_w)
                        : fmt::format("{} larger radiators, {:.0f} W rated in all",
                                      c.radiators.size(), rated_w),
                    count * prices[Priced::RadiatorSwap] +
                        prices[Priced::RadiatorPerKilowatt] * rated_w * 1e-3,
                    "fitting radiators");
            },
            [&](const OtherDrop &c) {
                set(fmt::format("a design drop of {:g} K", c.drop_k), prices[Priced::Setting],
                    "drop");
            },
            [&](const GreatestDrop &c) {
                set(fmt::format("drops of {:g} K at most{}", c.drop_k,
                                c.lower_temperature ? ", water no warmer than needed" : ""),
                    prices[Priced::Setting], "drop");
            },
            [&](const FinerValves &c) {
                set(fmt::format("finer balancing valves, to Kv {:.3f}: `{}`", c.least_kv_m3_h,
                                fmt::join(c.emitters, "`, `")),
                    static_cast<double>(c.emitters.size()) * prices[Priced::Valve], "finer valves");
            },
            [&](const FlowTemperature &c) {
                const double warmer = std::max(0.0, c.flow_c - house.source->flow_temperature_c);
                set(fmt::format("a flow temperature of {:.1f} degC", c.flow_c),
                    prices[Priced::Setting] + warmer * prices[Priced::WarmerPerKelvin],
                    "temperature");
            },
            [&](const OtherCirculator &c) {
                set(fmt::format("circulator `{}` in the source's place", c.model),
                    prices[Priced::Circulator], "circulator");
            },
            [&](const PlainWater &) {
                set("plain water in place of glycol, where frost allows",
                    prices[Priced::Setting] + prices[Priced::Hour], "liquid");
            },
            [&](const OpenBypass &c) {
                set(fmt::format("an open bypass of Kv {:.2f} m3/h at `{}`", c.kv_m3_h, c.at),
                    prices[Priced::Bypass], "bypass");
            },
            [&](const ZoneLeftOpen &c) {
                set(fmt::format("zone `{}` left open for good", c.zone), prices[Priced::Setting],
                    "zone " + c.zone);
            },
        },
        kind);
    return out;
}

} // namespace headroom::solver
