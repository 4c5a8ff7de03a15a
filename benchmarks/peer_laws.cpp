#include "benchmarks/peer_laws.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::benchmarks {
namespace {

using solver::Branch;
using solver::BranchLosses;
using solver::BranchSystem;

constexpr double least_slope_pa_s_kg = 1e-6;

} // namespace

BranchSystem uncontracted(const networks::Network &network) {
    BranchSystem system;
    std::vector<std::size_t> number(network.nodes.size(), 1);
    if (network.held.empty())
        number[0] = 0;
    for (const networks::NodePressure &held : network.held)
        number[held.node] = 0;
    for (std::size_t &n : number)
        if (n != 0)
            n = system.nodes++;
    for (std::size_t e = 0; e < network.links.size(); ++e) {
        const networks::Link &link = network.links[e];
        const auto bounds = networks::flow_bounds(link.component);
        const bool shut = bounds.least_kg_s >= bounds.most_kg_s;
        system.branches.push_back({number[link.from], number[link.to], shut, 0.0, bounds});
        system.branch_of.push_back(static_cast<std::uint32_t>(e));
        system.sign_of.push_back(1);
    }
    system.list_members();
    return system;
}

BranchSystem without_joints(const networks::Network &network) {
    BranchSystem system = uncontracted(network);
    std::vector<std::vector<std::size_t>> around(system.nodes);
    for (std::size_t b = 0; b < system.branches.size(); ++b)
        for (std::size_t v : {system.branches[b].from, system.branches[b].to})
            around[v].push_back(b);
    std::vector<char> gone(system.branches.size(), 0);
    for (std::size_t b = 0; b < system.branches.size(); ++b) {
        Branch &joint = system.branches[b];
        const auto *valve = std::get_if<networks::FlowFactor>(&network.links[b].component);
        if (valve == nullptr || valve->kv_m3_h < networks::no_loss_kv_m3_h)
            continue;
        for (std::size_t v : {joint.from, joint.to}) {
            if (v == 0 || around[v].size() != 2)
                continue;
            const std::size_t other = around[v][around[v][0] == b ? 1 : 0];
            Branch &neighbour = system.branches[other];
            const bool along = (joint.to == v) == (neighbour.from == v);
            for (std::size_t e = 0; e < system.branch_of.size(); ++e)
                if (system.branch_of[e] == b) {
                    system.branch_of[e] = static_cast<std::uint32_t>(other);
                    if (!along)
                        system.sign_of[e] = system.sign_of[e] > 0 ? -1 : 1;
                }
            const std::size_t far = joint.from == v ? joint.to : joint.from;
            (neighbour.from == v ? neighbour.from : neighbour.to) = far;
            std::replace(around[far].begin(), around[far].end(), b, other);
            around[v].clear();
            joint.from = joint.to = 0;
            gone[b] = 1;
            break;
        }
    }
    std::vector<std::uint32_t> place(gone.size());
    std::uint32_t kept = 0;
    for (std::size_t b = 0; b < gone.size(); ++b) {
        place[b] = kept;
        if (gone[b] == 0)
            system.branches[kept++] = system.branches[b];
    }
    system.branches.resize(kept);
    for (std::uint32_t &branch : system.branch_of)
        branch = place[branch];
    system.list_members();
    system.nodes = 1;
    std::vector<std::size_t> number(around.size(), 0);
    for (std::size_t v = 1; v < around.size(); ++v)
        if (!around[v].empty())
            number[v] = system.nodes++;
    for (Branch &branch : system.branches) {
        branch.from = number[branch.from];
        branch.to = number[branch.to];
    }
    return system;
}

std::optional<double> held_rise_pa(const PeerTask &task, networks::LinkId pump) {
    const networks::Link &link = task.network.links[pump];
    if (!std::holds_alternative<networks::RunningPump>(link.component) || link.from != 0 ||
        !task.network.held.empty())
        return std::nullopt;
    double warm = 0.0;
    const models::Loss loss =
        networks::component_loss(link.component, task.fluid[pump],
                                 networks::ordinary_flow(link.component, task.fluid[pump]), warm);
    if (loss.slope_pa_s_per_kg > 0.0)
        return std::nullopt;
    return -loss.pressure_pa;
}

NodeLaplacian::NodeLaplacian(const BranchSystem &system) {
    const auto row = [](std::size_t node) { return static_cast<int>(node) - 1; };
    std::vector<Eigen::Triplet<double>> terms;
    for (const Branch &branch : system.branches) {
        if (branch.prescribed)
            continue;
        for (std::size_t v : {branch.from, branch.to})
            if (v != 0)
                terms.emplace_back(row(v), row(v), 1.0);
        if (branch.from != 0 && branch.to != 0) {
            terms.emplace_back(row(branch.from), row(branch.to), 1.0);
            terms.emplace_back(row(branch.to), row(branch.from), 1.0);
        }
    }
    const auto size = static_cast<Eigen::Index>(system.nodes) - 1;
    matrix_.resize(size, size);
    matrix_.setFromTriplets(terms.begin(), terms.end());
    const auto slot = [&](int i, int j) {
        const int *begin = matrix_.innerIndexPtr();
        return static_cast<int>(std::lower_bound(begin + matrix_.outerIndexPtr()[j],
                                                 begin + matrix_.outerIndexPtr()[j + 1], i) -
                                begin);
    };
    for (const Branch &branch : system.branches) {
        Slots slots;
        if (!branch.prescribed) {
            const int i = row(branch.from), j = row(branch.to);
            slots = {i < 0 ? -1 : slot(i, i), j < 0 ? -1 : slot(j, j),
                     i < 0 || j < 0 ? -1 : slot(i, j), i < 0 || j < 0 ? -1 : slot(j, i)};
        }
        slots_.push_back(slots);
    }
}

