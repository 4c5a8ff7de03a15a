// Every example house and every printed problem goes through the program.
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace headroom::tests;

TEST_CASE("Every example house gets a verdict, its settings and its flows without a complaint") {
    CHECK_FALSE(example_houses().empty());
    for (const std::string &file : example_houses()) {
        INFO(file);
        const ProgramRun drive = run_program({"drive", file});
        CHECK((drive.exit_code == 0 || drive.exit_code == 1));
        CHECK_FALSE(drive.output.empty());
        CHECK(drive.errors == "");
        const ProgramRun balance = run_program({"balance", file});
        CHECK(balance.exit_code == 0);
        CHECK_FALSE(balance.output.empty());
        CHECK(balance.errors == "");
        CHECK(run_program({"balance", file, "--single-circulator"}).exit_code == 0);
        const ProgramRun flows = run_program({"flows", file});
        CHECK(flows.exit_code == 0);
        CHECK_FALSE(flows.output.empty());
        CHECK(flows.errors == "");
    }
}

TEST_CASE("Every printed problem is solved without a complaint") {
    for (const auto &entry : std::filesystem::directory_iterator(std::string(SOURCE_DIR) +
                                                                 "/tests/published/problems")) {
        INFO(entry.path());
        const ProgramRun flows = run_program({"flows", entry.path().string()});
        CHECK(flows.exit_code == 0);
        CHECK(flows.errors == "");
    }
}
