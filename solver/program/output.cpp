#include "solver/program/output.hpp"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fmt/format.h>
#include <unistd.h>

namespace headroom::solver {
namespace {

bool failed(const std::string &what) {
    const int reason = errno;
    fmt::print(stderr, "error[cannot-write]: {}: {}\n", what, std::strerror(reason));
    return false;
}

bool write_all(std::FILE *stream, const std::string &text) {
    return std::fwrite(text.data(), 1, text.size(), stream) == text.size() &&
           std::fflush(stream) == 0;
}

} // namespace

bool write_output(const std::string &text, const std::string &file) {
    if (file.empty())
        return write_all(stdout, text) || failed("standard output");
    const std::string beside = fmt::format("{}.{}.part", file, ::getpid());
    std::FILE *stream = std::fopen(beside.c_str(), "wb");
    if (stream == nullptr)
        return failed(file);
    const bool written = write_all(stream, text) && ::fsync(::fileno(stream)) == 0;
    const int reason = errno;
    const bool closed = std::fclose(stream) == 0;
    if (written && closed && std::rename(beside.c_str(), file.c_str()) == 0)
        return true;
    if (!written)
        errno = reason;
    const bool answer = failed(file);
    std::remove(beside.c_str());
    return answer;
}

} // namespace headroom::solver