void NodeLaplacian::set(const std::vector<double> &conductance) {
    double *values = matrix_.valuePtr();
    std::fill(values, values + matrix_.nonZeros(), 0.0);
    for (std::size_t b = 0; b < slots_.size(); ++b) {
        const auto [from, to, upper, lower] = slots_[b];
        if (from >= 0)
            values[from] += conductance[b];
        if (to >= 0)
            values[to] += conductance[b];
        if (upper >= 0) {
            values[upper] -= conductance[b];
            values[lower] -= conductance[b];
        }
    }
}

PeerLaws::PeerLaws(const PeerTask &task, BranchSystem system)
    : task_(task), system_(std::move(system)), laws_(task.network, system_), laplacian_(system_) {
    laws_.set_fluid(task.fluid);
    losses_.pressure_pa.assign(branches() + 1, 0.0);
    losses_.slope_pa_s_kg.assign(branches() + 1, 0.0);
    factor_.analyzePattern(laplacian_.matrix());
}

const BranchLosses &PeerLaws::at(const std::vector<double> &flow_kg_s) {
    laws_.evaluate(flow_kg_s, losses_);
    for (double &slope : losses_.slope_pa_s_kg)
        slope = std::max(slope, least_slope_pa_s_kg);
    return losses_;
}

std::vector<double> PeerLaws::ordinary_flows() const {
    std::vector<double> out(branches() + 1, 0.0);
    for (std::size_t b = 0; b < branches(); ++b) {
        double least = models::no_limit;
        for (const solver::Member &member : system_.members_of(b))
            least =
                std::min(least, networks::ordinary_flow(task_.network.links[member.link].component,
                                                        task_.fluid[member.link]));
        if (!system_.branches[b].prescribed && std::isfinite(least))
            out[b] = least;
    }
    return out;
}

void PeerLaws::take_chords(std::vector<double> &flow_kg_s, std::vector<double> &pressure_pa) {
    laws_.evaluate_at_rest(losses_);
    const std::vector<double> rest = losses_.pressure_pa;
    const std::vector<double> ordinary = ordinary_flows();
    at(ordinary);
    std::vector<double> conductance(branches(), 0.0);
    Eigen::VectorXd inflow = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(system_.nodes));
    for (std::size_t b = 0; b < branches(); ++b) {
        const Branch &branch = system_.branches[b];
        if (branch.prescribed)
            continue;
        double slope = (losses_.pressure_pa[b] - rest[b]) / ordinary[b];
        if (std::holds_alternative<networks::RunningPump>(
                task_.network.links[system_.members_of(b).front().link].component))
            slope = std::max(slope, -rest[b] / (2.0 * ordinary[b])); // stays within its curve
        conductance[b] = 1.0 / std::max(slope, least_slope_pa_s_kg);
        inflow[static_cast<Eigen::Index>(branch.from)] += conductance[b] * rest[b];
        inflow[static_cast<Eigen::Index>(branch.to)] -= conductance[b] * rest[b];
    }
    laplacian_.set(conductance);
    factor_.factorize(laplacian_.matrix());
    const Eigen::VectorXd pressure = factor_.solve(inflow.tail(inflow.size() - 1));
    pressure_pa.assign(1, 0.0);
    pressure_pa.insert(pressure_pa.end(), pressure.begin(), pressure.end());
    for (std::size_t b = 0; b < branches(); ++b)
        flow_kg_s[b] = conductance[b] * (drop_pa(b, pressure_pa.data() + 1) - rest[b]);
}

double PeerLaws::drop_pa(std::size_t branch, const double *pressure_pa) const {
    const auto pressure = [&](std::size_t v) { return v == 0 ? 0.0 : pressure_pa[v - 1]; };
    return pressure(system_.branches[branch].from) - pressure(system_.branches[branch].to);
}

void PeerLaws::add_imbalance(const std::vector<double> &flow_kg_s, double *imbalance_kg_s) const {
    for (std::size_t b = 0; b < branches(); ++b) {
        const Branch &branch = system_.branches[b];
        if (branch.prescribed)
            continue;
        if (branch.from != 0)
            imbalance_kg_s[branch.from - 1] -= flow_kg_s[b];
        if (branch.to != 0)
            imbalance_kg_s[branch.to - 1] += flow_kg_s[b];
    }
}

std::vector<double> PeerLaws::link_flows(const std::vector<double> &flow_kg_s) const {
    std::vector<double> out(task_.network.links.size(), 0.0);
    for (std::size_t e = 0; e < out.size(); ++e)
        out[e] = system_.sign_of[e] * flow_kg_s[system_.branch_of[e]];
    return out;
}

} // namespace headroom::benchmarks
