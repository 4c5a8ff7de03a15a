#include "tests/support/shrink_house.hpp"

#include <algorithm>
#include <cctype>
#include <set>
#include <sstream>
#include <vector>

namespace headroom::tests {
namespace {

using Lines = std::vector<std::string>;

Lines lines_of(const std::string &text) {
    Lines lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);)
        lines.push_back(line);
    return lines;
}

std::string text_of(const Lines &lines) {
    std::string text;
    for (const std::string &line : lines)
        text += line + "\n";
    return text;
}

std::size_t indent(const std::string &line) {
    return std::min(line.find_first_not_of(' '), line.size());
}

// The end of what stands at a line: the line and those further in.
std::size_t end_of(const Lines &lines, std::size_t first) {
    std::size_t end = first + 1;
    while (end < lines.size() && indent(lines[end]) > indent(lines[first]))
        ++end;
    return end;
}

// An entry of a list, or of a section.
bool begins_entry(const std::string &line) {
    const std::size_t in = indent(line);
    return in == 2 || line.compare(in, 2, "- ") == 0;
}

// The name an entry gives itself: "  kitchen: ...", "  - run: riser", "  - {radiator: hall, ...".
std::string own_name(const std::string &line) {
    std::size_t from = indent(line);
    if (line.compare(from, 2, "- ") == 0) {
        from = line.find(": ", from);
        if (from == std::string::npos)
            return "";
        from += 2;
    }
    return line.substr(from, std::min(line.find_first_of(":,}", from), line.size()) - from);
}

bool names(const std::string &line, const std::string &name) {
    const auto part_of_a_word = [&](std::size_t at) {
        return at < line.size() && std::isalnum(static_cast<unsigned char>(line[at])) != 0;
    };
    for (std::size_t at = line.find(name); at != std::string::npos; at = line.find(name, at + 1))
        if (!(at > 0 && part_of_a_word(at - 1)) && !part_of_a_word(at + name.size()))
            return true;
    return false;
}

Lines without(const Lines &lines, std::size_t first, std::size_t end) {
    Lines left(lines.begin(), lines.begin() + static_cast<std::ptrdiff_t>(first));
    left.insert(left.end(), lines.begin() + static_cast<std::ptrdiff_t>(end), lines.end());
    return left;
}

// The first line of the innermost entry that holds a line; the line itself if none does.
std::size_t entry_of(const Lines &lines, std::size_t at) {
    for (std::size_t head = at + 1; head-- > 0;)
        if (begins_entry(lines[head]) && end_of(lines, head) > at)
            return head;
    return at;
}

// What entries call themselves, and the places that runs lead to.
std::set<std::string> all_names(const Lines &lines) {
    std::set<std::string> out;
    for (const std::string &line : lines) {
        if (begins_entry(line))
            out.insert(own_name(line));
        if (const std::size_t to = line.find("to: "); to != std::string::npos)
            out.insert(line.substr(to + 4, line.find_first_of(",}", to) - to - 4));
    }
    out.erase("");
    return out;
}

std::vector<std::size_t> lines_that_name(const Lines &lines, const std::string &name) {
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < lines.size(); ++i)
        if (names(lines[i], name))
            out.push_back(i);
    return out;
}

// The lines without every innermost entry that names something, and without whatever only those
// entries had to do with: the rooms of a manifold's loops, the run that leads to it.
Lines without_name(Lines lines, const std::string &name) {
    const std::set<std::string> known = all_names(lines);
    std::vector<std::string> gone{name};
    for (std::size_t k = 0; k < gone.size(); ++k) {
        Lines out;
        for (auto at = lines_that_name(lines, gone[k]); !at.empty();
             at = lines_that_name(lines, gone[k])) {
            const std::size_t head = entry_of(lines, at.front());
            const std::size_t end = end_of(lines, head);
            out.insert(out.end(), lines.begin() + static_cast<std::ptrdiff_t>(head),
                       lines.begin() + static_cast<std::ptrdiff_t>(end));
            lines = without(lines, head, end);
        }
        for (const std::string &other : known)
            if (!lines_that_name(out, other).empty() && lines_that_name(lines, other).size() == 1)
                gone.push_back(other);
    }
    return lines;
}

// Heads of sections and lists in which nothing is left go too.
Lines without_empty_heads(Lines lines) {
    for (std::size_t i = lines.size(); i-- > 0;)
        if (lines[i].ends_with(":") && end_of(lines, i) == i + 1)
            lines = without(lines, i, i + 1);
    return lines;
}

} // namespace

std::string shrunk_house(const std::string &text,
                         const std::function<bool(const std::string &)> &fails) {
    Lines lines = lines_of(text);
    const auto take = [&](const Lines &less) {
        const Lines fewer = without_empty_heads(less);
        if (fewer.size() == lines.size() || !fails(text_of(fewer)))
            return false;
        lines = fewer;
        return true;
    };
    for (bool smaller = true; smaller;) {
        smaller = false;
        for (std::size_t i = 0; i < lines.size();) {
            const std::string name = begins_entry(lines[i]) ? own_name(lines[i]) : "";
            if (take(without(lines, i, end_of(lines, i))) ||
                (!name.empty() && take(without_name(lines, name))))
                smaller = true;
            else
                ++i;
        }
    }
    return text_of(lines);
}

} // namespace headroom::tests
