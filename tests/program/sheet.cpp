// The sheet as a page: nothing from elsewhere, nothing that gets out of its text, structure, and
// the figures of `drive`.
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <set>
#include <sstream>
#include <string>
#include <vector>

using namespace headroom::tests;
using Catch::Contains;
using nlohmann::json;

namespace {

std::string sheet(const std::string &file) {
    const ProgramRun run = run_program({"sheet", file, "--solves", "0"});
    REQUIRE(run.exit_code == 0);
    REQUIRE(run.errors.empty());
    return run.output;
}

std::string small_sheet(const SmallHouse &house) {
    const TemporaryFolder folder;
    write_file(folder / "house.yaml", house.text());
    return sheet(folder / "house.yaml");
}

json drive(const std::string &file) {
    return json::parse(run_program({"drive", file, "--solves", "0", "--format", "json"}).output);
}

json commission(const std::string &file) {
    return json::parse(run_program({"commission", file, "--format", "json"}).output);
}

/// What stands between each `opening` and the `closing` that follows it. Written out, since a
/// regular expression recurses once a character and a sheet has attributes of many thousands.
std::vector<std::string> all(const std::string &text, const std::string &opening,
                             const std::string &closing) {
    std::vector<std::string> out;
    for (std::size_t at = text.find(opening); at != std::string::npos;
         at = text.find(opening, at)) {
        at += opening.size();
        const std::size_t end = text.find(closing, at);
        REQUIRE(end != std::string::npos);
        out.push_back(text.substr(at, end - at));
        at = end;
    }
    return out;
}

std::size_t count(const std::string &text, const std::string &word) {
    std::size_t found = 0;
    for (std::size_t at = text.find(word); at != std::string::npos;
         at = text.find(word, at + word.size()))
        ++found;
    return found;
}

/// Tags that are opened and not closed in their order; those that have no end left out.
std::vector<std::string> unbalanced_tags(const std::string &page) {
    static const std::set<std::string> without_end{"meta",    "br",   "line",   "polyline",
                                                   "polygon", "rect", "circle", "path"};
    std::vector<std::string> open, faults;
    for (const std::string &tag : all(page, "<", ">")) {
        if (tag.starts_with('!'))
            continue;
        const bool closes = tag.starts_with('/');
        const std::string name = tag.substr(closes ? 1 : 0, tag.find_first_of(" \n/", 1) - closes);
        if (without_end.contains(name))
            continue;
        if (!closes) {
            open.push_back(name);
        } else if (open.empty() || open.back() != name) {
            faults.push_back(name);
        } else {
            open.pop_back();
        }
    }
    faults.insert(faults.end(), open.begin(), open.end());
    return faults;
}

std::string figure(double value, int digits) {
    return fmt::format("{:.{}f}", value, digits);
}

} // namespace

TEST_CASE("A sheet asks for nothing from elsewhere and runs nothing") {
    for (const std::string &file : example_houses()) {
        INFO(file);
        const std::string page = sheet(file);
        for (const std::string word : {"<script", "http:", "https:", "<link", "<img", "<iframe",
                                       "@import", "url(", " src=", "javascript:", " onload="})
            CHECK(page.find(word) == std::string::npos);
        for (const std::string &target : all(page, "href=\"", "\""))
            CHECK(target.starts_with("#"));
    }
}

TEST_CASE("A sheet is well formed: tags close, ids are unique, links and labels lead somewhere") {
    for (const std::string &file : example_houses()) {
        INFO(file);
        const std::string page = sheet(file);
        CHECK_THAT(page, Catch::StartsWith("<!DOCTYPE html>\n<html lang=\"en\">"));
        CHECK(unbalanced_tags(page) == std::vector<std::string>{});
        const std::vector<std::string> ids = all(page, " id=\"", "\"");
        const std::set<std::string> known(ids.begin(), ids.end());
        CHECK(known.size() == ids.size());
        for (const std::string &target : all(page, "href=\"#", "\""))
            CHECK(known.contains(target));
        std::string label;
        for (const std::string &labels : all(page, "aria-labelledby=\"", "\""))
            for (std::istringstream words(labels); words >> label;)
                CHECK(known.contains(label));
        CHECK(page.find("nan") == std::string::npos);
        CHECK(count(page, "=\"inf") == 0);
    }
}

TEST_CASE("Each drawing of a sheet has a title and a description, each table heads with a scope") {
    for (const std::string &file : example_houses()) {
        INFO(file);
        const std::string page = sheet(file);
        const std::size_t drawings = count(page, "<svg ");
        CHECK(drawings >= 5);
        CHECK(count(page, "<svg role=\"img\"") == drawings);
        CHECK(count(page, "</title>\n<desc id=") == drawings);
        CHECK(count(page, "<b>How to read it.</b>") == drawings);
        CHECK(count(page, "<caption>") == count(page, "<table>"));
        CHECK(count(page, "<thead>") == count(page, "<table>"));
        CHECK(count(page, "<th") == count(page, "<th scope=\"col\"") +
                                        count(page, "<th scope=\"row\"") + count(page, "<thead"));
        int level = 0;
        for (const std::string &tag : all(page, "<h", ">")) {
            if (tag.size() != 1 || tag < "1" || tag > "6")
                continue;
            const int next = std::stoi(tag);
            CHECK(next <= level + 1);
            level = next;
        }
    }
}

