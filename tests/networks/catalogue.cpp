#include "networks/catalogue.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <tuple>
#include <vector>

using namespace headroom::networks;
using Catch::Contains;
using Catch::WithinAbs;

namespace {

// Sizes are decimal millimetres; their differences carry the rounding of two doubles.
constexpr double exact_m = 1e-15;

PipeChoice pipe(const std::string &name) {
    Diagnostics diagnostics;
    const auto found = find_pipe(shipped_catalogue(), {name, {1, 1, 1}}, diagnostics);
    INFO(name);
    REQUIRE(found);
    CHECK_FALSE(diagnostics.has_errors());
    return *found;
}

Diagnostic refusal(const Catalogue &catalogue, const std::string &name) {
    Diagnostics diagnostics;
    CHECK_FALSE(find_pipe(catalogue, {name, {2, 3, 4}}, diagnostics));
    REQUIRE(diagnostics.sorted().size() == 1);
    return diagnostics.sorted().front();
}

Catalogue with(const std::string &text, Diagnostics &diagnostics) {
    Catalogue catalogue = shipped_catalogue();
    const auto root = parse_document(text, diagnostics);
    REQUIRE(root);
    Fields fields(root.get(), {1, 1, 1}, "catalogue", diagnostics);
    read_catalogue(fields, catalogue, diagnostics);
    fields.finish();
    return catalogue;
}

} // namespace

// EN 1057:2006+A1:2010, table 3: outside diameter x wall, bore = diameter less two walls.
TEST_CASE("Copper bores are those of EN 1057") {
    for (const auto &[name, bore_mm] :
         std::vector<std::pair<std::string, double>>{{"copper 8", 6.8},
                                                     {"copper 10x0.6", 8.8},
                                                     {"copper 10x0.7", 8.6},
                                                     {"copper 12x0.6", 10.8},
                                                     {"copper 12x0.7", 10.6},
                                                     {"copper 15", 13.6},
                                                     {"copper 22", 20.2},
                                                     {"copper 28", 26.2},
                                                     {"copper 35", 32.6},
                                                     {"copper 42", 39.6},
                                                     {"copper 54", 51.6}}) {
        INFO(name);
        CHECK_THAT(pipe(name).bore_m, WithinAbs(bore_mm * 1e-3, exact_m));
    }
}

// EN 10255, medium and heavy series: outside diameter and wall by nominal size.
TEST_CASE("Steel bores are those of EN 10255") {
    const std::vector<std::tuple<std::string, double, double, double>> sizes{
        {"DN10", 17.2, 2.3, 2.9}, {"DN15", 21.3, 2.6, 3.2}, {"DN20", 26.9, 2.6, 3.2},
        {"DN25", 33.7, 3.2, 4.0}, {"DN32", 42.4, 3.2, 4.0}, {"DN40", 48.3, 3.2, 4.0},
        {"DN50", 60.3, 3.6, 4.5}};
    for (const auto &[name, outside_mm, medium_mm, heavy_mm] : sizes) {
        INFO(name);
        CHECK_THAT(pipe("steel medium " + name).bore_m,
                   WithinAbs((outside_mm - 2.0 * medium_mm) * 1e-3, exact_m));
        CHECK_THAT(pipe("steel heavy " + name).bore_m,
                   WithinAbs((outside_mm - 2.0 * heavy_mm) * 1e-3, exact_m));
    }
}

TEST_CASE("A pipe may be named by outside diameter, by diameter and wall, or by nominal size") {
    CHECK(pipe("copper 28").name == "copper 28x0.9");
    CHECK(pipe("copper 28x0.9").name == "copper 28x0.9");
    CHECK(pipe("steel medium DN20").name == "steel medium 26.9x2.6");
    CHECK(pipe("steel medium 26.9").bore_m == pipe("steel medium DN20").bore_m);
    CHECK_THAT(pipe("pex 16x2").bore_m, WithinAbs(0.012, exact_m));
    CHECK_THAT(pipe("pex 16x2").wall_m, WithinAbs(0.002, exact_m));
}

