// How the program ends, and what it says when it does not answer.
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>

#include <fcntl.h>
#include <fstream>
#include <sstream>
#include <string>
#include <unistd.h>
#include <vector>

using namespace headroom::tests;
using Catch::Contains;
using Catch::StartsWith;

namespace {

const std::vector<std::string> questions{"drive", "balance", "flows"};

/// One pipe that takes in 1 l/s at one end and gives `out` at the other, with no other end.
std::string one_pipe(const std::string &out) {
    return "house: One pipe\n"
           "water: plain\n"
           "pipework:\n"
           "  - {run: pipe, from: A, to: B, one_way: true, pipe: copper 28, length: 10 m}\n"
           "ends:\n"
           "  - {at: A, fixed_flow: {in: 1 l/s}}\n"
           "  - {at: B, fixed_flow: {out: " +
           out + "}}\n";
}

struct Descriptor {
    int number;
    ~Descriptor() { ::close(number); }
};

// Refused: nothing on standard output, a reason on standard error.
void check_refused(const ProgramRun &run) {
    CHECK(run.exit_code == 2);
    CHECK(run.output.empty());
    CHECK_FALSE(run.errors.empty());
}

} // namespace

TEST_CASE("A house whose loops are all driven ends with 0, its flows too") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, SmallHouse{}.text());
    const ProgramRun drive = run_program({"drive", file});
    CHECK(drive.exit_code == 0);
    CHECK_THAT(drive.output, Contains("yes: one circulator"));
    CHECK(drive.errors.empty());
    CHECK(run_program({"flows", file}).exit_code == 0);
}

TEST_CASE("A house whose loops are not driven ends with 1, but its flows with 0") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    SmallHouse house;
    house.shutoff_head = "0.5 m";
    write_file(file, house.text());
    const ProgramRun drive = run_program({"drive", file});
    CHECK(drive.exit_code == 1);
    CHECK_FALSE(drive.output.empty());
    CHECK(drive.errors.empty());
    const ProgramRun flows = run_program({"flows", file});
    CHECK(flows.exit_code == 0);
    CHECK(flows.errors.empty());
}

TEST_CASE("A drill ends with 0 where nothing is missing and with 1 where protection is") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    std::string text = SmallHouse{}.text();
    write_file(file, text);
    const ProgramRun open = run_program({"drill", file});
    CHECK(open.exit_code == 1); // 60 degC, assumed, would reach the floor
    CHECK_THAT(open.output, Contains("no: protection is missing") && Contains("error: "));
    text.replace(text.find("drop: 5 K"), 9, "drop: 5 K\n  highest_temperature: 44 degC");
    write_file(file, text);
    const ProgramRun closed = run_program({"drill", file});
    CHECK(closed.exit_code == 0);
    CHECK_THAT(closed.output, Contains("yes: in none of"));
    CHECK_THAT(closed.output, !Contains("error: "));
    write_file(file, one_pipe("1 l/s"));
    check_refused(run_program({"drill", file}));
}

// Water drawn by a fixed flow: with the valve on its way shut there is no solution.
TEST_CASE("A drill ends with 3 where a fault cannot be solved, but with 1 where one is known bad") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    std::string text = SmallHouse{}.text();
    text.replace(text.find("drop: 5 K"), 9, "drop: 5 K\n  highest_temperature: 44 degC");
    text.replace(text.find("manifolds:"), 0,
                 "  - {run: draw, from: manifold.flow, to: outlet, one_way: true, pipe: copper 22, "
                 "length: 6 m, parts: [{part: zone_valve, kv: 6 m3/h}]}\n");
    text += "ends:\n"
            "  - {at: outlet, fixed_flow: {out: 1 l/min}}\n"
            "  - {at: manifold.return, fixed_flow: {in: 1 l/min}}\n";
    write_file(file, text);
    const ProgramRun unknown = run_program({"drill", file});
    CHECK(unknown.exit_code == 3);
    CHECK_THAT(unknown.output, Contains("not known: 1 of 4 single faults could not be solved") &&
                                   Contains("zone valve of draw shut: mass balance") &&
                                   !Contains("Missing protection"));
    CHECK_THAT(run_program({"drill", file, "--format", "json"}).output,
               Contains("\"protected\": false"));
    text.replace(text.find("44 degC"), 7, "60 degC");
    write_file(file, text);
    const ProgramRun missing = run_program({"drill", file});
    CHECK(missing.exit_code == 1);
    CHECK_THAT(missing.output,
               Contains("no: protection is missing in 2 of 4 single faults; 1 of 4") &&
                   Contains("Missing protection"));
}

