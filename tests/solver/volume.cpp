// Water in the network. Volumes of cylinders are worked out here from bores and lengths.
#include "solver/questions/volume.hpp"

#include "solver/questions/drive.hpp"
#include "solver/questions/variants.hpp"
#include "tests/support/read_house.hpp"
#include "tests/support/small_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

using namespace headroom;
using solver::open_volume_m3;
using solver::VolumePart;
using solver::volumes;

namespace {

// A run to a manifold of one loop in each of two zones, and behind a zone valve a radiator.
std::string zoned(const std::string &radiator = "volume: 6 l", const std::string &more = "") {
    return R"(
house: zoned
water: plain
source:
  kind: heat_pump
  flow_temperature: 45 degC
  drop: 5 K
  circulator: {states: external, curve: [[0 m3/h, 60 kPa], [1 m3/h, 40 kPa]]}
pipework:
  - {run: feed, from: source, to: manifold, pipe: {bore: 20 mm, roughness: 0.002 mm}, length: 10 m}
  - {run: riser, from: manifold, to: landing, pipe: {bore: 13 mm, roughness: 0.002 mm}, length: 5 m,
     parts: [{part: zone_valve, kv: 3 m3/h, zone: up}]}
manifolds:
  manifold:
    loops:
      - {loop: east, heat: 500 W, pipe: {bore: 12 mm, roughness: 0.007 mm}, length: 80 m, zone: east}
      - {loop: west, heat: 500 W, pipe: {bore: 12 mm, roughness: 0.007 mm}, length: 60 m, zone: west}
radiators:
  - {radiator: bed, heat: 600 W, from: landing, pipe: {bore: 13 mm, roughness: 0.002 mm}, length: 2 m, )" +
           radiator + "}\n" + more;
}

double litres(double bore_mm, double length_m) {
    return std::acos(-1.0) / 4.0 * bore_mm * bore_mm * length_m * 1e-3;
}

double open_l(const networks::House &house, const std::vector<std::string> &zones) {
    return 1e3 * open_volume_m3(house, zones);
}

constexpr double rounding_l = 1e-9;

} // namespace

TEST_CASE("with every zone open the water of all pipes and radiators can circulate") {
    const networks::House house = tests::house_of(zoned());
    CHECK(open_l(house, {"east", "west", "up"}) ==
          Approx(litres(20, 20) + litres(12, 140) + litres(13, 10) + litres(13, 4) + 6.0)
              .margin(rounding_l));
}

TEST_CASE("a shut zone takes its loop, and a shut zone valve all that lies behind it") {
    const networks::House house = tests::house_of(zoned());
    CHECK(open_l(house, {"east"}) == Approx(litres(20, 20) + litres(12, 80)).margin(rounding_l));
    CHECK(open_l(house, {"up"}) ==
          Approx(litres(20, 20) + litres(13, 14) + 6.0).margin(rounding_l));
}

TEST_CASE("with every zone shut nothing circulates, unless a bypass leaves a way") {
    CHECK(open_l(tests::house_of(zoned()), {}) == 0.0);
    const networks::House with_bypass = tests::house_of(zoned(
        "volume: 6 l", "bypasses: [{bypass: spring, at: manifold, kv: 2 m3/h, opens: 20 kPa}]\n"));
    CHECK(open_l(with_bypass, {}) == Approx(litres(20, 20)).margin(rounding_l));
}

TEST_CASE("loops side by side behind a shut run are no way for the source's water") {
    std::string text = zoned();
    for (const char *zone : {", zone: east", ", zone: west"})
        if (const auto at = text.find(zone); at != std::string::npos)
            text.erase(at, std::string(zone).size());
    networks::House house = tests::house_of(text);
    const auto runs_before = open_l(house, {"up"});
    house.runs[0].parts.push_back({});
    house.runs[0].parts.back().kind = networks::Part::Kind::Zone;
    house.runs[0].parts.back().zone = "floor";
    CHECK(runs_before > litres(20, 20));
    CHECK(open_l(house, {"up"}) == 0.0);
}

TEST_CASE("a loop that the file shuts does not count") {
    std::string text = zoned();
    text.replace(text.find("zone: west"), 10, "open: no");
    CHECK(open_l(tests::house_of(text), {"east"}) ==
          Approx(litres(20, 20) + litres(12, 80)).margin(rounding_l));
}

