#include "solver/questions/least_changes.hpp"

#include "solver/heat/emission.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/source_heat.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <cmath>
#include <queue>

namespace headroom::solver {
namespace {

using networks::House;

constexpr std::size_t most_short_emitters = 6;
constexpr double rating_step_w = 50.0;  // radiators are chosen from lists
constexpr double rating_reserve = 1.05; // which also spares flow

// Emitters nearest to lacking head, the worst first.
std::vector<std::string> shortest_of_head(const DriveAnswer &answer) {
    std::vector<const EmitterRow *> rows;
    for (const EmitterRow &row : answer.emitters)
        if (!row.heat_leak)
            rows.push_back(&row);
    std::stable_sort(rows.begin(), rows.end(), [](const EmitterRow *a, const EmitterRow *b) {
        return a->surplus_pa < b->surplus_pa;
    });
    std::vector<std::string> names;
    for (const EmitterRow *row : rows)
        if (names.size() < most_short_emitters)
            names.push_back(row->name);
    return names;
}

bool on_design_day(const ThermalLimit &limit) {
    return limit.when == "on the design day";
}

// The water that all floors take, where the design day's is too warm for one; the emitters that it
// leaves cold join those that are so already.
void add_cooler(const DriveAnswer &refused, ChangeNeeds &needs) {
    for (const ThermalLimit &limit : refused.too_hot)
        if (on_design_day(limit))
            needs.cooler_c =
                needs.cooler_c == 0.0 ? limit.limit_c : std::min(needs.cooler_c, limit.limit_c);
    for (const HeatRow &row : refused.heat)
        if (row.reaches && needs.cooler_c > 0.0 && row.own_flow_c > needs.cooler_c)
            needs.cold_emitters.push_back(row.name);
}

ChangeNeeds needs_of(const House &sized, const DriveAnswer &refused) {
    ChangeNeeds needs;
    needs.set_pa = refused.set_pa;
    needs.short_emitters = shortest_of_head(refused);
    for (const HeatRow &row : refused.heat)
        if (!row.reaches) {
            needs.cold_emitters.push_back(row.name);
            if (row.rated_needed_w)
                needs.fitting.push_back(
                    {row.name, rating_step_w * std::ceil(rating_reserve * *row.rated_needed_w /
                                                         rating_step_w)});
        }
    add_cooler(refused, needs);
    if (refused.needed_temperature_c > refused.flow_temperature_c)
        needs.warmer_c = refused.needed_temperature_c;
    const auto least = least_flow_l_min(sized);
    needs.warmer_than_needed = sized.source->flow_temperature_given &&
                               refused.needed_temperature_c < refused.flow_temperature_c;
    for (const StateRow &row : refused.states) {
        if (row.judged_by == "head" && row.headroom_low_pa < 0.0)
            needs.head = true;
        if (!least || !row.decides() || row.source_l_min >= *least)
            continue;
        needs.missing_l_min = std::max(needs.missing_l_min, *least - row.source_l_min);
        if (row.all_emitters && row.source_l_min > 0.0)
            needs.more_flow = std::max(needs.more_flow, *least / row.source_l_min);
    }
    for (const EmitterRow &row : refused.emitters)
        if (!row.valve_in_range) {
            needs.coarse.push_back(row.name);
            needs.finest_kv_m3_h = std::min(needs.finest_kv_m3_h, row.valve_kv_m3_h);
        }
    return needs;
}

std::vector<Change> candidates_of(const House &house, const DriveAnswer &refused,
                                  const SearchLimits &limits) {
    const House sized = size(house).house;
    ChangeNeeds needs = needs_of(sized, refused);
    needs.loops_keep_pipe = limits.loops_keep_pipe;
    return candidate_changes(sized, needs);
}

// Whether a change can make an emitter give more heat at the most flow.
bool warms(const ChangeKind &kind, const std::string &emitter) {
    if (const auto *loop = std::get_if<OneLoopPipe>(&kind))
        return loop->loop == emitter;
    if (const auto *loop = std::get_if<LoopSpacing>(&kind))
        return loop->loop == emitter;
    if (const auto *radiator = std::get_if<LargerRadiator>(&kind))
        return radiator->radiator == emitter;
    if (const auto *radiators = std::get_if<FittingRadiators>(&kind))
        return std::any_of(
            radiators->radiators.begin(), radiators->radiators.end(),
            [&](const FittingRadiator &fitting) { return fitting.radiator == emitter; });
    return std::holds_alternative<FlowTemperature>(kind) ||
           std::holds_alternative<PlainWater>(kind) || std::holds_alternative<LoopPipe>(kind);
}

/// Indices of candidates in rising order, and what they cost together.
struct Trial {
    double cost = 0.0;
    std::vector<std::size_t> picks;

