// How long does a cold solve of the flow equations take, as a multiple of one sparse Cholesky
// factorisation and solve of the uncontracted node matrix? Ratios are medians of interleaved runs.
#include "benchmarks/example_house.hpp"
#include "benchmarks/kinsol_peer.hpp"
#include "benchmarks/made_networks.hpp"
#include "models/loss_bank.hpp"
#include "solver/flow/branches.hpp"
#include "solver/flow/newton.hpp"
#include "solver/questions/drive.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <chrono>
#include <cstring>
#include <fmt/format.h>
#include <malloc.h>
#include <memory>
#include <optional>

namespace {

using namespace headroom;

double seconds(const auto &work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double median(std::vector<double> values) {
    std::nth_element(values.begin(), values.begin() + static_cast<long>(values.size() / 2),
                     values.end());
    return values[values.size() / 2];
}

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
    }
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

bool measure(const std::string &name, networks::Network network, int runs, bool with_peer) {
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
    if (with_peer && benchmarks::has_kinsol()) {
        equations = std::make_unique<solver::FlowEquations>(fresh);
        equations->solve();
        std::vector<double> ratio;
        benchmarks::PeerResult peer;
        for (int run = 0; run < std::max(3, std::min(runs, 101)); ++run) {
            peer = benchmarks::solve_with_kinsol(network, fluid);
            ratio.push_back(peer.seconds / median(cold));
        }
        const double apart =
            worst_difference(peer.flow_kg_s, link_flows(*system, equations->branch_flows()));
        fmt::print(" {:>8.1f} {:>6} {:>9.1e}", median(ratio), peer.steps, apart);
        if (!peer.converged)
            fmt::print(" (peer did not converge)");
        else
            good = good && apart < 1e-7;
    }
    fmt::print("   {}\n", good ? "" : "FAILED");
    std::fflush(stdout);
    return good;
}

const char *instruction_name() {
    switch (models::instructions()) {
    case models::Instructions::Avx512:
        return "AVX-512";
    case models::Instructions::Avx2:
        return "AVX2";
    case models::Instructions::Baseline:
        break;
    }
    return "baseline instructions";
}

} // namespace

int main(int argc, char **argv) {
    const bool smoke = argc > 1 && std::strcmp(argv[1], "--smoke") == 0;
    const bool large = argc > 1 && std::strcmp(argv[1], "--large") == 0;
    const bool peers = argc > 1 && std::strcmp(argv[1], "--peers") == 0;
    fmt::print("{}, {}, {}\n", COMPILER, BUILD_FLAGS, instruction_name());
    fmt::print("{:<14} {:>8} {:>8} {:>6} {:>11} {:>11} {:>8} {:>8} {:>9} {:>6} {:>8}{}\n",
               "network", "links", "branches", "steps", "one LLT us", "cold us", "cold", "warm",
               "analysis", "laws", "B/link", peers ? " KINSOL/own  steps   apart kg/s" : "");
    bool good = true;
    const networks::House house = benchmarks::example_house("two-manifolds-radiators.yaml");
    good = measure("house", networks::expand(house), smoke ? 3 : 2001, peers || smoke) && good;
    std::vector<std::size_t> sizes{1000};
    if (!smoke)
        sizes.insert(sizes.end(), {10000, 100000});
    if (large)
        sizes.push_back(1000000);
    for (std::size_t size : sizes) {
        const int runs = smoke ? 1 : static_cast<int>(std::max<std::size_t>(3, 300000 / size));
        good = measure(fmt::format("block {}", size), benchmarks::make_block(size), runs,
                       peers || smoke) &&
               good;
        if (size <= 100000)
            good = measure(fmt::format("grid {}", size), benchmarks::make_grid(size),
                           size >= 100000 ? 3 : runs, peers && size <= 10000) &&
                   good;
    }
    std::vector<double> whole;
    for (int run = 0; run < (smoke ? 1 : 21); ++run)
        whole.push_back(seconds([&] { good = solver::drive(house).outcome.converged() && good; }));
    fmt::print("whole drive of the house, flow and heat in every state and variant: {:.2f} ms\n",
               median(whole) * 1e3);
    return good ? 0 : 1;
}
