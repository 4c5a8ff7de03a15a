#include "networks/reader.hpp"

#include <catch2/catch.hpp>

#include <chrono>
#include <fmt/format.h>
#include <string>
#include <vector>

using namespace headroom::networks;

namespace {

const std::string house = R"(house: Mill
rooms: {a: {indoor: 20 degC, loss: 900 W}}
source:
  kind: boiler
  flow_temperature: 50 degC
  drop: 10 K
  circulator: {states: external, curve: [[0 m3/h, 6 m], [2 m3/h, 1 m]]}
pipework: [{run: main, from: source, to: hall, pipe: copper 22, length: 5 m}]
radiators: [{radiator: a, room: a, from: hall}]
)";

std::string with(const std::string &from, const std::string &to) {
    const std::size_t at = house.find(from);
    REQUIRE(at != std::string::npos);
    std::string out = house;
    return out.replace(at, from.size(), to);
}

struct Read {
    std::optional<House> house;
    std::vector<std::string> told; ///< codes
};

Read read(const std::string &text) {
    Diagnostics diagnostics;
    Read out;
    out.house = read_house(text, diagnostics);
    for (const Diagnostic &d : diagnostics.sorted())
        out.told.push_back(d.code);
    return out;
}

using Codes = std::vector<std::string>;

} // namespace

TEST_CASE("A sound house is read without a word") {
    const Read sound = read(house);
    REQUIRE(sound.house);
    CHECK(sound.told.empty());
    CHECK(sound.house->name == "Mill");
    CHECK(sound.house->source->drop_k == 10.0);
    CHECK(sound.house->emitters[0].heat_w == 900.0);
}

TEST_CASE("A warning stands beside a house and does not refuse it") {
    const Read droops = read(with("[0 m3/h, 6 m]", "[0 m3/h, 5 m], [1 m3/h, 6 m]"));
    CHECK(droops.house);
    CHECK(droops.told == Codes{"curve-droops"});
    const Read high = read(with("curve:", "mode: constant_pressure, setting: 25 m, curve:"));
    CHECK(high.house);
    CHECK(high.told == Codes{"setting-too-high"});
    const Read reached = read(with("curve:", "mode: constant_pressure, setting: 6 m, curve:"));
    CHECK(reached.told.empty());
}

TEST_CASE("A surveyed room that nothing heats, or not wholly, is a warning") {
    CHECK(read(with("rooms: {", "rooms: {b: {indoor: 18 degC, loss: 300 W}, ")).told ==
          Codes{"room-unheated"});
    const Read partly = read(with("room: a,", "room: a, heat: 500 W,"));
    CHECK(partly.house);
    CHECK(partly.told == Codes{"room-unheated"});
    CHECK(read(with("room: a,", "room: a, heat: 900 W,")).told.empty());
    CHECK(read(with("room: a,", "room: a, heat: 1200 W,")).told.empty());
}

TEST_CASE("The same text is read the same way, whatever its line ends") {
    std::string windows;
    for (const char c : house)
        windows += c == '\n' ? std::string("\r\n") : std::string(1, c);
    CHECK(read(windows).house);
    CHECK(read(windows).told.empty());
    CHECK(read("\xEF\xBB\xBF" + house).house);
}

TEST_CASE("Faults of values do not hide faults of connections") {
    CHECK(
        read(with("to: hall, pipe: copper 22, length: 5 m", "to: hal, pipe: copper 22, length: 5"))
            .told == Codes{"dead-end", "missing-unit", "unconnected"});
}

TEST_CASE("A file with a fault in every line is given up after the first hundred") {
    std::string text = "house: Mill\nrooms:\n";
    for (int i = 0; i < 30'000; ++i)
        text += fmt::format("  room {}: {{indoor: 20, loss: 500 W}}\n", i);
    const auto start = std::chrono::steady_clock::now();
    const Read faulty = read(text);
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
    CHECK_FALSE(faulty.house);
    CHECK(faulty.told.size() == Diagnostics::most_faults + 1);
    CHECK(faulty.told.front() == "too-many-faults");
    CHECK(taken.count() < 2.0);
}

TEST_CASE("A house far larger than any built is read in two seconds") {
    std::string text = house;
    const std::string runs = "pipework: [";
    std::string more = runs;
    std::string radiators = "radiators: [";
    for (int i = 0; i < 3000; ++i) {
        more += fmt::format("{{run: r{0}, from: {1}, to: p{0}, pipe: copper 22, length: 5 m}},\n ",
                            i, i == 0 ? "source" : fmt::format("p{}", i - 1));
        radiators += fmt::format("{{radiator: h{0}, heat: 500 W, from: p{0}}},\n ", i);
    }
    text.replace(text.find(runs), runs.size(), more);
    text.replace(text.find("radiators: ["), 12, radiators);
    const auto start = std::chrono::steady_clock::now();
    const Read large = read(text);
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
    CHECK(large.house);
    CHECK(large.told.empty());
    CHECK(taken.count() < 2.0);
}
