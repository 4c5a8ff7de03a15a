#include "solver/questions/drive.hpp"

#include "networks/protection.hpp"
#include "solver/heat/emission.hpp"
#include "solver/questions/cautions.hpp"
#include "solver/questions/drive_work.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::Habit;
using networks::House;

constexpr double shown_excess = 0.05; // of a room's heat, that is worth a remark

// What the greatest drop asks for beyond what rooms need.
void note_greatest_drop(DriveWork &work) {
    const SizedEmitter *most = nullptr;
    for (const SizedEmitter &sized : work.sizing.emitters)
        if (sized.gives_w > (1.0 + shown_excess) * sized.room_w &&
            (most == nullptr || sized.gives_w * most->room_w > most->gives_w * sized.room_w))
            most = &sized;
    if (most == nullptr || !work.given.source->greatest_drop_k)
        return;
    work.out.remarks.push_back(fmt::format(
        "a greatest drop of {:g} K gives loops and radiators more flow than their rooms need: `{}` "
        "would give {:.0f} % of its room's heat at {:.1f} degC; a lower weather curve, or room "
        "stats on other loops than those that hold the source's least flow, take that back",
        *work.given.source->greatest_drop_k, work.given.emitters[most->emitter].name,
        100.0 * most->gives_w / most->room_w, work.out.flow_temperature_c));
}

// A flow temperature that was sought ends where the source does.
void note_highest(DriveWork &work) {
    const networks::Source &source = *work.given.source;
    if (!work.out.temperature_computed ||
        work.out.needed_temperature_c <= source.flow_temperature_c)
        return;
    if (!source.highest_c)
        work.used(networks::highest_habit(source.kind));
    work.out.remarks.push_back(
        fmt::format("the rooms ask for water at {} and the source {} {:g} degC at most{}",
                    sought_words(work.out.needed_temperature_c),
                    source.highest_c ? "sends" : "is taken to send", source.flow_temperature_c,
                    source.highest_c ? "" : ": state its own limit as `highest_temperature`"));
}

void add_heat(DriveWork &work) {
    const Sizing &sizing = work.sizing;
    work.out.temperature_set_by = sizing.set_by;
    work.out.needed_temperature_c = sizing.needed_c;
    work.out.temperature_computed = sizing.temperature_computed;
    note_highest(work);
    work.out.inlet_rounds = sizing.rounds;
    work.out.inlet_change_k = sizing.inlet_change_k;
    for (const SizedEmitter &sized : sizing.emitters) {
        HeatRow row{};
        row.name = work.given.emitters[sized.emitter].name;
        row.room_w = sized.room_w;
        row.down_w = sized.water_w - std::min(sized.room_w, sized.most_w);
        row.own_flow_c = sized.own_flow_c;
        row.drop_k = sized.drop_k;
        const networks::Emitter &emitter = work.given.emitters[sized.emitter];
        // No room waits for a heat leak.
        row.reaches = sized.reaches || networks::is_heat_leak(work.given, emitter);
        row.design_drop_k = sized.design_drop_k;
        row.gives_share = heat_at_drop(emitter.emission, work.given.fluid, sized.inlet_c,
                                       emitter.indoor_c, sized.room_w, sized.design_drop_k)
                              .to_room_w /
                          sized.room_w;
        if (const auto *radiator = std::get_if<models::Radiator>(&emitter.emission)) {
            row.rated_share = radiator->share * radiator->rated_w / sized.room_w;
            const double most_w =
                heat_at_drop(emitter.emission, work.given.fluid, sized.inlet_c, emitter.indoor_c,
                             sized.room_w, drop_at_most_flow_k(sized.design_drop_k))
                    .to_room_w;
            if (most_w > 0.0)
                row.rated_needed_w = radiator->rated_w * sized.room_w / most_w;
        }
        row.short_w = row.reaches ? 0.0 : sized.room_w - sized.most_w;
        row.surface_c = sized.surface_c;
        row.surface_limit_c = sized.surface_limit_c;
        row.conduction_w_m2k = sized.conduction_w_m2k;
        row.standard_w_m2k = sized.standard_w_m2k;
        if (sized.surface_limit_c && !work.given.emitters[sized.emitter].surface_limit_c)
            work.used(Habit::SurfaceLimit);
        work.out.heat.push_back(std::move(row));
    }
    note_greatest_drop(work);
}

