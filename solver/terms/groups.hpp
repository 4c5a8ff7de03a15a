// The groups of terms, one file each.
#pragma once

#include "solver/terms/terms.hpp"

namespace headroom::solver {

std::span<const Term> verdict_terms();
std::span<const Term> circuit_terms();
std::span<const Term> heat_terms();
std::span<const Term> site_terms();
std::span<const Term> house_keys();
std::span<const Term> part_keys();
std::span<const Term> file_faults();
std::span<const Term> house_faults();
std::span<const Term> program_faults();

} // namespace headroom::solver
