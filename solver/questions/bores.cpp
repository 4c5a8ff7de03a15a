#include "solver/questions/bores.hpp"
#include "solver/questions/figure_words.hpp"

#include "models/units.hpp"
#include "solver/heat/emission.hpp"
#include "solver/questions/cautions.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/lay.hpp"
#include "solver/questions/season.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"
#include "solver/root.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::House;
using networks::Priced;

constexpr double longest_tried_m = 400.0;

bool is_loop(const Emitter &emitter) {
    return emitter.kind == Emitter::Kind::FloorLoop;
}

// One loop longer or shorter, its floor and heat with it.
House with_loop_length(House house, const std::string &name, double length_m) {
    for (Emitter &loop : house.emitters) {
        if (loop.name != name)
            continue;
        const double factor = (length_m - loop.tails_m) / (loop.length_m - loop.tails_m);
        loop.length_m = length_m;
        loop.heat_w *= factor;
        loop.room_heat_w *= factor;
        if (auto *part = std::get_if<networks::FloorPart>(&loop.emission))
            part->area_m2 *= factor;
    }
    return house;
}

// The length at which the index loop alone would use up the head.
std::optional<double> longest_driven(const House &house, const std::string &index) {
    const auto loop = std::find_if(house.emitters.begin(), house.emitters.end(),
                                   [&](const Emitter &emitter) { return emitter.name == index; });
    if (loop == house.emitters.end() || !is_loop(*loop))
        return std::nullopt;
    const auto headroom_pa = [&](double length_m) {
        const House longer = size(with_loop_length(house, index, length_m)).house;
        const Headroom here = headroom_of(with_ideal_balancing(single_circulator(longer)));
        return here.outcome.converged() && std::isfinite(here.pa) ? here.pa : -1e6;
    };
    const double shortest = loop->tails_m + 1.0;
    if (headroom_pa(longest_tried_m) > 0.0 || headroom_pa(shortest) < 0.0)
        return std::nullopt;
    return bracketed_root(headroom_pa, shortest, longest_tried_m, 10.0);
}

void add_lengths(const House &house, BoreRow &row) {
    const networks::Prices &prices = house.prices;
    for (const Emitter &loop : house.emitters) {
        if (!is_loop(loop))
            continue;
        ++row.loops;
        row.pipe_m += loop.length_m;
        row.longest_loop_m = std::max(row.longest_loop_m, loop.length_m);
        row.volume_m3 += 0.25 * models::pi * loop.pipe.bore_m * loop.pipe.bore_m * loop.length_m;
    }
    row.material_cost =
        row.loops * prices[Priced::LoopPort] +
        row.pipe_m * (prices[Priced::LayingPerMetre] + prices.pipe_per_metre(row.pipe, row.bore_m));
}

void add_output(const House &house, double common_c, BoreRow &row) {
    double output_w = 0.0;
    double needs_c = 0.0;
    for (const Emitter &loop : house.emitters) {
        if (!is_loop(loop))
            continue;
        if (!std::holds_alternative<networks::FloorPart>(loop.emission))
            return;
        if (common_c - loop.drop_k > loop.indoor_c)
            output_w += heat_at_drop(loop.emission, house.fluid, common_c, loop.indoor_c,
                                     loop.room_heat_w, loop.drop_k)
                            .to_room_w;
        needs_c = std::max(needs_c, inlet_for_heat(loop.emission, house.fluid, loop.indoor_c,
                                                   loop.room_heat_w, loop.drop_k));
    }
    row.output_w = output_w;
    row.needs_c = needs_c;
}

void add_verdict(const DriveAnswer &answer, double efficiency, BoreRow &row) {
    row.verdict = answer.verdict;
    row.sentence = answer.sentence;
    row.source_l_min = answer.source_l_min;
    row.index = answer.index;
    row.needed_pa = answer.needed_pa;
    row.available_pa = answer.available_pa;
    row.headroom_pa = answer.headroom_pa;
    row.headroom_low_pa = answer.headroom_low_pa;
    row.headroom_high_pa = answer.headroom_high_pa;
    row.enough = answer.headroom_low_pa >= 0.0 && !answer.index.empty();
    row.circulator_w = answer.needed_pa * answer.source_l_min / 6.0e4 / efficiency;
    for (const EmitterRow &emitter : answer.emitters)
        if (emitter.name == answer.index) {
            row.index_l_min = emitter.design_l_min;
            row.index_velocity_m_s = emitter.velocity_m_s;
            row.index_reynolds = emitter.reynolds;
            row.index_regime = emitter.regime;
            row.index_loss_pa = emitter.own_loss_pa;
        }
}

// The year along the weather curve, with the circulator at the head needed in all heating hours.
void add_year(const House &house, BoreRow &row) {
    const std::optional<SeasonTotals> year = year_on_curve(house);
    if (!year)
        return;
    const double pump_kwh = row.circulator_w * 1e-3 * year->hours;
    const double taken_kwh = year->source_electricity_kwh + year->gas_kwh + pump_kwh;
    row.electricity_kwh = year->source_electricity_kwh + pump_kwh;
    if (!year->fuel_known)
        return;
    if (taken_kwh > 0.0)
        row.seasonal_performance = year->heat_kwh / taken_kwh;
    const networks::Tariff &tariff = house.tariff;
    if (tariff.electricity_per_kwh && (year->gas_kwh == 0.0 || tariff.gas_per_kwh))
        row.yearly_cost = *row.electricity_kwh * *tariff.electricity_per_kwh +
                          year->gas_kwh * tariff.gas_per_kwh.value_or(0.0);
}