void add_thermal_limits(DriveWork &work) {
    const House &given = work.given;
    for (const Emitter &emitter : given.emitters) {
        if (emitter.kind != Emitter::Kind::FloorLoop)
            continue;
        if (!emitter.flow_limit_c)
            work.used(Habit::FloorLimit);
        const double limit = floor_limit_c(given, emitter);
        const double sent = given.source->flow_temperature_c;
        if (sent > limit)
            work.out.too_hot.push_back({emitter.name, limit, sent, "on the design day"});
        if (given.hot_water && given.hot_water->after_run_to_floors &&
            given.hot_water->flow_temperature_c > limit)
            work.out.too_hot.push_back({emitter.name, limit, given.hot_water->flow_temperature_c,
                                        "in the after-run of hot water"});
    }
}

// No head drives them all: there is no state to compare, only what is in the way.
void answer_blocked(DriveWork &work) {
    std::string names;
    for (std::size_t emitter : work.design.blocked)
        names +=
            fmt::format("{}`{}`", names.empty() ? "" : ", ", work.given.emitters[emitter].name);
    work.out.verdict = Verdict::No;
    work.out.decided_by = "design, all open";
    work.out.sentence =
        fmt::format("no: no head at the source drives {}; a part on the way is shut, "
                    "turned against the flow, or limits it below the design flow",
                    names);
    work.out.reasons.push_back(work.out.sentence);
}

} // namespace

void DriveWork::not_solved(const Outcome &outcome, const std::string &state) {
    out.outcome = outcome;
    out.verdict = Verdict::NotSolved;
    out.outcome.explanation =
        fmt::format("in the state `{}`{}{}", state, outcome.explanation.empty() ? "" : ": ",
                    outcome.explanation);
}

std::string why_not_driven(const House &house) {
    if (!house.source)
        return "the file has no `source`, so there is no circulator to judge";
    if (std::all_of(house.emitters.begin(), house.emitters.end(),
                    [&](const Emitter &emitter) { return networks::is_heat_leak(house, emitter); }))
        return house.emitters.empty()
                   ? "the file has no loops or radiators, so there is nothing to drive"
                   : "the file has nothing but a heat leak, so there is nothing to drive";
    return {};
}

namespace {

using Step = void (*)(DriveWork &);

DriveAnswer drive_by(const House &house, std::initializer_list<Step> steps) {
    DriveWork work;
    work.file = &house;
    work.sizing = size(house);
    work.given = work.sizing.house;
    work.ideal = with_ideal_balancing(single_circulator(work.given));
    work.out.house = house.name;
    work.out.form = house.text_form;
    work.out.fluid = models::fluid_name(house.fluid);
    work.out.flow_temperature_c = work.given.source->flow_temperature_c;
    add_heat(work);
    work.out.laid = laid_rooms(work.given);
    work.out.cautions = cautions(work.given);
    if (!work.sizing.settled) {
        work.not_solved(sizing_outcome(work.sizing), "design, all open");
        return std::move(work.out);
    }
    work.design = judge(work.ideal);
    work.out.outcome = work.design.outcome;
    if (work.failed()) {
        work.not_solved(work.design.outcome, "design, all open");
        return std::move(work.out);
    }
    add_thermal_limits(work);
    if (!work.design.needed) {
        answer_blocked(work);
        return std::move(work.out);
    }
    for (Step step : steps) {
        step(work);
        if (work.failed())
            break;
    }
    return std::move(work.out);
}

} // namespace

DriveAnswer drive(const House &house) {
    return drive_by(house, {add_design, add_settings, add_hot_water, add_zones, add_cold_start,
                            add_cold_head, add_beside, add_assumed, decide});
}

DriveAnswer drive_verdict(const House &house) {
    return drive_by(house,
                    {add_design, add_settings, add_hot_water, add_zones, add_cold_start, decide});
}

} // namespace headroom::solver
