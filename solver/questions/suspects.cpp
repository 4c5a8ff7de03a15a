#include "solver/questions/suspects.hpp"

#include "models/chi_squared.hpp"
#include "solver/questions/faults.hpp"
#include "solver/questions/site_readings.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <utility>

namespace headroom::solver {
namespace {

using networks::House;

constexpr int most_steps = 25;
constexpr double longest_step = 1.5;
constexpr double derivative_step = 1e-4;
constexpr double step_tolerance = 1e-4;
constexpr double nothing = 1e-3; // |u| below which a fault is none

// (shown - measured)/accuracy of each reading of a variant; empty where it does not solve.
std::vector<double> misses(const House &house) {
    const SolvedHouse variant = solved(house);
    if (!variant.solution.outcome.converged())
        return {};
    std::vector<double> out = read_off(house, variant);
    for (std::size_t i = 0; i < out.size(); ++i)
        out[i] = (out[i] - house.readings[i].value) / house.readings[i].accuracy;
    return out;
}

double squares(const std::vector<double> &misses) {
    if (misses.empty())
        return models::no_limit;
    double sum = 0.0;
    for (double miss : misses)
        sum += miss * miss;
    return sum;
}

struct Fit {
    Fault fault;
    double u = 0.0;
    double chi_squared = 0.0;
    double error = 0.0; // of u
};

// Gauss-Newton in one unknown, halving a step until it helps, within the fault's range.
Fit fitted(const House &house, const Fault &fault, const std::vector<double> &drawn) {
    Fit fit{fault, 0.0, squares(drawn)};
    std::vector<double> at = drawn;
    for (int step = 0; step < most_steps; ++step) {
        const double nudge =
            fit.u + derivative_step > fault.most ? -derivative_step : derivative_step;
        const std::vector<double> beside = misses(with_fault(house, fault, fit.u + nudge));
        if (beside.empty())
            break;
        double slope_miss = 0.0;
        double slope_slope = 0.0;
        for (std::size_t i = 0; i < at.size(); ++i) {
            const double slope = (beside[i] - at[i]) / nudge;
            slope_miss += slope * at[i];
            slope_slope += slope * slope;
        }
        if (slope_slope <= 0.0)
            break; // the readings do not see it
        fit.error = 1.0 / std::sqrt(slope_slope);
        double move = std::clamp(-slope_miss / slope_slope, -longest_step, longest_step);
        move = std::clamp(fit.u + move, fault.least, fault.most) - fit.u;
        bool helped = false;
        for (int halving = 0; halving < 8 && std::abs(move) > step_tolerance; ++halving) {
            const std::vector<double> there = misses(with_fault(house, fault, fit.u + move));
            if (const double sum = squares(there); sum < fit.chi_squared) {
                fit.u += move;
                fit.chi_squared = sum;
                at = there;
                helped = true;
                break;
            }
            move *= 0.5;
        }
        if (!helped || std::abs(move) <= step_tolerance)
            break;
    }
    return fit;
}

// Ways of one part in one direction stand together: the readings see only that it loses more or
// less.
std::vector<Suspect> gathered(const House &house, std::vector<Fit> fits) {
    std::stable_sort(fits.begin(), fits.end(),
                     [](const Fit &a, const Fit &b) { return a.chi_squared < b.chi_squared; });
    std::vector<Suspect> out;
    std::map<std::pair<FaultyPart, bool>, std::size_t> known;
    for (const Fit &fit : fits) {
        const bool more = (fit.u > 0.0) != (fit.fault.way == Fault::Way::ValveOpened);
        const auto [at, fresh] = known.try_emplace({fit.fault.part, more}, out.size());
        if (fresh)
            out.push_back({part_name(house, fit.fault.part), part_title(house, fit.fault.part),
                           complaint_of(house, fit.fault.part, more), fit.chi_squared});
        const double factor = std::exp(fit.u);
        out[at->second].ways.push_back(
            {fault_words(house, fit.fault, fit.u), fit.chi_squared, factor, factor * fit.error});
    }
    double sum = 0.0;
    for (const Suspect &suspect : out)
        sum += std::exp(0.5 * (out.front().chi_squared - suspect.chi_squared));
    for (Suspect &suspect : out) {
        const double worse = suspect.chi_squared - out.front().chi_squared;
        suspect.probability_share = std::exp(-0.5 * worse) / sum;
        suspect.alike = worse <= alike_chi_squared;
    }
    return out;
}

std::string words_for(const Diagnosis &diagnosis) {
    if (diagnosis.as_drawn)
        return diagnosis.explained
                   ? "the readings agree with the house as drawn, within their accuracy"
                   : "the readings do not agree with the house as drawn, and no single part "
                     "explains why: more than one differs, or a reading is wrong";
    const Suspect &first = diagnosis.suspects.front();
    const auto alike = std::count_if(diagnosis.suspects.begin(), diagnosis.suspects.end(),
                                     [](const Suspect &suspect) { return suspect.alike; });
    std::string out = fmt::format("not as drawn: {}: {}", first.title, first.complaint);
    if (alike > 1) {
        out = "the readings cannot tell apart which part is not as drawn:";
        long count = 0;
        for (const Suspect &suspect : diagnosis.suspects)
            if (suspect.alike)
                out += fmt::format("{} {}: {}", count++ > 0 ? "; or" : "", suspect.title,
                                   suspect.complaint);
    } else {
        out += fmt::format(", {:.0f} % sure among single faults",
                           100.0 * std::min(first.probability_share, 0.99));
    }
    if (!diagnosis.explained)
        out += "; it leaves more unexplained than chance would: something else differs too";
    return out;
}

} // namespace

Diagnosis diagnose(const House &house) {
    Diagnosis out;
    const House as_stands = as_read(house);
    const SolvedHouse drawn = solved(as_stands);
    out.outcome = drawn.solution.outcome;
    out.fitted = house;
    if (!out.outcome.converged())
        return out;
    const std::vector<double> shown = read_off(as_stands, drawn);
    const std::vector<double> drawn_misses = misses(as_stands);
    out.drawn_chi_squared = squares(drawn_misses);
    const int count = static_cast<int>(shown.size());
    out.chance_chi_squared = models::chi_squared_once_in_twenty(std::max(1, count - 1));
    std::vector<Fit> fits;
    for (const Fault &fault : possible_faults(as_stands, drawn)) {
        const Fit fit = fitted(as_stands, fault, drawn_misses);
        if (std::abs(fit.u) > nothing)
            fits.push_back(fit);
    }
    out.suspects = gathered(as_stands, fits);
    const auto best = std::min_element(fits.begin(), fits.end(), [](const Fit &a, const Fit &b) {
        return a.chi_squared < b.chi_squared;
    });
    out.as_drawn =
        best == fits.end() || out.drawn_chi_squared - best->chi_squared < found_chi_squared;
    out.explained =
        (out.as_drawn ? out.drawn_chi_squared : best->chi_squared) <=
        (out.as_drawn ? models::chi_squared_once_in_twenty(count) : out.chance_chi_squared);
    std::vector<double> with_best = shown;
    if (!out.as_drawn) {
        out.fitted = with_fault(house, best->fault, best->u);
        const House stands = as_read(out.fitted);
        with_best = read_off(stands, solved(stands));
    }
    for (std::size_t i = 0; i < shown.size(); ++i) {
        const networks::SiteReading &reading = house.readings[i];
        out.readings.push_back({reading.kind, reading_name(reading), reading.value,
                                reading.accuracy, shown[i], with_best[i]});
    }
    out.sentence = words_for(out);
    return out;
}

} // namespace headroom::solver
