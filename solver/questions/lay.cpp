#include "solver/questions/lay.hpp"

#include "networks/expand_steps.hpp"
#include "solver/heat/emission.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::FloorPart;
using networks::Habit;
using networks::House;
using networks::Laying;

constexpr int most_loops = 40;
constexpr std::array spacings_m{0.30, 0.25, 0.20, 0.15, 0.10, 0.075, 0.05};
constexpr double temperature_slack_k = 1e-6;

/// A room laid in one way: one of its equal loops and what it asks for.
struct Trial {
    Emitter loop;
    int loops = 1;
    double loss_pa = 0.0;   ///< of a loop's pipe, at the flow of its own design drop
    double needs_c = 0.0;   ///< flow temperature for its heat at that drop; 0 if not known
    double surface_c = 0.0; ///< highest
    bool fits = false;      ///< keeps to its length and loss, and the house's water is warm enough
};

class Layer {
public:
    Layer(const House &house, models::FloorResponseCache &cache) : house_(house), cache_(cache) {
        if (house.source && house.source->flow_temperature_given)
            limit_c_ = house.source->flow_temperature_c;
        else
            for (std::size_t k = 0; k < house.layings.size(); ++k) {
                closest_.push_back(closest(k));
                limit_c_ = std::max(limit_c_, closest_.back().needs_c);
            }
    }

    Trial lay(std::size_t k) {
        for (const double spacing : spacings_m) {
            if (house_.layings[k].spacing_m || spacing <= closest_spacing(k))
                break;
            Trial trial = fewest_loops(k, spacing);
            if (trial.fits && trial.surface_c <= surface_limit(trial.loop))
                return trial;
        }
        return k < closest_.size() ? closest_[k] : closest(k);
    }

private:
    double closest_spacing(std::size_t k) const {
        const double asked_m =
            house_.layings[k].closest_m.value_or(house_.habits[Habit::ClosestSpacing]);
        return std::max(asked_m, plate_width_m(k)); // plates lie side by side, not over each other
    }

    double plate_width_m(std::size_t k) const {
        for (const Emitter &emitter : house_.emitters)
            if (const auto *part = std::get_if<FloorPart>(&emitter.emission);
                part != nullptr && emitter.laying == k && part->section.board &&
                part->section.board->plate)
                return part->section.board->plate->width_m;
        return 0.0;
    }

    double surface_limit(const Emitter &loop) const {
        return loop.surface_limit_c.value_or(house_.habits[Habit::SurfaceLimit]);
    }

    // As the file has it, or as close as it may lie.
    Trial closest(std::size_t k) {
        return fewest_loops(k, house_.layings[k].spacing_m.value_or(closest_spacing(k)));
    }

    // All loops of a laying as one.
    Emitter whole(std::size_t k) const {
        std::optional<Emitter> sum;
        for (const Emitter &emitter : house_.emitters) {
            if (emitter.laying != k)
                continue;
            if (!sum) {
                sum = emitter;
                continue;
            }
            sum->heat_w += emitter.heat_w;
            sum->room_heat_w += emitter.room_heat_w;
        }
        return *sum;
    }

    Trial fewest_loops(std::size_t k, double spacing_m) {
        const Emitter all = whole(k);
        Trial trial = with_loops(k, all, spacing_m, 1);
        while (!trial.fits && trial.loops < most_loops)
            trial = with_loops(k, all, spacing_m, trial.loops + 1);
        trial.fits =
            trial.fits && (limit_c_ <= 0.0 || trial.needs_c <= limit_c_ + temperature_slack_k);
        return trial;
    }

    Trial with_loops(std::size_t k, const Emitter &all, double spacing_m, int loops) {
        const Laying &laying = house_.layings[k];
        Trial trial;
        Emitter &loop = trial.loop = all;
        loop.heat_w /= loops;
        loop.room_heat_w /= loops;
        loop.length_m = laying.area_m2 / loops / spacing_m + laying.tails_m;
        trial.loops = loops;
        double flow_c = house_.source ? house_.source->flow_temperature_c : house_.open_water_c;
        double water_w = loop.heat_w;
        if (auto *part = std::get_if<FloorPart>(&loop.emission)) {
            part->section.spacing_m = spacing_m;
            part->area_m2 = laying.area_m2 / loops;
            const models::FloorResponse *response = cache_.find(part->section);
            if (response == nullptr)
                return trial; // pipes so close do not fit beside each other
            part->response = *response;
            flow_c = inlet_for_heat(loop.emission, house_.fluid, loop.indoor_c, loop.room_heat_w,
                                    loop.drop_k);
            const EmitterHeat heat = design_heat(loop, flow_c);
            trial.needs_c = flow_c;
            trial.surface_c = heat.surface_highest_c;
            water_w = heat.from_water_w;
        }
        const models::FluidState water =
            models::fluid_state(house_.fluid, flow_c - 0.5 * loop.drop_k);
        const double flow = water_w / (water.heat_capacity_j_kg_k * loop.drop_k);
        trial.loss_pa = pipe_loss_pa(loop, water, flow);
        trial.fits =
            trial.loss_pa <= laying.loop_head_pa.value_or(house_.habits[Habit::LoopHead]) &&
            (!laying.longest_m || loop.length_m <= *laying.longest_m);
        return trial;
    }

    EmitterHeat design_heat(const Emitter &loop, double flow_c) const {
        const double most = 10.0 * loop.room_heat_w / (4000.0 * loop.drop_k);
        const double flow = flow_for_heat(loop.emission, house_.fluid, flow_c, loop.indoor_c,
                                          loop.room_heat_w, most);
        return emitter_heat(loop.emission, house_.fluid, flow_c, loop.indoor_c,
                            flow > 0.0 ? flow : most);
    }

