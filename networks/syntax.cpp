#include "networks/syntax.hpp"

#include "networks/utf8.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <optional>
#include <vector>

namespace headroom::networks {
namespace {

struct Known {
    std::string_view parser;
    std::string_view message;
    std::string_view help;
    bool by_bracket = false; ///< an open bracket is the likelier cause
    std::string_view code = "yaml-syntax";
};
constexpr std::array known_faults{
    Known{"end of map flow not found", "a bracket is never closed", "every `{` needs its `}`",
          true},
    Known{"end of sequence flow not found", "a bracket is never closed", "every `[` needs its `]`",
          true},
    Known{"illegal block entry", "a list item stands where none can",
          "give the `- ` of all items of a list the same indentation", true},
    Known{"illegal flow end", "this bracket does not close the last one opened",
          "every `{` needs its `}` and every `[` its `]`"},
    Known{"illegal map value", "a `:` stands where no key can end",
          "indent the keys of one map equally, put a space after each `:`, and quote a text that "
          "holds `: `"},
    Known{"end of map not found", "this line fits no map above it",
          "indent the keys of one map equally"},
    Known{"end of sequence not found", "this line fits no list above it",
          "give the `- ` of all items of a list the same indentation"},
    Known{"the referenced anchor is not defined", "aliases (`*name`) are not accepted",
          "write the value out", false, "alias"},
};

std::size_t line_start(std::string_view text, std::size_t byte) {
    const std::size_t newline = byte == 0 ? std::string_view::npos : text.rfind('\n', byte - 1);
    return newline == std::string_view::npos ? 0 : newline + 1;
}

// Past the quoted text that opens at `quote`, or npos.
std::size_t quote_end(std::string_view text, std::size_t quote) {
    for (std::size_t i = quote + 1; i < text.size(); ++i) {
        if (text[quote] == '"' && text[i] == '\\') {
            ++i;
        } else if (text[i] == text[quote]) {
            const bool doubled =
                text[i] == '\'' && i + 1 < text.size() && text[i + 1] == text[quote];
            if (!doubled)
                return i + 1;
            ++i;
        }
    }
    return std::string_view::npos;
}

// The last bracket before `end` that is still open there. Only what begins a word counts, so that
// apostrophes and `#` inside words do not.
std::optional<std::size_t> open_bracket(std::string_view text, std::size_t end) {
    std::vector<std::size_t> open;
    for (std::size_t i = 0; i < std::min(end, text.size()); ++i) {
        const char c = text[i];
        if ((c == '}' || c == ']') && !open.empty())
            open.pop_back();
        const bool begins =
            i == 0 || std::string_view(" \t\r\n,[{").find(text[i - 1]) != std::string_view::npos;
        if (!begins)
            continue;
        if (c == '{' || c == '[')
            open.push_back(i);
        if (c == '#')
            i = std::min(text.find('\n', i), text.size());
        if (c == '"' || c == '\'')
            i = std::min(quote_end(text, i), text.size()) - 1;
    }
    return open.empty() ? std::nullopt : std::optional(open.back());
}

// A tab among the leading blanks of the line, or of the one before it.
std::optional<std::size_t> tab_in_indentation(std::string_view text, std::size_t byte) {
    const std::size_t here = line_start(text, byte);
    for (const std::size_t start : {here == 0 ? here : line_start(text, here - 1), here}) {
        const std::size_t first = text.find_first_not_of(' ', start);
        if (first != std::string_view::npos && text[first] == '\t')
            return first;
    }
    return std::nullopt;
}

// The `:` of the line before, if it is one that no space follows: the parser takes such a line for
// text that goes on in the next.
std::optional<std::size_t> tight_colon(std::string_view text, std::size_t byte) {
    const std::size_t here = line_start(text, byte);
    if (here == 0)
        return std::nullopt;
    const std::size_t before = line_start(text, here - 1);
    const std::string_view line = text.substr(before, here - 1 - before);
    const std::size_t colon = line.find(':');
    if (colon == std::string_view::npos || colon + 1 >= line.size() ||
        line.find_first_not_of(" \r", colon + 1) != colon + 1)
        return std::nullopt;
    return before + colon;
}

} // namespace

Place place_at(std::string_view text, std::size_t byte) {
    const std::string_view before = text.substr(0, byte);
    const auto lines = std::count(before.begin(), before.end(), '\n');
    return {static_cast<int>(lines) + 1,
            characters(before.substr(line_start(text, before.size()))) + 1, 1};
}

Diagnostic syntax_fault(std::string_view text, std::size_t stopped, std::string_view message) {
    stopped = std::min(stopped, text.size());
    if (const auto tab = tab_in_indentation(text, stopped))
        return {Severity::Error, "tab", "a tab stands in the indentation", place_at(text, *tab),
                "indent with spaces only"};
    const auto known = std::find_if(known_faults.begin(), known_faults.end(),
                                    [&](const Known &k) { return k.parser == message; });
    if (known == known_faults.end())
        return {Severity::Error, "yaml-syntax", fmt::format("not valid YAML: {}", message),
                place_at(text, stopped),
                "check indentation, colons, quotes and brackets on this line and the one before"};
    if (const auto colon = tight_colon(text, stopped); colon && message == "illegal map value")
        return {Severity::Error, "yaml-syntax", "no space follows this `:`", place_at(text, *colon),
                "write `key: value`"};
    if (known->by_bracket)
        if (const auto bracket = open_bracket(text, stopped))
            return {Severity::Error, "yaml-syntax", "this bracket is never closed",
                    place_at(text, *bracket),
                    fmt::format("close it with `{}`", text[*bracket] == '{' ? '}' : ']')};
    return {Severity::Error, std::string(known->code), std::string(known->message),
            place_at(text, stopped), std::string(known->help)};
}

bool quote_closes(std::string_view text, std::size_t quote) {
    return quote_end(text, quote) != std::string_view::npos;
}

} // namespace headroom::networks