TEST_CASE("in an open network all water passes from end to end") {
    const networks::House house = tests::house_of(R"(
house: open
water: plain
pipework:
  - {run: down, from: tank, to: middle, one_way: true, pipe: {bore: 20 mm, roughness: 0.01 mm}, length: 10 m}
  - {run: on, from: middle, to: tap, one_way: true, pipe: {bore: 16 mm, roughness: 0.01 mm}, length: 3 m}
ends:
  - {at: tank, held_pressure: 20 kPa}
  - {at: tap, fixed_flow: {out: 0.1 l/s}}
)");
    CHECK(open_l(house, {}) == Approx(litres(20, 10) + litres(16, 3)).margin(rounding_l));
}

TEST_CASE("a radiator without a stated volume holds what its output at 75/65/20 suggests") {
    const networks::House rated = tests::house_of(zoned("output: 1200 W, rated_at: 75/65/20"));
    CHECK(1e3 * solver::radiator_volume_m3(rated, rated.emitters.back()) ==
          Approx(1.2 * 3.5).epsilon(1e-12));
    // The way it is connected takes nothing of its water.
    const networks::House half =
        tests::house_of(zoned("output: 1200 W, rated_at: 75/65/20, connection: 50 %"));
    CHECK(solver::radiator_volume_m3(half, half.emitters.back()) ==
          solver::radiator_volume_m3(rated, rated.emitters.back()));
    // 600 W at a mean of 42.5 degC in 20 degC; EN 442-2: a panel's output goes with excess^1.3.
    const networks::House plain = tests::house_of(zoned("open: yes"));
    CHECK(1e3 * solver::radiator_volume_m3(plain, plain.emitters.back()) ==
          Approx(0.6 * std::pow(50.0 / 22.5, 1.3) * 3.5).epsilon(1e-12));
}

TEST_CASE("a fan convector holds 0.4 litres for each kW of its rating at 75/65/20") {
    // Common practice, no source.
    networks::House house = tests::house_of(zoned());
    networks::Emitter &convector = house.emitters.back();
    convector.body = networks::Emitter::Body::FanConvector;
    convector.volume_m3.reset();
    convector.emission = models::Radiator{1500.0};
    CHECK(1e3 * solver::radiator_volume_m3(house, convector) == Approx(0.6).epsilon(1e-12));
}

TEST_CASE("the header holds its stated volume, or else that of its bore and height") {
    const auto header = [](const networks::House &house) {
        for (const VolumePart &part : volumes(house))
            if (part.what == "header")
                return 1e3 * part.volume_m3;
        return 0.0;
    };
    networks::House house = tests::example_house("header-three-pumps.yaml");
    CHECK(header(house) == Approx(litres(80, 0.6)).margin(rounding_l));
    house.separator->volume_m3 = 0.1;
    CHECK(header(house) == Approx(100.0).margin(rounding_l));
}

TEST_CASE("the parts' volumes sum to the open volume of every example with its zones open") {
    for (const std::string &file : tests::example_houses()) {
        INFO(file);
        const networks::House house = solver::with_ideal_balancing(
            tests::example_house(std::filesystem::path(file).filename().string()));
        double all = 0.0;
        double always = 0.0;
        for (const VolumePart &part : volumes(house)) {
            CHECK(part.volume_m3 > 0.0);
            all += part.volume_m3;
            always += part.open_always ? part.volume_m3 : 0.0;
        }
        CHECK(open_volume_m3(house, solver::zone_names(house)) == Approx(all).epsilon(1e-12));
        CHECK(open_volume_m3(house, {}) == Approx(always).margin(1e-15));
    }
}

namespace {

// The zoned house with a source that needs water, and perhaps a bypass to carry its flow.
solver::DriveAnswer judged(const std::string &needs, const std::string &more = "") {
    std::string text = zoned("volume: 6 l", more);
    text.replace(text.find("  drop: 5 K\n"), 12, "  drop: 5 K\n" + needs);
    return solver::drive(tests::house_of(text));
}

const solver::StateRow &zone_state(const solver::DriveAnswer &answer) {
    return *std::find_if(answer.states.begin(), answer.states.end(), [](const auto &row) {
        return row.state.find("zone") != std::string::npos;
    });
}

} // namespace

