// `--units`: heads, losses and flows of text in metres and m3/h; data stay SI.
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <regex>
#include <sstream>

using namespace headroom::tests;
using nlohmann::json;

namespace {

// A metre of head: standard gravity, 9.80665 m/s2 (CGPM 1901), times 1000 kg/m3.
constexpr double pa_per_metre = 9806.65;

std::string example(const std::string &name) {
    return std::string(SOURCE_DIR) + "/networks/examples/" + name + ".yaml";
}

std::string text_of(const std::string &question, const std::string &house,
                    const std::string &units = "") {
    std::vector<std::string> arguments{question, house};
    if (!units.empty())
        arguments.insert(arguments.end(), {"--units", units});
    if (question == "compare")
        arguments.insert(arguments.end(), {"--with", example("direct-16mm")});
    return run_program(arguments).output;
}

json json_of(const std::string &question, const std::string &house) {
    return json::parse(run_program({question, house, "--format", "json"}).output);
}

/// Cells of the row that begins with a name, in the table whose head begins with a word.
std::vector<std::string> cells(const std::string &text, const std::string &head,
                               const std::string &name) {
    std::istringstream lines(text);
    bool inside = false;
    std::vector<std::string> out;
    for (std::string line; std::getline(lines, line);) {
        inside = line.empty() ? false : inside || line.starts_with("  " + head + "  ");
        if (!inside || !line.starts_with("  " + name + "  "))
            continue;
        static const std::regex gap(" {2,}");
        for (std::sregex_token_iterator it(line.begin() + 2, line.end(), gap, -1), end; it != end;
             ++it)
            out.push_back(it->str());
        return out;
    }
    return out;
}

} // namespace

TEST_CASE("In metres and m3/h no text of heads and flows names kPa or l/min, by default all do") {
    for (const std::string question : {"drive", "balance", "pump", "flows", "bores", "convert",
                                       "drill", "compare", "hotwater", "commission"})
        for (const std::string name : {"cylinder", "header-protected", "balance-readings"}) {
            INFO(question << " " << name);
            const std::string text = text_of(question, example(name), "head,m3/h");
            if (text.empty())
                continue; // not a question for this house
            std::istringstream lines(text);
            for (std::string line; std::getline(lines, line);) {
                INFO(line);
                CHECK(line.find("kPa") == std::string::npos);
                CHECK(line.find("l/min") == std::string::npos);
            }
            CHECK_THAT(text_of(question, example(name)),
                       Catch::Contains("kPa") || Catch::Contains("l/min"));
        }
}

TEST_CASE("One unit is chosen without the other, and the default can be named") {
    const std::string house = example("small-bore-long");
    for (const std::string question : {"drive", "bores"}) {
        const std::string usual = text_of(question, house);
        CHECK(text_of(question, house, "kPa,l/min") == usual);
        CHECK(text_of(question, house, "l/min") == usual);
        const std::string head = text_of(question, house, "head");
        CHECK_THAT(head, Catch::Contains("m head") && Catch::Contains("l/min") &&
                             !Catch::Contains("kPa"));
        const std::string flow = text_of(question, house, "m3/h");
        CHECK_THAT(flow,
                   Catch::Contains("kPa") && Catch::Contains("m3/h") && !Catch::Contains("l/min"));
    }
}

TEST_CASE("Figures in metres and m3/h are those of the JSON, which stays as it was") {
    const std::string house = example("two-manifolds-radiators");
    const json drive = json_of("drive", house);
    const std::string text = text_of("drive", house, "head,m3/h");
    const std::smatch found = [&] {
        std::smatch match;
        static const std::regex needed("head needed +([0-9.]+) m head +at ([0-9.]+) m3/h");
        std::regex_search(text, match, needed);
        return match;
    }();
    REQUIRE(found.size() == 3);
    // Two decimals of a metre, three of m3/h.
    CHECK(std::stod(found[1]) ==
          Approx(drive.at("head_needed_pa").get<double>() / pa_per_metre).margin(0.0051));
    CHECK(std::stod(found[2]) ==
          Approx(drive.at("source_flow_m3_s").get<double>() * 3600.0).margin(0.00051));
    for (const json &emitter : drive.at("emitters")) {
        const auto row = cells(text, "emitter", emitter.at("name"));
        INFO(emitter.at("name"));
        REQUIRE(row.size() == 12);
        CHECK(std::stod(row[3]) ==
              Approx(emitter.at("design_flow_m3_s").get<double>() * 3600.0).margin(0.000051));
        CHECK(std::stod(row[7]) ==
              Approx(emitter.at("loss_pa").get<double>() / pa_per_metre).margin(0.00051));
        CHECK(std::stod(row[8]) ==
              Approx(emitter.at("surplus_pa").get<double>() / pa_per_metre).margin(0.00051));
    }
    for (const std::string question : {"drive", "pump"})
        CHECK(run_program({question, house, "--format", "json", "--units", "head,m3/h"}).output ==
              run_program({question, house, "--format", "json"}).output);
}

TEST_CASE("Pumps, valves and flows follow the units, figure by figure") {
    const std::string house = example("header-three-pumps");
    const std::string flows = text_of("flows", house, "head,m3/h");
    const json flows_json = json_of("flows", house);
    for (const json &pump : flows_json.at("pumps")) {
        const auto row = cells(flows, "pump", pump.at("where"));
        INFO(pump.at("where"));
        REQUIRE(row.size() == 5);
        CHECK(std::stod(row[2]) ==
              Approx(pump.at("flow_m3_s").get<double>() * 3600.0).margin(0.000051));
        CHECK(std::stod(row[3]) ==
              Approx(pump.at("rise_pa").get<double>() / pa_per_metre).margin(0.00051));
    }
    const std::string pumps = text_of("pump", house, "head,m3/h");
    const json pump_json = json_of("pump", house);
    for (const json &candidate : pump_json.at("candidates")) {
        const auto row = cells(pumps, "circulator", candidate.at("model"));
        INFO(candidate.at("model"));
        REQUIRE(row.size() >= 3);
        CHECK(std::stod(row[1]) ==
              Approx(candidate.at("gives_pa").get<double>() / pa_per_metre).margin(0.0051));
        CHECK(std::stod(row[2]) ==
              Approx(candidate.at("excess_pa").get<double>() / pa_per_metre).margin(0.0051));
    }
    const std::string balance = text_of("balance", house, "head,m3/h");
    const json balance_json = json_of("balance", house);
    for (const json &valve : balance_json.at("valves")) {
        const auto row = cells(balance, "valve", valve.at("name"));
        INFO(valve.at("name"));
        REQUIRE(row.size() >= 4);
        CHECK(std::stod(row[1]) ==
              Approx(valve.at("design_flow_m3_s").get<double>() * 3600.0).margin(0.000051));
        CHECK(std::stod(row[3]) ==
              Approx(valve.at("surplus_pa").get<double>() / pa_per_metre).margin(0.00051));
    }
}

TEST_CASE("A unit that text does not know is refused with those it knows") {
    const ProgramRun run = run_program({"drive", example("direct-16mm"), "--units", "psi"});
    CHECK(run.exit_code == 2);
    CHECK_THAT(run.errors, Catch::Contains("`psi` is none of kPa, head, l/min, m3/h"));
    CHECK(run_program({"sheet", example("direct-16mm"), "--units", "head"}).exit_code == 2);
}
