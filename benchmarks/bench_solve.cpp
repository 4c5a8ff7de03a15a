// How long does a cold solve of the flow equations take, as a multiple of one sparse Cholesky
// factorisation and solve of the uncontracted node matrix? Ratios are medians of interleaved runs.
#include "benchmarks/example_house.hpp"
#include "benchmarks/made_networks.hpp"
#include "benchmarks/peers.hpp"
#include "benchmarks/record.hpp"
#include "solver/flow/branches.hpp"
#include "solver/flow/flow_equations.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/size.hpp"
#include "solver/solve.hpp"

#include <Eigen/SparseCholesky>
#ifdef HEADROOM_CHOLMOD
#include <Eigen/CholmodSupport>
#endif
#include <algorithm>
#include <cmath>
#include <cstring>
#include <fmt/format.h>
#include <malloc.h>
#include <memory>
#include <optional>

namespace {

using namespace headroom;
using benchmarks::median;
using benchmarks::seconds;

// The yardstick: a weighted Laplacian over all nodes but the first, pattern analysed beforehand.
class Yardstick {
public:
    explicit Yardstick(const networks::Network &network) {
        const auto n = static_cast<Eigen::Index>(network.nodes.size());
        std::vector<Eigen::Triplet<double>> terms;
        for (const networks::Link &link : network.links) {
            const auto i = static_cast<int>(std::max(link.from, link.to)) - 1;
            const auto j = static_cast<int>(std::min(link.from, link.to)) - 1;
            terms.emplace_back(i, i, 1.0);
            if (j >= 0) {
                terms.emplace_back(j, j, 1.0);
                terms.emplace_back(i, j, -1.0);
            }
        }
        for (int i = 0; i < n - 1; ++i)
            terms.emplace_back(i, i, 1e-3);
        matrix_.resize(n - 1, n - 1);
        matrix_.setFromTriplets(terms.begin(), terms.end());
        factor_.analyzePattern(matrix_);
        right_side_ = Eigen::VectorXd::Ones(n - 1);
        run(); // so that no run that counts gets its memory first
    }
    const Eigen::SparseMatrix<double> &matrix() const { return matrix_; }
    void run() {
        factor_.factorize(matrix_);
        right_side_ = factor_.solve(right_side_);
        right_side_ /= right_side_.norm();
    }

private:
    Eigen::SparseMatrix<double> matrix_;
    Eigen::SimplicialLLT<Eigen::SparseMatrix<double>> factor_;
    Eigen::VectorXd right_side_;
};

std::size_t heap_bytes() {
    const struct mallinfo2 heap = mallinfo2();
    return heap.uordblks + heap.hblkhd;
}

// The first valve by Kv, to be turned.
networks::FlowFactor *first_valve(networks::Network &network) {
    for (networks::Link &link : network.links)
        if (auto *valve = std::get_if<networks::FlowFactor>(&link.component))
            return valve;
    return nullptr;
}

double worst_difference(const std::vector<double> &a, const std::vector<double> &b) {
    double worst = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i)
        worst = std::max(worst, std::abs(a[i] - b[i]));
    return worst;
}

std::vector<double> link_flows(const solver::BranchSystem &system,
                               const std::vector<double> &branch_flow) {
    std::vector<double> out;
    for (std::size_t e = 0; e < system.branch_of.size(); ++e)
        out.push_back(
            system.sign_of[e] == 0 ? 0.0 : system.sign_of[e] * branch_flow[system.branch_of[e]]);
    return out;
}

