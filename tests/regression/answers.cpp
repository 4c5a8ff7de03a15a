// Each question of each example, and the flows of each printed problem, against what they were when
// last looked at: a figure that changes is seen, whether that was meant or not. Nothing here says
// that it was right; tests/published and tests/identities do. Where a change is meant, write the
// files anew and read their difference: HEADROOM_WRITE_REGRESSION=1 build/tests/test_regression
#include "tests/support/fingerprint.hpp"
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

using namespace headroom::tests;

namespace {

using Words = std::vector<std::string>;

Words printed_problems() {
    Words files;
    for (const auto &entry :
         std::filesystem::directory_iterator(std::string(SOURCE_DIR) + "/tests/published/problems"))
        files.push_back(entry.path().string());
    std::sort(files.begin(), files.end());
    return files;
}

// The places that differ from the file `name`, of `question` with these words asked of the files.
Words differing(const std::string &name, const std::string &question, const Words &more = {},
                const Words &files = example_houses()) {
    Fingerprints prints;
    for (const std::string &file : files) {
        Words words{question, file, "--format", "json"};
        words.insert(words.end(), more.begin(), more.end());
        const ProgramRun run = run_program(words);
        const std::string house = std::filesystem::path(file).stem().string();
        prints[house].add(static_cast<double>(run.exit_code));
        if (!run.output.empty())
            add_json(prints, house, run.output);
    }
    return not_as_on_file(prints, name);
}

} // namespace

TEST_CASE("Verdicts, and the least changes, are those on file") {
    CHECK(differing("drive", "drive", {"--solves", "30"}) == Words{});
}

TEST_CASE("How sure a verdict is, is as on file") {
    const std::string folder = std::string(SOURCE_DIR) + "/networks/examples/";
    CHECK(differing("drive-tolerance", "drive", {"--solves", "0", "--tolerance", "--samples", "50"},
                    {folder + "direct-16mm.yaml", folder + "microbore-radiators.yaml",
                     folder + "small-bore-short.yaml"}) == Words{});
}

TEST_CASE("The same rooms in each bore are as on file") {
    CHECK(differing("bores", "bores", {"--solves", "4"}) == Words{});
}

TEST_CASE("Conversions are those on file") {
    CHECK(differing("convert", "convert", {"--solves", "30"}) == Words{});
}

TEST_CASE("Settings are those on file, as drawn and with one circulator") {
    CHECK(differing("balance", "balance") == Words{});
    CHECK(differing("balance-single", "balance", {"--single-circulator"}) == Words{});
}

TEST_CASE("Flows, pressures and temperatures are those on file, and the steps they took") {
    CHECK(differing("flows", "flows") == Words{});
    CHECK(differing("flows-problems", "flows", {}, printed_problems()) == Words{});
}

TEST_CASE("What each fault does is as on file") {
    CHECK(differing("drill", "drill") == Words{});
}

TEST_CASE("Heat losses and emitters are those on file") {
    CHECK(differing("losses", "losses") == Words{});
    CHECK(differing("emitters", "emitters") == Words{});
}

TEST_CASE("Years and cylinders are those on file") {
    CHECK(differing("season", "season") == Words{});
    CHECK(differing("hotwater", "hotwater") == Words{});
}

TEST_CASE("Fills, set points and costs are those on file") {
    CHECK(differing("fill", "fill") == Words{});
    CHECK(differing("commission", "commission") == Words{});
    CHECK(differing("cost", "cost") == Words{});
}

TEST_CASE("What each pump does is as on file") {
    CHECK(differing("pump", "pump") == Words{});
}

TEST_CASE("Houses side by side are as on file") {
    CHECK(differing("compare", "compare", {"--with", example_houses().front()}) == Words{});
}

TEST_CASE("Sheets are those on file") {
    Fingerprints prints;
    for (const std::string &house : example_houses()) {
        const TemporaryFolder folder;
        const std::string page = folder / "house.html";
        Fingerprint &print = prints[std::filesystem::path(house).stem().string()];
        print.add(static_cast<double>(run_program({"sheet", house, "-o", page}).exit_code));
        add_text(print, file_text(page));
    }
    CHECK(not_as_on_file(prints, "sheet") == Words{});
}
