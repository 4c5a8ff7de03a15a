#pragma once

namespace headroom::solver {

enum ExitCode : int {
    answered = 0,   ///< and, where there is a verdict, yes
    verdict_no = 1, ///< no, marginal, thermally no, or protection missing
    bad_input = 2,  ///< of a file or of the arguments
    could_not_solve = 3,
    program_fault = 4,
    cannot_write = 5,
};

} // namespace headroom::solver
