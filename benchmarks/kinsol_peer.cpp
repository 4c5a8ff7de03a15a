#include "benchmarks/kinsol_peer.hpp"

#ifdef HEADROOM_KINSOL

#include "solver/flow/branch_laws.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <kinsol/kinsol.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

namespace headroom::benchmarks {
namespace {

using solver::BranchLosses;
using solver::BranchSystem;

// Every link a branch of its own; held nodes and the first node are ground.
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

struct Problem {
    const BranchSystem &system;
    solver::BranchLaws laws;
    std::vector<double> flow;
    BranchLosses losses;
    std::size_t links, nodes;
    std::vector<std::vector<std::pair<std::size_t, double>>> around; // links at a node, with signs
};

// Unknowns: flows, then pressures of all nodes but the ground. Law, then mass balance.
int residual(N_Vector u, N_Vector f, void *data) {
    Problem &p = *static_cast<Problem *>(data);
    const double *x = N_VGetArrayPointer(u);
    double *out = N_VGetArrayPointer(f);
    std::copy(x, x + p.links, p.flow.begin());
    p.laws.evaluate(p.flow, p.losses);
    std::fill(out + p.links, out + p.links + p.nodes - 1, 0.0);
    const auto pressure = [&](std::size_t v) { return v == 0 ? 0.0 : x[p.links + v - 1]; };
    for (std::size_t e = 0; e < p.links; ++e) {
        const solver::Branch &branch = p.system.branches[e];
        out[e] = branch.prescribed
                     ? x[e]
                     : p.losses.pressure_pa[e] - pressure(branch.from) + pressure(branch.to);
        if (branch.from != 0)
            out[p.links + branch.from - 1] -= x[e];
        if (branch.to != 0)
            out[p.links + branch.to - 1] += x[e];
    }
    return 0;
}

// Slopes were left by the residual at the same flows; the rest of the pattern is constant.
int jacobian(N_Vector, N_Vector, SUNMatrix matrix, void *data, N_Vector, N_Vector) {
    Problem &p = *static_cast<Problem *>(data);
    sunindextype *columns = SUNSparseMatrix_IndexPointers(matrix);
    sunindextype *rows = SUNSparseMatrix_IndexValues(matrix);
    double *values = SUNSparseMatrix_Data(matrix);
    sunindextype at = 0;
    const auto put = [&](std::size_t row, double value) {
        rows[at] = static_cast<sunindextype>(row);
        values[at++] = value;
    };
    for (std::size_t e = 0; e < p.links; ++e) {
        columns[e] = at;
        const solver::Branch &branch = p.system.branches[e];
        put(e, branch.prescribed ? 1.0 : std::max(p.losses.slope_pa_s_kg[e], 1e-6));
        if (branch.from != 0)
            put(p.links + branch.from - 1, -1.0);
        if (branch.to != 0)
            put(p.links + branch.to - 1, 1.0);
    }
    for (std::size_t v = 1; v < p.nodes; ++v) {
        columns[p.links + v - 1] = at;
        for (const auto &[e, sign] : p.around[v])
            put(e, sign);
    }
    columns[p.links + p.nodes - 1] = at;
    return 0;
}

} // namespace

bool has_kinsol() {
    return true;
}

PeerResult solve_with_kinsol(const networks::Network &network,
                             const std::vector<models::FluidState> &fluid) {
    const BranchSystem system = uncontracted(network);
    Problem problem{
        system, solver::BranchLaws(network, system), {}, {}, network.links.size(), system.nodes,
        {}};
    problem.laws.set_fluid(fluid);
    problem.around.resize(problem.nodes);
    for (std::size_t e = 0; e < problem.links; ++e)
        if (!system.branches[e].prescribed) {
            problem.around[system.branches[e].from].push_back({e, -1.0});
            problem.around[system.branches[e].to].push_back({e, 1.0});
        }
    problem.flow.assign(problem.links + 1, 0.0);
    problem.losses.pressure_pa.assign(problem.links + 1, 0.0);
    problem.losses.slope_pa_s_kg.assign(problem.links + 1, 0.0);
    const auto size = static_cast<sunindextype>(problem.links + problem.nodes - 1);

    SUNContext context = nullptr;
    SUNContext_Create(nullptr, &context);
    N_Vector x = N_VNew_Serial(size, context);
    N_Vector ones = N_VNew_Serial(size, context);
    N_Vector weights = N_VNew_Serial(size, context);
    N_VConst(1.0, ones);
    double *start = N_VGetArrayPointer(x);
    double *scale = N_VGetArrayPointer(weights);
    for (std::size_t i = 0; i < static_cast<std::size_t>(size); ++i) {
        start[i] = 0.0;
        scale[i] = i < problem.links ? 1.0 : 1e4; // 1e-6 Pa weighs as much as 1e-10 kg/s
    }
    for (std::size_t e = 0; e < problem.links; ++e)
        if (!system.branches[e].prescribed) {
            const double flow = networks::ordinary_flow(network.links[e].component, fluid[e]);
            start[e] = std::isfinite(flow) ? flow : 0.0;
        }
    SUNMatrix matrix =
        SUNSparseMatrix(size, size, static_cast<sunindextype>(5 * problem.links), CSC_MAT, context);
    SUNLinearSolver linear = SUNLinSol_KLU(x, matrix, context);
    void *memory = KINCreate(context);
    KINInit(memory, residual, x);
    KINSetUserData(memory, &problem);
    KINSetLinearSolver(memory, linear, matrix);
    KINSetJacFn(memory, jacobian);
    KINSetMaxSetupCalls(memory, 1); // a fresh Jacobian each step: an old one does not converge
    KINSetFuncNormTol(memory, 1e-6);
    KINSetScaledStepTol(memory, 1e-14);
    KINSetNumMaxIters(memory, 500);
    KINSetPrintLevel(memory, 0);
    KINSetMaxNewtonStep(memory, 1e8);

    PeerResult result;
    const auto begin = std::chrono::steady_clock::now();
    const int flag = KINSol(memory, x, KIN_NONE, ones, weights);
    result.seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    result.converged = flag >= 0;
    KINGetNumNonlinSolvIters(memory, &result.steps);
    N_Vector f = N_VNew_Serial(size, context);
    residual(x, f, &problem);
    for (std::size_t i = 0; i < static_cast<std::size_t>(size); ++i) {
        double &worst = i < problem.links ? result.worst_pa : result.worst_kg_s;
        worst = std::max(worst, std::abs(N_VGetArrayPointer(f)[i]));
    }
    result.flow_kg_s.assign(start, start + problem.links);
    KINFree(&memory);
    SUNLinSolFree(linear);
    SUNMatDestroy(matrix);
    for (N_Vector v : {x, ones, weights, f})
        N_VDestroy(v);
    SUNContext_Free(&context);
    return result;
}

} // namespace headroom::benchmarks

#else

namespace headroom::benchmarks {

bool has_kinsol() {
    return false;
}

PeerResult solve_with_kinsol(const networks::Network &, const std::vector<models::FluidState> &) {
    return {};
}

} // namespace headroom::benchmarks

#endif
