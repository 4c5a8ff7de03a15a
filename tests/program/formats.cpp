// Answers as JSON and CSV, read back: they parse, they name their units, and no name breaks them.
#include "tests/support/csv.hpp"
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <set>
#include <sstream>
#include <string>
#include <vector>

using namespace headroom::tests;
using nlohmann::json;

namespace {

/// Keys of numbers that have no unit.
bool without_unit(const std::string &key) {
    static const std::set<std::string> known{"version",
                                             "reynolds",
                                             "newton_steps",
                                             "cop",
                                             "loops",
                                             "efficiency",
                                             "seasonal_performance",
                                             "fixed_seasonal_performance",
                                             "performance_with_pumps",
                                             "cost",
                                             "starts",
                                             "candidates",
                                             "houses_solved",
                                             "most_changes",
                                             "inlet_rounds",
                                             "reheats_count",
                                             "turns",
                                             "chi_squared",
                                             "drawn_chi_squared",
                                             "chance_chi_squared",
                                             "quantity",
                                             "there",
                                             "grid_cells"};
    return known.contains(key) || key.find("share") != std::string::npos ||
           key.ends_with("_cost") || key.ends_with("_factor") || key.ends_with("_exponent");
}

/// SI, degrees Celsius, and Kv by its own definition.
bool names_unit(const std::string &key) {
    const std::vector<std::string> units{
        "_pa",    "_m3_s", "_kg_s", "_m_s",  "_c",   "_k", "_w", "_m",  "_kv_m3_h", "_w_m2k",
        "_w_m3k", "_w_k",  "_m2",   "_w_mk", "_kwh", "_h", "_s", "_kg", "_m3",      "_j"};
    return std::any_of(units.begin(), units.end(),
                       [&](const std::string &unit) { return key.ends_with(unit); });
}

void collect_nameless(const json &value, const std::string &key, std::set<std::string> &out) {
    if (value.is_number() && !names_unit(key) && !without_unit(key))
        out.insert(key);
    for (auto item = value.begin(); value.is_structured() && item != value.end(); ++item)
        collect_nameless(*item, value.is_object() ? item.key() : key, out);
}

json json_answer(const std::string &question, const std::string &file) {
    return json::parse(run_program({question, file, "--format", "json"}).output);
}

std::vector<std::vector<std::string>> csv_answer(const std::string &question,
                                                 const std::string &file) {
    return csv_records(run_program({question, file, "--format", "csv"}).output);
}

/// The cells of a column.
std::vector<std::string> column(const std::vector<std::vector<std::string>> &records,
                                const std::string &head) {
    const auto found = std::find(records.front().begin(), records.front().end(), head);
    std::vector<std::string> out;
    if (found == records.front().end())
        return out;
    const auto at = static_cast<std::size_t>(found - records.front().begin());
    for (std::size_t i = 1; i < records.size(); ++i)
        out.push_back(records[i].at(at));
    return out;
}

bool holds(const std::vector<std::string> &words, const std::string &word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

const std::vector<std::string> hard_names{
    "<script>alert(1)</script>",
    "\"quoted\", with commas, and 'more'",
    "Zoë's Häuschen — 家 ☀",
    "=1+1",
    "a & b; c | d",
    "back\\slash",
    "{braces} %s {0}",
};

} // namespace

TEST_CASE("A JSON answer says which question it answers, in which layout, for which house") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, SmallHouse{}.text());
    for (const std::string question : {"drive", "balance", "flows"}) {
        INFO(question);
        const json answer = json_answer(question, file);
        CHECK(answer.at("answer") == question);
        CHECK(answer.at("version").is_number_integer());
        CHECK(answer.at("house") == "Two loops");
        CHECK(answer.at("outcome").at("reason") == "converged");
    }
}

TEST_CASE("Every number of a JSON answer names its unit in its key, or has none") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, SmallHouse{}.text());
    std::vector<std::string> files = example_houses();
    files.push_back(file);
    for (const std::string question : {"drive", "balance", "flows"})
        for (const std::string &house : files) {
            INFO(question << " " << house);
            std::set<std::string> nameless;
            collect_nameless(json_answer(question, house), "", nameless);
            CHECK(nameless == std::set<std::string>{});
        }
}

TEST_CASE("Every number of a year in JSON and every head of its CSV names its unit") {
    for (const std::string &house : example_houses()) {
        INFO(house);
        std::set<std::string> nameless;
        collect_nameless(json_answer("season", house), "", nameless);
        CHECK(nameless == std::set<std::string>{});
        const auto records = csv_answer("season", house);
        REQUIRE(records.size() > 1);
        for (const std::string &head : records.front())
            CHECK((names_unit(head) || without_unit(head) || head == "name"));
    }
}

