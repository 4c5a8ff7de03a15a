// Keeps what was compared with what, for tests/TRUST.md. Where HEADROOM_RECORD names a file, each
// comparison adds a line to it: test title, source, expected, found, allowed deviation.
#pragma once

#include <catch2/catch.hpp>

#include <cstdio>
#include <cstdlib>
#include <string>

namespace headroom::tests {

inline void record(const std::string &source, double expected, double found, double allowed) {
    const char *file = std::getenv("HEADROOM_RECORD");
    std::FILE *out = file == nullptr ? nullptr : std::fopen(file, "a");
    if (out == nullptr)
        return;
    std::fprintf(out, "%s\t%s\t%.17g\t%.17g\t%.17g\n",
                 Catch::getResultCapture().getCurrentTestName().c_str(), source.c_str(), expected,
                 found, allowed);
    std::fclose(out);
}

} // namespace headroom::tests
