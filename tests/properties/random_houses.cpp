// Random houses from their text on: read, expanded, solved, judged. HEADROOM_PROPERTY_HOUSES sets
// how many are tried (25), HEADROOM_PROPERTY_SEED the first. A house with a fault, or
// one not solved, is written to the folder that HEADROOM_PROPERTY_KEEP names, if any, as it is and
// without whatever it takes no part in.
#include "solver/questions/drive.hpp"
#include "solver/questions/heat_balance.hpp"
#include "solver/solve.hpp"
#include "tests/support/environment.hpp"
#include "tests/support/network_check.hpp"
#include "tests/support/random_house_text.hpp"
#include "tests/support/read_house.hpp"
#include "tests/support/shrink_house.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <fstream>
#include <optional>
#include <string>
#include <vector>

using namespace headroom;
using namespace headroom::tests;

namespace {

// Heat given against heat taken: temperatures are solved to 1e-9 K of some 10 K between flow and
// return, and water's own heat of some 1e-13 of the largest flow passes still parts.
constexpr double energy_share = 1e-8;

struct Tally {
    std::size_t converged = 0, refused = 0, unsettled = 0, wrong = 0;
    std::size_t driven = 0, marginal = 0, not_driven = 0, too_warm = 0, not_judged = 0;
    std::vector<int> newton_steps, outer_steps;
    double worst_mass = 0.0, worst_law = 0.0; // as shares of the tolerance
    double worst_energy = 0.0;                // closure over heat turned over
    std::string faults;

    static int at(std::vector<int> values, double share) {
        std::sort(values.begin(), values.end());
        return values.empty() ? 0
                              : values[static_cast<std::size_t>(
                                    share * static_cast<double>(values.size() - 1))];
    }

    static std::string spread(const std::vector<int> &values) {
        return fmt::format("median {} p99 {} max {}", at(values, 0.5), at(values, 0.99),
                           at(values, 1.0));
    }

