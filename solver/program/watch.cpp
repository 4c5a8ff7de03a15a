#include "solver/program/watch.hpp"

#include <csignal>
#include <cstdio>
#include <ctime>
#include <fmt/format.h>
#include <optional>
#include <sys/stat.h>

namespace headroom::solver {
namespace {

volatile std::sig_atomic_t asked_to_end = 0;

void note_end(int) {
    asked_to_end = 1;
}

void end_on_request() {
    struct sigaction action = {};
    action.sa_handler = note_end;
    action.sa_flags = static_cast<int>(SA_RESETHAND); // the second time it ends at once
    ::sigaction(SIGINT, &action, nullptr);
    ::sigaction(SIGTERM, &action, nullptr);
}

// What tells one save of a file from the next; nothing while there is no such file.
struct Stamp {
    ino_t inode;
    off_t size;
    time_t seconds;
    long nanoseconds;
    bool operator==(const Stamp &) const = default;
};

using Stamps = std::vector<std::optional<Stamp>>;

Stamps stamps_of(const std::vector<std::string> &files) {
    Stamps out;
    for (const std::string &file : files) {
        struct stat found = {};
        if (::stat(file.c_str(), &found) == 0)
            out.push_back(
                Stamp{found.st_ino, found.st_size, found.st_mtim.tv_sec, found.st_mtim.tv_nsec});
        else
            out.push_back(std::nullopt);
    }
    return out;
}

bool all_there(const Stamps &stamps) {
    for (const auto &stamp : stamps)
        if (!stamp)
            return false;
    return true;
}

void pause() {
    constexpr timespec between{0, 100'000'000};
    ::nanosleep(&between, nullptr); // an interrupt ends it
}

} // namespace

int watch(const std::vector<std::string> &files, const std::function<int()> &answer) {
    end_on_request();
    Stamps answered = stamps_of(files);
    int code = answer();
    const bool watching = all_there(answered);
    Stamps before = answered;
    while (watching && asked_to_end == 0) {
        pause();
        const Stamps now = stamps_of(files);
        // Two looks alike: the editor has done with it.
        const bool settled = now == before && now != answered && all_there(now);
        before = now;
        if (!settled || asked_to_end != 0)
            continue;
        answered = now;
        fmt::print("\n---- {} was saved ----\n\n", files.front());
        code = answer();
        std::fflush(stdout);
    }
    return code;
}

} // namespace headroom::solver
