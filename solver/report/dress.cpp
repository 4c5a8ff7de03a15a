#include "solver/report/dress.hpp"

#include "solver/report/characters.hpp"
#include "solver/report/table.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

namespace headroom::solver {
namespace {

constexpr std::string_view good = "\033[1;32m";
constexpr std::string_view doubtful = "\033[1;33m";
constexpr std::string_view bad = "\033[1;31m";
constexpr std::string_view heading = "\033[1m";
constexpr std::string_view plain = "\033[0m";

struct Stress {
    std::string_view words;
    std::string_view colour;
};

// How a verdict begins; the longest of two that begin alike stands first.
constexpr std::array verdicts{Stress{"yes", good},
                              Stress{"feasible after", doubtful},
                              Stress{"feasible:", good},
                              Stress{"marginal", doubtful},
                              Stress{"hydraulically", bad},
                              Stress{"not feasible", bad},
                              Stress{"no", bad}};

// What stands as a whole cell of a table.
constexpr std::array states{Stress{"good", good},
                            Stress{"in doubt", doubtful},
                            Stress{"marginal", doubtful},
                            Stress{"low flow", doubtful},
                            Stress{"creeps", doubtful},
                            Stress{"stopped", doubtful},
                            Stress{"FAILS", bad},
                            Stress{"NO", bad},
                            Stress{"BEYOND", bad},
                            Stress{"too hot", bad},
                            Stress{"not solved", bad},
                            Stress{"pump too weak", bad},
                            Stress{"no head drives it", bad}};

// What is stressed wherever a line has it at its beginning or end.
constexpr std::array beginnings{Stress{"  error:", bad}, Stress{"  warning:", doubtful},
                                Stress{"  but:", doubtful}, Stress{"not as drawn", doubtful}};
constexpr std::string_view short_of_heat = " W short";

std::vector<std::string> lines_of(const std::string &text) {
    std::vector<std::string> out;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        out.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return out;
}

std::string in_colour(std::string_view words, std::string_view colour) {
    return std::string(colour) + std::string(words) + std::string(plain);
}

bool indented(const std::string &line) {
    return line.empty() || line.front() == ' ';
}

// The last two spaces-apart cells that are states, stressed.
std::string with_states(const std::string &line) {
    for (const Stress &state : states)
        for (std::size_t at = line.find("  " + std::string(state.words)); at != std::string::npos;
             at = line.find("  " + std::string(state.words), at + 1)) {
            const std::size_t end = at + 2 + state.words.size();
            if (end == line.size() || line.compare(end, 2, "  ") == 0)
                return line.substr(0, at + 2) + in_colour(state.words, state.colour) +
                       line.substr(end);
        }
    return line;
}

std::string stressed(const std::string &line) {
    for (const Stress &begin : beginnings)
        if (line.starts_with(begin.words))
            return in_colour(begin.words, begin.colour) + line.substr(begin.words.size());
    if (line.ends_with(short_of_heat)) {
        const std::size_t cell = line.rfind("  ") + 2;
        return line.substr(0, cell) + in_colour(line.substr(cell), bad);
    }
    return with_states(line);
}

// The verdict's words, up to what is said of it.
std::string verdict_line(const std::string &line) {
    const std::size_t end = std::min(line.find(':'), line.size() - 1) + 1;
    for (const Stress &verdict : verdicts)
        if (line.starts_with(verdict.words))
            return in_colour(line.substr(0, end), verdict.colour) + line.substr(end);
    return line;
}

std::string coloured(const std::vector<std::string> &lines) {
    std::string out;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const bool head = i > 0 && lines[i - 1].empty() && !indented(lines[i]) &&
                          i + 1 < lines.size() && indented(lines[i + 1]);
        out += (i == 0 || head ? in_colour(lines[i], heading)
                : i == 1       ? verdict_line(lines[i])
                               : stressed(lines[i])) +
               "\n";
    }
    return out;
}

int indent_of(const std::string &line) {
    return static_cast<int>(std::min(line.find_first_not_of(' '), line.size()));
}

// Reports set prose for a page of a hundred columns; a line that goes on in the next was broken
// because the next word did not fit. What stands in columns is no prose.
bool goes_on(const std::string &line, const std::string &next) {
    constexpr int page = 100;
    constexpr int page_by_hand = 92; // the least full of lines broken in the source
    const int indent = indent_of(line);
    const int next_indent = indent_of(next);
    if (next.empty() || next.substr(static_cast<std::size_t>(next_indent)).starts_with("- ") ||
        line.find("  ", static_cast<std::size_t>(indent)) != std::string::npos)
        return false;
    const std::size_t word_end =
        std::min(next.find(' ', static_cast<std::size_t>(next_indent)), next.size());
    const int width = display_width(line);
    const int with_word = width + 1 + display_width(next.substr(0, word_end)) - next_indent;
    return width <= page && (next_indent == indent ? with_word > page_by_hand
                                                   : next_indent > indent && with_word > page);
}

// Tables keep to the terminal by themselves; what is wider is prose.
std::string broken(const std::string &text, int columns) {
    const std::vector<std::string> lines = lines_of(text);
    std::string out;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        std::string line = lines[i];
        int hang = indent_of(line);
        hang += hang == 0 ? 0 : 2;
        for (; display_width(line) > columns && i + 1 < lines.size() &&
               goes_on(lines[i], lines[i + 1]);
             ++i) {
            hang = indent_of(lines[i + 1]);
            line += " " + lines[i + 1].substr(static_cast<std::size_t>(hang));
        }
        out += display_width(line) > columns
                   ? wrapped(line, std::string(static_cast<std::size_t>(hang), ' '), columns)
                   : line + "\n";
    }
    return out;
}

} // namespace

std::string dressed(const std::string &text, networks::TextForm form, bool colour) {
    std::string out = form.ascii ? in_ascii(text) : text;
    if (form.columns > 0)
        out = broken(out, form.columns);
    return colour ? coloured(lines_of(out)) : out;
}

std::string complaint_in_colour(const std::string &text) {
    std::string out;
    for (const std::string &line : lines_of(text)) {
        const std::size_t carets = line.find_last_not_of('^') + 1;
        const std::size_t words = std::min(line.find(": "), line.size() - 1) + 1;
        if (line.starts_with("error[") || line.starts_with("warning["))
            out += in_colour(line.substr(0, words), line.front() == 'e' ? bad : doubtful) +
                   line.substr(words);
        else if (line.starts_with("help: "))
            out += in_colour("help:", good) + line.substr(words);
        else if (carets < line.size() && line.find(" | ") < carets)
            out += line.substr(0, carets) + in_colour(line.substr(carets), bad);
        else
            out += line;
        out += "\n";
    }
    return out;
}

} // namespace headroom::solver