// A peer against the own cold solve, in turn. Its flows must be the own ones.
bool compare(const benchmarks::Peer &peer, const networks::Network &network,
             const std::vector<models::FluidState> &fluid, const solver::BranchSystem &system,
             const solver::FlowEquations &fresh, const solver::Outcome &own, int runs) {
    std::vector<double> ratio;
    benchmarks::PeerResult result;
    double largest = 0.0, apart = 0.0;
    for (int run = 0; run < std::min(runs, 101); ++run) {
        result = peer.solve({network, fluid, own.law_tolerance_pa, own.mass_tolerance_kg_s});
        auto equations = std::make_unique<solver::FlowEquations>(fresh);
        ratio.push_back(result.seconds / seconds([&] { equations->solve(); }));
        if (run > 0)
            continue;
        const std::vector<double> flows = link_flows(system, equations->branch_flows());
        for (double flow : flows)
            largest = std::max(largest, std::abs(flow));
        apart = worst_difference(result.flow_kg_s, flows) / largest;
    }
    if (!result.converged)
        fmt::print("  {} does not converge in {} steps", peer.name, result.steps);
    else
        fmt::print(" {:>8.1f} {:>5} {:>8.0e}", median(ratio), result.steps, apart);
    return !result.converged || apart < 1e-8;
}

bool measure(const std::string &name, networks::Network network, int runs, bool with_peers) {
    std::vector<models::FluidState> fluid;
    for (const networks::Link &link : network.links)
        fluid.push_back(models::fluid_state(network.fluid, link.expected_c));
    const std::size_t heap_before = heap_bytes();
    const auto system = std::make_unique<solver::BranchSystem>(solver::contract(network));
    auto equations = std::make_unique<solver::FlowEquations>(network, *system);
    equations->set_fluid(fluid);
    const std::size_t bytes = heap_bytes() - heap_before;
    const solver::FlowEquations fresh = *equations;
    Yardstick yardstick(network);
    networks::FlowFactor *valve = first_valve(network);
    std::vector<double> cold, warm, analysis, laws, yard, cold_ratio, warm_ratio;
    solver::Outcome outcome, again;
    for (int run = 0; run < runs; ++run) {
        std::optional<solver::BranchSystem> other;
        std::optional<solver::FlowEquations> anew;
        analysis.push_back(seconds([&] {
            other = solver::contract(network);
            anew.emplace(network, *other);
        }));
        laws.push_back(seconds([&] { anew->set_fluid(fluid); }));
        equations = std::make_unique<solver::FlowEquations>(fresh);
        cold.push_back(seconds([&] { outcome = equations->solve(); }));
        yard.push_back(seconds([&] { yardstick.run(); }));
        cold_ratio.push_back(cold.back() / yard.back());
        if (valve == nullptr)
            continue;
        const double kv = valve->kv_m3_h;
        valve->kv_m3_h = 0.9 * kv;
        equations->reread_components();
        warm.push_back(seconds([&] { again = equations->solve(); }));
        yard.push_back(seconds([&] { yardstick.run(); }));
        warm_ratio.push_back(warm.back() / yard.back());
        valve->kv_m3_h = kv;
    }
    fmt::print(
        "{:<14} {:>8} {:>8} {:>6} {:>11.1f} {:>11.1f} {:>8.2f} {:>8} {:>9.1f} {:>6.1f} {:>8}", name,
        network.links.size(), system->branches.size(), outcome.newton_steps, median(yard) * 1e6,
        median(cold) * 1e6, median(cold_ratio),
        warm.empty() ? "" : fmt::format("{:.2f}", median(warm_ratio)),
        median(analysis) / median(cold), median(laws) / median(cold), bytes / network.links.size());
    bool good = outcome.converged() && (warm.empty() || again.converged());
    for (const benchmarks::Peer &peer :
         with_peers ? benchmarks::peers() : std::vector<benchmarks::Peer>())
        good = compare(peer, network, fluid, *system, fresh, outcome, runs) && good;
    fmt::print("   {}\n", good ? "" : "FAILED");
    std::fflush(stdout);
    return good;
}

