#include "solver/questions/how_sure.hpp"

#include "solver/heat/emission.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/lattice.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <fmt/format.h>
#include <mutex>
#include <thread>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::Habit;
using networks::House;

/// An input: what a share from 0 to 1 of its range does to a house.
struct Input {
    std::string what;
    std::string range;
    std::function<void(House &, double)> apply;
};

std::string either_way(double share) {
    return fmt::format("-/+ {:.3g} %", 100.0 * share);
}

// 1 in the middle of the range.
double factor_at(double half_range, double share) {
    return 1.0 + half_range * (2.0 * share - 1.0);
}

void add_common_inputs(const networks::Margin &margin, std::vector<Input> &inputs) {
    inputs.push_back({"the circulator's head", either_way(margin.curve),
                      [h = margin.curve](House &house, double u) {
                          house.condition.curve_factor = factor_at(h, u);
                      }});
    inputs.push_back(
        {"all bores", either_way(margin.bore), [h = margin.bore](House &house, double u) {
             house.condition.bore_factor = factor_at(h, u);
         }});
    inputs.push_back({"roughness of all pipes",
                      fmt::format("/ {0:.3g} to x {0:.3g}", 1.0 + margin.roughness),
                      [h = margin.roughness](House &house, double u) {
                          house.condition.roughness_factor = std::pow(1.0 + h, 2.0 * u - 1.0);
                      }});
    inputs.push_back({"losses of all fittings", either_way(margin.fittings),
                      [h = margin.fittings](House &house, double u) {
                          house.condition.fitting_factor = factor_at(h, u);
                      }});
    inputs.push_back({"dirt in filters", fmt::format("0 to +{:.3g} %", 100.0 * margin.filter),
                      [h = margin.filter](House &house, double u) {
                          house.condition.filter_factor = 1.0 + h * u;
                      }});
    inputs.push_back(
        {"where flow turns turbulent", "late, middle or early", [](House &house, double u) {
             using models::Transition;
             house.condition.transition = u < 1.0 / 3.0   ? Transition::Late
                                          : u < 2.0 / 3.0 ? Transition::Middle
                                                          : Transition::Early;
         }});
}

void add_heat_inputs(const House &house, std::vector<Input> &inputs) {
    const double h = house.margin.heat_loss;
    std::vector<std::string> rooms;
    for (const Emitter &emitter : house.emitters) {
        const std::string &room = emitter.room.empty() ? emitter.name : emitter.room;
        if (std::find(rooms.begin(), rooms.end(), room) == rooms.end())
            rooms.push_back(room);
    }
    for (const std::string &room : rooms)
        inputs.push_back(
            {fmt::format("heat of `{}`", room), either_way(h), [h, room](House &changed, double u) {
                 for (Emitter &emitter : changed.emitters)
                     if ((emitter.room.empty() ? emitter.name : emitter.room) == room) {
                         emitter.heat_w *= factor_at(h, u);
                         emitter.room_heat_w *= factor_at(h, u);
                     }
             }});
}

void add_length_inputs(const House &house, std::vector<Input> &inputs) {
    const double h = house.margin.length;
    for (std::size_t i = 0; i < house.emitters.size(); ++i)
        if (house.emitters[i].length_m > 0.0)
            inputs.push_back({fmt::format("length of `{}`", house.emitters[i].name), either_way(h),
                              [h, i](House &changed, double u) {
                                  changed.emitters[i].length_m *= factor_at(h, u);
                                  changed.emitters[i].tails_m *= factor_at(h, u);
                              }});
    for (std::size_t i = 0; i < house.runs.size(); ++i)
        if (house.runs[i].flow.length_m + house.runs[i].back.length_m > 0.0)
            inputs.push_back({fmt::format("length of run `{}`", house.runs[i].name), either_way(h),
                              [h, i](House &changed, double u) {
                                  changed.runs[i].flow.length_m *= factor_at(h, u);
                                  changed.runs[i].back.length_m *= factor_at(h, u);
                              }});
}

struct Sample {
    bool solved = false;
    bool head = false, heat = true, cool_enough = true;
    double headroom_pa = 0.0;
};

bool within_floor_limits(const House &house) {
    return std::all_of(house.emitters.begin(), house.emitters.end(), [&](const Emitter &emitter) {
        return emitter.kind != Emitter::Kind::FloorLoop ||
               house.source->flow_temperature_c <= floor_limit_c(house, emitter);
    });
}

Sample try_sample(House house, const Sizing &like) {
    Sample out;
    const Sizing sizing = size(std::move(house), &like);
    if (!sizing.settled)
        return out;
    out.heat = std::all_of(sizing.emitters.begin(), sizing.emitters.end(),
                           [](const SizedEmitter &emitter) { return emitter.reaches; });
    out.cool_enough = within_floor_limits(sizing.house);
    House ideal = with_ideal_balancing(single_circulator(sizing.house));
    const Headroom design = headroom_of(ideal);
    if (!design.outcome.converged())
        return out;
    out.headroom_pa = design.pa;
    out.head = design.pa >= 0.0;
    if (sizing.house.hot_water) {
        ideal.condition.hot_water = true;
        const Headroom hot = headroom_of(ideal);
        if (!hot.outcome.converged())
            return out;
        out.head = out.head && hot.pa >= 0.0;
    }
    out.solved = true;
    return out;
}

