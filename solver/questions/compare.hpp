// A house and its proposals, and another file's, side by side.
#pragma once

#include "solver/questions/drive.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// One house of the comparison.
struct ComparedHouse {
    std::string name;
    Verdict verdict = Verdict::NotSolved;
    std::string sentence;  ///< the verdict's, or why there is none
    std::string year_note; ///< season.hpp; empty for none
};

/// One quantity of every house, in SI.
struct ComparedRow {
    std::string key;                           ///< with its unit: "headroom_pa"
    std::vector<std::optional<double>> values; ///< as CompareAnswer::houses
    std::vector<std::string> words;            ///< in place of values
    /// Change from the first house; nothing where either has no value.
    std::vector<std::optional<double>> changes;
    bool differs = false;
};

struct CompareAnswer {
    std::string house;
    networks::TextForm form;
    std::string currency;              ///< of the year's energy
    std::string price_currency;        ///< of the parts; empty: relative
    std::vector<ComparedHouse> houses; ///< the base first
    std::vector<ComparedRow> rows;     ///< those that differ first, else in their order
};

/// Base, its proposals, and the other house with its proposals. Needs at least one to compare with.
CompareAnswer compare(const networks::House &house, const networks::House *other);

} // namespace headroom::solver
