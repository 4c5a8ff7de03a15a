// The flow equations solved again by another route: node pressures and all link flows as unknowns
// of the whole network, nothing contracted, by Newton's method with a dense factorisation from the
// GNU Scientific Library (gsl_multiroot_fdfsolver_gnewton). Parts with bounds enter by the function
// a + b - sqrt(a^2 + b^2), zero exactly where a >= 0, b >= 0 and a b = 0 (Fischer 1992).
#include "models/units.hpp"
#include "solver/solve.hpp"
#include "tests/support/environment.hpp"
#include "tests/support/frozen_flow.hpp"
#include "tests/support/network_check.hpp"
#include "tests/support/random_house_text.hpp"
#include "tests/support/random_network.hpp"
#include "tests/support/read_house.hpp"
#include "tests/support/solved_example.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_multiroots.h>
#include <numeric>

using namespace headroom;
using namespace headroom::tests;
using networks::LinkId;
using networks::NodeId;

namespace {

class SecondRoute {
public:
    SecondRoute(const networks::Network &network, const std::vector<models::FluidState> &fluid,
                const std::vector<double> &flow)
        : network_(network), fluid_(fluid), links_(network.links.size()),
          nodes_(network.nodes.size()), part_(nodes_) {
        for (LinkId e = 0; e < links_; ++e) {
            flow_scale_ = std::max(flow_scale_, std::abs(flow[e]));
            loss_scale_ =
                std::max(loss_scale_, std::abs(link_fall_pa(network, fluid[e], e, flow[e])));
        }
        find_parts(flow);
        find_potentials(flow);
    }

    // Flows from a start beside the given ones. Newton's method alone need not get there from every
    // start; where it does not, another is taken. No flows if none of ten leads anywhere.
    std::vector<double> solve(const std::vector<double> &flow, Random &random) {
        for (int start = 0; start < 10; ++start) {
            const std::vector<double> found = solve_once(flow, random);
            if (!found.empty())
                return found;
        }
        return {};
    }

private:
    std::vector<double> solve_once(const std::vector<double> &flow, Random &random) {
        gsl_set_error_handler_off();
        const std::size_t n = links_ + nodes_;
        gsl_vector *start = gsl_vector_alloc(n);
        for (LinkId e = 0; e < links_; ++e)
            gsl_vector_set(start, e,
                           flow[e] / flow_scale_ * random.uniform(0.8, 1.2) +
                               random.uniform(-0.02, 0.02));
        for (NodeId v = 0; v < nodes_; ++v)
            gsl_vector_set(start, links_ + v,
                           potential_[v] / loss_scale_ + random.uniform(-0.1, 0.1));
        gsl_multiroot_function_fdf function{&values, &slopes, &both, n, this};
        gsl_multiroot_fdfsolver *solver =
            gsl_multiroot_fdfsolver_alloc(gsl_multiroot_fdfsolver_gnewton, n);
        gsl_multiroot_fdfsolver_set(solver, &function, start);
        double least = 1e300;
        int idle = 0; // steps without a better residual: rounding has been reached
        for (int i = 0; i < 200 && idle < 3; ++i) {
            if (gsl_multiroot_fdfsolver_iterate(solver) != GSL_SUCCESS)
                break;
            double worst = 0.0;
            for (std::size_t k = 0; k < n; ++k)
                worst = std::max(worst, std::abs(gsl_vector_get(solver->f, k)));
            idle = worst < 0.5 * least ? 0 : idle + 1;
            least = std::min(least, worst);
        }
        std::vector<double> out;
        for (LinkId e = 0; e < links_ && least <= 1e-12; ++e)
            out.push_back(flow_scale_ * gsl_vector_get(solver->x, e));
        gsl_multiroot_fdfsolver_free(solver);
        gsl_vector_free(start);
        return out;
    }

    // Nodes that parts away from their bounds join; each has a pressure level of its own.
    void find_parts(const std::vector<double> &flow) {
        std::iota(part_.begin(), part_.end(), std::size_t{0});
        for (bool changed = true; changed;) {
            changed = false;
            for (LinkId e = 0; e < links_; ++e) {
                const networks::Link &link = network_.links[e];
                if (at_bound(link.component, flow[e], 1e-11 * flow_scale_) != AtBound::No)
                    continue;
                const std::size_t least = std::min(part_[link.from], part_[link.to]);
                changed |= part_[link.from] != part_[link.to];
                part_[link.from] = part_[link.to] = least;
            }
        }
        level_.assign(nodes_, nodes_);
        for (NodeId v = 0; v < nodes_; ++v)
            level_[part_[v]] = std::min(level_[part_[v]], v);
        for (const networks::NodePressure &held : network_.held)
            level_[part_[held.node]] = nodes_; // has its level already
    }

