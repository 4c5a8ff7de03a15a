// The cubic between two points that meets value and slope at both.
#pragma once

namespace headroom::models {

struct ValueAndSlope {
    double value;
    double slope;
};

/// y(x) = start + s (c1 + s (c2 + s c3)) ,  s = (x - from)/width .
struct HermiteCubic {
    double from, width;
    double start, c1, c2, c3;
};

/// From (x0, a) to (x1, b), x1 > x0:
///     c1 = a' w ,  c2 = 3 (b - a) - 2 a' w - b' w ,  c3 = a' w + b' w - 2 (b - a) ,  w = x1 - x0 .
inline HermiteCubic hermite_cubic(double x0, ValueAndSlope a, double x1, ValueAndSlope b) {
    const double width = x1 - x0;
    const double rise = b.value - a.value;
    const double m0 = a.slope * width;
    const double m1 = b.slope * width;
    return {x0, width, a.value, m0, 3.0 * rise - 2.0 * m0 - m1, m0 + m1 - 2.0 * rise};
}

inline ValueAndSlope value_at(const HermiteCubic &cubic, double x) {
    const double s = (x - cubic.from) / cubic.width;
    return {cubic.start + s * (cubic.c1 + s * (cubic.c2 + s * cubic.c3)),
            (cubic.c1 + s * (2.0 * cubic.c2 + 3.0 * s * cubic.c3)) / cubic.width};
}

} // namespace headroom::models
