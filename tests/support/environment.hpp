// Counts that a longer run raises.
#pragma once

#include <cstddef>
#include <cstdlib>

namespace headroom::tests {

inline std::size_t from_environment(const char *name, std::size_t otherwise) {
    const char *text = std::getenv(name);
    return text == nullptr ? otherwise : std::strtoull(text, nullptr, 10);
}

} // namespace headroom::tests
