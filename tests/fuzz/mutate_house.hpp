#pragma once

#include <string>

namespace headroom::fuzz {

/// The text of a house with one to four changes that leave most of it a house: numbers scaled or
/// replaced, values swapped, entries and lines deleted, repeated or swapped, keys exchanged.
std::string mutated_house(std::string text, unsigned seed);

} // namespace headroom::fuzz
