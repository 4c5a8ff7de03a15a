// Seeded random houses as files, for tests of the whole way from text to answer.
#pragma once

#include <cstdint>
#include <string>

namespace headroom::tests {

/// A house that the reader accepts: one or two storeys, one to three manifolds, radiators, direct
/// or behind a header with pumps and mixers, with or without zones, bypass, hot water and one-pipe
/// ring. Sizes are those that houses have; some circulators are too small. Same seed, same text.
std::string random_house_text(std::uint64_t seed);

} // namespace headroom::tests