// Zone "west" leaves the least: 6.28 l of the feed, and 6.79 l of its loop.
TEST_CASE("a source that needs more open water than one zone leaves is a no by the zone state") {
    const solver::DriveAnswer answer = judged("  least_open_volume: 14 l\n");
    CHECK(answer.verdict == solver::Verdict::No);
    const solver::StateRow &row = zone_state(answer);
    CHECK(row.judged_by == "open volume");
    CHECK(row.fault.find("13 l of open water (only zone west open)") != std::string::npos);
    CHECK(answer.decided_by == row.state);
}

TEST_CASE("a source that needs no more open water than any zone leaves is content with the zones") {
    const solver::DriveAnswer answer = judged("  least_open_volume: 13 l\n");
    CHECK(answer.verdict == solver::Verdict::Yes);
    CHECK(zone_state(answer).fault.empty());
}

TEST_CASE("with an open bypass the least water is that of all zones shut") {
    const solver::DriveAnswer answer = judged(
        "  least_open_volume: 13 l\n", "bypasses: [{bypass: always, at: manifold, kv: 1 m3/h}]\n");
    CHECK(zone_state(answer).fault.find("6 l of open water (all zones shut)") != std::string::npos);
}

TEST_CASE("a house whose whole water is less than the source needs is a no by its design state") {
    const solver::DriveAnswer answer = judged("  least_open_volume: 80 l\n");
    CHECK(answer.verdict == solver::Verdict::No);
    CHECK(answer.decided_by == "design, all open");
    // 6.28 l of the feed, 15.83 l of both loops, 1.86 l of riser and tails, 6 l in the radiator.
    CHECK(answer.states.front().fault.find("30 l can circulate, the source needs 80 l") !=
          std::string::npos);
}

TEST_CASE("each part's water stands in a row of its own, with whether it is always open") {
    const networks::House house = tests::house_of(zoned());
    struct Row {
        const char *what;
        double volume_l;
        bool open;
    };
    const std::vector<Row> expected{
        {"run feed", litres(20, 20), false},    {"run riser", litres(13, 10), false},
        {"loop east", litres(12, 80), false},   {"loop west", litres(12, 60), false},
        {"radiator bed", litres(13, 4), false}, {"radiator bed, body", 6.0, false}};
    const std::vector<VolumePart> parts = volumes(house);
    REQUIRE(parts.size() == expected.size());
    for (const Row &row : expected) {
        INFO(row.what);
        const auto part = std::find_if(parts.begin(), parts.end(),
                                       [&](const VolumePart &p) { return p.what == row.what; });
        REQUIRE(part != parts.end());
        CHECK(1e3 * part->volume_m3 == Approx(row.volume_l).margin(rounding_l));
        CHECK(part->open_always == row.open);
    }
    // A loop without a zone keeps its own and the feed's water moving.
    std::string text = zoned();
    text.replace(text.find(", zone: east"), 12, "");
    for (const VolumePart &part : volumes(tests::house_of(text))) {
        INFO(part.what);
        CHECK(part.open_always == (part.what == "run feed" || part.what == "loop east"));
    }
}

TEST_CASE(
    "a heat pump wants 15 to 20 l open for each kW it gives, a boiler nothing unless stated") {
    // Common practice, no source.
    networks::House house = tests::house_of(zoned());
    const solver::WantedVolume load = solver::wanted_volume(house);
    CHECK(1e3 * load.low_m3.value() == Approx(1.6 * 15.0).epsilon(1e-9));
    CHECK(1e3 * load.high_m3.value() == Approx(1.6 * 20.0).epsilon(1e-9));
    CHECK(load.by.find("the design load") != std::string::npos);
    models::HeatPump pump;
    pump.rating = models::CarnotRating{5000.0, 0.4};
    house.source->heat = pump;
    CHECK(1e3 * solver::wanted_volume(house).low_m3.value() == Approx(24.0)); // no outdoor yet
    house.outdoor_c = 0.0;
    CHECK(1e3 * solver::wanted_volume(house).low_m3.value() == Approx(75.0).epsilon(1e-9));
    CHECK(1e3 * solver::wanted_volume(house).high_m3.value() == Approx(100.0).epsilon(1e-9));
    house.source->kind = networks::Source::Kind::Boiler;
    CHECK_FALSE(solver::wanted_volume(house).low_m3);
    house.source->least_open_volume_m3 = 0.012;
    CHECK(solver::wanted_volume(house).high_m3.value() == 0.012);
}
