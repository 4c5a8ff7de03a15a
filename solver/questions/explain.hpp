// What a word means: a term of the trade, a key of the house file, the code of a fault.
#pragma once

#include "solver/terms/terms.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace headroom::solver {

struct Explained {
    const TermGroup *group;
    const Term *term;
};

struct ExplainAnswer {
    std::string asked;               ///< empty: everything there is
    std::vector<Explained> found;    ///< in the order of the groups
    std::vector<Explained> see_also; ///< that know the word under another name
    std::vector<std::string> near;   ///< known words like it, where nothing is found
};

/// The entries of that name, or without one those that know it under another. An empty word is
/// answered with all of them.
ExplainAnswer explain(std::string_view word);

} // namespace headroom::solver
