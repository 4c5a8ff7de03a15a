// How many variants of a house can be solved in a second, flows alone, on one core? A variant gives
// other sizes (lengths, Kv) to the parts of a network that is expanded and contracted once.
#include "benchmarks/example_house.hpp"
#include "benchmarks/record.hpp"
#include "solver/flow/branches.hpp"
#include "solver/flow/flow_equations.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"

#include <chrono>
#include <cstdlib>
#include <cstring>
#include <fmt/format.h>
#include <new>

namespace {

std::size_t allocations = 0;

} // namespace

void *operator new(std::size_t bytes) {
    ++allocations;
    if (void *memory = std::malloc(bytes))
        return memory;
    throw std::bad_alloc();
}
void operator delete(void *memory) noexcept {
    std::free(memory);
}
void operator delete(void *memory, std::size_t) noexcept {
    std::free(memory);
}

namespace {

using namespace headroom;

// Every pipe longer or shorter by up to 5 %, every valve open by 10 % more or less.
void vary(const networks::Network &as_expanded, int variant, networks::Network &network) {
    for (std::size_t e = 0; e < network.links.size(); ++e) {
        const auto share =
            static_cast<double>((static_cast<std::size_t>(variant) * 7 + e * 13) % 101) / 50.0 -
            1.0;
        const networks::Component &from = as_expanded.links[e].component;
        networks::Component &to = network.links[e].component;
        if (const auto *pipe = std::get_if<networks::PipeFriction>(&from))
            std::get<networks::PipeFriction>(to).pipe.length_m =
                pipe->pipe.length_m * (1.0 + 0.05 * share);
        else if (const auto *valve = std::get_if<networks::FlowFactor>(&from))
            std::get<networks::FlowFactor>(to).kv_m3_h = valve->kv_m3_h * (1.0 + 0.1 * share);
    }
}

bool measure(const std::string &name, const networks::House &house, int variants) {
    const networks::Network as_expanded = networks::expand(house);
    networks::Network network = as_expanded;
    std::vector<models::FluidState> fluid;
    for (const networks::Link &link : network.links)
        fluid.push_back(models::fluid_state(network.fluid, link.expected_c));
    const solver::BranchSystem system = solver::contract(network);
    solver::FlowEquations equations(network, system);
    equations.set_fluid(fluid);
    bool good = equations.solve().converged();
    const auto solve = [&](int variant) {
        vary(as_expanded, variant, network);
        equations.reread_components();
        const solver::Outcome outcome = equations.solve();
        good = good && outcome.converged();
        return outcome.newton_steps;
    };
    for (int i = 0; i < 100; ++i)
        solve(i);
    std::vector<double> seconds;
    int steps = 0;
    const std::size_t before = allocations;
    const auto start = std::chrono::steady_clock::now();
    for (int i = 0; i < variants; ++i)
        steps += solve(i);
    const double took =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    fmt::print("{:<40} {:>6} {:>6.1f} {:>9.0f} {:>12.1f}   {}\n", name, network.links.size(),
               static_cast<double>(steps) / variants, variants / took,
               static_cast<double>(allocations - before) / variants, good ? "" : "FAILED");
    return good;
}

} // namespace

int main(int argc, char **argv) {
    const int variants = argc > 1 && std::strcmp(argv[1], "--smoke") == 0 ? 10 : 20000;
    benchmarks::print_record();
    fmt::print("{:<40} {:>6} {:>6} {:>9} {:>12}\n", "network", "links", "steps", "a second",
               "allocations");
    bool good = true;
    for (const std::string name : {"direct-16mm", "two-manifolds-radiators"}) {
        const networks::House house = benchmarks::example_house(name + ".yaml");
        good = measure(name + ", as found", house, variants) && good;
        const networks::House sized = solver::size(house).house;
        good = measure(name + ", ideal valves",
                       solver::with_ideal_balancing(solver::single_circulator(sized)), variants) &&
               good;
    }
    return good ? 0 : 1;
}
