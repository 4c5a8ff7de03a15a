#include "solver/questions/changes.hpp"

#include "networks/protection.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::House;

constexpr std::array drops_k{5.0, 7.0, 10.0};
constexpr std::array closer_m{0.20, 0.15, 0.10};
constexpr std::array wider_m{0.15, 0.20, 0.25, 0.30};
constexpr std::array radiator_factors{1.5, 2.0, 3.0};
constexpr std::array warmer_k{2.5, 5.0};
constexpr double largest_drop_k = 30.0, least_useful_drop_k = 2.0, drop_step_k = 0.5;
constexpr double finer_share = 0.8; // of what a valve must stand at; other changes move it

class Candidates {
public:
    Candidates(const House &house, const ChangeNeeds &needs) : house_(house), needs_(needs) {}

    std::vector<Change> all() {
        if (needs_.cooler_c > 0.0 && !described())
            return {}; // nothing tells what cooler water would do, and no other change helps
        if (needs_.head)
            for_head();
        if (!needs_.cold_emitters.empty())
            for_heat();
        if (needs_.cooler_c > 0.0 && described())
            add(FlowTemperature{needs_.cooler_c});
        if (needs_.missing_l_min > 0.0)
            for_least_flow();
        if (!needs_.coarse.empty())
            add(FinerValves{needs_.coarse, finer_share * needs_.finest_kv_m3_h});
        return std::move(out_);
    }

private:
    void add(ChangeKind kind) {
        Change change = make_change(house_, std::move(kind));
        if (floor_fault(changed(house_, change.kind)) ==
            nullptr) // a board takes no pipe thicker than it
            out_.push_back(std::move(change));
    }

    bool described() const {
        return std::all_of(house_.emitters.begin(), house_.emitters.end(), [](const Emitter &e) {
            return !std::holds_alternative<std::monostate>(e.emission);
        });
    }

    const Emitter &emitter(const std::string &name) const {
        return *std::find_if(house_.emitters.begin(), house_.emitters.end(),
                             [&](const Emitter &e) { return e.name == name; });
    }

    void for_head() {
        for (std::size_t i = 0; i < house_.runs.size(); ++i) {
            const networks::Run &run = house_.runs[i];
            if (const auto wider = next_larger(house_.catalogue, run.pipe)) {
                add(WiderRun{i, *wider});
                if (const auto two = next_larger(house_.catalogue, *wider))
                    add(WiderRun{i, *two});
            }
            Change valves = make_change(house_, FullBoreValves{i});
            if (valves.cost > 0.0)
                out_.push_back(std::move(valves));
        }
        for (const std::string &name : needs_.short_emitters)
            for_short_emitter(emitter(name));
        for (const networks::Manifold &manifold : house_.manifolds)
            if (!manifold.loops.empty() && !needs_.loops_keep_pipe)
                if (const auto wider =
                        next_larger(house_.catalogue, house_.emitters[manifold.loops[0]].pipe))
                    add(LoopPipe{manifold.name, *wider});
        larger_drops();
        if (described())
            for (const double step : warmer_k)
                warmer(house_.source->flow_temperature_c + step);
        for (const networks::CirculatorModel &model : house_.catalogue.circulators)
            if (house_.source->states == networks::CurveStates::Gross &&
                model.curve.front().pressure_pa >
                    house_.source->circulator.curve.points.front().pressure_pa)
                add(OtherCirculator{model.name});
        if (house_.fluid.kind == models::FluidKind::PropyleneGlycol ||
            house_.fluid.kind == models::FluidKind::EthyleneGlycol)
            add(PlainWater{});
    }

    void for_short_emitter(const Emitter &e) {
        if (described() && std::holds_alternative<models::Radiator>(e.emission))
            add(LargerRadiator{e.name, radiator_factors[0]});
        if (e.kind != Emitter::Kind::FloorLoop) {
            if (const auto wider = next_larger(house_.catalogue, e.pipe);
                wider && e.pipe.bore_m > 0.0)
                add(OneLoopPipe{e.name, *wider});
            return;
        }
        add(SplitLoop{e.name});
        if (const auto wider = next_larger(house_.catalogue, e.pipe);
            wider && !needs_.loops_keep_pipe)
            add(OneLoopPipe{e.name, *wider});
        if (const auto *part = std::get_if<networks::FloorPart>(&e.emission); part && described())
            if (const auto *next = std::find_if(
                    wider_m.begin(), wider_m.end(),
                    [&](double spacing_m) { return spacing_m > part->section.spacing_m + 1e-6; });
                next != wider_m.end())
                add(LoopSpacing{e.name, *next});
    }

