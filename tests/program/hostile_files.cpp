// Files made to exhaust the machine are refused in words, within 1 GiB and 2 s of one core.
#include "tests/support/run_program.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <fmt/format.h>
#include <string>
#include <vector>

using namespace headroom::tests;
using Catch::Contains;

namespace {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr bool sanitized = true;
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
constexpr bool sanitized = true;
#else
constexpr bool sanitized = false;
#endif
#else
constexpr bool sanitized = false;
#endif

// Sanitizers reserve the address space and slow the program down.
const std::string limits = sanitized ? "ulimit -t 20" : "ulimit -v 1048576; ulimit -t 2";

/// The program asked to `drive` the file under those limits.
ProgramRun run_limited(const TemporaryFolder &folder, const std::string &file) {
    const std::string out = folder / "out", errors = folder / "errors";
    const std::string command = fmt::format("{}; exec '{}' drive '{}' >'{}' 2>'{}'", limits,
                                            program_path(), file, out, errors);
    const int status = std::system(command.c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status), file_text(out),
            file_text(errors)};
}

std::string repeated(std::size_t times, const std::string &text) {
    std::string out;
    out.reserve(times * text.size());
    for (std::size_t i = 0; i < times; ++i)
        out += text;
    return out;
}

/// `pattern` for each number below `count`, which stands for every `{0}`.
std::string numbered(std::size_t count, const std::string &pattern) {
    std::string out;
    for (std::size_t i = 0; i < count; ++i)
        out += fmt::format(fmt::runtime(pattern), i);
    return out;
}

const std::string head = "house: Hostile\nwater: plain\n";
const std::string source =
    "source:\n  kind: heat_pump\n  flow_temperature: 40 degC\n  drop: 5 K\n"
    "  circulator: {states: external, curve: [[0 m3/h, 5 m], [2 m3/h, 0.1 m]]}\n";
const std::string one_run =
    "pipework:\n  - {run: feed, from: source, to: manifold, pipe: copper 22, length: 6 m}\n";
const std::string manifold = "manifolds:\n  manifold:\n    loops:\n";

std::string rooms(std::size_t count) {
    return "rooms:\n" + numbered(count, "  r{0}: {{indoor: 20 degC, loss: 100 W}}\n");
}

/// A house of that many loops, each in its own room, with `more` said of each.
std::string loops(std::size_t count, const std::string &more = "") {
    return head + rooms(count) + source + one_run + manifold +
           numbered(count, "      - {{loop: l{0}, room: r{0}, pipe: pex 16x2, length: 70 m" + more +
                               "}}\n");
}

std::string heated_loops(std::size_t count, const std::string &more) {
    return loops(count, more) +
           "floors:\n  f: {cover: 30 mm, conductivity: 1.2 W/(m K), covering: 0.02 m2 K/W, "
           "insulation: 90 mm, slab: 0.15 m2 K/W, below: 10 degC}\n";
}

std::string with(std::string text, const std::string &what, const std::string &instead) {
    return text.replace(text.find(what), what.size(), instead);
}

/// A radiator at the end of each of that many runs from the source, with `more` in each run.
std::string risers(std::size_t count, const std::string &more) {
    return head + rooms(count) + source + "pipework:\n" +
           numbered(count, "  - {{run: p{0}, from: source, to: m{0}, pipe: copper 22, length: 6 m" +
                               more + "}}\n") +
           "radiators:\n" +
           numbered(
               count,
               "  - {{radiator: q{0}, room: r{0}, from: m{0}, pipe: copper 15, length: 4 m}}\n");
}

std::string laughs() {
    std::string text = "a: &a [x, x, x, x, x, x, x, x, x]\n";
    for (char c = 'b'; c <= 'z'; ++c) {
        const std::string before = fmt::format("*{}", static_cast<char>(c - 1));
        text += fmt::format("{0}: &{0} [{1}, {1}, {1}, {1}, {1}, {1}, {1}]\n", c, before);
    }
    return text;
}

std::string stairs(std::size_t count) {
    std::string text;
    for (std::size_t i = 0; i < count; ++i)
        text += std::string(i, ' ') + "a:\n";
    return text;
}

struct Hostile {
    std::string what;
    std::string text;
    std::string code; ///< of the refusal
};

} // namespace

TEST_CASE("A file made to exhaust the machine is refused within 1 GiB and 2 s") {
    const std::string pump = ", pump: {{curve: [[0 m3/h, 5 m], [2 m3/h, 0.1 m]], mode: "
                             "proportional_pressure, setting: 3 m}}";
    const std::vector<Hostile> all{
        {"brackets in brackets", head + "rooms: " + repeated(1'000'000, "["), "too-deep"},
        {"maps in maps", head + "rooms: " + repeated(500'000, "{a: "), "too-deep"},
        {"lists in lists", repeated(1'000'000, "- "), "too-deep"},
        {"keys in keys", repeated(1'000'000, "? "), "too-deep"},
        {"steps down", stairs(2000), "too-deep"},
        {"aliases of aliases", laughs(), "anchor"},
        {"a million rooms", head + rooms(1'000'000), "too-large"},
        {"more values than a house has", head + rooms(60'000), "too-large"},
        {"ten thousand rooms without an emitter",
         head + rooms(10'000) + source + one_run + manifold, "error"},
        {"a pipe of 1e308 m", with(loops(2), "70 m", "1e308 m"), "out-of-range"},
        {"a number of a million digits", with(loops(2), "70 m", std::string(1'000'000, '7') + " m"),
         "not-finite"},
        {"two thousand million elbows",
         with(loops(2), "6 m}", "6 m, fittings: {elbow: 2000000000}}"), "out-of-range"},
        {"a word of four million letters", "house: " + std::string(4'000'000, 'x') + "\n", "error"},
        {"a key of four million letters", std::string(4'000'000, 'x') + ": 1\n" + head, "error"},
        {"the same key again and again", head + repeated(190'000, "a: 1\n"), "duplicate-key"},
        {"quotes that never close", head + "note: [" + repeated(500'000, "\"a\" "), "yaml-syntax"},
        {"tags", "a: " + repeated(1'000'000, "!x "), "error"},
        {"nothing but line ends", repeated(4'000'000, "\n"), "empty-file"},
        {"ten thousand loops", loops(10'000), "too-large"},
        {"a thousand pumps that control", risers(1000, pump), "too-large"},
        {"a thousand and one heated floors", heated_loops(1001, ", spacing: 150 mm, floor: f"),
         "too-large"},
        {"a thousand different floors", heated_loops(1000, ", spacing: 1{0:03}e-4 m, floor: f"),
         "too-large"},
    };
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    for (const Hostile &hostile : all) {
        write_file(file, hostile.text);
        const ProgramRun run = run_limited(folder, file);
        INFO(hostile.what << '\n' << run.errors.substr(0, 1000));
        CHECK(run.exit_code == 2);
        CHECK(run.output.empty());
        CHECK_THAT(run.errors, Contains(hostile.code));
        CHECK(run.errors.size() < 50'000);
    }
}

TEST_CASE("A file that never ends is refused, not read to its end") {
    const std::string endless = "/dev/zero";
    if (!std::filesystem::exists(endless))
        return; // not every system has it
    const TemporaryFolder folder;
    const ProgramRun run = run_limited(folder, endless);
    CHECK(run.exit_code == 2);
    CHECK_THAT(run.errors, Contains("too-large"));
}

TEST_CASE("A house at the limits of size is answered") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, loops(5000));
    CHECK(run_limited(folder, file).exit_code == 1); // one small circulator cannot drive them
}
