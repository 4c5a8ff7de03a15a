// What every run prints with its figures, and how it takes time.
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace headroom::benchmarks {

/// Date, machine, instructions, compiler, flags, commit.
std::vector<std::pair<std::string, std::string>> record();

void print_record();

/// Processor time of this thread, which other work on the machine does not lengthen by its turns.
double processor_seconds();

double seconds(const auto &work) {
    const double start = processor_seconds();
    work();
    return processor_seconds() - start;
}

double median(std::vector<double> values);

} // namespace headroom::benchmarks
