// The problems of tests/published/problems, solved a second time from the same data by mpmath 1.2.1
// at 30 digits (a root for each pipe inside a root for the head of the junction), and the three
// loops by scipy 1.10.1 (optimize.root on all ten flows, residual 3e-15), with Colebrook's law
// iterated and g = 9.80665 m/s2. These are not the printed answers; tests/published has those.
#include "models/units.hpp"

#include "tests/support/reference_value.hpp"
#include "tests/support/solved_problem.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace headroom::tests;
using headroom::models::gravity_m_per_s2;

namespace {

struct Row {
    std::string run;
    double flow;
};

// The program promises each law to 1e-9 of the largest loss.
constexpr double tolerance = 1e-8;

void check_flows(const SolvedProblem &problem, const std::vector<Row> &rows, double unit,
                 const std::string &tool, double relative = tolerance) {
    for (const Row &row : rows) {
        INFO("run " << row.run);
        CHECK_THAT(problem.flow_m3_s(row.run) / unit, agrees_with(row.flow, relative, tool));
    }
}

constexpr double m3_per_h = 1.0 / 3600.0;
constexpr double cubic_feet_per_s = 0.3048 * 0.3048 * 0.3048;

} // namespace

TEST_CASE("Three loops of cast-iron pipe settle where an independent solution does") {
    check_flows(SolvedProblem("three-loops"),
                {{"1", 0.20495199526473},
                 {"2", 0.09504800473527},
                 {"3", 0.12522695215417},
                 {"4", 0.09504800473527},
                 {"5", 0.07972504311056},
                 {"6", 0.03309337194385},
                 {"7", 0.02972504311056},
                 {"8", 0.00786641978967},
                 {"9", 0.08718158494560},
                 {"10", 0.06281841505440}},
                1.0, "scipy 1.10.1, m3/s");
}

TEST_CASE("Three pipes in parallel carry what an independent solution gives") {
    check_flows(SolvedProblem("white-pipes-in-parallel"),
                {{"1", 62.5303172421585}, {"2", 25.9034077379151}, {"3", 11.4047800024814}},
                m3_per_h, "mpmath 1.2.1, m3/h");
}

TEST_CASE("Three pipes in series carry what an independent solution gives") {
    check_flows(SolvedProblem("white-pipes-in-series"), {{"1", 10.2205094475332}}, m3_per_h,
                "mpmath 1.2.1, m3/h");
}

TEST_CASE("Three reservoirs exchange what an independent solution gives") {
    const SolvedProblem pipes("white-three-reservoirs");
    check_flows(pipes, {{"1", -52.8389824775116}, {"2", 47.0016109057465}, {"3", 5.83737157176514}},
                m3_per_h, "mpmath 1.2.1, m3/h");
    CHECK_THAT(pipes.pressure_pa("J") / (1000.0 * gravity_m_per_s2),
               agrees_with(34.5407389730836, tolerance, "mpmath 1.2.1, head at J in m"));
}

TEST_CASE("A pump of stated power drives two pipes as an independent solution has it") {
    // The file's curve is a cubic through points of the hyperbola, 0.2 l/s apart at the answer.
    check_flows(SolvedProblem("cengel-cimbala-8-7"),
                {{"pump", 0.0300142218944545},
                 {"narrow", 0.00415166529112065},
                 {"wide", 0.0258625566033338}},
                1.0, "mpmath 1.2.1, m3/s", 1e-6);
}

TEST_CASE("Three reservoirs of constant friction factor exchange what the equations give") {
    check_flows(
        SolvedProblem("munson-8-14"),
        {{"from A", 12.5012734504979}, {"to B", 2.23191744138557}, {"to C", 10.2693560091123}},
        cubic_feet_per_s, "mpmath 1.2.1, ft3/s");
}

TEST_CASE("Two tanks exchange what the equations of their two pipes give") {
    // The law of a local loss may depart from a square by 0.005 Pa, here 5e-8 of the head.
    check_flows(SolvedProblem("douglas-14-3"),
                {{"narrow", 0.0033976964440555}, {"wide", 0.0190039033696599}}, 1.0,
                "mpmath 1.2.1, m3/s", 1e-7);
}

TEST_CASE("A branching pipe carries what its equations give") {
    check_flows(
        SolvedProblem("douglas-14-4"),
        {{"A-D", 0.0205849731029095}, {"D-B", 0.0105156723094848}, {"D-C", 0.0100693007934247}},
        1.0, "mpmath 1.2.1, m3/s");
}

TEST_CASE("A rising pipe of two sizes needs the pressure that another set of formulas gives") {
    // The elbows' and the enlargement's coefficients differ between the formulas, hence 1 %.
    CHECK_THAT(SolvedProblem("crane-7-14").pressure_pa("inlet"),
               agrees_with(262439.43, 0.01, "python3-fluids 1.0.22, pressure in Pa"));
}
