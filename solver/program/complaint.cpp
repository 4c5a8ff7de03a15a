#include "solver/program/complaint.hpp"

#include "solver/report/dress.hpp"

#include <cstdio>
#include <fmt/format.h>
#include <unistd.h>

namespace headroom::solver {

void complain(const std::string &text, Colour asked) {
    fmt::print(stderr, "{}", colour_on(asked, STDERR_FILENO) ? complaint_in_colour(text) : text);
}

void complain(const std::string &code, const std::string &message, const std::string &help,
              Colour asked) {
    complain(fmt::format("error[{}]: {}\nhelp: {}\n", code, message, help), asked);
}

} // namespace headroom::solver