TEST_CASE("Every number of a drill in JSON names its unit in its key, and its CSV has its rows") {
    for (const std::string &house : example_houses()) {
        INFO(house);
        const json answer = json_answer("drill", house);
        std::set<std::string> nameless;
        collect_nameless(answer, "", nameless);
        CHECK(nameless == std::set<std::string>{});
        std::vector<std::string> expected;
        for (const json &fault : answer.at("faults"))
            for (std::size_t i = 0; i < std::max<std::size_t>(1, fault.at("floors").size()); ++i)
                expected.push_back(fault.at("fault"));
        const auto records = csv_answer("drill", house);
        CHECK(column(records, "fault") == expected);
        for (const auto &record : records)
            CHECK(record.size() == records.front().size());
    }
}

TEST_CASE("Every number of pumps, bills and comparisons in JSON names its unit in its key") {
    for (const std::string &house : example_houses())
        for (const std::string question : {"pump", "cost", "compare"}) {
            INFO(question << " " << house);
            std::vector<std::string> arguments{question, house, "--format", "json"};
            if (question == "compare")
                arguments.insert(arguments.end(), {"--with", example_houses().front()});
            const ProgramRun run = run_program(arguments);
            CHECK(run.exit_code == 0);
            std::set<std::string> nameless;
            collect_nameless(json::parse(run.output), "", nameless);
            CHECK(nameless == std::set<std::string>{});
        }
}

TEST_CASE("The CSV of pumps, bills and comparisons has a cell for each head in every record") {
    const std::string house = std::string(SOURCE_DIR) + "/networks/examples/conversion.yaml";
    for (const std::string question : {"pump", "cost", "compare"}) {
        INFO(question);
        const auto records = csv_answer(question, house);
        REQUIRE(records.size() > 1);
        for (const auto &record : records)
            CHECK(record.size() == records.front().size());
    }
}

TEST_CASE("Every line of pumps, bills and comparisons fits a page of 100 columns") {
    for (const std::string &house : example_houses())
        for (const std::string question : {"pump", "cost", "compare"}) {
            INFO(question << " " << house);
            std::vector<std::string> arguments{question, house};
            if (question == "compare")
                arguments.insert(arguments.end(), {"--with", example_houses().front()});
            std::istringstream lines(run_program(arguments).output);
            for (std::string line; std::getline(lines, line);) {
                INFO(line);
                CHECK(line.size() <= 100);
            }
        }
}

TEST_CASE("Bores and conversions fit a page of 100 columns, their numbers in JSON name their units "
          "and their CSV has a cell for each head") {
    for (const std::string name : {"conversion", "small-bore-long-glycol", "warm-floor"})
        for (const std::string question : {"bores", "convert"}) {
            INFO(question << " " << name);
            const auto output = [&](const std::string &format) {
                const ProgramRun run = run_program(
                    {question, std::string(SOURCE_DIR) + "/networks/examples/" + name + ".yaml",
                     "--solves", "50", "--format", format});
                CHECK(run.exit_code <= 1);
                return run.output;
            };
            std::istringstream lines(output("text"));
            for (std::string line; std::getline(lines, line);) {
                INFO(line);
                CHECK(line.size() <= 100);
            }
            std::set<std::string> nameless;
            collect_nameless(json::parse(output("json")), "", nameless);
            CHECK(nameless == std::set<std::string>{});
            const auto records = csv_records(output("csv"));
            for (const auto &record : records)
                CHECK(record.size() == records.front().size());
        }
}

TEST_CASE("The outputs of floors and radiators fit a page of 100 columns, their numbers in JSON "
          "name their units and their CSV has a cell for each head") {
    int answered = 0;
    for (const std::string &house : example_houses()) {
        INFO(house);
        const ProgramRun run = run_program({"emitters", house});
        if (run.exit_code != 0)
            continue; // a house whose floors and radiators are not described
        ++answered;
        std::istringstream lines(run.output);
        for (std::string line; std::getline(lines, line);) {
            INFO(line);
            CHECK(line.size() <= 100);
        }
        std::set<std::string> nameless;
        collect_nameless(json_answer("emitters", house), "", nameless);
        CHECK(nameless == std::set<std::string>{});
        const auto records = csv_answer("emitters", house);
        CHECK(records.size() > 1);
        for (const auto &record : records)
            CHECK(record.size() == records.front().size());
    }
    CHECK(answered >= 3);
}

TEST_CASE("Every number of a room's loss in JSON names its unit in its key") {
    for (const std::string &house : example_houses()) {
        INFO(house);
        if (run_program({"losses", house}).exit_code != 0)
            continue; // a house without rooms
        std::set<std::string> nameless;
        collect_nameless(json_answer("losses", house), "", nameless);
        CHECK(nameless == std::set<std::string>{});
    }
}

