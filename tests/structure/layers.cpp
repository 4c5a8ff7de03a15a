#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

std::string read(const fs::path &path) {
    std::ifstream stream(path);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

std::vector<fs::path> sources(const std::string &folder) {
    std::vector<fs::path> out;
    for (const auto &entry : fs::recursive_directory_iterator(fs::path(SOURCE_DIR) / folder))
        if (entry.path().extension() == ".cpp" || entry.path().extension() == ".hpp")
            out.push_back(entry.path());
    return out;
}

std::string place(const fs::path &path) {
    return fs::relative(path, SOURCE_DIR).string();
}

// Faults of one folder: includes of folders it must not know.
std::vector<std::string> reaches_up(const std::string &folder,
                                    const std::vector<std::string> &forbidden) {
    std::vector<std::string> faults;
    const std::regex include(R"re(#include "([a-z_]+)/[^"]*")re");
    for (const fs::path &path : sources(folder)) {
        const std::string text = read(path);
        for (std::sregex_iterator it(text.begin(), text.end(), include), end; it != end; ++it)
            for (const std::string &upper : forbidden)
                if ((*it)[1] == upper)
                    faults.push_back(place(path) + " includes " + (*it)[0].str());
    }
    return faults;
}

} // namespace

TEST_CASE("includes run one way: solver on networks on models") {
    CHECK(reaches_up("models", {"networks", "solver", "tests", "benchmarks"}).empty());
    CHECK(reaches_up("networks", {"solver", "tests", "benchmarks"}).empty());
    CHECK(reaches_up("solver", {"tests", "benchmarks"}).empty());
}

TEST_CASE("questions know no outputs and the engine knows no questions") {
    const std::regex output(R"re(#include "solver/(report|program)/)re");
    const std::regex question(R"re(#include "solver/(questions|report|program)/)re");
    for (const fs::path &path : sources("solver/questions"))
        CHECK_FALSE(std::regex_search(read(path), output));
    for (const std::string folder : {"solver/flow", "solver/heat"})
        for (const fs::path &path : sources(folder))
            CHECK_FALSE(std::regex_search(read(path), question));
}

TEST_CASE("the contributors' guide has a line for every source file") {
    const std::string guide = read(fs::path(SOURCE_DIR) / "DEVELOPERS.md");
    for (const std::string folder : {"models", "networks", "solver", "benchmarks"})
        for (const fs::path &path : sources(folder)) {
            // The guide lists `name.*` for a pair of header and source.
            const std::string name = path.filename().string();
            const std::string pair = path.stem().string() + ".*";
            INFO(place(path));
            CHECK((guide.find("  " + name + " ") != std::string::npos ||
                   guide.find("  " + pair + " ") != std::string::npos));
        }
}

TEST_CASE("every reference key used in a comment stands in the bibliography") {
    const std::string bibliography = read(fs::path(SOURCE_DIR) / "models/REFERENCES.md");
    const std::regex key(R"(\[([A-Z][A-Za-z0-9-]*[0-9][A-Za-z0-9-]*)(, [^\]]*)?\])");
    for (const std::string folder : {"models", "networks", "solver"})
        for (const fs::path &path : sources(folder)) {
            std::istringstream lines(read(path));
            for (std::string line; std::getline(lines, line);) {
                const std::size_t comment = line.find("//");
                if (comment == std::string::npos)
                    continue;
                const std::string text = line.substr(comment);
                for (std::sregex_iterator it(text.begin(), text.end(), key), end; it != end; ++it) {
                    INFO(place(path) << ": " << (*it)[0].str());
                    CHECK(bibliography.find("| " + (*it)[1].str() + " |") != std::string::npos);
                }
            }
        }
}
