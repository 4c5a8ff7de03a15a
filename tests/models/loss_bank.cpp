// Many pipes and fittings at once against the laws of one, on every set of instructions.
#include "models/loss_bank.hpp"
#include "models/local_loss.hpp"
#include "models/units.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <vector>

using namespace headroom;
using namespace headroom::models;

namespace {

class Random {
public:
    explicit Random(std::uint64_t seed) : engine_(seed) {}
    double log_uniform(double low, double high) {
        const double share = static_cast<double>(engine_() >> 11U) * 0x1.0p-53;
        return low * std::pow(high / low, share);
    }

private:
    std::mt19937_64 engine_;
};

const std::vector<Instructions> all_instructions{Instructions::Baseline, Instructions::Avx2,
                                                 Instructions::Avx512};

/// Puts the instructions back to the best when a test ends.
struct BestAfterwards {
    ~BestAfterwards() { limit_instructions(Instructions::Avx512); }
};

struct Losses {
    std::vector<double> pressure_pa, slope;
    bool operator==(const Losses &) const = default;
};

struct Pipes {
    std::vector<Pipe> pipes;
    std::vector<FluidState> fluid;
    std::vector<double> flow_kg_s;
};

// Pipes of many bores and roughnesses, some bent, some with a stated friction factor, from creeping
// flow to far beyond any house.
Pipes draw_pipes(std::uint64_t seed, std::size_t count) {
    Random random(seed);
    Pipes out;
    for (std::size_t i = 0; i < count; ++i) {
        PipeShape shape{};
        shape.length_m = random.log_uniform(0.1, 200.0);
        shape.bore_m = random.log_uniform(0.006, 0.2);
        shape.roughness_m = i % 5 == 0 ? 0.0 : shape.bore_m * random.log_uniform(1e-6, 0.05);
        shape.curved_share = i % 3 == 0 ? random.log_uniform(0.05, 1.0) : 0.0;
        shape.bend_diameter_m = shape.bore_m * random.log_uniform(6.0, 100.0);
        shape.constant_friction_factor = i % 17 == 0 ? 0.03 : 0.0;
        shape.transition =
            std::array{Transition::Middle, Transition::Early, Transition::Late}[i % 3];
        out.pipes.push_back(make_pipe(shape));
        out.fluid.push_back(fluid_state({}, 5.0 + static_cast<double>(i % 80)));
        const double reynolds = i % 29 == 0 ? 0.0 : random.log_uniform(1e-3, 1e7);
        out.flow_kg_s.push_back((i % 2 == 0 ? 1.0 : -1.0) * reynolds * pi * shape.bore_m *
                                out.fluid.back().viscosity_pa_s / 4.0);
    }
    return out;
}

PipeBank bank_of(const Pipes &pipes) {
    FrictionCurves curves;
    std::vector<PipeBank::Entry> entries;
    std::vector<std::array<double, 2>> factors;
    for (std::size_t i = 0; i < pipes.pipes.size(); ++i) {
        const Pipe &pipe = pipes.pipes[i];
        const FluidState &fluid = pipes.fluid[i];
        const double d = pipe.bore_m;
        const double per_flow = 4.0 / (pi * d * fluid.viscosity_pa_s);
        const double scale = fluid.viscosity_pa_s * fluid.viscosity_pa_s * pipe.length_m /
                             (fluid.density_kg_m3 * d * d * d);
        const auto place = static_cast<std::uint32_t>(i);
        entries.push_back({place, curves.number(pipe.straight)});
        factors.push_back({per_flow, scale * (1.0 - pipe.curved_share)});
        if (pipe.curved_share > 0.0) {
            entries.push_back({place, curves.number(pipe.curved)});
            factors.push_back({per_flow, scale * pipe.curved_share});
        }
    }
    PipeBank bank;
    bank.arrange(entries, curves, static_cast<std::uint32_t>(pipes.pipes.size()));
    for (std::size_t i = 0; i < factors.size(); ++i)
        bank.scale(i, factors[i][0], factors[i][1]);
    return bank;
}

Losses bank_losses(PipeBank &bank, std::vector<double> flow_kg_s) {
    flow_kg_s.push_back(0.0); // the place to spare
    Losses out{std::vector<double>(flow_kg_s.size()), std::vector<double>(flow_kg_s.size())};
    bank.add_losses(flow_kg_s.data(), out.pressure_pa.data(), out.slope.data());
    return out;
}

} // namespace

