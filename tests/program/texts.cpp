// Answers as text say what their JSON says: figures of one, rounded, stand in the other.
#include "solver/report/characters.hpp"
#include "tests/support/commands.hpp"
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <set>
#include <sstream>
#include <string>
#include <vector>

using namespace headroom::tests;
using nlohmann::json;

namespace {

struct Answers {
    std::string text;
    json data;
};

Answers answers(const std::string &question, const std::string &example) {
    const std::string file = std::string(SOURCE_DIR) + "/networks/examples/" + example;
    const ProgramRun text = run_program({question, file});
    const ProgramRun data = run_program({question, file, "--format", "json"});
    INFO(question << " " << example << ": " << text.errors);
    REQUIRE(text.exit_code <= 1); // answered, or a verdict of no
    REQUIRE(data.exit_code == text.exit_code);
    return {text.output, json::parse(data.output)};
}

// The lines of a text that begin with a word, whatever stands before it.
std::vector<std::string> lines_of(const std::string &text, const std::string &word) {
    std::vector<std::string> found;
    for (std::size_t start = 0; start < text.size();) {
        const std::size_t end = std::min(text.find('\n', start), text.size());
        const std::string line = text.substr(start, end - start);
        const std::size_t first = line.find_first_not_of(" *");
        if (first != std::string::npos && line.compare(first, word.size(), word) == 0)
            found.push_back(line);
        start = end + 1;
    }
    return found;
}

// Words with one space between them, however lines were broken.
std::string unbroken(const std::string &text) {
    std::istringstream stream(text);
    std::string out;
    for (std::string word; stream >> word;)
        out += (out.empty() ? "" : " ") + word;
    return out;
}

void check_holds(const std::string &text, const std::string &part) {
    CHECK_THAT(text, Catch::Matchers::Contains(part));
}

double number(const json &object, const char *key, double factor = 1.0) {
    return object.at(key).get<double>() * factor;
}

} // namespace

TEST_CASE("In a pipe no line of text is wider than 100 columns") {
    const std::set<std::string> of_a_house{"drive", "balance", "bores",    "convert", "drill",
                                           "flows", "losses",  "emitters", "season",  "pump",
                                           "cost",  "compare", "hotwater", "fill",    "commission"};
    const std::set<std::string> of_none{"sheet", "batch", "explain", "new", "completion", "man"};
    for (const std::string &command : program_commands()) {
        INFO(command);
        REQUIRE(of_a_house.contains(command) != of_none.contains(command));
        if (of_none.contains(command))
            continue;
        for (const std::string &house : example_houses()) {
            std::vector<std::string> arguments{command, house};
            if (command == "bores") // the search takes long, and its lines are wrapped
                arguments.insert(arguments.end(), {"--solves", "0"});
            std::istringstream lines(run_program(arguments).output);
            for (std::string line; std::getline(lines, line);)
                if (headroom::solver::display_width(line) > 100)
                    FAIL_CHECK(house << ": " << line);
        }
    }
}

TEST_CASE("The text of a year has the heat, electricity and performance of its JSON") {
    for (const std::string example : {"warm-floor.yaml", "conversion.yaml", "cylinder.yaml"}) {
        const auto [text, data] = answers("season", example);
        INFO(example);
        const json &curve = data.at("ways").at(0);
        check_holds(text, fmt::format("{:.0f} kWh of heat a year", number(curve, "heat_kwh")));
        for (const json &way : data.at("ways")) {
            std::string rows;
            for (const std::string &row :
                 lines_of(text, way.at("flow_temperature").get<std::string>()))
                rows += row + "\n";
            check_holds(rows, fmt::format(" {:.0f} ", number(way, "heat_kwh")));
            check_holds(rows, fmt::format(" {:.0f} ", number(way, "electricity_kwh")));
        }
        for (const json &point : data.at("curve")) {
            const auto rows = lines_of(text, fmt::format("{:.1f} ", number(point, "outdoor_c")));
            REQUIRE_FALSE(rows.empty());
            check_holds(rows.front(), fmt::format("{:.1f}", number(point, "source_c")));
            check_holds(rows.front(), fmt::format("{:.1f}", number(point, "return_c")));
        }
    }
}

TEST_CASE("The text of bores has each pipe's metres, temperature and heads of its JSON") {
    const auto [text, data] = answers("bores", "laid-by-program.yaml");
    for (const char *table : {"laid_anew", "same_lengths"})
        for (const json &bore : data.at(table)) {
            std::string rows;
            for (const std::string &row : lines_of(text, bore.at("pipe").get<std::string>()))
                rows += row + "\n";
            INFO(table << " " << bore.at("pipe"));
            check_holds(rows, fmt::format(" {:.0f} ", number(bore, "pipe_m")));
            check_holds(rows, fmt::format(" {:.1f} ", number(bore, "needed_pa", 1e-3)));
            check_holds(rows, fmt::format(" {:+.1f} ", number(bore, "headroom_pa", 1e-3)));
            if (bore.at("needs_c").is_number())
                check_holds(rows, fmt::format(" {:.1f} ", number(bore, "needs_c")));
        }
    for (const json &conclusion : data.at("conclusions"))
        check_holds(unbroken(text), conclusion.get<std::string>());
}

TEST_CASE("The text of a conversion has the verdict and both houses of its JSON") {
    const Answers both = answers("convert", "conversion.yaml"); // named: a lambda takes it
    const std::string &text = both.text;
    const json &data = both.data;
    check_holds(unbroken(text), data.at("sentence").get<std::string>());
    const json &found = data.at("as_found"), &converted = data.at("as_converted");
    const auto check_row = [&](const std::string &label, const char *key, int digits) {
        const auto rows = lines_of(text, label + " ");
        REQUIRE(rows.size() == 1);
        check_holds(unbroken(rows.front()),
                    fmt::format("{} {:.{}f} {:.{}f}", label, number(found, key), digits,
                                number(converted, key), digits));
    };
    check_row("sent, degC", "flow_temperature_c", 1);
    check_row("back, degC", "return_temperature_c", 1);
    check_row("load on the design day, W", "load_w", 0);
    for (const json &emitter : data.at("emitters")) {
        const auto rows = lines_of(text, emitter.at("emitter").get<std::string>() + " ");
        REQUIRE_FALSE(rows.empty());
        check_holds(rows.back(), fmt::format(" {:.0f} ", number(emitter, "room_w")));
        // The temperature stands before the drop it belongs to, then the drop that is left.
        check_holds(unbroken(rows.back()),
                    fmt::format(" {:.1f} {:.1f} {:.1f} ", number(emitter, "own_flow_temperature_c"),
                                number(emitter, "design_drop_k"), number(emitter, "drop_k")));
    }
    check_holds(text, fmt::format("{:.1f} kPa needed", number(data, "needed_pa", 1e-3)));
}