/// Fills rows and keeps the first failure.
class Comparison {
public:
    Comparison(const House &house, BoresAnswer &out, const SearchLimits &limits,
               const Progress &progress)
        : house_(house), out_(out), limits_(limits), progress_(progress) {
        limits_.most_sets = 1;
        limits_.loops_keep_pipe = true;
    }

    void add(House house, const networks::PipeChoice &pipe, std::vector<BoreRow> &rows) {
        with_responses(house, floors_);
        const DriveAnswer answer = drive_verdict(house);
        if (answer.verdict == Verdict::NotSolved) {
            if (out_.outcome.converged())
                out_.outcome = answer.outcome;
            return;
        }
        BoreRow row{};
        row.pipe = pipe.name;
        row.bore_m = pipe.bore_m;
        add_lengths(house, row);
        add_output(house, out_.common_c, row);
        add_verdict(answer, out_.pump_efficiency, row);
        add_year(house, row);
        row.longest_driven_m = longest_driven(house, row.index);
        if (answer.verdict != Verdict::Yes && limits_.most_judged > 0)
            row.changes = least_changes(house, answer, limits_);
        rows.push_back(std::move(row));
        if (progress_)
            progress_(++done_);
    }

    House relaid(const networks::PipeChoice &pipe) {
        House house = house_.layings.empty() ? as_layings(house_) : house_;
        return lay(in_pipe(std::move(house), pipe), floors_);
    }

private:
    const House &house_;
    BoresAnswer &out_;
    SearchLimits limits_;
    const Progress &progress_;
    models::FloorResponseCache floors_;
    int done_ = 0;
};

// The smallest bore whose verdict is yes; where there is none, the smallest with the head.
const BoreRow *smallest_enough(const std::vector<BoreRow> &rows) {
    const BoreRow *best = nullptr;
    const auto worse = [&](const BoreRow &row) {
        const bool yes = row.verdict == Verdict::Yes;
        const bool best_yes = best->verdict == Verdict::Yes;
        return yes == best_yes ? row.bore_m > best->bore_m : best_yes;
    };
    for (const BoreRow &row : rows)
        if (row.enough && (best == nullptr || !worse(row)))
            best = &row;
    return best;
}

// What a smaller bore would cost: its changes, or that it lacks head.
std::string smaller_in_words(TextForm form, const BoreRow &row, const std::string &currency) {
    if (row.changes && !row.changes->sets.empty())
        return fmt::format("{} with changes at {:.0f}{}", row.pipe, row.changes->sets[0].cost,
                           currency.empty() ? " (relative)" : " " + currency);
    if (!row.enough)
        return fmt::format("{} lacks {}{}", row.pipe, pressure_words(form, -row.headroom_low_pa),
                           row.changes ? ", no changes found" : "");
    return fmt::format("{} has the head, but is refused{}", row.pipe,
                       row.changes ? ", no changes found" : "");
}

std::string conclusion(const BoresAnswer &a, const std::vector<BoreRow> &rows,
                       const std::string &how) {
    const BoreRow *best = smallest_enough(rows);
    std::string out =
        best == nullptr
            ? fmt::format("{}, none of these bores is driven by the one circulator", how)
            : fmt::format("{}, {} is the smallest that needs no second pump ({} {} at the "
                          "bad end{})",
                          how, best->pipe, signed_pressure(a.form, best->headroom_low_pa),
                          pressure_unit(a.form),
                          best->verdict == Verdict::Yes
                              ? ""
                              : "; by head alone, refused for another reason");
    std::string smaller;
    for (auto row = rows.rbegin(); row != rows.rend(); ++row)
        if (row->verdict != Verdict::Yes && (best == nullptr || row->bore_m < best->bore_m))
            smaller += (smaller.empty() ? "" : ", ") + smaller_in_words(a.form, *row, a.currency);
    if (smaller.empty())
        return out;
    return out + (best == nullptr ? "; " : "; smaller: ") + smaller;
}

std::string habit_text(const BoresAnswer &a) {
    bool small_driven = false;
    for (const auto *rows : {&a.relaid, &a.same})
        for (const BoreRow &row : *rows)
            small_driven = small_driven || (row.enough && row.bore_m < 0.0105);
    return std::string("the trade's habit (common practice, no source) is that pipe under some 10 "
                       "mm bore needs a pump at the manifold, except in a very well insulated "
                       "house; ") +
           (small_driven ? "here the one circulator drives such pipe at the lengths shown"
                         : "this house bears that out for the lengths shown");
}

} // namespace

std::string why_no_bores(const House &house) {
    if (const std::string why = why_not_driven(house); !why.empty())
        return why;
    if (std::none_of(house.emitters.begin(), house.emitters.end(), is_loop))
        return "the house has no floor loops to lay in other pipe";
    return {};
}

BoresAnswer bores(const House &house, const BorePipes &pipes, const SearchLimits &limits,
                  const Progress &progress) {
    BoresAnswer out;
    out.outcome.reason = StopReason::Converged;
    out.house = house.name;
    out.left_out = pipes.left_out;
    out.form = house.text_form;
    out.loop_head_pa = house.habits[networks::Habit::LoopHead];
    out.pump_efficiency = house.habits[networks::Habit::PumpEfficiency];
    out.currency = house.prices.currency;
    out.yearly_currency = house.tariff.currency;
    out.common_c = size(house).house.source->flow_temperature_c;
    Comparison comparison(house, out, limits, progress);
    for (const networks::PipeChoice &pipe : pipes.pipes) {
        comparison.add(comparison.relaid(pipe), pipe, out.relaid);
        comparison.add(in_pipe(house, pipe), pipe, out.same);
    }
    out.conclusions = {conclusion(out, out.relaid, "laid anew"),
                       conclusion(out, out.same, "at the lengths of the file")};
    out.habit = habit_text(out);
    out.cautions = cautions(house);
    return out;
}

} // namespace headroom::solver
