#include "solver/program/progress.hpp"

#include <chrono>
#include <fmt/format.h>
#include <unistd.h>

namespace headroom::solver {
namespace {

constexpr long long quiet_ms = 1000;
constexpr long long between_ms = 200;

long long now_ms() {
    return std::chrono::duration_cast<std::chrono::milliseconds>(
               std::chrono::steady_clock::now().time_since_epoch())
        .count();
}

} // namespace

ProgressLine::ProgressLine(std::string what)
    : what_(std::move(what)), terminal_(isatty(STDERR_FILENO) == 1), started_ms_(now_ms()) {}

ProgressLine::~ProgressLine() {
    if (shown_)
        fmt::print(stderr, "\r\033[K");
}

void ProgressLine::show(int done) {
    if (!terminal_)
        return;
    const long long now = now_ms();
    if (now - started_ms_ < quiet_ms || now - last_ms_ < between_ms)
        return;
    last_ms_ = now;
    shown_ = true;
    fmt::print(stderr, "\r\033[K{}: {}", what_, done);
    std::fflush(stderr);
}

} // namespace headroom::solver
