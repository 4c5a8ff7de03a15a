// EN 14825:2018: annex B, heating bins of the three climates (read from a public transcription),
// H_HE and the part load ratios of conditions A to D (from memory), printed whole.
#include "models/climate.hpp"

#include "solver/questions/season.hpp"
#include "tests/support/one_radiator.hpp"
#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace headroom::models;
using headroom::tests::agrees_with;

namespace {

double hours(ClimateKind kind) {
    double sum = 0.0;
    for (const TemperatureBin &bin : heating_climate(kind).bins)
        sum += bin.hours;
    return sum;
}

/// H_HE: the hours at design heat that give the season's heat.
double equivalent_heating_hours(const HeatingClimate &climate) {
    double sum = 0.0;
    for (const TemperatureBin &bin : climate.bins)
        sum += bin.hours * part_load_ratio(bin.outdoor_c, climate.design_c);
    return sum;
}

} // namespace

TEST_CASE("The heating hours of EN 14825 add up to 4910, 3590 and 6446") {
    CHECK_THAT(hours(ClimateKind::Average),
               agrees_with(4910.0, 1e-12, "EN 14825 annex B, sum of hours"));
    CHECK_THAT(hours(ClimateKind::Warmer),
               agrees_with(3590.0, 1e-12, "EN 14825 annex B, sum of hours"));
    CHECK_THAT(hours(ClimateKind::Colder),
               agrees_with(6446.0, 1e-12, "EN 14825 annex B, sum of hours"));
}

TEST_CASE("The equivalent heating hours of EN 14825 round to the printed 2066, 1336 and 2465") {
    const auto rounded = [](ClimateKind kind) {
        return std::round(equivalent_heating_hours(heating_climate(kind)));
    };
    CHECK_THAT(rounded(ClimateKind::Average),
               agrees_with(2066.0, 1e-12, "EN 14825 annex B, equivalent hours"));
    CHECK_THAT(rounded(ClimateKind::Warmer),
               agrees_with(1336.0, 1e-12, "EN 14825 annex B, equivalent hours"));
    CHECK_THAT(rounded(ClimateKind::Colder),
               agrees_with(2465.0, 1e-12, "EN 14825 annex B, equivalent hours"));
}

TEST_CASE("The hours of single bins agree with EN 14825 annex B") {
    struct Row {
        ClimateKind kind;
        double outdoor_c, hours;
    };
    const std::vector<Row> rows{
        {ClimateKind::Average, -10.0, 1.0},  {ClimateKind::Average, -7.0, 24.0},
        {ClimateKind::Average, 2.0, 320.0},  {ClimateKind::Average, 7.0, 326.0},
        {ClimateKind::Average, 12.0, 169.0}, {ClimateKind::Average, 15.0, 74.0},
        {ClimateKind::Warmer, 2.0, 3.0},     {ClimateKind::Warmer, 7.0, 162.0},
        {ClimateKind::Warmer, 12.0, 503.0},  {ClimateKind::Warmer, 15.0, 294.0},
        {ClimateKind::Colder, -22.0, 1.0},   {ClimateKind::Colder, -15.0, 41.0},
        {ClimateKind::Colder, -7.0, 125.0},  {ClimateKind::Colder, 2.0, 380.0},
        {ClimateKind::Colder, 7.0, 269.0},   {ClimateKind::Colder, 12.0, 146.0},
        {ClimateKind::Colder, 15.0, 61.0}};
    for (const Row &row : rows) {
        const HeatingClimate climate = heating_climate(row.kind);
        bool found = false;
        for (const TemperatureBin &bin : climate.bins)
            if (bin.outdoor_c == row.outdoor_c) {
                found = true;
                INFO("design " << climate.design_c << ", bin " << row.outdoor_c);
                CHECK_THAT(bin.hours,
                           agrees_with(row.hours, 1e-12, "EN 14825 annex B, hours of a bin"));
            }
        CHECK(found);
    }
}

TEST_CASE("Part loads at conditions A to D are the printed per cents of EN 14825") {
    struct Row {
        double design_c, outdoor_c, per_cent;
    };
    // From memory; A -7, B 2, C 7, D 12 degC.
    const std::vector<Row> rows{{-10.0, -7.0, 88.0}, {-10.0, 2.0, 54.0},  {-10.0, 7.0, 35.0},
                                {-10.0, 12.0, 15.0}, {2.0, 2.0, 100.0},   {2.0, 7.0, 64.0},
                                {2.0, 12.0, 29.0},   {-22.0, -7.0, 61.0}, {-22.0, 2.0, 37.0},
                                {-22.0, 7.0, 24.0},  {-22.0, 12.0, 11.0}};
    for (const Row &row : rows) {
        INFO("design " << row.design_c << ", outdoor " << row.outdoor_c);
        CHECK_THAT(std::round(100.0 * part_load_ratio(row.outdoor_c, row.design_c)),
                   agrees_with(row.per_cent, 1e-12, "EN 14825, part loads A to D, from memory"));
    }
}

TEST_CASE("A house at 16 degC needs its design heat for the equivalent heating hours of EN 14825") {
    // H_HE is printed whole: half an hour of rounding.
    struct Row {
        const char *climate, *design_outdoor;
        double hours;
    };
    for (const Row &row : {Row{"average", "-10 degC", 2066.0}, Row{"warmer", "2 degC", 1336.0},
                           Row{"colder", "-22 degC", 2465.0}}) {
        INFO(row.climate);
        headroom::tests::OneRadiator house;
        house.design_outdoor = row.design_outdoor;
        house.indoor = "16 degC";
        house.more = std::string("year: {climate: ") + row.climate + ", heating_limit: 16 degC}\n";
        const auto answer = headroom::solver::season(headroom::tests::house_of(house.text()));
        CHECK(answer.with_curve.totals.heat_kwh / 2.3 == Approx(row.hours).margin(0.5));
    }
}
