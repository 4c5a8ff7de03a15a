#pragma once

#include <array>

namespace headroom::solver {

enum ExitCode : int {
    answered = 0,   ///< and, where there is a verdict, yes
    verdict_no = 1, ///< no, marginal, thermally no, or protection missing
    bad_input = 2,  ///< of a file or of the arguments
    could_not_solve = 3,
    program_fault = 4,
    cannot_write = 5,
};

struct ExitMeaning {
    ExitCode code;
    const char *meaning;
};

/// In a user's words, for help and manual.
inline constexpr std::array exit_meanings{
    ExitMeaning{answered, "answered (verdict yes)"},
    ExitMeaning{verdict_no, "verdict no or marginal, or protection missing"},
    ExitMeaning{bad_input, "bad input"},
    ExitMeaning{could_not_solve, "could not solve"},
    ExitMeaning{program_fault, "fault of the program"},
    ExitMeaning{cannot_write, "cannot write"},
};

} // namespace headroom::solver
