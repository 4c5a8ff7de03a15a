// The answer of drill in two files. For those files alone.
#pragma once

#include "solver/questions/drill.hpp"
#include "solver/report/json.hpp"

#include <string>

namespace headroom::solver {

Json drill_json(const DrillAnswer &answer);
/// A record a fault and floor; a house without floors has a record a fault.
std::string drill_csv(const DrillAnswer &answer);

/// "yes: ...", "no: ..." or "not known: ...".
std::string drill_sentence(const DrillAnswer &answer);
/// What a fault comes to, in a word or two.
std::string fault_result(const FaultRow &row);
std::string listed(const std::vector<std::string> &words);

} // namespace headroom::solver