TEST_CASE("Metal pipes roughen with age and plastic ones do not") {
    CHECK(pipe("copper 22").aged_roughness_m == 0.05e-3);
    CHECK(pipe("steel medium DN20").aged_roughness_m == 0.2e-3);
    CHECK(pipe("pex 16x2").aged_roughness_m == pipe("pex 16x2").roughness_m);
}

TEST_CASE("An outside diameter made with two walls is ambiguous and lists both") {
    const Diagnostic d = refusal(shipped_catalogue(), "copper 10");
    CHECK(d.code == "ambiguous-pipe");
    CHECK(d.help == "say which: `copper 10x0.6`, `copper 10x0.7`");
    CHECK(d.place.line == 2);
    CHECK(d.place.column == 3);
    CHECK(refusal(shipped_catalogue(), "pex 16").code == "ambiguous-pipe");
}

TEST_CASE("An unknown size lists the sizes, an unknown family the families") {
    const Diagnostic size = refusal(shipped_catalogue(), "copper 29");
    CHECK(size.message == "copper pipe comes in no size `29`");
    CHECK_THAT(size.help, Contains("`copper 28x0.9`"));
    const Diagnostic family = refusal(shipped_catalogue(), "lead 28");
    CHECK(family.message == "unknown pipe `lead 28`");
    CHECK_THAT(family.help, Contains("`steel medium`"));
}

TEST_CASE("A misspelt family is guessed and a missing size asked for") {
    CHECK(refusal(shipped_catalogue(), "coper 28").help == "did you mean `copper 28`?");
    CHECK(refusal(shipped_catalogue(), "steel mediun DN20").help ==
          "did you mean `steel medium DN20`?");
    CHECK(refusal(shipped_catalogue(), "copper").message == "`copper` does not say which size");
    CHECK(refusal(shipped_catalogue(), "copper ").code == "unknown-pipe");
    CHECK(refusal(shipped_catalogue(), "").code == "unknown-pipe");
}

TEST_CASE("Fittings step with the bore they sit on") {
    const FittingType *elbow = shipped_catalogue().fitting("elbow");
    REQUIRE(elbow);
    CHECK(elbow->zeta_at(0.0136) == 2.0);
    CHECK(elbow->zeta_at(0.0202) == 2.0);
    CHECK(elbow->zeta_at(0.023) == 1.5);
    CHECK(elbow->zeta_at(0.0262) == 1.5);
    CHECK(shipped_catalogue().fitting("y_strainer")->filter);
    CHECK_FALSE(elbow->filter);
    CHECK(shipped_catalogue().fitting("elbows") == nullptr);
}

TEST_CASE("Shipped circulators give less head at more flow") {
    CHECK(shipped_catalogue().circulators.size() >= 4);
    for (const CirculatorModel &model : shipped_catalogue().circulators) {
        INFO(model.name);
        CHECK(model.curve.front().flow_m3_s == 0.0);
        for (std::size_t i = 1; i < model.curve.size(); ++i)
            CHECK(model.curve[i].pressure_pa < model.curve[i - 1].pressure_pa);
        CHECK(shipped_catalogue().circulator(model.name) == &model);
    }
}

TEST_CASE("A house's own parts hide the shipped ones of the same name") {
    Diagnostics diagnostics;
    const Catalogue own = with("pipes:\n"
                               "  copper: {roughness: 0.01 mm, sizes: [16x1]}\n"
                               "  lead: {roughness: 0.01 mm, sizes: [20x4, DN25 30x4]}\n"
                               "fittings:\n"
                               "  elbow: {zeta: 0.9}\n"
                               "  odd: {kv: 3 m3/h, filter: yes}\n"
                               "circulators:\n"
                               "  own: {curve: [[1 m3/h, 4 m]]}\n",
                               diagnostics);
    CHECK(diagnostics.sorted().empty());
    CHECK_THAT(find_pipe(own, {"copper 16", {}}, diagnostics)->bore_m, WithinAbs(0.014, exact_m));
    CHECK_THAT(find_pipe(own, {"lead DN25", {}}, diagnostics)->bore_m, WithinAbs(0.022, exact_m));
    CHECK(own.fitting("elbow")->zeta_at(0.02) == 0.9);
    CHECK(own.fitting("odd")->kv_m3_h == 3.0);
    CHECK(own.fitting("odd")->filter);
    CHECK(own.circulator("own")->curve.size() == 1);
    CHECK(own.circulator("generic 6 m") != nullptr);
    CHECK(refusal(own, "copper 28").message == "copper pipe comes in no size `28`");
}