TEST_CASE("A faulty file ends with 2, all its faults are named and nothing is answered") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    std::string text = SmallHouse{}.text();
    text.replace(text.find("loss: 1200 W"), 12, "loss: 1200");
    text.replace(text.find("length: 80 m"), 12, "lenght: 80 m");
    write_file(file, text);
    for (const std::string &question : questions) {
        INFO(question);
        const ProgramRun run = run_program({question, file});
        check_refused(run);
        CHECK_THAT(run.errors, Contains("error[missing-unit]"));
        CHECK_THAT(run.errors, Contains("did you mean `length`?"));
        CHECK_THAT(run.errors, Contains("--> " + file + ":"));
    }
}

TEST_CASE("A file that cannot be read ends with 2, whether missing, a folder, empty or not text") {
    const TemporaryFolder folder;
    const std::string missing = folder / "missing.yaml";
    const std::string empty = folder / "empty.yaml";
    const std::string bytes = folder / "bytes.yaml";
    write_file(empty, "");
    write_file(bytes, std::string("house: \xff\xfe\0\x01", 11));
    for (const std::string &question : questions)
        for (const std::string &file : {missing, folder.path().string(), empty, bytes}) {
            INFO(question << " " << file);
            const ProgramRun run = run_program({question, file});
            check_refused(run);
            CHECK_THAT(run.errors, StartsWith("error["));
            CHECK_THAT(run.errors, Contains(file));
        }
}

TEST_CASE("Every faulty file kept for the reader's tests ends with 2 and answers nothing") {
    const std::filesystem::path faulty = std::string(SOURCE_DIR) + "/tests/networks/faulty";
    if (!std::filesystem::is_directory(faulty))
        return;
    for (const auto &entry : std::filesystem::directory_iterator(faulty)) {
        if (entry.path().extension() != ".yaml")
            continue;
        INFO(entry.path());
        check_refused(run_program({"flows", entry.path().string()}));
    }
}

TEST_CASE("Wrong arguments end with 2 and answer nothing") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, SmallHouse{}.text());
    const std::vector<std::vector<std::string>> wrong{
        {},
        {"boil"},
        {"flows"},
        {"drive"},
        {"drive", file, file},
        {"drive", file, "--frobnicate"},
        {"flows", file, "--format", "xml"},
        {"flows", file, "--format"},
        {"flows", file, "-o"},
        {"drive", "flows", file},
        {file},
    };
    for (const std::vector<std::string> &arguments : wrong) {
        std::string words;
        for (const std::string &word : arguments)
            words += " " + word;
        INFO("headroom" << words);
        check_refused(run_program(arguments));
    }
}

TEST_CASE("A network without a source has no verdict, which ends with 2 and points to flows") {
    const TemporaryFolder folder;
    const std::string file = folder / "pipe.yaml";
    write_file(file, one_pipe("1 l/s"));
    const ProgramRun drive = run_program({"drive", file});
    check_refused(drive);
    CHECK_THAT(drive.errors, Contains("headroom flows"));
    CHECK(run_program({"flows", file}).exit_code == 0);
}

TEST_CASE(
    "Hot water of a house without a described cylinder ends with 2 and names all keys it lacks") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, SmallHouse{}.text() + "hot_water: {coil: {kv: 3 m3/h}, flow: 18 l/min, "
                                           "flow_temperature: 55 degC, after_run: coil}\n");
    const ProgramRun run = run_program({"hotwater", file});
    check_refused(run);
    for (const char *key :
         {"`store`", "`cold`", "`store_to`", "`ua`", "`performance`", "`outdoor`"})
        CHECK_THAT(run.errors, Contains(key));
    CHECK(run_program({"fill", file}).exit_code == 0);
    CHECK(run_program({"commission", file}).exit_code == 0);
}

TEST_CASE("A network without a source has neither hot water, a fill nor a commissioning") {
    const TemporaryFolder folder;
    const std::string file = folder / "pipe.yaml";
    write_file(file, one_pipe("1 l/s"));
    for (const std::string question : {"hotwater", "fill", "commission"}) {
        INFO(question);
        check_refused(run_program({question, file}));
    }
}