    double pipe_loss_pa(const Emitter &loop, const models::FluidState &water, double flow) const {
        const networks::Step pipe =
            networks::StepMaker(house_, house_.open_water_c)
                .pipe(loop.pipe, loop.length_m, loop.existing,
                      loop.curved_share.value_or(house_.habits[Habit::CurvedShare]),
                      loop.bend_diameter_m.value_or(house_.habits[Habit::BendDiameter]));
        double warm = 0.0;
        return networks::component_loss(pipe.component, water, flow, warm).pressure_pa;
    }

    const House &house_;
    models::FloorResponseCache &cache_;
    std::vector<Trial> closest_; ///< of each laying, where the limit below comes from them
    double limit_c_ = 0.0;       ///< flow temperature to lay for; 0 if the file needs none
};

// Numbered on from what else is called after the room.
std::string loop_name(const House &house, const std::vector<Emitter> &before, const Laying &laying,
                      const Emitter &loop) {
    const auto count = std::count_if(before.begin(), before.end(), [&](const Emitter &emitter) {
        return emitter.room == loop.room &&
               (emitter.laying ? house.layings[*emitter.laying].name : emitter.room) == laying.name;
    });
    return fmt::format("{} {}", laying.name, count + 1);
}

} // namespace

House lay(House house, models::FloorResponseCache &cache) {
    if (house.layings.empty())
        return house;
    Layer layer(house, cache);
    std::vector<Emitter> emitters;
    std::vector<std::vector<std::size_t>> became(house.emitters.size());
    std::vector<char> done(house.layings.size(), 0);
    for (std::size_t i = 0; i < house.emitters.size(); ++i) {
        const Emitter &emitter = house.emitters[i];
        if (emitter.laying && done[*emitter.laying])
            continue;
        if (!emitter.laying) {
            became[i].push_back(emitters.size());
            emitters.push_back(emitter);
            continue;
        }
        done[*emitter.laying] = 1;
        Trial trial = layer.lay(*emitter.laying);
        for (int n = 0; n < trial.loops; ++n) {
            trial.loop.name = loop_name(house, emitters, house.layings[*emitter.laying], emitter);
            became[i].push_back(emitters.size());
            emitters.push_back(trial.loop);
        }
    }
    for (networks::Manifold &manifold : house.manifolds) {
        std::vector<std::size_t> loops;
        for (const std::size_t loop : manifold.loops)
            loops.insert(loops.end(), became[loop].begin(), became[loop].end());
        manifold.loops = std::move(loops);
    }
    house.emitters = std::move(emitters);
    return house;
}

House lay(House house) {
    models::FloorResponseCache cache;
    return lay(std::move(house), cache);
}

namespace {

constexpr double usual_spacing_m = 0.15; // stands for any: lengths follow from lengths

double spacing_of(const Emitter &loop) {
    const auto *part = std::get_if<FloorPart>(&loop.emission);
    return part != nullptr ? part->section.spacing_m : usual_spacing_m;
}

// Loops that lie in one floor: the same room, manifold and build.
bool in_one_floor(const Emitter &a, const Emitter &b) {
    const auto *floor_a = std::get_if<FloorPart>(&a.emission);
    const auto *floor_b = std::get_if<FloorPart>(&b.emission);
    if ((floor_a == nullptr) != (floor_b == nullptr))
        return false;
    return a.room == b.room && a.from == b.from && a.surface_limit_c == b.surface_limit_c &&
           a.zone == b.zone && (floor_a == nullptr || floor_a->section == floor_b->section);
}

} // namespace

House as_layings(House house) {
    house.layings.clear();
    std::vector<const Emitter *> first; // of each laying
    std::vector<int> loops;
    for (Emitter &loop : house.emitters) {
        if (loop.kind != Emitter::Kind::FloorLoop)
            continue;
        const auto same = std::find_if(first.begin(), first.end(), [&](const Emitter *other) {
            return !loop.room.empty() && in_one_floor(*other, loop);
        });
        const auto k = static_cast<std::size_t>(same - first.begin());
        if (same == first.end()) {
            first.push_back(&loop);
            loops.push_back(0);
            Laying laying;
            laying.name = loop.room.empty() ? loop.name : loop.room;
            laying.spacing_m = spacing_of(loop);
            laying.place = loop.place;
            house.layings.push_back(std::move(laying));
        }
        Laying &laying = house.layings[k];
        const auto *part = std::get_if<FloorPart>(&loop.emission);
        laying.area_m2 +=
            part != nullptr ? part->area_m2 : (loop.length_m - loop.tails_m) * usual_spacing_m;
        laying.tails_m = (laying.tails_m * loops[k] + loop.tails_m) / (loops[k] + 1);
        ++loops[k];
        loop.laying = k;
    }
    return house;
}

std::vector<LaidRoom> laid_rooms(const House &house) {
    std::vector<LaidRoom> out;
    for (std::size_t k = 0; k < house.layings.size(); ++k) {
        const Laying &laying = house.layings[k];
        LaidRoom room;
        room.name = laying.name;
        room.spacing_chosen = !laying.spacing_m.has_value();
        for (const Emitter &loop : house.emitters) {
            if (loop.laying != k)
                continue;
            room.manifold = loop.from;
            room.pipe = loop.pipe.name;
            room.loop_length_m = loop.length_m;
            room.pipe_m += loop.length_m;
            ++room.loops;
        }
        room.spacing_m = laying.area_m2 / (room.pipe_m - room.loops * laying.tails_m);
        out.push_back(std::move(room));
    }
    return out;
}

} // namespace headroom::solver
