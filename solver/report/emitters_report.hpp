// The parts of the report on floors and radiators, in two files. For those files alone.
#pragma once

#include "solver/questions/emitters.hpp"
#include "solver/report/json.hpp"

#include <string>

namespace headroom::solver {

Json emitters_json(const EmittersAnswer &answer);
std::string emitters_csv(const EmittersAnswer &answer);

/// A to Z, then A1.
std::string section_letter(std::size_t index);
std::string body_name(networks::Emitter::Body body);

} // namespace headroom::solver