TEST_CASE("Fixed flows that contradict each other end with 3 and both sides are named") {
    const TemporaryFolder folder;
    const std::string file = folder / "pipe.yaml";
    write_file(file, one_pipe("0.5 l/s"));
    for (const std::string format : {"text", "json", "csv"}) {
        const ProgramRun run = run_program({"flows", file, "--format", format});
        CHECK(run.exit_code == 3);
        CHECK(run.output.empty());
        CHECK_THAT(run.errors, Contains("contradictory"));
    }
}

TEST_CASE("Help and version end with 0 and write to standard output") {
    for (const std::vector<std::string> &arguments : std::vector<std::vector<std::string>>{
             {"--help"}, {"-h"}, {"drive", "--help"}, {"flows", "--help"}, {"--version"}}) {
        INFO(arguments.front());
        const ProgramRun run = run_program(arguments);
        CHECK(run.exit_code == 0);
        CHECK_FALSE(run.output.empty());
        CHECK(run.errors.empty());
    }
    CHECK_THAT(run_program({"--version"}).output, StartsWith("headroom "));
    const std::string help = run_program({"--help"}).output;
    CHECK_THAT(help, Contains("Exit codes"));
    for (const std::string &question : questions)
        CHECK_THAT(help, Contains(question));
}

TEST_CASE("Output that finds no room ends with 5") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, SmallHouse{}.text());
    const Descriptor full{::open("/dev/full", O_WRONLY | O_CLOEXEC)};
    if (full.number < 0)
        return; // not every system has it
    for (const std::string &question : questions)
        for (const std::string format : {"text", "json", "csv"}) {
            INFO(question << " as " << format);
            const ProgramRun run = run_program({question, file, "--format", format}, full.number);
            CHECK(run.exit_code == 5);
            CHECK_THAT(run.errors, Contains("error[cannot-write]"));
        }
}

TEST_CASE("Output into a pipe that nobody reads ends with 5, not with a signal") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, SmallHouse{}.text());
    for (const std::string &question : questions) {
        int ends[2];
        REQUIRE(::pipe2(ends, O_CLOEXEC) == 0);
        ::close(ends[0]);
        const Descriptor write_end{ends[1]};
        const ProgramRun run = run_program({question, file}, write_end.number);
        CHECK(run.exit_code == 5);
        CHECK_THAT(run.errors, Contains("error[cannot-write]"));
    }
}

TEST_CASE(
    "A reading of a loop that the program did not lay is bad input, of one it did is answered") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    std::ifstream stream(std::string(SOURCE_DIR) + "/networks/examples/laid-by-program.yaml");
    std::ostringstream text;
    text << stream.rdbuf();
    const auto with_reading = [&](const std::string &loop) {
        write_file(file, text.str() + "readings:\n  - {meter: " + loop +
                             ", flow: 1 l/min, accuracy: 0.1 l/min}\n");
        return run_program({"balance", file});
    };
    CHECK(with_reading("lounge edge 1").exit_code == 0);
    const ProgramRun none = with_reading("lounge edge 99");
    check_refused(none);
    CHECK_THAT(none.errors, Contains("lounge edge 99"));
}

TEST_CASE("Pumps, bills and comparisons end with 0 whatever the verdict") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    SmallHouse house;
    house.shutoff_head = "0.5 m";
    write_file(file, house.text());
    for (const std::vector<std::string> &arguments : {std::vector<std::string>{"pump", file},
                                                      {"cost", file},
                                                      {"compare", file, "--with", file}}) {
        INFO(arguments.front());
        const ProgramRun run = run_program(arguments);
        CHECK(run.exit_code == 0);
        CHECK_FALSE(run.output.empty());
        CHECK(run.errors.empty());
    }
}

TEST_CASE("A comparison of one house with nothing, or with a faulty file, ends with 2") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, SmallHouse{}.text());
    const ProgramRun alone = run_program({"compare", file});
    check_refused(alone);
    CHECK_THAT(alone.errors, Contains("--with"));
    check_refused(run_program({"compare", file, "--with", folder / "nowhere.yaml"}));
    check_refused(run_program({"compare", file, "--with", file, "-o", file}));
    check_refused(run_program(
        {"pump", std::string(SOURCE_DIR) + "/tests/published/problems/crane-7-1.yaml"}));
}
