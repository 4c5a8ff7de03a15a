// The questions `headroom new` needs answered, and what their answers make of the house.
#pragma once

#include "solver/program/starter.hpp"

#include <optional>
#include <span>
#include <string>

namespace headroom::solver {

struct AnswerFault {
    std::string message;
    std::string help;
};

struct StarterQuestion {
    const char *option;    ///< without its dashes
    const char *type;      ///< of its value, as command_line.hpp has it
    const char *what;      ///< for help, and asked on a terminal
    const char *example;   ///< an answer
    const char *otherwise; ///< taken where nobody answers; null: it decides, and must be answered
    /// Puts the answer into the house, or says why it cannot.
    std::optional<AnswerFault> (*take)(const std::string &answer, Starter &house);
    bool of_floors = false; ///< not asked of a house without floor heating
};

std::span<const StarterQuestion> starter_questions();

} // namespace headroom::solver