// Straight-line effect of each input on headroom, over the samples that were solved.
void weigh(const Lattice &lattice, const std::vector<Input> &inputs,
           const std::vector<Sample> &samples, HowSure &out) {
    std::vector<double> x, sum_x(inputs.size()), sum_xx(inputs.size()), sum_xy(inputs.size());
    double n = 0.0, sum_y = 0.0, sum_yy = 0.0;
    for (std::uint32_t i = 0; i < samples.size(); ++i) {
        if (!samples[i].solved || !std::isfinite(samples[i].headroom_pa))
            continue;
        lattice.point(i, x);
        const double y = samples[i].headroom_pa;
        n += 1.0;
        sum_y += y;
        sum_yy += y * y;
        for (std::size_t j = 0; j < x.size(); ++j) {
            sum_x[j] += x[j];
            sum_xx[j] += x[j] * x[j];
            sum_xy[j] += x[j] * y;
        }
    }
    if (n < 2.0)
        return;
    const double yy = sum_yy - sum_y * sum_y / n;
    for (std::size_t j = 0; j < inputs.size(); ++j) {
        const double xx = sum_xx[j] - sum_x[j] * sum_x[j] / n;
        const double xy = sum_xy[j] - sum_x[j] * sum_y / n;
        const bool varies = xx > 0.0 && yy > 0.0;
        out.inputs.push_back({inputs[j].what, inputs[j].range, varies ? xy * xy / (xx * yy) : 0.0,
                              varies ? xy / xx : 0.0});
        out.explained_share += out.inputs.back().spread_share;
    }
    std::stable_sort(out.inputs.begin(), out.inputs.end(),
                     [](const UncertainInput &a, const UncertainInput &b) {
                         return a.spread_share > b.spread_share;
                     });
}

void count(const std::vector<Sample> &samples, HowSure &out) {
    std::vector<double> headrooms;
    for (const Sample &sample : samples) {
        ++out.samples;
        if (!sample.solved) {
            ++out.not_solved;
            continue;
        }
        headrooms.push_back(sample.headroom_pa);
        out.works += sample.head && sample.heat && sample.cool_enough;
        out.short_of_head += !sample.head;
        out.short_of_heat += !sample.heat;
        out.too_hot += !sample.cool_enough;
    }
    if (headrooms.empty())
        return;
    std::sort(headrooms.begin(), headrooms.end());
    const auto at = [&](double share) {
        return headrooms[static_cast<std::size_t>(
            std::lround(share * static_cast<double>(headrooms.size() - 1)))];
    };
    out.headroom_low_pa = at(0.05);
    out.headroom_middle_pa = at(0.5);
    out.headroom_high_pa = at(0.95);
}

} // namespace

HowSure how_sure(const House &given, int samples, unsigned threads,
                 const std::function<void(int)> &progress) {
    House base = given;
    with_responses(base);
    std::vector<Input> inputs;
    add_common_inputs(base.margin, inputs);
    add_heat_inputs(base, inputs);
    add_length_inputs(base, inputs);
    const Lattice lattice(static_cast<std::uint32_t>(std::max(samples, 2)), inputs.size());

    const Sizing middle = size(base);
    std::vector<Sample> drawn(lattice.points());
    std::atomic<std::uint32_t> next{0};
    std::mutex reporting;
    std::exception_ptr fault; // the first of any thread
    const auto draw = [&] {
        std::vector<double> x;
        for (std::uint32_t i = next++; i < lattice.points(); i = next++) {
            lattice.point(i, x);
            House house = base;
            for (std::size_t j = 0; j < inputs.size(); ++j)
                inputs[j].apply(house, x[j]);
            drawn[i] = try_sample(std::move(house), middle);
            if (progress && i % 64 == 0) {
                const std::lock_guard lock(reporting);
                progress(static_cast<int>(i));
            }
        }
    };
    const auto work = [&] {
        try {
            draw();
        } catch (...) {
            const std::lock_guard lock(reporting);
            next = lattice.points();
            if (!fault)
                fault = std::current_exception();
        }
    };
    std::vector<std::thread> others;
    for (unsigned t = 1; t < threads; ++t)
        others.emplace_back(work);
    work();
    for (std::thread &thread : others)
        thread.join();
    if (fault)
        std::rethrow_exception(fault);

    HowSure out;
    out.tolerances_stated = base.margin.stated;
    count(drawn, out);
    weigh(lattice, inputs, drawn, out);
    return out;
}

} // namespace headroom::solver
