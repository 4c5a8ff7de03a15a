// How long does a cold solve of the flow equations take, as a multiple of one sparse Cholesky
// factorisation and solve of the uncontracted node matrix? Ratios are medians of interleaved runs.
#include "benchmarks/made_networks.hpp"
#include "networks/reader.hpp"
#include "solver/flow/branches.hpp"
#include "solver/flow/newton.hpp"
#include "solver/questions/drive.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <chrono>
#include <cstring>
#include <fmt/format.h>
#include <fstream>
#include <numeric>
#include <sstream>

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

bool measure(const std::string &name, const networks::Network &network, int runs) {
    std::vector<models::FluidState> fluid;
    for (const networks::Link &link : network.links)
        fluid.push_back(models::fluid_state(network.fluid, link.expected_c));
    const double analysis_start = seconds([&] { (void)solver::contract(network); });
    const solver::BranchSystem system = solver::contract(network);
    Yardstick yardstick(network);
    std::vector<double> cold, yard, ratio;
    solver::Outcome outcome;
    for (int run = 0; run < runs; ++run) {
        solver::FlowEquations equations(network, system);
        equations.set_fluid(fluid);
        cold.push_back(seconds([&] { outcome = equations.solve(); }));
        yard.push_back(seconds([&] { yardstick.run(); }));
        ratio.push_back(cold.back() / yard.back());
    }
    fmt::print("{:<16} {:>8} {:>8} {:>9} {:>5} {:>11.1f} {:>11.1f} {:>8.1f} {:>10.1f}   {}\n", name,
               network.links.size(), network.nodes.size(), system.branches.size(),
               outcome.newton_steps, median(cold) * 1e6, median(yard) * 1e6, median(ratio),
               analysis_start / median(cold), outcome.converged() ? "converged" : "FAILED");
    return outcome.converged();
}

networks::House read_example(const std::string &name) {
    std::ifstream stream(std::string(SOURCE_DIR) + "/networks/examples/" + name);
    std::ostringstream text;
    text << stream.rdbuf();
    networks::Diagnostics diagnostics;
    return networks::read_house(text.str(), diagnostics).value();
}

} // namespace

int main(int argc, char **argv) {
    const bool smoke = argc > 1 && std::strcmp(argv[1], "--smoke") == 0;
    fmt::print("{}, {}\n", COMPILER, BUILD_FLAGS);
    fmt::print("{:<16} {:>8} {:>8} {:>9} {:>5} {:>11} {:>11} {:>8} {:>10}\n", "network", "links",
               "nodes", "branches", "steps", "cold us", "one LLT us", "ratio", "contract");
    bool good = true;
    const networks::House house = read_example("two-manifolds-radiators.yaml");
    good = measure("house", networks::expand(house), smoke ? 3 : 2001) && good;
    const std::vector<std::size_t> sizes =
        smoke ? std::vector<std::size_t>{1000} : std::vector<std::size_t>{1000, 10000, 100000};
    for (std::size_t size : sizes) {
        const int runs = smoke ? 1 : static_cast<int>(std::max<std::size_t>(5, 300000 / size));
        good = measure(fmt::format("block {}", size), benchmarks::make_block(size), runs) && good;
        good = measure(fmt::format("grid {}", size), benchmarks::make_grid(size), runs) && good;
    }
    std::vector<double> whole;
    for (int run = 0; run < (smoke ? 1 : 21); ++run)
        whole.push_back(seconds([&] { good = solver::drive(house).outcome.converged() && good; }));
    fmt::print("whole drive of the house, flow and heat in every state and variant: {:.2f} ms\n",
               median(whole) * 1e3);
    return good ? 0 : 1;
}
