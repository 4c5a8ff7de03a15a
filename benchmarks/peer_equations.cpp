#include "benchmarks/peer_equations.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::benchmarks {
namespace {

using solver::Branch;
using solver::BranchLosses;

// A pump that holds a pressure makes it known, and has no law to turn round.
networks::Network with_held_pressures(const PeerTask &task) {
    networks::Network network = task.network;
    for (networks::LinkId e = 0; e < network.links.size(); ++e)
        if (const auto rise = held_rise_pa(task, e)) {
            network.held = {{0, 0.0}, {network.links[e].to, *rise}};
            network.links[e].component = networks::Shut{};
        }
    return network;
}

Pattern pattern_of(const Eigen::SparseMatrix<double> &matrix) {
    return {{matrix.outerIndexPtr(), matrix.outerIndexPtr() + matrix.cols() + 1},
            {matrix.innerIndexPtr(), matrix.innerIndexPtr() + matrix.nonZeros()}};
}

} // namespace

// Law of each link, then mass balance of each node.
FlowsAndPressures::FlowsAndPressures(const PeerTask &task)
    : laws_(task, uncontracted(task.network)), flow_(laws_.branches() + 1, 0.0) {
    const auto links = static_cast<int>(laws_.branches());
    std::vector<std::vector<int>> around(laws_.unknown_pressures() + 1);
    pattern_.start.push_back(0);
    const auto end_row = [&] { pattern_.start.push_back(static_cast<int>(pattern_.index.size())); };
    for (int e = 0; e < links; ++e) {
        const Branch &branch = laws_.system().branches[static_cast<std::size_t>(e)];
        pattern_.index.push_back(e);
        if (!branch.prescribed)
            for (std::size_t v :
                 {std::min(branch.from, branch.to), std::max(branch.from, branch.to)})
                if (v != 0) {
                    pattern_.index.push_back(links + static_cast<int>(v) - 1);
                    around[v].push_back(e);
                }
        end_row();
    }
    for (std::size_t v = 1; v < around.size(); ++v) {
        pattern_.index.insert(pattern_.index.end(), around[v].begin(), around[v].end());
        end_row();
    }
    tolerance_.assign(laws_.branches(), task.law_tolerance_pa);
    tolerance_.resize(laws_.branches() + laws_.unknown_pressures(), task.mass_tolerance_kg_s);
}

void FlowsAndPressures::start(double *x) {
    std::vector<double> pressure;
    laws_.take_chords(flow_, pressure);
    std::copy(flow_.begin(), flow_.end() - 1, x);
    std::copy(pressure.begin() + 1, pressure.end(), x + laws_.branches());
}

const BranchLosses &FlowsAndPressures::losses(const double *x) {
    std::copy_n(x, laws_.branches(), flow_.begin());
    return laws_.at(flow_);
}

void FlowsAndPressures::residual(const double *x, double *f) {
    const BranchLosses &losses = this->losses(x);
    const std::size_t links = laws_.branches();
    for (std::size_t e = 0; e < links; ++e)
        f[e] = laws_.system().branches[e].prescribed
                   ? x[e]
                   : losses.pressure_pa[e] - laws_.drop_pa(e, x + links);
    std::fill_n(f + links, laws_.unknown_pressures(), 0.0);
    laws_.add_imbalance(flow_, f + links);
}

void FlowsAndPressures::jacobian(const double *x, double *values) {
    const BranchLosses &losses = this->losses(x);
    const auto links = laws_.branches();
    const auto sign = [&](std::size_t e, int column) {
        return static_cast<std::size_t>(column) - links + 1 == laws_.system().branches[e].from
                   ? -1.0
                   : 1.0;
    };
    for (std::size_t row = 0; row + 1 < pattern_.start.size(); ++row)
        for (int k = pattern_.start[row]; k < pattern_.start[row + 1]; ++k) {
            const auto column =
                static_cast<std::size_t>(pattern_.index[static_cast<std::size_t>(k)]);
            if (row >= links)
                values[k] = sign(column, static_cast<int>(row));
            else if (column >= links)
                values[k] = sign(row, static_cast<int>(column));
            else
                values[k] =
                    laws_.system().branches[row].prescribed ? 1.0 : losses.slope_pa_s_kg[row];
        }
}

