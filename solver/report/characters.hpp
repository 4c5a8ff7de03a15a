// Characters of UTF-8 text on a terminal: how wide they are, and what stands for them in ASCII.
#pragma once

#include <string>
#include <string_view>

namespace headroom::solver {

/// Columns on the screen, not bytes nor characters: East Asian wide characters and emoji take two,
/// combining marks none (Unicode Standard Annex 11; blocks, from memory). A byte that is no UTF-8
/// takes one.
int display_width(std::string_view text);

/// As much of the beginning, or of the end, as fits in that many columns.
std::string beginning(std::string_view text, int columns);
std::string ending(std::string_view text, int columns);

/// Latin letters without their marks, common signs in words, any other character as <U+5BB6>.
std::string in_ascii(std::string_view text);

} // namespace headroom::solver
