#include "solver/terms/terms.hpp"

#include "solver/terms/groups.hpp"

#include <array>

namespace headroom::solver {

std::span<const TermGroup> term_groups() {
    static const std::array groups{
        TermGroup{"verdict and head", "seen in", verdict_terms()},
        TermGroup{"pipes, valves, pumps", "seen in", circuit_terms()},
        TermGroup{"heat", "seen in", heat_terms()},
        TermGroup{"site, protection, money", "seen in", site_terms()},
        TermGroup{"keys of the house file: house, rooms, emitters", "as in", house_keys()},
        TermGroup{"keys of the house file: source, pipework, parts", "as in", part_keys()},
        TermGroup{"faults of a file's text and values", "to do", file_faults()},
        TermGroup{"faults of a house", "to do", house_faults()},
        TermGroup{"why there is no answer", "to do", program_faults()},
    };
    return groups;
}

std::vector<std::string> other_names(const Term &term) {
    constexpr std::string_view comma = ", ";
    std::vector<std::string> out;
    std::string_view rest = term.also;
    while (!rest.empty()) {
        const std::size_t end = rest.find(comma);
        out.emplace_back(rest.substr(0, end));
        rest = end == std::string_view::npos ? "" : rest.substr(end + comma.size());
    }
    return out;
}

std::string lookup_form(std::string_view word) {
    for (const std::string_view head : {"error[", "warning["})
        if (word.starts_with(head))
            word = word.substr(head.size(), word.find(']') - head.size());
    std::string out;
    for (const char c : word) {
        if (c == '`' || c == '"' || c == '\'')
            continue;
        const bool gap = c == '-' || c == '_' || c == ' ' || c == '\t' || c == '\n';
        if (gap && (out.empty() || out.back() == ' '))
            continue;
        out += gap ? ' ' : c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    while (!out.empty() && (out.back() == ' ' || out.back() == ':'))
        out.pop_back();
    return out;
}

} // namespace headroom::solver
