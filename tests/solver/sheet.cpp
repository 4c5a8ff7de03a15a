// What the sheet draws: flows that add up, curves that pass through the figures of `drive`, axes
// with round figures.
#include "solver/questions/sheet.hpp"

#include "solver/questions/size.hpp"
#include "solver/report/html.hpp"
#include "solver/report/svg.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <fmt/format.h>

using namespace headroom;
using Catch::WithinAbs;
using Catch::WithinRel;
using solver::DrawnPart;

namespace {

struct Drawn {
    solver::DriveAnswer drive;
    networks::House sized;
    solver::HouseDrawing drawing;
};

Drawn drawn(const std::string &example) {
    const networks::House house = tests::example_house(example);
    Drawn out{solver::drive_verdict(house), solver::size(house).house, {}};
    out.drawing = solver::draw_house(out.sized, out.drive);
    REQUIRE(out.drawing.outcome.converged());
    return out;
}

/// Flow at a curve's point by straight lines between its own.
double flow_at(const solver::PressureCurve &curve, double pressure_pa) {
    for (std::size_t i = 1; i < curve.points.size(); ++i) {
        const auto &a = curve.points[i - 1], &b = curve.points[i];
        if (a.pressure_pa <= pressure_pa && pressure_pa <= b.pressure_pa)
            return a.flow_m3_s + (pressure_pa - a.pressure_pa) / (b.pressure_pa - a.pressure_pa) *
                                     (b.flow_m3_s - a.flow_m3_s);
    }
    return -1.0;
}

const solver::PressureCurve *curve_of(const std::vector<solver::PressureCurve> &curves,
                                      solver::PressureCurve::Kind kind) {
    for (const auto &curve : curves)
        if (curve.kind == kind)
            return &curve;
    return nullptr;
}

} // namespace

TEST_CASE("What flows to a place of the drawing flows on from it") {
    for (const std::string example : {"two-manifolds-radiators.yaml", "direct-16mm.yaml"}) {
        INFO(example);
        const solver::HouseDrawing drawing = drawn(example).drawing;
        for (const solver::DrawnPlace &place : drawing.places) {
            double in = place.kind == solver::DrawnPlace::Kind::Source ? drawing.source_m3_s : 0.0;
            double out = 0.0;
            for (const DrawnPart &part : drawing.parts) {
                if (part.kind == DrawnPart::Kind::Run && part.to == place.name)
                    in += part.flow_m3_s;
                if (part.from == place.name)
                    out += part.flow_m3_s;
            }
            INFO(place.name);
            // Volume, so that densities at 5 K apart leave 0.2 %; mass is checked by the solve.
            CHECK_THAT(out, WithinRel(in, 2e-3));
        }
    }
}

TEST_CASE("Each loop and radiator of the drawing is labelled with its pipe and length") {
    const Drawn house = drawn("two-manifolds-radiators.yaml");
    for (const networks::Emitter &emitter : house.sized.emitters) {
        const auto part =
            std::find_if(house.drawing.parts.begin(), house.drawing.parts.end(),
                         [&](const DrawnPart &drawn) { return drawn.name == emitter.name; });
        REQUIRE(part != house.drawing.parts.end());
        CHECK(part->pipe == fmt::format("{}, {:.3g} m", emitter.pipe.name, emitter.length_m));
    }
}

TEST_CASE("A direct house that is driven is drawn with its settings, so at its design flows") {
    const Drawn house = drawn("direct-16mm.yaml");
    CHECK(house.drawing.as_set);
    CHECK_THAT(house.drawing.source_m3_s * 6e4, WithinRel(house.drive.source_l_min, 0.01));
    for (const DrawnPart &part : house.drawing.parts)
        if (part.kind == DrawnPart::Kind::Loop || part.kind == DrawnPart::Kind::Radiator)
            CHECK_THAT(part.design_share, WithinAbs(1.0, 0.01)); // what `drive` asks of settings
}

TEST_CASE("A house with pumps and mixers is drawn as the file has it") {
    const Drawn house = drawn("header-three-pumps.yaml");
    CHECK_FALSE(house.drawing.as_set);
    CHECK(house.drawing.separator_m3_s.has_value());
    const auto mixed = [](const DrawnPart &part) { return part.hot_share.has_value(); };
    CHECK(std::count_if(house.drawing.parts.begin(), house.drawing.parts.end(), mixed) == 2);
    for (const DrawnPart &part : house.drawing.parts)
        if (mixed(part))
            CHECK(
                (*part.mixed_c<house.drawing.sent_c && * part.mixed_c> house.drawing.back_c - 10));
}

