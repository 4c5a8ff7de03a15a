// What a heat source says about a condition it was asked for: whether temperatures lie within what
// its figures cover, and how it meets a heat.
#pragma once

namespace headroom::models {

/// Where a value lies against a range that includes its ends.
enum class RangeStatus { Inside, Below, Above };

struct HeldValue {
    double value; ///< the nearest value within the range; not-a-number stays so
    RangeStatus status;
};

/// Holds a value within low <= high.
inline HeldValue held_within(double value, double low, double high) {
    if (value < low)
        return {low, RangeStatus::Below};
    if (value > high)
        return {high, RangeStatus::Above};
    return {value, RangeStatus::Inside};
}

/// How a source meets the heat asked of it.
enum class LoadStatus {
    Off,        ///< no heat asked for
    Cycles,     ///< less than its least output: runs part of the time
    Modulates,  ///< between least and greatest output
    FallsShort, ///< more than its greatest output: gives that
};

} // namespace headroom::models
