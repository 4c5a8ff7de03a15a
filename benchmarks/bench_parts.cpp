// What do the single parts of a solve cost? With Google Benchmark's options and outputs.
#include "benchmarks/example_house.hpp"
#include "benchmarks/made_networks.hpp"
#include "benchmarks/record.hpp"
#include "models/floor_conduction.hpp"
#include "solver/flow/branch_laws.hpp"
#include "solver/flow/node_matrix.hpp"

#include <benchmark/benchmark.h>

namespace {

using namespace headroom;

const std::string example = "two-manifolds-radiators.yaml";

void reading(benchmark::State &state) {
    const std::string text = benchmarks::example_text(example);
    for (auto _ : state) {
        networks::Diagnostics diagnostics;
        benchmark::DoNotOptimize(networks::read_house(text, diagnostics));
    }
}
BENCHMARK(reading)->Unit(benchmark::kMicrosecond);

void expansion(benchmark::State &state) {
    const networks::House house = benchmarks::example_house(example);
    for (auto _ : state)
        benchmark::DoNotOptimize(networks::expand(house));
}
BENCHMARK(expansion)->Unit(benchmark::kMicrosecond);

void contraction(benchmark::State &state) {
    const networks::Network network = networks::expand(benchmarks::example_house(example));
    for (auto _ : state)
        benchmark::DoNotOptimize(solver::contract(network));
}
BENCHMARK(contraction)->Unit(benchmark::kMicrosecond);

// Colebrook's law of pipes of one bore, at flows that move a little between calls.
void friction_of_a_bank(benchmark::State &state) {
    const auto pipes = static_cast<std::size_t>(state.range(0));
    models::FrictionCurves curves;
    const std::uint32_t curve = curves.number(models::make_pipe({1.0, 0.02, 7e-6}).straight);
    std::vector<models::PipeBank::Entry> entries;
    for (std::uint32_t i = 0; i < pipes; ++i)
        entries.push_back({i, curve});
    models::PipeBank bank;
    bank.arrange(entries, curves, static_cast<std::uint32_t>(pipes));
    for (std::size_t i = 0; i < pipes; ++i)
        bank.scale(i, 1e5, 1e-3);
    std::vector<double> flow(pipes + 1, 0.1), loss(pipes + 1), slope(pipes + 1);
    double factor = 1.01;
    for (auto _ : state) {
        for (double &m : flow)
            m *= factor;
        factor = 1.0 / factor;
        bank.add_losses(flow.data(), loss.data(), slope.data());
        benchmark::DoNotOptimize(loss.data());
    }
    state.SetItemsProcessed(state.iterations() * state.range(0));
}
BENCHMARK(friction_of_a_bank)->Arg(64)->Arg(4096);

// The node matrix of a contracted network, factorised and solved.
void factorisation(benchmark::State &state, const networks::Network &network) {
    const solver::BranchSystem system = solver::contract(network);
    std::vector<solver::NodeMatrix::Ends> ends;
    for (const solver::Branch &branch : system.branches)
        ends.push_back(
            {static_cast<std::uint32_t>(branch.from), static_cast<std::uint32_t>(branch.to)});
    solver::NodeMatrix matrix(system.nodes, ends);
    const std::vector<double> conductance(ends.size(), 1.0), to_ground(system.nodes, 1e-3),
        inflow(system.nodes, 1.0);
    std::vector<double> pressure(system.nodes);
    for (auto _ : state) {
        if (!matrix.factorise(conductance, to_ground))
            state.SkipWithError("singular");
        matrix.solve(inflow, pressure);
        benchmark::DoNotOptimize(pressure.data());
    }
}
BENCHMARK_CAPTURE(factorisation, house, networks::expand(benchmarks::example_house(example)))
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(factorisation, block_10000, benchmarks::make_block(10000))
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(factorisation, grid_10000, benchmarks::make_grid(10000))
    ->Unit(benchmark::kMicrosecond);

void floor_section(benchmark::State &state) {
    models::FloorSection section;
    section.spacing_m = 0.15;
    section.pipe = {.outside_diameter_m = 0.016, .wall_m = 0.002, .wall_conductivity_w_m_k = 0.35};
    section.cover_m = 0.045;
    section.layer_conductivity_w_m_k = 1.2;
    section.insulation_thickness_m = 0.05;
    for (auto _ : state)
        benchmark::DoNotOptimize(models::floor_response(section));
}
BENCHMARK(floor_section)->Unit(benchmark::kMillisecond);

} // namespace

int main(int argc, char **argv) {
    benchmark::Initialize(&argc, argv);
    if (benchmark::ReportUnrecognizedArguments(argc, argv))
        return 2;
    for (const auto &[what, is] : benchmarks::record())
        benchmark::AddCustomContext(what, is);
    benchmark::RunSpecifiedBenchmarks();
    benchmark::Shutdown();
    return 0;
}
