#pragma once

#include <functional>
#include <string>
#include <vector>

namespace headroom::solver {

/// Runs `answer` now and whenever one of the files has been saved, in place or by a file renamed
/// over it, until an interrupt or a request to end comes; a second one ends at once. Returns what
/// `answer` returned last.
int watch(const std::vector<std::string> &files, const std::function<int()> &answer);

} // namespace headroom::solver
