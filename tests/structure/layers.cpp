#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
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

// What the tree of the contributors' guide lists, as places from the top.
struct Listing {
    std::set<std::string> files;
    std::vector<std::string> faults; // lines that stand at no folder's depth, or twice
};

// The tree is indented by 4, then by 2 a folder. A line is a name and what it is for; `folder/`
// opens a folder, `name.*` stands for a pair of header and source.
Listing guide_listing() {
    const std::string guide = read(fs::path(SOURCE_DIR) / "DEVELOPERS.md");
    const std::size_t start = guide.find("## Where things are");
    std::istringstream lines(guide.substr(start, guide.find("\n## ", start) - start));
    Listing listing;
    std::vector<fs::path> folders; // open at each depth
    std::string line;
    std::getline(lines, line); // the heading
    const auto list = [&](const fs::path &file) {
        if (!listing.files.insert(file.string()).second)
            listing.faults.push_back("twice: " + file.string());
    };
    while (std::getline(lines, line)) {
        const std::size_t indent = line.find_first_not_of(' ');
        if (indent == std::string::npos)
            continue;
        const std::size_t depth = (indent - 4) / 2;
        if (indent < 4 || indent % 2 != 0 || depth > folders.size()) {
            listing.faults.push_back("no folder's depth: " + line);
            continue;
        }
        folders.resize(depth);
        const fs::path folder = folders.empty() ? fs::path() : folders.back();
        const std::string name = line.substr(indent, line.find(' ', indent) - indent);
        if (name.back() == '/') {
            folders.push_back(folder / name.substr(0, name.size() - 1));
            list(folders.back());
        } else if (name.ends_with(".*")) {
            const std::string stem = name.substr(0, name.size() - 2);
            list(folder / (stem + ".hpp"));
            list(folder / (stem + ".cpp"));
        } else {
            list(folder / name);
        }
    }
    return listing;
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

TEST_CASE("the contributors' guide has a line for every source file, in its folder, and no other") {
    const Listing listing = guide_listing();
    CHECK(listing.faults.empty());

    std::set<std::string> present;
    for (const std::string folder : {"models", "networks", "solver", "benchmarks"})
        for (const fs::path &path : sources(folder))
            present.insert(place(path));
    REQUIRE_FALSE(present.empty());
    std::vector<std::string> without_line;
    std::set_difference(present.begin(), present.end(), listing.files.begin(), listing.files.end(),
                        std::back_inserter(without_line));
    CHECK(without_line.empty());

    std::vector<std::string> gone;
    for (const std::string &file : listing.files)
        if (!fs::exists(fs::path(SOURCE_DIR) / file))
            gone.push_back(file);
    CHECK(gone.empty());
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
