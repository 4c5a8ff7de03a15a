// Faults of YAML itself, in the words of someone who writes house files.
#pragma once

#include "networks/diagnostic.hpp"

#include <string_view>

namespace headroom::networks {

/// Place of a byte of the text, in lines and characters.
Place place_at(std::string_view text, std::size_t byte);

/// The fault behind the parser's message, given the byte at which it stopped. An open bracket is
/// reported where it opens, a tab where it stands.
Diagnostic syntax_fault(std::string_view text, std::size_t stopped, std::string_view message);

/// Whether the quoted text that opens at byte `quote` is closed; the parser lets the end of the
/// file close it.
bool quote_closes(std::string_view text, std::size_t quote);

} // namespace headroom::networks
