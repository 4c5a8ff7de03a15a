// The pieces of a chain: what each part of a house is as a component of the network.
#pragma once

#include "networks/house.hpp"
#include "networks/network.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::networks {

/// One link to be, in a chain between two nodes.
struct Step {
    std::string name;
    Component component;
    Exchange exchange = {};
    bool climbs = false; ///< takes the chain from its first level to its last
};

/// Kv, zeta or stated loss as a component; nothing for a loss of zero.
std::optional<Component> local_component(const Resistance &resistance, double bore_m);

/// Everything local as a Kv, very large for no loss.
double local_kv(const Resistance &resistance, double bore_m);

/// Makes steps for a house under its condition; `sent_c` is the temperature at which stated volume
/// flows become mass flows.
class StepMaker {
public:
    StepMaker(const House &house, double sent_c) : house_(house), sent_c_(sent_c) {}

    Step pipe(const PipeChoice &pipe, double length_m, bool existing, double curved_share = 0.0,
              double bend_m = 0.0) const;
    /// What such a pipe does to its water on the way; nothing where the file does not say what is
    /// round it, at cold start, and in a network without a source.
    Exchange losses(const PipeChoice &pipe, double length_m,
                    const std::optional<PipeSurroundings> &surroundings) const;
    /// Clean fittings as one zeta, filters and parts by Kv each by itself.
    void fittings(const RunSide &side, double bore_m, std::vector<Step> &steps) const;
    void parts(const Run &run, Side side, double bore_m, std::vector<Step> &steps) const;
    Step pump(const Pump &pump, std::string name, double curve_factor) const;
    /// A port of a three-port valve; shut when its Kv is zero.
    static Step port(std::string name, double kv_m3_h);
    double density(double temperature_c) const;

private:
    const House &house_;
    double sent_c_;
};

} // namespace headroom::networks