std::vector<double> FlowsAndPressures::link_flows(const double *x) {
    losses(x);
    return laws_.link_flows(flow_);
}

Pressures::Pressures(const PeerTask &task)
    : task_(task), network_(with_held_pressures(task)),
      laws_({network_, task.fluid, task.law_tolerance_pa, task.mass_tolerance_kg_s},
            without_joints(network_)),
      laplacian_(laws_.system()), pattern_(pattern_of(laplacian_.matrix())),
      flow_tolerance_kg_s_(0.01 * task.mass_tolerance_kg_s),
      tolerance_(laws_.unknown_pressures(), task.mass_tolerance_kg_s),
      at_(laws_.unknown_pressures(), 0.0), flow_(laws_.branches() + 1, 0.0), low_(flow_),
      high_(flow_), conductance_(flow_) {}

void Pressures::start(double *x) {
    std::vector<double> pressure;
    laws_.take_chords(flow_, pressure);
    std::copy(pressure.begin() + 1, pressure.end(), x);
    find_flows(x);
}

// Newton on all laws at once, each held between flows that are known to be too small and too great.
void Pressures::find_flows(const double *x) {
    std::fill(low_.begin(), low_.end(), -models::no_limit);
    std::fill(high_.begin(), high_.end(), models::no_limit);
    bool found = false;
    for (int sweep = 0; sweep < 100 && !found; ++sweep) {
        const BranchLosses &losses = laws_.at(flow_);
        found = true;
        for (std::size_t b = 0; b < laws_.branches(); ++b) {
            if (laws_.system().branches[b].prescribed)
                continue;
            conductance_[b] = 1.0 / losses.slope_pa_s_kg[b];
            const double step = conductance_[b] * (laws_.drop_pa(b, x) - losses.pressure_pa[b]);
            (step > 0.0 ? low_ : high_)[b] = flow_[b];
            found = found && std::abs(step) <= flow_tolerance_kg_s_ + 1e-13 * std::abs(flow_[b]);
            flow_[b] += step;
            if (flow_[b] < low_[b] || flow_[b] > high_[b])
                flow_[b] = 0.5 * (low_[b] + high_[b]);
        }
    }
    std::copy_n(x, at_.size(), at_.begin());
}

void Pressures::residual(const double *x, double *f) {
    if (!std::equal(at_.begin(), at_.end(), x))
        find_flows(x);
    std::fill_n(f, laws_.unknown_pressures(), 0.0);
    laws_.add_imbalance(flow_, f);
    for (std::size_t v = 0; v < laws_.unknown_pressures(); ++v)
        f[v] = -f[v];
}

void Pressures::jacobian(const double *x, double *values) {
    if (!std::equal(at_.begin(), at_.end(), x))
        find_flows(x);
    laplacian_.set(conductance_);
    std::copy_n(laplacian_.matrix().valuePtr(), laplacian_.matrix().nonZeros(), values);
}

std::vector<double> Pressures::link_flows(const double *x) {
    find_flows(x);
    std::vector<double> flow = laws_.link_flows(flow_);
    const std::vector<networks::Link> &links = task_.network.links;
    for (std::size_t pump = 0; pump < flow.size(); ++pump)
        if (held_rise_pa(task_, pump)) // what leaves its node came through it
            for (std::size_t e = 0; e < flow.size(); ++e)
                if (e != pump)
                    flow[pump] += (links[e].from == links[pump].to ? flow[e] : 0.0) -
                                  (links[e].to == links[pump].to ? flow[e] : 0.0);
    return flow;
}

} // namespace headroom::benchmarks