    // The queue gives the cheapest first; among equals the one made of earlier candidates.
    bool operator<(const Trial &other) const {
        return cost != other.cost ? cost > other.cost : picks > other.picks;
    }
};

class Search {
public:
    Search(const House &house, const DriveAnswer &refused, std::vector<Change> candidates,
           const SearchLimits &limits, const Progress &progress)
        : house_(house), candidates_(std::move(candidates)), limits_(limits), progress_(progress) {
        for (const HeatRow &row : refused.heat)
            if (!row.reaches)
                cold_.push_back(row.name);
        std::stable_sort(candidates_.begin(), candidates_.end(),
                         [](const Change &a, const Change &b) { return a.cost < b.cost; });
    }

    // Each set comes off the queue once: it grows by its last candidate's successor, or gives that
    // candidate up for it.
    LeastChanges run() {
        LeastChanges out = search();
        if (out.sets.empty() && limits_.most_judged > 0)
            with_fitting_radiators(out);
        return out;
    }

private:
    LeastChanges search() {
        LeastChanges out;
        out.candidates = static_cast<int>(candidates_.size());
        out.most_changes = limits_.most_changes;
        out.currency = house_.prices.currency;
        std::priority_queue<Trial> queue;
        if (!candidates_.empty())
            queue.push({candidates_[0].cost, {0}});
        while (!queue.empty() && out.judged < limits_.most_judged &&
               static_cast<int>(out.sets.size()) < limits_.most_sets) {
            const Trial trial = queue.top();
            queue.pop();
            const std::size_t next = trial.picks.back() + 1;
            if (next < candidates_.size()) {
                Trial other = trial;
                other.cost += candidates_[next].cost - candidates_[trial.picks.back()].cost;
                other.picks.back() = next;
                queue.push(std::move(other));
                if (static_cast<int>(trial.picks.size()) < limits_.most_changes) {
                    Trial longer = trial;
                    longer.cost += candidates_[next].cost;
                    longer.picks.push_back(next);
                    queue.push(std::move(longer));
                }
            }
            if (contradictory(trial) || leaves_one_cold(trial) || holds_a_working_set(trial))
                continue;
            ++out.judged;
            if (progress_)
                progress_(out.judged);
            if (auto set = judged(trial)) {
                out.sets.push_back(std::move(*set));
                working_.push_back(trial.picks);
            }
        }
        out.complete = queue.empty();
        out.proven = !out.sets.empty();
        return out;
    }

    // Larger radiators all over a house are dear, so that the search seldom comes to them: they are
    // tried by themselves, and then what the house with them lacks is sought.
    void with_fitting_radiators(LeastChanges &out) {
        const auto fitting =
            std::find_if(candidates_.begin(), candidates_.end(), [](const Change &change) {
                return std::holds_alternative<FittingRadiators>(change.kind);
            });
        if (fitting == candidates_.end())
            return;
        const Trial alone{fitting->cost, {static_cast<std::size_t>(fitting - candidates_.begin())}};
        if (leaves_one_cold(alone))
            return;
        ++out.judged;
        if (auto set = judged(alone)) {
            out.sets.push_back(std::move(*set));
            return;
        }
        House fitted = changed(house_, fitting->kind);
        with_responses(fitted, floors_);
        const DriveAnswer refused = drive_verdict(fitted);
        if (refused.verdict == Verdict::NotSolved)
            return;
        SearchLimits limits = limits_;
        limits.most_changes -= 1;
        const int before = out.judged;
        const Progress progress = [&](int judged) {
            if (progress_)
                progress_(before + judged);
        };
        LeastChanges more =
            Search(fitted, refused, candidates_of(fitted, refused, limits), limits, progress)
                .search();
        out.judged += more.judged;
        for (ChangeSet &set : more.sets) {
            set.cost += fitting->cost;
            set.changes.insert(set.changes.begin(), fitting->words);
            out.sets.push_back(std::move(set));
        }
    }

