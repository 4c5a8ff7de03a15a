#include "benchmarks/record.hpp"

#include "benchmarks/commit.hpp"
#include "models/loss_bank.hpp"

#include <algorithm>
#include <ctime>
#include <fmt/chrono.h>
#include <fstream>
#include <thread>

namespace headroom::benchmarks {
namespace {

std::string processor_name() {
    std::ifstream stream("/proc/cpuinfo");
    for (std::string line; std::getline(stream, line);)
        if (line.starts_with("model name"))
            return line.substr(line.find(':') + 2);
    return "unknown processor";
}

const char *instruction_name() {
    switch (models::instructions()) {
    case models::Instructions::Avx512:
        return "AVX-512";
    case models::Instructions::Avx2:
        return "AVX2";
    case models::Instructions::Baseline:
        break;
    }
    return "baseline instructions";
}

} // namespace

std::vector<std::pair<std::string, std::string>> record() {
    return {
        {"date", fmt::format("{:%Y-%m-%d %H:%M} UTC", fmt::gmtime(std::time(nullptr)))},
        {"machine",
         fmt::format("{}, {} cores", processor_name(), std::thread::hardware_concurrency())},
        {"kernels", instruction_name()},
        {"compiler", COMPILER},
        {"flags", BUILD_FLAGS},
        {"commit", COMMIT},
    };
}

void print_record() {
    for (const auto &[what, is] : record())
        fmt::print("{:<9} {}\n", what, is);
}

double processor_seconds() {
    timespec time{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
    return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
}

double median(std::vector<double> values) {
    std::nth_element(values.begin(), values.begin() + static_cast<long>(values.size() / 2),
                     values.end());
    return values[values.size() / 2];
}

} // namespace headroom::benchmarks
