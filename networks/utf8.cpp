#include "networks/utf8.hpp"

#include <algorithm>

namespace headroom::networks {
namespace {

bool continues(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

// Bytes of the sequence that starts with `lead`, 0 if none can.
std::size_t sequence_length(unsigned char lead) {
    if (lead < 0x80U)
        return 1;
    if (lead >= 0xC2U && lead < 0xE0U)
        return 2;
    if (lead >= 0xE0U && lead < 0xF0U)
        return 3;
    if (lead >= 0xF0U && lead < 0xF5U)
        return 4;
    return 0;
}

// Longer than needed, a surrogate, or beyond the last character.
bool forbidden(unsigned char lead, unsigned char second) {
    return (lead == 0xE0U && second < 0xA0U) || (lead == 0xEDU && second >= 0xA0U) ||
           (lead == 0xF0U && second < 0x90U) || (lead == 0xF4U && second >= 0x90U);
}

} // namespace

int characters(std::string_view text) {
    return static_cast<int>(
        std::count_if(text.begin(), text.end(), [](char c) { return !continues(c); }));
}

std::size_t byte_of(std::string_view text, int character) {
    std::size_t byte = 0;
    for (int seen = 0; byte < text.size(); ++byte)
        if (!continues(text[byte]) && seen++ == character)
            break;
    return byte;
}

std::size_t first_invalid_utf8(std::string_view text) {
    std::size_t at = 0;
    while (at < text.size()) {
        const auto lead = static_cast<unsigned char>(text[at]);
        const std::size_t length = sequence_length(lead);
        if (length == 0 || at + length > text.size())
            return at;
        for (std::size_t i = 1; i < length; ++i)
            if (!continues(text[at + i]))
                return at;
        if (length > 1 && forbidden(lead, static_cast<unsigned char>(text[at + 1])))
            return at;
        at += length;
    }
    return std::string_view::npos;
}

std::string_view without_byte_order_mark(std::string_view text) {
    return text.starts_with("\xEF\xBB\xBF") ? text.substr(3) : text;
}

} // namespace headroom::networks
