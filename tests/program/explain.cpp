// `headroom explain`: every code the program can emit and every key it reads has its entry.
#include "tests/support/commands.hpp"
#include "tests/support/csv.hpp"
#include "tests/support/run_program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

using namespace headroom::tests;
using Catch::Contains;
using Catch::StartsWith;
using nlohmann::json;
using Names = std::set<std::string>;

namespace {

json explained(const std::vector<std::string> &words) {
    std::vector<std::string> arguments{"explain", "--format", "json"};
    arguments.insert(arguments.end(), words.begin(), words.end());
    const ProgramRun run = run_program(arguments);
    CHECK(run.exit_code == 0);
    CHECK(run.errors.empty());
    return json::parse(run.output);
}

bool about_faults(const json &term) {
    const std::string group = term.at("group");
    return group.starts_with("faults") || group == "why there is no answer";
}

/// Every entry.
json all_terms() {
    return explained({}).at("terms");
}

/// Names of the entries about faults.
Names fault_entries() {
    Names out;
    const json terms = all_terms();
    for (const json &term : terms)
        if (about_faults(term))
            out.insert(term.at("name").get<std::string>());
    return out;
}

/// All that an entry about something else than a fault answers to.
Names key_entries() {
    Names out;
    const json terms = all_terms();
    for (const json &term : terms) {
        if (!std::string(term.at("group")).starts_with("keys"))
            continue;
        out.insert(term.at("name").get<std::string>());
        for (const json &other : term.at("also"))
            out.insert(other.get<std::string>());
    }
    return out;
}

std::string sources(const std::string &folder) {
    std::string out;
    for (const auto &entry :
         std::filesystem::recursive_directory_iterator(std::filesystem::path(SOURCE_DIR) / folder))
        if (entry.path().extension() == ".cpp" || entry.path().extension() == ".hpp")
            out += file_text(entry.path());
    return out;
}

void collect(const std::string &text, const std::string &pattern, Names &out) {
    const std::regex expression(pattern);
    for (std::sregex_iterator it(text.begin(), text.end(), expression), end; it != end; ++it)
        out.insert((*it)[1]);
}

/// Codes of faults as the sources write them: given to a collector, or printed in brackets; any
/// word with a hyphen in networks/ is one.
Names emitted_codes() {
    Names out;
    const std::string networks = sources("networks");
    collect(networks, R"re((?:\.|->|_)(?:error|warning)\(\s*"([a-z-]+)")re", out);
    collect(networks, R"re("([a-z]+(?:-[a-z]+)+)")re", out);
    collect(networks, R"re(\.missing\(\s*\{[^}]*\},\s*"([a-z-]+)")re", out);
    collect(networks, R"re(refuse\(mark, "([a-z-]+)")re", out);
    collect(networks, R"re(Severity::(?:Error|Warning),\s*"([a-z-]+)")re", out);
    collect(sources("solver"), R"re((?:error|warning)\[([a-z-]+)\]:)re", out);
    collect(sources("solver"), R"re((?:refused|complain)\("([a-z-]+)")re", out);
    collect(sources("solver"), R"re(refused\(arguments,\s*"([a-z-]+)")re", out);
    return out;
}

/// Keys that the reader asks for.
Names read_keys() {
    Names out;
    const std::string text = sources("networks");
    collect(
        text,
        R"re((?:\.|->)(?:child|has|quantity|number|count|yes_no|text|choice|required_quantity|required_text|required_choice)\(\s*"([a-z_0-9]+)")re",
        out);
    collect(text, R"re(read_(?:list|level|name)\([a-z_]+, "([a-z_0-9]+)")re", out);
    collect(file_text(std::string(SOURCE_DIR) + "/networks/prices.hpp"),
            R"re(\{"([a-z_]+)", [0-9.]+\},)re", out);
    return out;
}

Names missing(const Names &wanted, const Names &there) {
    Names out;
    std::set_difference(wanted.begin(), wanted.end(), there.begin(), there.end(),
                        std::inserter(out, out.end()));
    return out;
}

/// Blocks of lines between empty lines.
std::vector<std::vector<std::string>> blocks(const std::string &text) {
    std::vector<std::vector<std::string>> out(1);
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
        if (line.empty())
            out.emplace_back();
        else
            out.back().push_back(line);
    return out;
}

} // namespace

TEST_CASE("Every code of a fault that the sources can emit is explained, and no other") {
    const Names emitted = emitted_codes();
    CHECK(emitted.size() > 90); // so that the search itself cannot fail unseen
    CHECK(missing(emitted, fault_entries()) == Names{});
    CHECK(missing(fault_entries(), emitted) == Names{});
}