TEST_CASE("A name stays text, whatever is in it") {
    const std::string quiet = small_sheet({});
    const std::vector<std::pair<std::string, std::string>> names{
        {"<script>alert(1)</script>", "&lt;script&gt;alert(1)&lt;/script&gt;"},
        {"</title></style><b onload=\"x\">", "&lt;/title&gt;&lt;/style&gt;"},
        {"\"quoted\" & 'so'", "&quot;quoted&quot; &amp; &#39;so&#39;"},
        {"{0} %s <!--", "{0} %s &lt;!--"},
        {"Zoë's Häuschen — 家 ☀", "Zoë&#39;s Häuschen — 家 ☀"}};
    for (const auto &[name, shown] : names) {
        INFO(name);
        const std::string page = small_sheet({name, name, name});
        CHECK_THAT(page, Contains("<h1>" + shown));
        CHECK_THAT(page, Contains("<th scope=\"row\">" + shown)); // a loop
        CHECK(page.find("<script") == std::string::npos);
        CHECK(unbalanced_tags(page) == std::vector<std::string>{});
        CHECK(count(page, "<title") - count(quiet, "<title") <= 20); // tips of names cut short
        CHECK(count(page, "<b>") == count(quiet, "<b>"));
        CHECK(page.find("<!--") == std::string::npos);
        CHECK(page.find("<b onload") == std::string::npos);
    }
}

TEST_CASE("The figures of a sheet are those of `drive`") {
    for (const std::string &file : example_houses()) {
        INFO(file);
        const std::string page = sheet(file);
        const json answer = drive(file);
        const auto kpa = [&](const std::string &key) {
            return figure(answer.at(key).get<double>() * 1e-3, 1) + " kPa</dd>";
        };
        CHECK_THAT(page, Contains("<dt>head needed</dt><dd>" + kpa("head_needed_pa")));
        CHECK_THAT(page, Contains("<dt>head available</dt><dd>" + kpa("head_available_pa")));
        CHECK_THAT(page, Contains("<dt>headroom</dt><dd>" +
                                  fmt::format("{:+.1f} kPa",
                                              answer.at("headroom_pa").get<double>() * 1e-3)));
        double sum_pa = 0.0;
        for (const json &step : answer.at("index_steps")) {
            sum_pa += step.at("loss_pa").get<double>();
            CHECK_THAT(page,
                       Contains("<td class=\"n\">" +
                                figure(step.at("loss_pa").get<double>() * 1e-3, 2) +
                                "</td><td class=\"n\">" + figure(sum_pa * 1e-3, 2) + "</td></tr>"));
        }
        // Valves are set as `commission` has them: where the mixers must stay, for the house as
        // drawn.
        const json set = commission(file);
        for (const json &row : set.at("meters")) {
            const std::string name = row.at("name");
            const json &kv = row.at("valve_kv_m3_h");
            CHECK_THAT(page,
                       Contains("<tr><th scope=\"row\">" + name + "</th><td class=\"n\">" +
                                figure(row.at("design_flow_m3_s").get<double>() * 6e4, 2) +
                                "</td><td class=\"n\">" +
                                (kv.is_number() ? figure(kv.get<double>(), 3) : std::string("–"))));
        }
        for (const json &row : answer.at("emitters")) {
            const std::string name = row.at("name");
            CHECK_THAT(page, Contains("<tr><th scope=\"row\">" + name + "</th><td class=\"n\">" +
                                      figure(row.at("heat_w"), 0) + "</td><td class=\"n\">" +
                                      figure(row.at("drop_k"), 1)));
        }
    }
}

TEST_CASE("The first words of a sheet after the house are the verdict") {
    for (const std::string &file : example_houses()) {
        INFO(file);
        const std::string page = sheet(file);
        const std::string sentence = drive(file).at("sentence");
        const std::string word = sentence.substr(0, sentence.find_first_of(":,"));
        const std::size_t verdict = page.find("<p class=\"verdict ");
        REQUIRE(verdict != std::string::npos);
        CHECK(page.substr(page.find('>', verdict) + 1, word.size()) == word);
        CHECK(verdict < page.find("<table"));
    }
}

TEST_CASE("A house that no head drives still gets a sheet, without settings") {
    SmallHouse weak;
    weak.shutoff_head = "0.5 m";
    const std::string page = small_sheet(weak);
    CHECK_THAT(page, Contains("<p class=\"verdict no\">no:"));
    CHECK_THAT(page, Contains("Flows are given, settings are not"));
    CHECK(unbalanced_tags(page) == std::vector<std::string>{});
}

TEST_CASE("A sheet of a house whose mixers stay has the settings of every pump") {
    const std::string page =
        sheet(std::string(SOURCE_DIR) + "/networks/examples/header-three-pumps.yaml");
    CHECK_THAT(page, Contains("The settings are for the house as drawn: header, mixers and their "
                              "pumps stay"));
    for (const std::string run : {"front floor feed", "back floor feed", "radiator riser"})
        CHECK_THAT(page, Contains("Set the pump of `" + run + "` to "));
    CHECK_THAT(page, Contains("Leave the source&#39;s circulator as it is") ||
                         Contains("Leave the source's circulator as it is"));
}

TEST_CASE("A sheet of the same house has the same bytes, on a file or on standard output") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, SmallHouse{}.text());
    const std::string page = sheet(file);
    CHECK(page == sheet(file));
    const ProgramRun kept = run_program({"sheet", file, "--solves", "0", "-o", folder / "a.html"});
    CHECK(kept.exit_code == 0);
    CHECK(kept.output.empty());
    CHECK(file_text(folder / "a.html") == page);
}

TEST_CASE("A sheet has one form, and is of a house with a source") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, SmallHouse{}.text());
    CHECK(run_program({"sheet", file, "--format", "json"}).exit_code == 2);
    for (const auto &problem :
         std::filesystem::directory_iterator(std::string(SOURCE_DIR) + "/tests/published/problems"))
        CHECK((run_program({"sheet", problem.path().string()}).exit_code == 2 ||
               run_program({"drive", problem.path().string()}).exit_code != 2));
}