    std::string table() const {
        return fmt::format(
            "{} converged, {} refused, {} unsettled, {} wrong\nNewton steps {}\nouter steps {}\n"
            "worst mass {:.2e} and law {:.2e} of their tolerances, energy gap {:.2e}\nverdicts: {} "
            "yes, {} marginal, {} no, {} too warm, {} not solved\n{}",
            converged, refused, unsettled, wrong, spread(newton_steps), spread(outer_steps),
            worst_mass, worst_law, worst_energy, driven, marginal, not_driven, too_warm, not_judged,
            faults);
    }
};

void count_verdict(const solver::DriveAnswer &answer, Tally &tally) {
    switch (answer.verdict) {
    case solver::Verdict::Yes:
        ++tally.driven;
        break;
    case solver::Verdict::Marginal:
        ++tally.marginal;
        break;
    case solver::Verdict::No:
        ++tally.not_driven;
        break;
    case solver::Verdict::ThermalNo:
        ++tally.too_warm;
        break;
    case solver::Verdict::NotSolved:
        ++tally.not_judged;
        break;
    }
}

// What is wrong with the solution of a network, or nothing.
std::string wrong_flows(const networks::House &house, const networks::Network &network,
                        const solver::Solution &solution, Tally &tally) {
    const NetworkCheck check = check_network(as_solved(network, solution), solution);
    tally.worst_mass =
        std::max(tally.worst_mass, check.worst_mass_kg_s / check.mass_tolerance_kg_s);
    tally.worst_law = std::max(tally.worst_law, check.worst_law_pa / check.law_tolerance_pa);
    if (!check.passes())
        return "the laws are not met at " + check.where;
    const solver::HeatBalance heat = solver::heat_balance(house, network, solution);
    const double turned_over = std::abs(heat.source_w) + std::abs(heat.rooms_w) + heat.down_w;
    // Where a house takes no heat, rounding is measured by a tenth of a kelvin of the source's
    // flow.
    const double passing_w = 0.1 * std::abs(solution.flow_kg_s[network.source->pump]) *
                             solver::mean_heat_capacity_j_kg_k(network);
    const double gap = std::abs(heat.closure_w) / std::max({turned_over, passing_w, 1.0});
    tally.worst_energy = std::max(tally.worst_energy, gap);
    return gap <= energy_share ? "" : fmt::format("heat is out by {:.2e} of itself", gap);
}

struct Finding {
    enum class Kind { Right, Refused, Unsettled, Wrong };
    Kind kind = Kind::Right;
    std::string words;
};

// A verdict is solved, or says in words why it is not; with a yes nothing speaks against it.
Finding verdict(const networks::House &house, Tally &tally) {
    const solver::DriveAnswer answer = solver::drive_verdict(house);
    count_verdict(answer, tally);
    const auto wrong = [](const char *words) { return Finding{Finding::Kind::Wrong, words}; };
    if (answer.verdict == solver::Verdict::NotSolved) {
        if (answer.outcome.explanation.empty() && answer.outcome.worst_equation.empty())
            return wrong("not solved, and no word why");
        return {Finding::Kind::Unsettled,
                "not judged: " + answer.outcome.worst_equation + " " + answer.outcome.explanation};
    }
    if (answer.sentence.empty())
        return wrong("no sentence");
    if (!std::isfinite(answer.needed_pa) || !std::isfinite(answer.available_pa))
        return wrong("a head that is no number");
    if (answer.verdict == solver::Verdict::Yes &&
        (answer.headroom_low_pa < 0.0 || !answer.reasons.empty()))
        return wrong("a yes that something speaks against");
    return {};
}

Finding refusal(const std::optional<networks::House> &read,
                const networks::Diagnostics &diagnostics) {
    std::string why = read ? solver::why_not_driven(*read) : std::string();
    for (const networks::Diagnostic &d : diagnostics.sorted())
        why += d.message + " ";
    return why.empty() ? Finding{Finding::Kind::Wrong, "refused without a reason"}
                       : Finding{Finding::Kind::Refused, "refused: " + why};
}

Finding look_at(const std::string &text, Tally &tally) {
    networks::Diagnostics diagnostics;
    const auto read = networks::read_house(text, diagnostics);
    if (!read || !solver::why_not_driven(*read).empty())
        return refusal(read, diagnostics);
    const networks::Network network = networks::expand(*read);
    const solver::Solution solution = solver::solve(network, &*read);
    tally.newton_steps.push_back(solution.outcome.newton_steps);
    tally.outer_steps.push_back(solution.outer_steps);
    if (solution.outcome.converged()) {
        ++tally.converged;
        const std::string fault = wrong_flows(*read, network, solution, tally);
        if (!fault.empty())
            return {Finding::Kind::Wrong, fault};
    }
    const Finding judged = verdict(*read, tally);
    if (judged.kind != Finding::Kind::Right)
        return judged;
    if (!solution.outcome.converged())
        return {Finding::Kind::Unsettled, "not solved: " + solution.outcome.worst_equation + " " +
                                              solution.outcome.explanation};
    return {};
}

// The house, and the smallest part of it of which the same can be said.
void keep(const std::string &name, const std::string &text, Finding::Kind kind) {
    const char *folder = std::getenv("HEADROOM_PROPERTY_KEEP");
    if (folder == nullptr)
        return;
    std::ofstream(fmt::format("{}/{}.yaml", folder, name)) << text;
    Tally other;
    const auto same = [&](const std::string &part) { return look_at(part, other).kind == kind; };
    std::ofstream(fmt::format("{}/{} small.yaml", folder, name)) << shrunk_house(text, same);
}

void try_house(const std::string &name, const std::string &text, Tally &tally) {
    const Finding found = look_at(text, tally);
    tally.refused += found.kind == Finding::Kind::Refused ? 1 : 0;
    tally.unsettled += found.kind == Finding::Kind::Unsettled ? 1 : 0;
    tally.wrong += found.kind == Finding::Kind::Wrong ? 1 : 0;
    if (found.kind == Finding::Kind::Right)
        return;
    if (tally.faults.size() < 6000)
        tally.faults += fmt::format("{}: {}\n", name, found.words);
    if (found.kind != Finding::Kind::Refused)
        keep(name, text, found.kind);
}

} // namespace

TEST_CASE("Every random house is read, solved to the stated tolerances and judged") {
    const std::size_t count = from_environment("HEADROOM_PROPERTY_HOUSES", 25);
    const std::size_t first = from_environment("HEADROOM_PROPERTY_SEED", 1);
    Tally tally;
    for (std::size_t seed = first; seed < first + count; ++seed)
        try_house(fmt::format("seed {}", seed), random_house_text(seed), tally);
    if (count > 1000)
        WARN(tally.table());
    INFO(tally.table());
    CHECK(tally.wrong == 0);
    CHECK(tally.refused == 0);
    CHECK(tally.unsettled == 0);
    CHECK(tally.driven > count / 20);
    CHECK(tally.not_driven > count / 20);
}