TEST_CASE("Every code that a faulty file of the reader's tests meets is explained") {
    Names met;
    for (const auto &entry :
         std::filesystem::directory_iterator(std::string(SOURCE_DIR) + "/tests/networks/faulty"))
        if (entry.path().extension() == ".expected")
            collect(file_text(entry.path()), R"re((?:error|warning)\[([a-z-]+)\])re", met);
    CHECK(met.size() > 50);
    CHECK(missing(met, fault_entries()) == Names{});
}

TEST_CASE("Every key that the reader asks for is explained") {
    const Names keys = read_keys();
    CHECK(keys.size() > 200);
    CHECK(missing(keys, key_entries()) == Names{});
}

TEST_CASE(
    "Each entry is answered in two to eight lines of a page, and found by each of its names") {
    const json terms = all_terms();
    CHECK(terms.size() > 150);
    for (const json &term : terms) {
        const std::string name = term.at("name");
        INFO(name);
        const ProgramRun run = run_program({"explain", name});
        CHECK(run.exit_code == 0);
        CHECK_THAT(run.output, StartsWith(name + " (") || Contains("\n\n" + name + " ("));
        for (const auto &block : blocks(run.output)) {
            const bool links = block.front().starts_with("see also");
            CHECK((links || (block.size() >= 3 && block.size() <= 9))); // with its heading
            for (const std::string &line : block)
                CHECK(line.size() <= 100);
        }
        for (const json &other : term.at("also")) {
            const std::string text = run_program({"explain", other.get<std::string>()}).output;
            CHECK_THAT(text, Contains(name));
        }
    }
}

TEST_CASE("A term is found whatever its letters' case, hyphens and quotes, and as several words") {
    const std::string wanted = run_program({"explain", "index circuit"}).output;
    for (const std::vector<std::string> &words :
         std::vector<std::vector<std::string>>{{"explain", "index", "circuit"},
                                               {"explain", "Index-Circuit"},
                                               {"explain", "`index_circuit`"},
                                               {"explain", "index circuits"}})
        CHECK(run_program(words).output == wanted);
    CHECK(run_program({"explain", "error[missing-unit]"}).output ==
          run_program({"explain", "missing-unit"}).output);
}

TEST_CASE("An unknown term ends with 2 and names the nearest known, or where to look") {
    for (const auto &[word, help] :
         std::vector<std::pair<std::string, std::string>>{{"autority", "`authority`"},
                                                          {"mising-unit", "`missing-unit`"},
                                                          {"pressure curve", "`curve`"},
                                                          {"xyzzy-plugh", "`headroom explain`"},
                                                          {"drive", "`headroom drive --help`"}}) {
        INFO(word);
        const ProgramRun run = run_program({"explain", word});
        CHECK(run.exit_code == 2);
        CHECK(run.output.empty());
        CHECK_THAT(run.errors, StartsWith("error[unknown-term]: ") && Contains(word) &&
                                   Contains("help: ") && Contains(help));
    }
    CHECK(run_program({"explain", ""}).exit_code == 2);
}

TEST_CASE("Without a term every entry is listed under its group, in each form") {
    const std::string text = run_program({"explain"}).output;
    const json all = explained({});
    const auto records = csv_records(run_program({"explain", "--format", "csv"}).output);
    REQUIRE(records.size() == all.at("terms").size() + 1);
    for (std::size_t i = 0; i < all.at("terms").size(); ++i) {
        const json &term = all.at("terms")[i];
        CHECK_THAT(text, Contains("\n" + term.at("group").get<std::string>() + "\n"));
        CHECK(records[i + 1][0] == term.at("name"));
        CHECK(records[i + 1][3] == term.at("meaning"));
        CHECK(records[i + 1].size() == records.front().size());
    }
    // A name may be broken over two lines of the list.
    std::string flat;
    for (const auto &block : blocks(text))
        for (const std::string &line : block)
            flat += line.substr(std::min(line.size(), line.find_first_not_of(' '))) + " ";
    for (const json &term : all.at("terms"))
        CHECK_THAT(flat, Contains(term.at("name").get<std::string>()));
}

TEST_CASE("A word that names two things is answered with both") {
    const json both = explained({"performance"});
    REQUIRE(both.at("terms").size() == 2);
    CHECK(about_faults(both.at("terms")[1]));
    CHECK_FALSE(about_faults(both.at("terms")[0]));
}

TEST_CASE("The commands that an entry is seen in exist") {
    const std::vector<std::string> commands = program_commands();
    const json terms = all_terms();
    for (const json &term : terms) {
        const std::string where = term.at("where");
        if (!where.starts_with("headroom ") || about_faults(term))
            continue;
        std::istringstream list(where.substr(9, where.find(';') - 9));
        for (std::string item; std::getline(list, item, ',');) {
            std::istringstream words(item);
            std::string command;
            words >> command;
            INFO(where);
            CHECK((command == "--help" || std::count(commands.begin(), commands.end(), command)));
        }
    }
}
