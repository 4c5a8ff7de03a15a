// Every answer as JSON against solver/report/schema/answers.json, the written promise of its keys.
#include "tests/support/json_schema.hpp"
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>

using namespace headroom::tests;
using nlohmann::json;

namespace {

const JsonSchema &schema() {
    static const JsonSchema read(
        json::parse(file_text(std::string(SOURCE_DIR) + "/solver/report/schema/answers.json")));
    return read;
}

using Faults = std::vector<std::string>;

/// Runs a command on every example house; those it refuses are counted, not checked.
std::size_t answers_that_keep_to_the_schema(const std::string &command) {
    std::size_t answered = 0;
    for (const std::string &house : example_houses()) {
        INFO(command << " " << house);
        std::vector<std::string> arguments{command, house, "--format", "json"};
        if (command == "compare")
            arguments.insert(arguments.end(), {"--with", example_houses().front()});
        if (command == "drive" || command == "bores" || command == "convert")
            arguments.insert(arguments.end(), {"--solves", "30"}); // sets found and not found
        const ProgramRun run = run_program(arguments);
        if (run.exit_code > 1)
            continue;
        ++answered;
        CHECK(schema().faults(json::parse(run.output), command) == Faults{});
    }
    return answered;
}

/// Calls `visit(key, rule, place)` for every property described below a rule.
template <class Visit>
void each_property(const json &rule, const std::string &place, const Visit &visit) {
    for (auto part = rule.begin(); rule.is_structured() && part != rule.end(); ++part) {
        const std::string key = rule.is_object() ? part.key() : "";
        if (key == "properties") {
            for (auto property = part->begin(); property != part->end(); ++property) {
                visit(property.key(), *property, place + "/" + property.key());
                each_property(*property, place + "/" + property.key(), visit);
            }
        } else {
            each_property(*part, place, visit);
        }
    }
}

bool is_number(const json &rule) {
    const json type = rule.value("type", json());
    const auto numeric = [](const json &word) { return word == "number" || word == "integer"; };
    return type.is_array() ? std::any_of(type.begin(), type.end(), numeric) : numeric(type);
}

/// The unit that a key's ending says, by the rule of all JSON answers.
std::string unit_of_key(const std::string &key) {
    static const std::vector<std::pair<std::string, std::string>> endings{{"_kv_m3_h", "m3/h"},
                                                                          {"_w_m2k", "W/(m2 K)"},
                                                                          {"_m2k_w", "m2 K/W"},
                                                                          {"_mk_w", "m K/W"},
                                                                          {"_w_mk", "W/(m K)"},
                                                                          {"_w_m2", "W/m2"},
                                                                          {"_w_m3k", "W/(m3 K)"},
                                                                          {"_w_k", "W/K"},
                                                                          {"_pa_m", "Pa/m"},
                                                                          {"_m3_s", "m3/s"},
                                                                          {"_kg_s", "kg/s"},
                                                                          {"_m_s", "m/s"},
                                                                          {"_per_h", "1/h"},
                                                                          {"_share_per_k", "1/K"},
                                                                          {"_kwh", "kWh"},
                                                                          {"_m2", "m2"},
                                                                          {"_m3", "m3"},
                                                                          {"_pa", "Pa"},
                                                                          {"_kg", "kg"},
                                                                          {"_c", "degC"},
                                                                          {"_k", "K"},
                                                                          {"_w", "W"},
                                                                          {"_m", "m"},
                                                                          {"_h", "h"},
                                                                          {"_s", "s"},
                                                                          {"_j", "J"}};
    for (const auto &[ending, unit] : endings)
        if (key.ends_with(ending))
            return unit;
    return {};
}

} // namespace

TEST_CASE("JSON about one circulator keeps to the schema for every example house") {
    for (const std::string command : {"drive", "bores", "convert"})
        CHECK(answers_that_keep_to_the_schema(command) >= 1);
}

TEST_CASE("JSON about settings, flows and faults keeps to the schema for every example house") {
    for (const std::string command : {"balance", "flows", "drill", "pump"})
        CHECK(answers_that_keep_to_the_schema(command) == example_houses().size());
}

TEST_CASE("JSON about rooms, years and cylinders keeps to the schema for every example house") {
    for (const std::string command : {"losses", "emitters", "season", "hotwater"})
        CHECK(answers_that_keep_to_the_schema(command) >= 1);
}

