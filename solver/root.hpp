#pragma once

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>

namespace headroom::solver {

/// Where `excess` crosses zero between `low` and `high`: the argument tried at which it came
/// nearest, which is within `tolerance` of zero unless the function jumps there. If both ends have
/// one sign, or one is no number, the end nearer to zero. Arguments nearer than `resolution` of
/// themselves are not told apart. Algorithm 748 of the ACM.
template <class Function>
double bracketed_root(Function &&excess, double low, double high, double tolerance,
                      double resolution = 1e-15) {
    const double at_low = excess(low);
    const double at_high = excess(high);
    double best = std::abs(at_low) < std::abs(at_high) ? low : high;
    double least = std::min(std::abs(at_low), std::abs(at_high));
    if (!(at_low * at_high < 0.0))
        return best;
    const auto watched = [&](double x) {
        const double value = excess(x);
        if (std::abs(value) < least) {
            least = std::abs(value);
            best = x;
        }
        return std::abs(value) > tolerance ? value : 0.0; // what is no number ends it too
    };
    const auto close = [&](double a, double b) {
        return std::abs(b - a) <= resolution * std::abs(b);
    };
    std::uintmax_t most_calls = 100;
    boost::math::tools::toms748_solve(watched, low, high, at_low, at_high, close, most_calls);
    return best;
}

} // namespace headroom::solver