#ifdef HEADROOM_CHOLMOD
// What a supernodal factorisation of the yardstick's matrix takes, as a multiple of the yardstick.
void measure_supernodal(const std::string &name, const networks::Network &network, int runs) {
    Yardstick yardstick(network);
    Eigen::CholmodSupernodalLLT<Eigen::SparseMatrix<double>> factor;
    const Eigen::VectorXd ones = Eigen::VectorXd::Ones(yardstick.matrix().cols());
    for (const auto &[ordering, order] :
         {std::pair{"AMD", CHOLMOD_AMD}, std::pair{"METIS", CHOLMOD_METIS}}) {
        factor.cholmod().nmethods = 1;
        factor.cholmod().method[0].ordering = order;
        factor.analyzePattern(yardstick.matrix());
        std::vector<double> own, ratio;
        for (int run = 0; run < runs; ++run) {
            own.push_back(seconds([&] { yardstick.run(); }));
            ratio.push_back(seconds([&] {
                                factor.factorize(yardstick.matrix());
                                const Eigen::VectorXd x = factor.solve(ones);
                            }) /
                            own.back());
        }
        fmt::print("{:<14} {:>8} {:>8} {:>11.1f} {:>8.2f}\n", name, network.links.size(), ordering,
                   median(own) * 1e6, median(ratio));
        std::fflush(stdout);
    }
}
#else
void measure_supernodal(const std::string &, const networks::Network &, int) {}
#endif

} // namespace

int main(int argc, char **argv) {
    // What is freed stays at hand, so that no run pays for new pages.
    mallopt(M_MMAP_THRESHOLD, 1 << 30);
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
    const std::string option = argc > 1 ? argv[1] : "";
    const bool smoke = option == "--smoke";
    const bool large = option == "--large";
    const bool peers = option == "--peers" || large || smoke;
    benchmarks::print_record();
    std::vector<std::size_t> sizes{1000, 10000, 100000};
    if (smoke)
        sizes = {1000};
    if (large)
        sizes = {1000000};
    const auto runs = [&](std::size_t size) {
        return smoke || large ? 1 : static_cast<int>(std::max<std::size_t>(3, 300000 / size));
    };
    if (option == "--supernodal") {
        fmt::print("{:<14} {:>8} {:>8} {:>11} {:>8}\n", "network", "links", "ordering",
                   "one LLT us", "ratio");
        for (std::size_t size : std::vector<std::size_t>{1000, 10000, 100000, 1000000})
            measure_supernodal(fmt::format("grid {}", size), benchmarks::make_grid(size),
                               size > 100000 ? 1 : runs(size));
        return 0;
    }
    fmt::print("{:<14} {:>8} {:>8} {:>6} {:>11} {:>11} {:>8} {:>8} {:>9} {:>6} {:>8}", "network",
               "links", "branches", "steps", "one LLT us", "cold us", "cold", "warm", "analysis",
               "laws", "B/link");
    if (peers)
        for (const benchmarks::Peer &peer : benchmarks::peers())
            fmt::print(" {:>8} {:>5} {:>8}", peer.name, "steps", "apart");
    fmt::print("\n");
    bool good = true;
    const networks::House house = benchmarks::example_house("two-manifolds-radiators.yaml");
    if (!large)
        good = measure("house", networks::expand(house), smoke ? 3 : 2001, peers) && good;
    // A peer takes many minutes for the largest grid.
    for (std::size_t size : sizes) {
        good = measure(fmt::format("block {}", size), benchmarks::make_block(size),
                       large ? 3 : runs(size), peers) &&
               good;
        good = measure(fmt::format("grid {}", size), benchmarks::make_grid(size), runs(size),
                       peers && !large) &&
               good;
    }
    const networks::House sized = solver::size(house).house;
    std::vector<double> once, whole;
    for (int run = 0; run < (smoke ? 1 : 21); ++run) {
        networks::Network network = networks::expand(sized);
        once.push_back(seconds(
            [&] { good = solver::solve(std::move(network), &sized).outcome.converged() && good; }));
        whole.push_back(seconds([&] { good = solver::drive(house).outcome.converged() && good; }));
    }
    fmt::print(
        "the house, flow and heat together: {:.3f} ms; whole drive of it, in every state and "
        "variant: {:.2f} ms\n",
        median(once) * 1e3, median(whole) * 1e3);
    return good ? 0 : 1;
}