    // A start for pressures; also what levels stay at.
    void find_potentials(const std::vector<double> &flow) {
        potential_.assign(nodes_, 0.0);
        std::vector<char> known(nodes_, 0);
        for (const networks::NodePressure &held : network_.held) {
            potential_[held.node] = held_potential(held);
            known[held.node] = 1;
        }
        for (NodeId v = 0; v < nodes_; ++v)
            known[v] |= level_[part_[v]] == v;
        for (bool changed = true; changed;) {
            changed = false;
            for (LinkId e = 0; e < links_; ++e) {
                const networks::Link &link = network_.links[e];
                if (part_[link.from] != part_[link.to] || known[link.from] == known[link.to] ||
                    at_bound(link.component, flow[e], 1e-11 * flow_scale_) != AtBound::No)
                    continue;
                const double fall = link_fall_pa(network_, fluid_[e], e, flow[e]);
                if (known[link.from])
                    potential_[link.to] = potential_[link.from] - fall;
                else
                    potential_[link.from] = potential_[link.to] + fall;
                known[link.from] = known[link.to] = 1;
                changed = true;
            }
        }
    }

    double held_potential(const networks::NodePressure &held) const {
        return held.pressure_pa + network_.reference_density_kg_m3 * models::gravity_m_per_s2 *
                                      network_.nodes[held.node].elevation_m;
    }

    void evaluate(const gsl_vector *x, gsl_vector *f, gsl_matrix *j) const {
        if (f != nullptr)
            gsl_vector_set_zero(f);
        if (j != nullptr)
            gsl_matrix_set_zero(j);
        const auto value = [&](std::size_t row, double v) {
            if (f != nullptr)
                gsl_vector_set(f, row, v);
        };
        const auto slope = [&](std::size_t row, std::size_t column, double v) {
            if (j != nullptr)
                gsl_matrix_set(j, row, column, gsl_matrix_get(j, row, column) + v);
        };
        for (LinkId e = 0; e < links_; ++e) {
            const networks::Link &link = network_.links[e];
            const networks::FlowBounds bounds = networks::flow_bounds(link.component);
            const double q = gsl_vector_get(x, e);
            const models::Loss law = link_law(network_, fluid_[e], e, flow_scale_ * q);
            const double excess = gsl_vector_get(x, links_ + link.from) -
                                  gsl_vector_get(x, links_ + link.to) -
                                  law.pressure_pa / loss_scale_;
            const double steep = law.slope_pa_s_per_kg * flow_scale_ / loss_scale_;
            const bool least = std::isfinite(bounds.least_kg_s);
            const bool most = std::isfinite(bounds.most_kg_s);
            const double bound = (least ? bounds.least_kg_s : bounds.most_kg_s) / flow_scale_;
            if ((least && most) || ((least || most) && part_[link.from] != part_[link.to])) {
                value(e, q - bound);
                slope(e, e, 1.0);
                continue;
            }
            double by_flow = 0.0; // d(value)/dq and d(value)/d(excess)
            double by_excess = 1.0;
            if (least || most) {
                const double side = least ? 1.0 : -1.0;
                const double a = side * (q - bound);
                const double b = -side * excess;
                const double root = std::max(std::hypot(a, b), 1e-300);
                value(e, a + b - root);
                by_flow = side * (1.0 - a / root);
                by_excess = -side * (1.0 - b / root);
            } else {
                value(e, excess);
            }
            slope(e, e, by_flow - by_excess * steep);
            slope(e, links_ + link.from, by_excess);
            slope(e, links_ + link.to, -by_excess);
        }
        std::vector<double> balance(nodes_, 0.0);
        std::vector<char> replaced(nodes_, 0);
        for (const networks::NodeFlow &fixed : network_.fixed)
            balance[fixed.node] += fixed.in_kg_s / flow_scale_;
        const auto pin = [&](NodeId v, double potential) {
            replaced[v] = 1;
            value(links_ + v, gsl_vector_get(x, links_ + v) - potential / loss_scale_);
            slope(links_ + v, links_ + v, 1.0);
        };
        for (const networks::NodePressure &held : network_.held)
            if (!replaced[held.node])
                pin(held.node, held_potential(held));
        for (NodeId v = 0; v < nodes_; ++v)
            if (level_[part_[v]] == v)
                pin(v, potential_[v]); // its balance follows from the others'
        for (LinkId e = 0; e < links_; ++e) {
            const networks::Link &link = network_.links[e];
            const double q = gsl_vector_get(x, e);
            balance[link.from] -= q;
            balance[link.to] += q;
            if (!replaced[link.from])
                slope(links_ + link.from, e, -1.0);
            if (!replaced[link.to])
                slope(links_ + link.to, e, 1.0);
        }
        for (NodeId v = 0; v < nodes_; ++v)
            if (!replaced[v])
                value(links_ + v, balance[v]);
    }

