#pragma once

#include <Eigen/Dense>
#include <vector>

namespace headroom::solver {

/// How far newton_krylov() goes.
struct KrylovLimits {
    int newton_steps = 15;
    int directions = 25; ///< of the space a step is sought in
    int halvings = 8;    ///< of a step that does not bring the miss down
};

namespace krylov {

constexpr double linear_share = 1e-3; // of the miss, that a linear solve leaves

/// d with J d = -r in the space that r, J r, J J r ... span (GMRES without restart). A product with
/// J is a difference of misses `probe` apart in the largest component of x.
template <class Miss>
Eigen::VectorXd step(Miss &miss, const Eigen::VectorXd &x, const Eigen::VectorXd &r, double probe,
                     int directions) {
    const double size = r.norm();
    std::vector<Eigen::VectorXd> basis{r / size};
    Eigen::MatrixXd h = Eigen::MatrixXd::Zero(directions + 1, directions);
    Eigen::VectorXd weights;
    for (int k = 0; k < directions; ++k) {
        const Eigen::VectorXd &last = basis.back();
        const double reach = probe / last.cwiseAbs().maxCoeff();
        Eigen::VectorXd next = (miss(x + reach * last) - r) / reach;
        for (int i = 0; i <= k; ++i) {
            h(i, k) = next.dot(basis[static_cast<std::size_t>(i)]);
            next -= h(i, k) * basis[static_cast<std::size_t>(i)];
        }
        h(k + 1, k) = next.norm();
        Eigen::VectorXd wanted = Eigen::VectorXd::Zero(k + 2);
        wanted[0] = -size;
        const auto used = h.topLeftCorner(k + 2, k + 1);
        weights = used.colPivHouseholderQr().solve(wanted);
        const double left = (used * weights - wanted).norm();
        if (left <= linear_share * size || !(h(k + 1, k) > 1e-12))
            break;
        basis.push_back(next / h(k + 1, k));
    }
    Eigen::VectorXd d = Eigen::VectorXd::Zero(x.size());
    for (Eigen::Index i = 0; i < weights.size(); ++i)
        d += weights[i] * basis[static_cast<std::size_t>(i)];
    return d;
}

} // namespace krylov

/// Newton's method for miss(x) = 0 without a Jacobian: each step by GMRES on differences of misses,
/// halved until |miss| falls. Stops when no component misses by more than `tolerance`, else where
/// it can go no further; x is then where |miss| was least. `probe` is the change of x for a
/// difference: well above the noise of miss and well below the length on which it bends. A miss
/// that is not finite is never accepted. [Knoll2004]
template <class Miss>
bool newton_krylov(Miss &&miss, Eigen::VectorXd &x, double tolerance, double probe,
                   const KrylovLimits &limits = {}) {
    Eigen::VectorXd r = miss(x);
    for (int n = 0; n < limits.newton_steps && r.allFinite(); ++n) {
        if (r.cwiseAbs().maxCoeff() <= tolerance)
            return true;
        const Eigen::VectorXd d = krylov::step(miss, x, r, probe, limits.directions);
        if (!d.allFinite())
            return false;
        double share = 1.0;
        int halvings = 0;
        for (;; share *= 0.5) {
            const Eigen::VectorXd tried = x + share * d;
            const Eigen::VectorXd left = miss(tried);
            if (left.allFinite() && left.norm() <= (1.0 - 1e-4 * share) * r.norm()) {
                x = tried;
                r = left;
                break;
            }
            if (++halvings > limits.halvings)
                return false;
        }
    }
    return r.allFinite() && r.cwiseAbs().maxCoeff() <= tolerance;
}

} // namespace headroom::solver
