// What words, keys and faults mean: the only place that holds these texts.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace headroom::solver {

struct Term {
    std::string_view name;
    std::string_view also;    ///< other names and keys that it answers for, separated by `, `
    std::string_view meaning; ///< plain words: what it is, then how the program treats it
    std::string_view seen;    ///< commands and places, or the fix of a fault
};

struct TermGroup {
    std::string_view title;
    std::string_view seen; ///< what `Term::seen` is called: "seen in" or "to do"
    std::span<const Term> terms;
};

/// All that can be explained, in the order it is listed.
std::span<const TermGroup> term_groups();

std::vector<std::string> other_names(const Term &term);

/// A word as it is looked up: lower case, `-` and `_` as spaces, without quotes and without the
/// `error[...]` round a code.
std::string lookup_form(std::string_view word);

} // namespace headroom::solver