    static int values(const gsl_vector *x, void *self, gsl_vector *f) {
        static_cast<SecondRoute *>(self)->evaluate(x, f, nullptr);
        return GSL_SUCCESS;
    }
    static int slopes(const gsl_vector *x, void *self, gsl_matrix *j) {
        static_cast<SecondRoute *>(self)->evaluate(x, nullptr, j);
        return GSL_SUCCESS;
    }
    static int both(const gsl_vector *x, void *self, gsl_vector *f, gsl_matrix *j) {
        static_cast<SecondRoute *>(self)->evaluate(x, f, j);
        return GSL_SUCCESS;
    }

    const networks::Network &network_;
    const std::vector<models::FluidState> &fluid_;
    std::size_t links_, nodes_;
    std::vector<std::size_t> part_; // of a node
    std::vector<NodeId> level_;     // of a part: the node whose pressure is pinned, or none
    std::vector<double> potential_; // p + rho_ref g z
    double flow_scale_ = 1e-12, loss_scale_ = 1.0;
};

double worst_difference(const std::vector<double> &a, const std::vector<double> &b) {
    double largest = 1e-12;
    double worst = 0.0;
    for (std::size_t e = 0; e < a.size(); ++e) {
        largest = std::max(largest, std::abs(a[e]));
        const double difference = std::abs(a[e] - b[e]);
        worst = std::isfinite(difference) ? std::max(worst, difference) : models::no_limit;
    }
    return worst / largest;
}

} // namespace

TEST_CASE("A general solver on the whole network finds the flows of every example") {
    Random random(7);
    for (const SolvedExample &example : solved_examples()) {
        SecondRoute route(example.network, example.solution.fluid, example.solution.flow_kg_s);
        const std::vector<double> again = route.solve(example.solution.flow_kg_s, random);
        INFO(example.file);
        REQUIRE(again.size() == example.network.links.size());
        CHECK(worst_difference(example.solution.flow_kg_s, again) <= 1e-8);
    }
}

TEST_CASE("A general solver on the whole network finds the flows of random networks") {
    RandomKind kind;
    kind.extremes = false; // its one factorisation holds every size of slope at once
    kind.set_valued = false;
    kind.controlled = false;
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        const networks::Network network = random_network(seed, kind);
        const std::vector<models::FluidState> fluid = expected_states(network);
        const FrozenFlow flow = frozen_flow(network, fluid);
        REQUIRE(flow.outcome.converged());
        Random random(seed);
        SecondRoute route(network, fluid, flow.flow_kg_s);
        const std::vector<double> again = route.solve(flow.flow_kg_s, random);
        INFO("seed " << seed);
        REQUIRE(again.size() == network.links.size());
        CHECK(worst_difference(flow.flow_kg_s, again) <= 1e-8);
    }
}

// HEADROOM_SECOND_ROUTE_HOUSES sets how many houses are tried, HEADROOM_PROPERTY_SEED the first.
TEST_CASE("A general solver on the whole network finds the flows of random houses") {
    const std::size_t count = from_environment("HEADROOM_SECOND_ROUTE_HOUSES", 25);
    const std::size_t first = from_environment("HEADROOM_PROPERTY_SEED", 1);
    std::size_t agree = 0;
    double worst = 0.0;
    std::string others;
    for (std::size_t seed = first; seed < first + count; ++seed) {
        const networks::House house = house_of(random_house_text(seed));
        const networks::Network network = networks::expand(house);
        const solver::Solution solution = solver::solve(network, &house);
        if (!solution.outcome.converged()) {
            others += fmt::format("seed {}: not solved by the first\n", seed);
            continue;
        }
        const networks::Network solved = as_solved(network, solution);
        Random random(seed);
        SecondRoute route(solved, solution.fluid, solution.flow_kg_s);
        const std::vector<double> again = route.solve(solution.flow_kg_s, random);
        const double difference =
            again.empty() ? models::no_limit : worst_difference(solution.flow_kg_s, again);
        agree += difference <= 1e-8;
        worst = std::max(worst, again.empty() ? 0.0 : difference);
        if (difference > 1e-8)
            others += fmt::format("seed {}: {}\n", seed,
                                  again.empty() ? "the second route led nowhere"
                                                : fmt::format("{:.2e} apart", difference));
    }
    const std::string table = fmt::format("{} of {} houses agree, worst {:.2e} of the largest "
                                          "flow\n{}",
                                          agree, count, worst, others);
    if (count > 100)
        WARN(table);
    INFO(table);
    CHECK(agree == count);
}
