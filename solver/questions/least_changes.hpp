// The cheapest changes that turn a refused house into one that its circulator drives.
#pragma once

#include "solver/questions/changes.hpp"
#include "solver/questions/drive.hpp"

#include <functional>

namespace headroom::solver {

struct SearchLimits {
    int most_judged = 400; ///< houses solved; a count, so that the answer is the same everywhere
    int most_changes = 4;  ///< in one set
    int most_sets = 3;     ///< that work, to be shown
    bool loops_keep_pipe = false; ///< ChangeNeeds::loops_keep_pipe
};

/// Called now and then with the houses judged so far.
using Progress = std::function<void(int judged)>;

/// Tries sets of candidate changes in the order of their cost, each on the changed house, until
/// enough work or the limit is reached. The first found is proven the cheapest of all sets of the
/// candidates: whatever costs less was judged and failed. Sets that hold a working set, or more of
/// the same changes, are skipped.
/// Where several radiators are too small and nothing works so far, they are at last enlarged
/// together, alone and with each other change: a set found so is not proven the cheapest.
/// A set is first judged at the bad end of the band alone, and in full if it passes.
LeastChanges least_changes(const networks::House &house, const DriveAnswer &refused,
                           const SearchLimits &limits, const Progress &progress = {});

/// drive(), and where it says no or marginal the least changes.
DriveAnswer drive_with_changes(const networks::House &house, const SearchLimits &limits,
                               const Progress &progress = {});

} // namespace headroom::solver