    // No warmer than the source can send.
    void warmer(double flow_c) {
        if (flow_c <= networks::highest_flow_c(house_))
            add(FlowTemperature{flow_c});
    }

    void larger_drops() {
        double present_k = 0.0;
        for (const Emitter &e : house_.emitters)
            present_k = std::max(present_k, e.drop_k);
        for (const double drop_k : drops_k)
            if (described() && drop_k > present_k + 0.5)
                add(OtherDrop{drop_k});
    }

    void for_heat() {
        for (const std::string &name : needs_.cold_emitters) {
            const Emitter &cold = emitter(name);
            if (std::holds_alternative<models::Radiator>(cold.emission))
                for (const double factor : radiator_factors)
                    add(LargerRadiator{name, factor});
            if (const auto *part = std::get_if<networks::FloorPart>(&cold.emission))
                for (const double spacing_m : closer_m)
                    if (spacing_m < part->section.spacing_m - 1e-6)
                        add(LoopSpacing{name, spacing_m});
        }
        if (needs_.fitting.size() > 1 || (needs_.fitting.size() == 1 && !factor_fits()))
            add(FittingRadiators{needs_.fitting});
        if (!described() || !house_.source->flow_temperature_given || needs_.warmer_c == 0.0)
            return;
        warmer(std::ceil(2.0 * needs_.warmer_c) / 2.0);
        for (const double step : warmer_k)
            if (house_.source->flow_temperature_c + step < needs_.warmer_c)
                warmer(house_.source->flow_temperature_c + step);
    }

    bool factor_fits() const {
        const FittingRadiator &one = needs_.fitting.front();
        const auto *radiator = std::get_if<models::Radiator>(&emitter(one.radiator).emission);
        return radiator != nullptr && one.rated_w <= radiator_factors.back() * radiator->rated_w;
    }

    // Of the design flow, with no drop larger than this.
    double flow_share(double greatest_k) const {
        double now = 0.0, then = 0.0;
        for (const Emitter &e : house_.emitters) {
            now += e.heat_w / e.drop_k;
            then += e.heat_w / std::min(e.drop_k, greatest_k);
        }
        return then / now;
    }

    // The largest that makes so much more flow, in halves of a kelvin, and two below it, as flows
    // at a cold start are not those of the design state.
    void smaller_drops() {
        if (needs_.more_flow <= 1.0)
            return;
        double drop_k = largest_drop_k;
        while (drop_k >= least_useful_drop_k && flow_share(drop_k) < needs_.more_flow)
            drop_k -= drop_step_k;
        for (int tried = 0; tried < 3 && drop_k >= least_useful_drop_k; ++tried) {
            add(GreatestDrop{drop_k, needs_.warmer_than_needed && described()});
            drop_k -= drop_step_k;
        }
    }

    void for_least_flow() {
        smaller_drops();
        const auto first =
            std::find_if(house_.runs.begin(), house_.runs.end(), [](const networks::Run &run) {
                return !run.one_way && run.from == "source";
            });
        if (first != house_.runs.end() && needs_.set_pa > 0.0) {
            // Open for good, so it takes its flow at the head the circulator is set to; a quarter
            // more as the head falls on the way there.
            const double flow_m3_h = 1.25 * needs_.missing_l_min * 0.06;
            add(OpenBypass{first->to,
                           std::ceil(20.0 * flow_m3_h / std::sqrt(needs_.set_pa * 1e-5)) / 20.0});
        }
        for (const std::string &zone : zone_names(house_))
            add(ZoneLeftOpen{zone});
        for (const Emitter &e : house_.emitters)
            if (std::holds_alternative<models::Radiator>(e.emission))
                add(LargerRadiator{e.name, radiator_factors[0]});
    }

    const House &house_;
    const ChangeNeeds &needs_;
    std::vector<Change> out_;
};

} // namespace

std::vector<Change> candidate_changes(const House &house, const ChangeNeeds &needs) {
    return Candidates(house, needs).all();
}

} // namespace headroom::solver
