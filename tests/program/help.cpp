// What --help shows runs as shown.
#include "tests/support/commands.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <fmt/format.h>

using namespace headroom::tests;
using Catch::Contains;
using Catch::StartsWith;

TEST_CASE("The example in each command's help answers, from a folder that holds the examples") {
    const std::vector<std::string> commands = program_commands();
    CHECK(commands.size() >= 16);
    for (const std::string &command : commands) {
        const std::string example = help_example(command);
        INFO(example);
        REQUIRE_THAT(example, StartsWith("headroom " + command));
        const TemporaryFolder folder;
        std::filesystem::create_directory_symlink(std::string(SOURCE_DIR) + "/networks",
                                                  folder / "networks");
        const std::string line =
            fmt::format("cd '{}' && headroom() {{ '{}' \"$@\"; }} && {} "
                        ">'{}' 2>'{}' </dev/null",
                        folder.path().string(), PROGRAM, example, (folder / "out").string(),
                        (folder / "errors").string());
        const int status = std::system(line.c_str());
        REQUIRE(WIFEXITED(status));
        CHECK((WEXITSTATUS(status) == 0 || WEXITSTATUS(status) == 1));
        CHECK(file_text(folder / "errors") == "");
        CHECK((!file_text(folder / "out").empty() || folder.names().size() > 3));
    }
}

TEST_CASE("Each command stands in README's table") {
    const std::string readme = file_text(std::string(SOURCE_DIR) + "/README.md");
    for (const std::string &command : program_commands())
        CHECK_THAT(readme, Contains("\n| `headroom " + command + " ") ||
                               Contains("\n| `headroom " + command + "`"));
}
