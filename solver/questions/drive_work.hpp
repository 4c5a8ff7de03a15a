// The steps of drive(), one file each, and what they share. For those files alone.
#pragma once

#include "solver/heat/emission.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/figure_words.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/settings.hpp"
#include "solver/questions/size.hpp"

#include <bitset>
#include <optional>
#include <string>

namespace headroom::solver {

struct DriveWork {
    const networks::House *file = nullptr; ///< as read
    Sizing sizing;
    networks::House given; ///< the file's house with heats, drops and flow temperature filled in
    networks::House ideal; ///< its single-circulator house with ideal balancing valves
    Judgement design;
    /// The ideal house with computed valve settings and the circulator turned down to set_pa.
    std::optional<networks::House> as_set;
    std::bitset<networks::habit_table.size()> used_habits;
    DriveAnswer out;

    void used(networks::Habit habit) { used_habits.set(static_cast<std::size_t>(habit)); }
    /// A state that could not be solved: nothing is answered. Names the state.
    void not_solved(const Outcome &outcome, const std::string &state);
    bool failed() const { return !out.outcome.converged(); }
};

/// That a source gets less than it needs, to as many digits as tell the two flows apart.
inline std::string below_least_flow(TextForm form, double l_min, double least_l_min) {
    constexpr int most_digits = 6;
    int digits = 1;
    while (digits < most_digits &&
           flow_of_l_min(form, l_min, digits) == flow_of_l_min(form, least_l_min, digits))
        ++digits;
    return fmt::format("{0} {2} are below the source's least flow of {1} {2}",
                       flow_of_l_min(form, l_min, digits), flow_of_l_min(form, least_l_min, digits),
                       flow_unit(form));
}

/// A temperature that rooms ask for, as far as one is sought.
inline std::string sought_words(double flow_c) {
    return flow_c > warmest_sought_c ? fmt::format("more than {:g} degC", warmest_sought_c)
                                     : fmt::format("{:.1f} degC", flow_c);
}

/// What keeps headroom from being the difference of the heads: a bypass that opens, a ring.
std::string headroom_note(const DriveWork &work, const StateRow &design);

void add_design(DriveWork &work);
void add_settings(DriveWork &work);
void add_band(DriveWork &work, StateRow &row, bool hot_water);
void add_hot_water(DriveWork &work);
void add_zones(DriveWork &work);
void add_cold_start(DriveWork &work);
void add_cold_head(DriveWork &work); // to be taken right after it
void add_beside(DriveWork &work);
void add_assumed(DriveWork &work);
void decide(DriveWork &work);

} // namespace headroom::solver
