#include "solver/program/output.hpp"

#include "solver/program/complaint.hpp"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fmt/format.h>
#include <unistd.h>

namespace headroom::solver {
namespace {

bool failed(const std::string &what, Colour colour) {
    const int reason = errno;
    complain(fmt::format("error[cannot-write]: {}: {}\n", what, std::strerror(reason)), colour);
    return false;
}

bool write_all(std::FILE *stream, const std::string &text) {
    return std::fwrite(text.data(), 1, text.size(), stream) == text.size() &&
           std::fflush(stream) == 0;
}

// Not a regular file: renaming over it would take its place instead of writing to it.
bool write_straight(const std::string &text, const std::string &file, Colour colour) {
    std::FILE *stream = std::fopen(file.c_str(), "wb");
    if (stream == nullptr)
        return failed(file, colour);
    const bool written = write_all(stream, text);
    const int reason = errno;
    const bool closed = std::fclose(stream) == 0;
    if (!written)
        errno = reason;
    return (written && closed) || failed(file, colour);
}

} // namespace

bool write_output(const std::string &text, const std::string &named, Colour complaint) {
    if (named.empty())
        return write_all(stdout, text) || failed("standard output", complaint);
    std::error_code code;
    std::string file = named;
    if (const auto target = std::filesystem::canonical(named, code); !code)
        file = target.string();
    const auto kind = std::filesystem::status(file, code).type();
    if (kind != std::filesystem::file_type::regular &&
        kind != std::filesystem::file_type::not_found)
        return write_straight(text, file, complaint);
    const std::string beside = fmt::format("{}.{}.part", file, ::getpid());
    std::FILE *stream = std::fopen(beside.c_str(), "wb");
    if (stream == nullptr)
        return failed(file, complaint);
    const bool written = write_all(stream, text) && ::fsync(::fileno(stream)) == 0;
    const int reason = errno;
    const bool closed = std::fclose(stream) == 0;
    if (written && closed && std::rename(beside.c_str(), file.c_str()) == 0)
        return true;
    if (!written)
        errno = reason;
    const bool answer = failed(file, complaint);
    std::remove(beside.c_str());
    return answer;
}

} // namespace headroom::solver