TEST_CASE(
    "Every number of a cylinder, a fill and a commissioning sheet in JSON names its unit, and "
    "their CSV has one cell a head") {
    const std::set<std::string> words{"where", "piece", "name", "room", "kind", "meter_holds"};
    for (const std::string question : {"hotwater", "fill", "commission"})
        for (const std::string &house : example_houses()) {
            INFO(question << " " << house);
            if (run_program({question, house}).exit_code != 0)
                continue; // a house without a described cylinder
            std::set<std::string> nameless;
            const json answer = json_answer(question, house);
            collect_nameless(answer, "", nameless);
            CHECK(nameless == std::set<std::string>{});
            CHECK(answer.at("answer") == question);
            CHECK_FALSE(answer.at("cautions").empty());
            const auto records = csv_answer(question, house);
            CHECK(records.size() > 1);
            for (const auto &record : records)
                CHECK(record.size() == records.front().size());
            for (const std::string &head : records.front()) {
                INFO(head);
                CHECK((names_unit(head) || without_unit(head) || words.contains(head)));
            }
        }
}

TEST_CASE("The sheets for the site keep to a hundred columns") {
    for (const std::string question : {"hotwater", "fill", "commission"})
        for (const std::string &house : example_houses()) {
            std::istringstream lines(run_program({question, house}).output);
            for (std::string line; std::getline(lines, line);) {
                INFO(question << " " << house << ": " << line);
                CHECK(line.size() <= 100);
            }
        }
}

TEST_CASE(
    "Every record of a CSV answer has as many cells as its head, and each head names a unit") {
    // A valve without a table of turns has none.
    const std::set<std::string> words{"name", "kind",   "where", "piece", "from",
                                      "to",   "regime", "pump",  "turns", "valve_in_range"};
    for (const std::string question : {"drive", "balance", "flows"})
        for (const std::string &house : example_houses()) {
            INFO(question << " " << house);
            const auto records = csv_answer(question, house);
            REQUIRE(records.size() > 1);
            for (const auto &record : records)
                CHECK(record.size() == records.front().size());
            for (const std::string &head : records.front()) {
                INFO(head);
                CHECK((names_unit(head) || without_unit(head) || words.contains(head)));
                if (words.contains(head))
                    continue;
                for (const std::string &cell : column(records, head)) {
                    std::size_t end = 0;
                    CHECK_NOTHROW(std::stod(cell, &end));
                    CHECK(end == cell.size());
                }
            }
        }
}

TEST_CASE("The CSV and the JSON of one question hold the same rows") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, SmallHouse{}.text());
    const json links = json_answer("flows", file).at("links");
    const std::vector<std::string> losses = column(csv_answer("flows", file), "loss_pa");
    REQUIRE(losses.size() == links.size());
    for (std::size_t i = 0; i < losses.size(); ++i)
        CHECK(std::stod(losses[i]) == links[i].at("loss_pa").get<double>());
    const json emitters = json_answer("drive", file).at("emitters");
    const std::vector<std::string> names = column(csv_answer("drive", file), "name");
    REQUIRE(names.size() == emitters.size());
    const std::vector<std::string> in_range = column(csv_answer("drive", file), "valve_in_range");
    REQUIRE(in_range.size() == emitters.size());
    for (std::size_t i = 0; i < names.size(); ++i) {
        CHECK(names[i] == emitters[i].at("name"));
        CHECK((in_range[i] == "yes") == emitters[i].at("valve_in_range").get<bool>());
    }
    const json valves = json_answer("balance", file).at("valves");
    const std::vector<std::string> settings = column(csv_answer("balance", file), "set_kv_m3_h");
    REQUIRE(settings.size() == valves.size());
    for (std::size_t i = 0; i < settings.size(); ++i)
        CHECK(std::stod(settings[i]) == valves[i].at("set_kv_m3_h").get<double>());
}

TEST_CASE("Names of houses, runs and loops survive in JSON and CSV, whatever is in them") {
    for (const std::string &name : hard_names) {
        INFO(name);
        const TemporaryFolder folder;
        const std::string file = folder / "house.yaml";
        write_file(file, SmallHouse{name, name, name}.text());
        const json flows = json_answer("flows", file);
        const json drive = json_answer("drive", file);
        CHECK(flows.at("house") == name);
        CHECK(drive.at("house") == name);
        CHECK(drive.at("emitters").at(0).at("name") == name);
        CHECK(json_answer("balance", file).at("valves").at(0).at("name") == name);
        CHECK(std::any_of(flows.at("links").begin(), flows.at("links").end(), [&](const json &row) {
            return row.at("where") == "run " + name + ", flow";
        }));
        CHECK(holds(column(csv_answer("flows", file), "where"), "run " + name + ", flow"));
        CHECK(holds(column(csv_answer("drive", file), "name"), name));
    }
}

TEST_CASE("Names beyond ASCII stand in the text as they stand in the file") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    const std::string name = "Zoë's Häuschen — 家 ☀";
    write_file(file, SmallHouse{name, "Vorlauf Süd", "Küche 1"}.text());
    const std::string drive = run_program({"drive", file}).output;
    CHECK_THAT(drive, Catch::StartsWith(name + "\n"));
    CHECK_THAT(drive, Catch::Contains("Küche 1"));
    CHECK_THAT(run_program({"flows", file}).output, Catch::Contains("Vorlauf Süd"));
}
