// A folder of houses: rows in order, one a file, whatever stands in it.
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

using namespace headroom::tests;
using Catch::Contains;
using nlohmann::json;

namespace {

std::vector<std::string> lines(const std::string &text) {
    std::vector<std::string> out;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);)
        out.push_back(line);
    return out;
}

// Nine houses, the fifth with a fault.
void fill(const TemporaryFolder &folder) {
    std::filesystem::create_directory(folder / "more");
    const SmallHouse house;
    for (int i = 1; i <= 8; ++i)
        write_file(folder / ("house " + std::to_string(i) + ".yaml"), house.text());
    write_file(folder / "house 5.yaml", "house: [unfinished\n");
    write_file(folder / "more/house.yml", house.text());
    write_file(folder / "notes.txt", "no house");
}

std::string of_folder(const TemporaryFolder &folder) {
    return folder.path().string();
}

} // namespace

TEST_CASE("A batch has a row a house in the order of the files, and a bad file spoils its own") {
    const TemporaryFolder folder;
    fill(folder);
    const ProgramRun run = run_program({"batch", of_folder(folder), "--format", "csv"});
    CHECK(run.exit_code == 2);
    CHECK(run.errors.empty());
    const std::vector<std::string> rows = lines(run.output);
    REQUIRE(rows.size() == 10);
    CHECK_THAT(rows[0], Catch::StartsWith("file,house,verdict,exit_code,headroom_pa,"));
    for (std::size_t i = 1; i <= 8; ++i)
        CHECK_THAT(rows[i], Catch::StartsWith("house " + std::to_string(i) + ".yaml,"));
    CHECK_THAT(rows[5], Contains(",not read,2,") && Contains("line 1"));
    CHECK_THAT(rows[9], Catch::StartsWith("more/house.yml,"));
}

TEST_CASE("A row of a batch says what drive says") {
    const TemporaryFolder folder;
    write_file(folder / "a.yaml", SmallHouse{}.text());
    const ProgramRun batch = run_program({"batch", of_folder(folder), "--format", "json"});
    const ProgramRun drive =
        run_program({"drive", folder / "a.yaml", "--solves", "0", "--format", "json"});
    CHECK(batch.exit_code == 0);
    const json row = json::parse(batch.output);
    const json answer = json::parse(drive.output);
    CHECK(row["exit_code"] == drive.exit_code);
    for (const char *key :
         {"house", "verdict", "headroom_pa", "headroom_low_pa", "flow_temperature_c"})
        CHECK(row[key] == answer[key]);
}

TEST_CASE("The parts of a batch make up the whole") {
    const TemporaryFolder folder;
    fill(folder);
    const auto part = [&](const std::string &shard) {
        return lines(
            run_program({"batch", of_folder(folder), "--format", "json", "--shard", shard}).output);
    };
    const std::vector<std::string> whole = part("1/1");
    REQUIRE(whole.size() == 9);
    std::vector<std::string> together(9);
    for (std::size_t i = 0; i < 4; ++i) {
        const std::vector<std::string> rows = part(std::to_string(i + 1) + "/4");
        for (std::size_t k = 0; k < rows.size(); ++k)
            together[i + 4 * k] = rows[k];
    }
    CHECK(together == whole);
    for (const std::string shard : {"0/4", "5/4", "x", "1/", "1/2/3", "-1/2"})
        CHECK(run_program({"batch", of_folder(folder), "--shard", shard}).exit_code == 2);
}

TEST_CASE("A batch that was stopped goes on where it was, to the same bytes") {
    const TemporaryFolder folder, out;
    fill(folder);
    for (const std::string format : {"csv", "json"}) {
        const std::string file = out / format;
        const std::vector<std::string> arguments{
            "batch", of_folder(folder), "--format", format, "-o", file};
        CHECK(run_program(arguments).exit_code == 2);
        const std::string whole = file_text(file);
        CHECK_FALSE(std::filesystem::exists(file + ".part"));
        for (const std::size_t length : {whole.size() / 3, whole.size() - 1, std::size_t{5}}) {
            write_file(file + ".part", whole.substr(0, length));
            CHECK(run_program(arguments).exit_code == 2);
            CHECK(file_text(file) == whole);
        }
        write_file(file + ".part", "rows of something else\nand more\n");
        const ProgramRun other = run_program(arguments);
        CHECK(other.exit_code == 2);
        CHECK_THAT(other.errors, Contains("error[other-rows]"));
        CHECK(file_text(file + ".part") == "rows of something else\nand more\n");
    }
}

// The rows that are kept are not judged again: a kept row is taken as it stands.
TEST_CASE("Rows that are there are not judged again") {
    const TemporaryFolder folder, out;
    write_file(folder / "a.yaml", SmallHouse{}.text());
    write_file(folder / "b.yaml", SmallHouse{}.text());
    const std::string file = out / "rows.json";
    write_file(file + ".part", "{\"file\":\"a.yaml\",\"kept\":true,\"exit_code\":3}\n");
    CHECK(run_program({"batch", of_folder(folder), "--format", "json", "-o", file}).exit_code == 3);
    const std::vector<std::string> rows = lines(file_text(file));
    REQUIRE(rows.size() == 2);
    CHECK_THAT(rows[0], Contains("\"kept\":true"));
    CHECK(json::parse(rows[1])["file"] == "b.yaml");
}

TEST_CASE("A batch of nothing, or into nowhere, says so") {
    const TemporaryFolder folder;
    CHECK_THAT(run_program({"batch", of_folder(folder)}).errors, Contains("error[no-file]"));
    CHECK_THAT(run_program({"batch", folder / "none"}).errors, Contains("error[no-folder]"));
    write_file(folder / "a.yaml", SmallHouse{}.text());
    const ProgramRun run =
        run_program({"batch", of_folder(folder), "-o", folder / "none/rows.csv"});
    CHECK(run.exit_code == 5);
    CHECK_THAT(run.errors, Contains("error[cannot-write]"));
}
