#include <catch2/catch.hpp>

#include <array>
#include <cstdio>
#include <fstream>
#include <sstream>
#include <string>

namespace {

std::string read(const std::string &path) {
    std::ifstream stream(path);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

std::string output_of(const std::string &command) {
    std::string out;
    std::FILE *pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::array<char, 4096> buffer{};
    while (const std::size_t n = std::fread(buffer.data(), 1, buffer.size(), pipe))
        out.append(buffer.data(), n);
    pclose(pipe);
    return out;
}

} // namespace

TEST_CASE("what README shows is what the program prints") {
    const std::string readme = read(std::string(SOURCE_DIR) + "/README.md");
    const std::string mark = "<!-- begins the output of: headroom ";
    int blocks = 0;
    for (std::size_t at = readme.find(mark); at != std::string::npos;
         at = readme.find(mark, at + 1)) {
        const std::size_t start = at + mark.size();
        const std::string arguments = readme.substr(start, readme.find(" -->", start) - start);
        const std::size_t open = readme.find("```text\n", start) + 8;
        const std::string shown = readme.substr(open, readme.find("```", open) - open);
        const std::string printed = output_of("cd '" + std::string(SOURCE_DIR) + "' && '" +
                                              std::string(PROGRAM) + "' " + arguments);
        CHECK(printed.substr(0, shown.size()) == shown);
        ++blocks;
    }
    CHECK(blocks >= 2);
}

TEST_CASE("every example house is listed in README") {
    const std::string readme = read(std::string(SOURCE_DIR) + "/README.md");
    const std::string names = output_of("ls '" + std::string(SOURCE_DIR) + "/networks/examples'");
    std::istringstream lines(names);
    for (std::string name; std::getline(lines, name);) {
        INFO(name);
        CHECK(readme.find("`" + name + "`") != std::string::npos);
    }
}
