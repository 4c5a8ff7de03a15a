// What the program says when it cannot answer.
#include "solver/terms/groups.hpp"

#include <array>

namespace headroom::solver {
namespace {

constexpr std::array terms{
    Term{"arguments", "",
         "The command line cannot be read: an unknown command or option, a missing file, an option "
         "that does not fit. Exit code 2.",
         "`headroom COMMAND --help`"},
    Term{"no-file", "", "The house file is missing, is a folder, or may not be read. Exit code 2.",
         "check the name and the permissions"},
    Term{"file-exists", "",
         "`new` would write over a file that is there, and somebody's survey may be in it. Exit "
         "code 2.",
         "choose another name, or `--overwrite`"},
    Term{"missing-answers", "",
         "`new` does not know what decides and does not guess it; in a pipe it cannot ask. All "
         "that is missing is listed at once. Exit code 2.",
         "give the options listed"},
    Term{"unknown-term", "", "`explain` does not know the word. Exit code 2.",
         "try one of the nearest, or `headroom explain` for all"},
    Term{"nothing-to-judge", "",
         "The file is a good network, but not one that this command can ask: no source, no "
         "emitters, no cylinder, nothing to compare. Exit code 2.",
         "use the command named in the help line"},
    Term{"not-solved", "",
         "The equations could not be solved to the tolerances, or contradict each other. The worst "
         "one is named with how far it is off. No answer is printed. Exit code 3.",
         "check what is named; fixed flows may contradict"},
    Term{"program-fault", "",
         "Something happened that never should: a fault of the program, not of your file. Exit "
         "code 4.",
         "report it with the house file"},
    Term{"no-folder", "", "`batch` wants a folder of house files and cannot list the one named.",
         "check the name and the permissions"},
    Term{"other-rows", "",
         "Beside the output of `batch` stands a `.part` file of rows that do not belong to these "
         "houses in this form, so there is nothing to go on from.",
         "remove it, or name another output"},
    Term{"cannot-write", "",
         "The answer could not be written: no room, no such folder, no permission, or the reader "
         "of a pipe has gone. What was there before is left as it was. Exit code 5.",
         "check the place named"},
};

} // namespace

std::span<const Term> program_faults() {
    return terms;
}

} // namespace headroom::solver
