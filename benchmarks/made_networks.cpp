#include "benchmarks/made_networks.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::benchmarks {
namespace {

using namespace networks;

// Small multiplicative generator: the same networks on every machine.
class Draw {
public:
    double between(double low, double high) {
        state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
        return low + (high - low) * static_cast<double>(state_ >> 11U) * 0x1.0p-53;
    }

private:
    std::uint64_t state_ = 2024;
};

NodeId add_node(Network &network) {
    network.nodes.push_back({"", 0.0});
    return network.nodes.size() - 1;
}

void add_link(Network &network, NodeId from, NodeId to, Component component) {
    network.links.push_back({"", from, to, std::move(component), {Owner::Kind::Run, 0}, {}, 40.0});
}

Component pipe(double length_m, double bore_m) {
    return PipeFriction{models::make_pipe({length_m, bore_m, 7e-6})};
}

} // namespace

Network make_block(std::size_t links) {
    Network network;
    Draw draw;
    const NodeId back = add_node(network);
    const NodeId out = add_node(network);
    RunningPump pump;
    pump.curve = models::make_pump_curve({{0.0, 9e4}, {0.02, 8e4}, {0.06, 3e4}});
    pump.speed = std::max(1.0, static_cast<double>(links) / 2000.0);
    pump.limit_pa = 9e4;
    add_link(network, back, out, pump);
    while (network.links.size() < links) {
        // A riser of eight floors; each floor two flats of three emitters.
        NodeId flow = out;
        NodeId ret = back;
        for (int floor = 0; floor < 8 && network.links.size() < links; ++floor) {
            const NodeId f = add_node(network);
            const NodeId r = add_node(network);
            const double rise = draw.between(2.5, 4.0);
            add_link(network, flow, f, pipe(rise, 0.04));
            add_link(network, r, ret, pipe(rise, 0.04));
            flow = f;
            ret = r;
            for (int flat = 0; flat < 2; ++flat) {
                const NodeId ff = add_node(network);
                const NodeId fr = add_node(network);
                const double length = draw.between(4.0, 12.0);
                add_link(network, f, ff, pipe(length, 0.02));
                add_link(network, fr, r, pipe(length, 0.02));
                for (int k = 0; k < 3; ++k) {
                    const NodeId a = add_node(network);
                    const NodeId b = add_node(network);
                    add_link(network, ff, a, FlowFactor{draw.between(0.2, 1.0)});
                    add_link(network, a, b, pipe(draw.between(40.0, 100.0), 0.012));
                    add_link(network, b, fr, FlowFactor{draw.between(0.5, 1.2)});
                }
            }
        }
    }
    return network;
}

Network make_grid(std::size_t links) {
    Network network;
    Draw draw;
    network.fluid.kind = models::FluidKind::Water;
    const auto side = static_cast<std::size_t>(std::sqrt(static_cast<double>(links) / 2.0));
    for (std::size_t i = 0; i < side * side; ++i)
        add_node(network);
    const auto at = [&](std::size_t x, std::size_t y) { return y * side + x; };
    for (std::size_t y = 0; y < side; ++y)
        for (std::size_t x = 0; x < side; ++x) {
            if (x + 1 < side)
                add_link(network, at(x, y), at(x + 1, y),
                         pipe(draw.between(20.0, 80.0), draw.between(0.05, 0.15)));
            if (y + 1 < side)
                add_link(network, at(x, y), at(x, y + 1),
                         pipe(draw.between(20.0, 80.0), draw.between(0.05, 0.15)));
        }
    network.held.push_back({at(0, 0), 4e5});
    network.held.push_back({at(side - 1, side - 1), 1e5});
    return network;
}

} // namespace headroom::benchmarks
