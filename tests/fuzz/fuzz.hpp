// What the fuzz targets share: a broken law ends the process, so that the input is kept.
#pragma once

#include <cstdio>
#include <cstdlib>

namespace headroom::fuzz {

inline void must(bool holds, const char *law) {
    if (holds)
        return;
    std::fprintf(stderr, "broken law: %s\n", law);
    std::abort();
}

} // namespace headroom::fuzz
