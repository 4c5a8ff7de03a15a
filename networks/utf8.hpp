// Text as a reader sees it: characters, not bytes.
#pragma once

#include <cstddef>
#include <string_view>

namespace headroom::networks {

/// Number of characters; continuation bytes count for nothing.
int characters(std::string_view text);

/// Byte offset of the character numbered from 0, or the text's size.
std::size_t byte_of(std::string_view text, int character);

/// Byte offset of the first place that is not UTF-8, or npos.
std::size_t first_invalid_utf8(std::string_view text);

/// The text without a byte order mark at its start.
std::string_view without_byte_order_mark(std::string_view text);

} // namespace headroom::networks
