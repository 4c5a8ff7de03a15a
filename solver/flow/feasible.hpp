#pragma once

#include "networks/network.hpp"

#include <optional>
#include <string>

namespace headroom::solver {

struct Contradiction {
    std::string equation;
    std::string explanation;
};

/// Whether any flows at all meet the fixed flows within every part's bounds (shut valves, check
/// valves, limiters): a maximum flow from fixed inflows to fixed outflows. If not, names the parts
/// that cut the way. Networks without fixed flows always can: nothing may flow.
std::optional<Contradiction> find_contradiction(const networks::Network &network,
                                                const networks::House *house);

} // namespace headroom::solver
