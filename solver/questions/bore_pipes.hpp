// Which pipes the floor loops of a house can be compared in.
#pragma once

#include "networks/house.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// A usual pipe that is not compared.
struct LeftOutPipe {
    std::string pipe;
    std::string reason;
};

/// Pipes to compare: the named ones, or the usual bores of the family that the house's loops are
/// of.
struct BorePipes {
    std::vector<networks::PipeChoice> pipes;
    std::vector<LeftOutPipe> left_out; ///< usual bores that are not made, or that no floor takes
    std::string fault;                 ///< a name that is no pipe, or none for this floor
    std::string help;
};
BorePipes bore_pipes(const networks::House &house, const std::vector<std::string> &names);

/// The house with every floor loop in one pipe, at its lengths.
networks::House in_pipe(networks::House house, const networks::PipeChoice &pipe);

} // namespace headroom::solver