TEST_CASE("JSON for the site, of costs and of comparisons keeps to the schema for every example") {
    for (const std::string command : {"fill", "commission", "cost", "compare"})
        CHECK(answers_that_keep_to_the_schema(command) == example_houses().size());
}

TEST_CASE("JSON of houses that no circulator drives keeps to the schema") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    SmallHouse weak;
    weak.shutoff_head = "0.5 m";
    write_file(file, weak.text());
    for (const std::string command :
         {"drive", "balance", "flows", "drill", "pump", "fill", "commission", "season", "cost"}) {
        INFO(command);
        const ProgramRun run = run_program({command, file, "--format", "json"});
        if (run.exit_code <= 1)
            CHECK(schema().faults(json::parse(run.output), command) == Faults{});
    }
}

TEST_CASE("JSON of a verdict repeated within the tolerances keeps to the schema") {
    const std::string house = std::string(SOURCE_DIR) + "/networks/examples/direct-16mm.yaml";
    const json answer = json::parse(
        run_program({"drive", house, "--tolerance", "--samples", "20", "--format", "json"}).output);
    CHECK(answer.at("how_sure").at("houses") >= 20);
    CHECK(schema().faults(answer, "drive") == Faults{});
}

TEST_CASE("JSON lines of a batch keep to the schema, whatever the verdict") {
    const TemporaryFolder folder;
    write_file(folder / "bad.yaml", "house: [\n");
    write_file(folder / "open.yaml", "house: open\n");
    for (const std::string &house : example_houses())
        write_file(folder / std::filesystem::path(house).filename().string(), file_text(house));
    const ProgramRun run = run_program({"batch", folder.path().string(), "--format", "json"});
    std::istringstream lines(run.output);
    std::size_t rows = 0;
    for (std::string line; std::getline(lines, line); ++rows)
        CHECK(schema().faults(json::parse(line), "batch") == Faults{});
    CHECK(rows == example_houses().size() + 2);
}

TEST_CASE("JSON of explained words keeps to the schema") {
    for (const std::vector<std::string> &words :
         std::vector<std::vector<std::string>>{{"index", "circuit"}, {"headroom"}}) {
        std::vector<std::string> arguments{"explain"};
        arguments.insert(arguments.end(), words.begin(), words.end());
        arguments.insert(arguments.end(), {"--format", "json"});
        const json answer = json::parse(run_program(arguments).output);
        CHECK_FALSE(answer.at("terms").empty());
        CHECK(schema().faults(answer, "explain") == Faults{});
    }
}

TEST_CASE("An answer with a strange key, word, version or type, or without a key, is refused") {
    const std::string house = std::string(SOURCE_DIR) + "/networks/examples/direct-16mm.yaml";
    const json good = json::parse(run_program({"drive", house, "--format", "json"}).output);
    REQUIRE(schema().faults(good, "drive") == Faults{});
    json bad = good;
    bad["emitters"][0]["colour"] = "red";
    CHECK(schema().faults(bad, "drive") == Faults{"/emitters/0: unknown key `colour`"});
    bad = good;
    bad["states"][1].erase("judged_by");
    CHECK(schema().faults(bad, "drive") == Faults{"/states/1: lacks `judged_by`"});
    bad = good;
    bad["headroom_pa"] = "34 kPa";
    CHECK(schema().faults(bad, "drive") == Faults{"/headroom_pa: \"34 kPa\" is no \"number\""});
    bad = good;
    bad["verdict"] = "perhaps";
    CHECK(schema().faults(bad, "drive").size() == 1);
    bad = good;
    bad["version"] = 2;
    CHECK(schema().faults(bad, "drive") == Faults{"/version: is 2, not 1"});
    CHECK_FALSE(schema().faults(good, "flows").empty());
}

TEST_CASE("The schema describes every key, and states the unit that the key's name says") {
    each_property(schema().root().at("$defs"), "",
                  [](const std::string &key, const json &rule, const std::string &place) {
                      INFO(place);
                      CHECK((rule.contains("const") || rule.contains("description")));
                      if (is_number(rule))
                          CHECK(rule.value("unit", "") == unit_of_key(key));
                      else
                          CHECK_FALSE(rule.contains("unit"));
                  });
}