TEST_CASE("The index circuit of the drawing leads from the source to the index emitter") {
    for (const std::string example : {"two-manifolds-radiators.yaml", "header-three-pumps.yaml"}) {
        INFO(example);
        const Drawn house = drawn(example);
        const auto end =
            std::find_if(house.drawing.parts.begin(), house.drawing.parts.end(),
                         [&](const DrawnPart &part) { return part.name == house.drive.index; });
        REQUIRE(end != house.drawing.parts.end());
        CHECK(end->on_index);
        std::string place = end->from;
        int runs = 0;
        while (place != "source") {
            const auto run = std::find_if(
                house.drawing.parts.begin(), house.drawing.parts.end(), [&](const DrawnPart &part) {
                    return part.kind == DrawnPart::Kind::Run && part.to == place;
                });
            REQUIRE(run != house.drawing.parts.end());
            CHECK(run->on_index);
            place = run->from;
            ++runs;
        }
        const auto marked = [](const DrawnPart &part) { return part.on_index; };
        CHECK(std::count_if(house.drawing.parts.begin(), house.drawing.parts.end(), marked) ==
              runs + 1);
    }
}

TEST_CASE("The curves of the sheet pass through the head needed and the head available") {
    using Kind = solver::PressureCurve::Kind;
    for (const std::string example :
         {"direct-16mm.yaml", "two-manifolds-radiators.yaml", "small-bore-long-glycol.yaml"}) {
        INFO(example);
        const Drawn house = drawn(example);
        const auto curves = solver::pressure_curves(house.sized, house.drive);
        const auto *design = curve_of(curves, Kind::Design);
        const auto *cold = curve_of(curves, Kind::ColdStart);
        const auto *circulator = curve_of(curves, Kind::Circulator);
        REQUIRE(design);
        REQUIRE(cold);
        REQUIRE(circulator);
        const double flow = house.drive.source_l_min / 6.0e4;
        // The settings meet each design flow within 1 %.
        CHECK_THAT(flow_at(*design, house.drive.needed_pa), WithinRel(flow, 0.01));
        for (std::size_t i = 1; i < circulator->points.size(); ++i) {
            const auto &a = circulator->points[i - 1], &b = circulator->points[i];
            if (a.flow_m3_s > flow || flow > b.flow_m3_s)
                continue;
            CHECK(a.pressure_pa >= house.drive.available_pa - 1.0);
            CHECK(b.pressure_pa <= house.drive.available_pa + 1.0);
        }
        for (const auto &curve : curves)
            for (std::size_t i = 1; i < curve.points.size(); ++i)
                CHECK(curve.points[i].flow_m3_s > curve.points[i - 1].flow_m3_s);
    }
}

TEST_CASE("A floor is drawn at the water of its loop, one drawing a section") {
    const Drawn house = drawn("warm-floor.yaml");
    const auto floors = solver::draw_floors(house.sized);
    CHECK(floors.size() == 3); // tiles at 150 mm, timber at 150 mm, tiles at 100 mm
    for (const solver::FloorDrawing &floor : floors) {
        INFO(floor.emitter);
        REQUIRE(floor.field);
        CHECK(floor.wall_c < floor.water_c); // the film of the water takes its part
        CHECK(floor.wall_c > floor.surface_highest_c);
        CHECK(floor.surface_highest_c >= floor.surface_mean_c);
        // Wall and mean surface by two ways: what the wall gives upwards warms the surface.
        CHECK_THAT(floor.room_c + floor.up_w_m2 / floor.section.surface_coefficient_w_m2_k,
                   WithinAbs(floor.surface_mean_c, 1e-6));
    }
}

TEST_CASE("Ticks are round, evenly spaced and take in both ends") {
    for (const double low : {-20.0, -3.3, 0.0, 0.7, 12.0})
        for (const double width : {1e-3, 0.13, 1.0, 7.0, 59.5, 1234.0}) {
            const double high = low + width;
            const std::vector<double> ticks = solver::round_ticks(low, high);
            INFO(low << " to " << high);
            REQUIRE(ticks.size() >= 3);
            CHECK(ticks.size() <= 14);
            CHECK(ticks.front() <= low + 1e-6 * width);
            CHECK(ticks.back() >= high - 1e-6 * width);
            const double step = ticks[1] - ticks[0];
            const double lead = step / std::pow(10.0, std::floor(std::log10(step * 1.000001)));
            CHECK((std::abs(lead - 1.0) < 1e-6 || std::abs(lead - 2.0) < 1e-6 ||
                   std::abs(lead - 5.0) < 1e-6));
        }
    CHECK(solver::round_ticks(3.0, 3.0).size() >= 2);
}

TEST_CASE("A scale takes its ends to its ends and is straight between") {
    const solver::Scale scale{10.0, 30.0, 200.0, 100.0};
    CHECK(scale.at(10.0) == 200.0);
    CHECK(scale.at(30.0) == 100.0);
    CHECK(scale.at(15.0) == 175.0);
}

TEST_CASE("Escaped text has no character that ends a text or an attribute") {
    CHECK(solver::escaped("<a href='x'>&\"\n\x01") == "&lt;a href=&#39;x&#39;&gt;&amp;&quot;  ");
    CHECK(solver::escaped("Küche 家") == "Küche 家");
}