TEST_CASE("Pipes taken together lose what each loses alone, in every regime") {
    const BestAfterwards restore;
    Pipes pipes = draw_pipes(1, 2000);
    for (Instructions set : all_instructions) {
        limit_instructions(set);
        PipeBank bank = bank_of(pipes);
        for (double factor : {1.0, 1.001, 1.3, 40.0, 0.01}) { // from warm starts near and far
            std::vector<double> flow = pipes.flow_kg_s;
            for (double &q : flow)
                q *= factor;
            const Losses losses = bank_losses(bank, flow);
            for (std::size_t i = 0; i < flow.size(); ++i) {
                CAPTURE(i, factor);
                double warm = 0.0;
                const Loss alone = pipe_loss(pipes.pipes[i], pipes.fluid[i], flow[i], warm);
                CHECK(std::abs(losses.pressure_pa[i] - alone.pressure_pa) <=
                      1e-12 * std::abs(alone.pressure_pa));
                CHECK(std::abs(losses.slope[i] - alone.slope_pa_s_per_kg) <=
                      1e-12 * alone.slope_pa_s_per_kg);
            }
        }
    }
}

TEST_CASE("Fittings taken together lose what each loses alone") {
    const BestAfterwards restore;
    Random random(3);
    std::vector<FittingBank::Entry> entries;
    std::vector<double> resistance, flow;
    for (std::uint32_t i = 0; i < 301; ++i) {
        entries.push_back({i, 1.0 + i % 3});
        resistance.push_back(random.log_uniform(1e-3, 1e12));
        flow.push_back(i % 31 == 0 ? 0.0
                                   : (i % 2 == 0 ? 1.0 : -1.0) * random.log_uniform(1e-9, 10));
    }
    flow.push_back(0.0);
    for (Instructions set : all_instructions) {
        limit_instructions(set);
        FittingBank bank;
        bank.arrange(entries, 301);
        for (std::size_t i = 0; i < entries.size(); ++i)
            bank.scale(i, resistance[i]);
        Losses losses{std::vector<double>(302), std::vector<double>(302)};
        bank.add_losses(flow.data(), losses.pressure_pa.data(), losses.slope.data());
        for (std::size_t i = 0; i < 301; ++i) {
            const Loss alone = quadratic_loss(resistance[i], flow[i]);
            CHECK(std::abs(losses.pressure_pa[i] - entries[i].number * alone.pressure_pa) <=
                  1e-14 * std::abs(entries[i].number * alone.pressure_pa));
            CHECK(losses.slope[i] ==
                  Approx(entries[i].number * alone.slope_pa_s_per_kg).epsilon(1e-14));
        }
    }
}

TEST_CASE("Every set of instructions gives the same bits") {
    const BestAfterwards restore;
    const Pipes pipes = draw_pipes(2, 1000);
    std::vector<Losses> found;
    for (Instructions set : all_instructions) {
        limit_instructions(set);
        PipeBank bank = bank_of(pipes);
        (void)bank_losses(bank, std::vector<double>(pipes.flow_kg_s.size(), 0.05));
        found.push_back(bank_losses(bank, pipes.flow_kg_s));
    }
    CHECK(found[0] == found[1]);
    CHECK(found[0] == found[2]);
}

TEST_CASE("Several pipes on one place add up, and a bank may be empty") {
    const PipeShape shape{10.0, 0.02, 1e-5};
    const Pipe pipe = make_pipe(shape);
    PipeBank bank;
    FrictionCurves curves;
    const std::uint32_t curve = curves.number(pipe.straight);
    CHECK(curves.number(make_pipe(shape).straight) == curve);
    bank.arrange({{0, curve}, {0, curve}, {1, curve}}, curves, 2);
    bank.scale(0, 2e5, 1e-6);
    bank.scale(1, 2e5, 2e-6);
    bank.scale(2, 2e5, 3e-6);
    const Losses losses = bank_losses(bank, {0.1, 0.1});
    CHECK(losses.pressure_pa[0] == Approx(losses.pressure_pa[1]).epsilon(1e-15));
    PipeBank empty;
    empty.arrange({}, {}, 0);
    CHECK(bank_losses(empty, {}).pressure_pa == std::vector<double>{0.0});
}
