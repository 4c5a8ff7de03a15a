#include "benchmarks/peer_equations.hpp"
#include "benchmarks/record.hpp"

#include <algorithm>
#include <kinsol/kinsol.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

namespace headroom::benchmarks {
namespace {

template <class Equations> int residual(N_Vector x, N_Vector f, void *equations) {
    static_cast<Equations *>(equations)->residual(N_VGetArrayPointer(x), N_VGetArrayPointer(f));
    return 0;
}

template <class Equations>
int jacobian(N_Vector x, N_Vector, SUNMatrix matrix, void *data, N_Vector, N_Vector) {
    Equations &equations = *static_cast<Equations *>(data);
    const Pattern &pattern = equations.pattern();
    std::copy(pattern.start.begin(), pattern.start.end(), SUNSparseMatrix_IndexPointers(matrix));
    std::copy(pattern.index.begin(), pattern.index.end(), SUNSparseMatrix_IndexValues(matrix));
    equations.jacobian(N_VGetArrayPointer(x), SUNSparseMatrix_Data(matrix));
    return 0;
}

template <class Equations> PeerResult solve(const PeerTask &task, int strategy) {
    Equations equations(task);
    const auto size = static_cast<sunindextype>(equations.tolerance().size());
    SUNContext context = nullptr;
    SUNContext_Create(nullptr, &context);
    N_Vector x = N_VNew_Serial(size, context);
    N_Vector ones = N_VNew_Serial(size, context);
    N_Vector weights = N_VNew_Serial(size, context);
    N_VConst(1.0, ones);
    std::transform(equations.tolerance().begin(), equations.tolerance().end(),
                   N_VGetArrayPointer(weights), [](double tolerance) { return 1.0 / tolerance; });
    SUNMatrix matrix = SUNSparseMatrix(
        size, size, static_cast<sunindextype>(equations.pattern().index.size()), CSC_MAT, context);
    SUNLinearSolver linear = SUNLinSol_KLU(x, matrix, context);
    SUNLinSol_KLUSetOrdering(linear, 0);     // minimum degree; the column ordering fills more
    SUNLinSol_KLUGetCommon(linear)->btf = 0; // its matching spoils the symmetry, and the ordering
    void *memory = KINCreate(context);
    KINInit(memory, residual<Equations>, x);
    KINSetUserData(memory, &equations);
    KINSetLinearSolver(memory, linear, matrix);
    KINSetJacFn(memory, jacobian<Equations>);
    KINSetMaxSetupCalls(memory, 1); // a fresh Jacobian each step: an old one does not converge
    KINSetFuncNormTol(memory, 1.0);
    KINSetScaledStepTol(memory, 1e-14);
    KINSetNumMaxIters(memory, 500);
    KINSetPrintLevel(memory, 0);
    KINSetErrFile(memory, nullptr);
    KINSetMaxNewtonStep(memory, 1e12);

    PeerResult result;
    result.seconds = seconds([&] {
        equations.start(N_VGetArrayPointer(x));
        result.converged = KINSol(memory, x, strategy, ones, weights) >= 0;
    });
    KINGetNumNonlinSolvIters(memory, &result.steps);
    result.flow_kg_s = equations.link_flows(N_VGetArrayPointer(x));
    // KINSOL has KLU order the matrix anew in each call; that is no part of the solve.
    auto *common = SUNLinSol_KLUGetCommon(linear);
    sun_klu_symbolic *order = nullptr;
    result.seconds -= seconds([&] {
        order = sun_klu_analyze(size, SUNSparseMatrix_IndexPointers(matrix),
                                SUNSparseMatrix_IndexValues(matrix), common);
    });
    sun_klu_free_symbolic(&order, common);
    KINFree(&memory);
    SUNLinSolFree(linear);
    SUNMatDestroy(matrix);
    for (N_Vector v : {x, ones, weights})
        N_VDestroy(v);
    SUNContext_Free(&context);
    return result;
}

} // namespace

PeerResult solve_with_kinsol(const PeerTask &task) {
    return solve<FlowsAndPressures>(task, KIN_NONE);
}

PeerResult solve_with_kinsol_on_pressures(const PeerTask &task) {
    return solve<Pressures>(task, KIN_LINESEARCH);
}

} // namespace headroom::benchmarks
