// What `-o` leaves behind: a whole file of the given name, or nothing.
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <string>
#include <vector>

using namespace headroom::tests;
using Catch::Contains;

namespace {

using Names = std::vector<std::string>;

struct Case {
    TemporaryFolder inputs;
    TemporaryFolder outputs;
    std::string file = inputs / "house.yaml";
    Case() { write_file(file, SmallHouse{}.text()); }
};

} // namespace

TEST_CASE("A file asked for with -o holds exactly what would go to standard output") {
    for (const std::string question : {"drive", "flows"})
        for (const std::string format : {"text", "json", "csv"}) {
            INFO(question << " as " << format);
            const Case given;
            const std::string file = given.outputs / "answer";
            const ProgramRun shown = run_program({question, given.file, "--format", format});
            const ProgramRun kept =
                run_program({question, given.file, "--format", format, "-o", file});
            CHECK(kept.exit_code == 0);
            CHECK(kept.output.empty());
            CHECK(kept.errors.empty());
            CHECK_FALSE(shown.output.empty());
            CHECK(file_text(file) == shown.output);
            CHECK(given.outputs.names() == Names{"answer"});
            CHECK(given.inputs.names() == Names{"house.yaml"});
        }
}

TEST_CASE("A file that is already there is replaced as a whole") {
    const Case given;
    const std::string file = given.outputs / "answer";
    write_file(file, std::string(1000000, 'x'));
    CHECK(run_program({"flows", given.file, "-o", file}).exit_code == 0);
    CHECK(file_text(file) == run_program({"flows", given.file}).output);
    CHECK(given.outputs.names() == Names{"answer"});
}

TEST_CASE("A file name may hold spaces, quotes and letters beyond ASCII") {
    const Case given;
    for (const std::string name : {"a b", "it's \"here\"", "Haus Zoë ☀.json", "-o"}) {
        INFO(name);
        const std::string house = given.inputs / (name + ".yaml");
        write_file(house, SmallHouse{}.text());
        const TemporaryFolder outputs;
        CHECK(run_program({"flows", house, "-o", outputs / name}).exit_code == 0);
        CHECK(outputs.names() == Names{name});
    }
}

TEST_CASE("A file that cannot be written ends with 5, is named, and leaves nothing behind") {
    const Case given;
    const std::string nowhere = given.outputs / "no such folder/answer";
    const std::string folder = given.outputs / "folder";
    std::filesystem::create_directory(folder);
    write_file(folder + "/kept", "kept");
    for (const std::string &file : {nowhere, folder}) {
        INFO(file);
        const ProgramRun run = run_program({"drive", given.file, "-o", file});
        CHECK(run.exit_code == 5);
        CHECK(run.output.empty());
        CHECK_THAT(run.errors, Contains("error[cannot-write]") && Contains(file));
    }
    CHECK(given.outputs.names() == Names{"folder"});
    CHECK(file_text(folder + "/kept") == "kept");
}

TEST_CASE("A file that was there stays as it was when there is no answer to put in it") {
    const Case given;
    const std::string file = given.outputs / "answer";
    write_file(file, "kept");
    write_file(given.file, "house: Nothing\n");
    CHECK(run_program({"drive", given.file, "-o", file}).exit_code == 2);
    CHECK(file_text(file) == "kept");
    CHECK(given.outputs.names() == Names{"answer"});
}

TEST_CASE("Two runs give the same bytes") {
    const Case given;
    for (const std::string question : {"drive", "flows"})
        for (const std::string format : {"text", "json", "csv"}) {
            INFO(question << " as " << format);
            const std::vector<std::string> arguments{question, given.file, "--format", format};
            CHECK(run_program(arguments).output == run_program(arguments).output);
        }
}