TEST_CASE("The longest family name that fits is meant") {
    Diagnostics diagnostics;
    const Catalogue own = with("pipes:\n"
                               "  steel: {roughness: 0.01 mm, sizes: [20x2]}\n",
                               diagnostics);
    CHECK(find_pipe(own, {"steel 20", {}}, diagnostics)->name == "steel 20x2");
    CHECK(find_pipe(own, {"steel medium DN20", {}}, diagnostics)->name == "steel medium 26.9x2.6");
    CHECK_FALSE(diagnostics.has_errors());
}

TEST_CASE("Pipe sizes that cannot be are refused") {
    for (const char *size : {"16x8", "16x9", "16", "x2", "16x", "16x-2", "16xnan", "nanx2", "0x0",
                             "1e9x2", "16x2x2", "16 x 2"}) {
        Diagnostics diagnostics;
        with(std::string("pipes:\n  p: {roughness: 0.01 mm, sizes: [") + size + "]}\n",
             diagnostics);
        INFO(size);
        REQUIRE(diagnostics.sorted().size() == 1);
        CHECK(diagnostics.sorted().front().code == "pipe-size");
    }
}

TEST_CASE("A catalogue of more parts than any house uses is refused") {
    std::string text = "fittings:\n";
    for (int i = 0; i < 501; ++i)
        text += "  f" + std::to_string(i) + ": {zeta: 1}\n";
    Diagnostics diagnostics;
    with(text, diagnostics);
    REQUIRE(diagnostics.sorted().size() == 1);
    CHECK(diagnostics.sorted().front().code == "too-large");
}

TEST_CASE("A pump curve's droop is a warning and its rise an error") {
    const auto codes = [](const std::string &curve) {
        Diagnostics diagnostics;
        with("circulators: {own: {curve: " + curve + "}}\n", diagnostics);
        std::vector<std::string> out;
        for (const Diagnostic &d : diagnostics.sorted())
            out.push_back(d.code);
        return out;
    };
    using Codes = std::vector<std::string>;
    CHECK(codes("[[0 m3/h, 6 m], [1 m3/h, 5 m], [3 m3/h, 1 m]]").empty());
    CHECK(codes("[[1 m3/h, 5 m]]").empty());
    CHECK(codes("[[0 m3/h, 5 m], [1 m3/h, 6 m], [3 m3/h, 1 m]]") == Codes{"curve-droops"});
    CHECK(codes("[[0 m3/h, 5 m], [1 m3/h, 6 m]]") == Codes{"curve-rises"});
    CHECK(codes("[[0 m3/h, 5 m], [1 m3/h, 5 m]]") == Codes{"curve-rises"});
    CHECK(codes("[[1 m3/h, 5 m], [0 m3/h, 6 m]]") == Codes{"curve-order"});
    CHECK(codes("[[1 m3/h, 5 m], [1 m3/h, 4 m]]") == Codes{"curve-order"});
    CHECK(codes("[[0 m3/h, 5 m]]") == Codes{"curve"});
    CHECK(codes("[]") == Codes{"curve"});
    CHECK(codes("[[0 m3/h, 6 m, 1], [1 m3/h]]") == Codes{"curve"});
    CHECK(codes("[[0 m3/h, -6 m], [1 m3/h, -7 m]]") == Codes{"out-of-range", "out-of-range"});
}