    bool contradictory(const Trial &trial) const {
        for (std::size_t i = 0; i < trial.picks.size(); ++i)
            for (std::size_t k = 0; k < i; ++k)
                if (candidates_[trial.picks[i]].target == candidates_[trial.picks[k]].target)
                    return true;
        return false;
    }

    // A room that no flow heats needs warmer water, thinner water or another emitter; no other
    // change can help it, so such a set need not be solved.
    bool leaves_one_cold(const Trial &trial) const {
        return std::any_of(cold_.begin(), cold_.end(), [&](const std::string &emitter) {
            return std::none_of(trial.picks.begin(), trial.picks.end(), [&](std::size_t pick) {
                return warms(candidates_[pick].kind, emitter);
            });
        });
    }

    // More of a change that works, such as a still larger radiator, is no other way out.
    bool alike(std::size_t a, std::size_t b) const {
        return candidates_[a].target == candidates_[b].target &&
               candidates_[a].kind.index() == candidates_[b].kind.index();
    }

    bool holds_a_working_set(const Trial &trial) const {
        return std::any_of(
            working_.begin(), working_.end(), [&](const std::vector<std::size_t> &set) {
                return std::all_of(set.begin(), set.end(), [&](std::size_t needed) {
                    return std::any_of(trial.picks.begin(), trial.picks.end(),
                                       [&](std::size_t pick) { return alike(pick, needed); });
                });
            });
    }

    // The bad end of the band is part of every verdict: what fails there fails.
    static bool hopeless(const House &house) {
        const Sizing sizing = size(house);
        for (const SizedEmitter &emitter : sizing.emitters)
            if (!emitter.reaches)
                return true;
        const Headroom end =
            headroom_of(at_band_end(with_ideal_balancing(single_circulator(sizing.house)), true));
        return !end.outcome.converged() || end.pa < 0.0;
    }

    std::optional<ChangeSet> judged(const Trial &trial) {
        House house = house_;
        ChangeSet set;
        set.cost = trial.cost;
        for (const std::size_t pick : trial.picks) {
            house = changed(std::move(house), candidates_[pick].kind);
            set.changes.push_back(candidates_[pick].words);
        }
        with_responses(house, floors_);
        if (hopeless(house))
            return std::nullopt;
        const DriveAnswer answer = drive_verdict(house);
        if (answer.verdict != Verdict::Yes)
            return std::nullopt;
        set.headroom_pa = answer.headroom_pa;
        set.headroom_low_pa = answer.headroom_low_pa;
        set.flow_temperature_c = answer.flow_temperature_c;
        return set;
    }

    const House &house_;
    std::vector<std::string> cold_; // emitters whose rooms no flow heats
    std::vector<Change> candidates_;
    SearchLimits limits_;
    const Progress &progress_;
    std::vector<std::vector<std::size_t>> working_;
    models::FloorResponseCache floors_;
};

} // namespace

LeastChanges least_changes(const House &house, const DriveAnswer &refused,
                           const SearchLimits &limits, const Progress &progress) {
    if (std::any_of(refused.too_hot.begin(), refused.too_hot.end(),
                    [](const ThermalLimit &limit) { return !on_design_day(limit); }))
        return Search(house, refused, {}, limits, progress)
            .run(); // no change keeps hot water from a floor
    return Search(house, refused, candidates_of(house, refused, limits), limits, progress).run();
}

DriveAnswer drive_with_changes(const House &house, const SearchLimits &limits,
                               const Progress &progress) {
    DriveAnswer answer = drive(house);
    if (limits.most_judged > 0 &&
        (answer.verdict == Verdict::No || answer.verdict == Verdict::Marginal ||
         answer.verdict == Verdict::ThermalNo))
        answer.changes = least_changes(house, answer, limits, progress);
    return answer;
}

} // namespace headroom::solver
