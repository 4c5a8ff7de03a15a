// Eight pipes or fittings at a time. This file is included once for each set of instructions, in a
// namespace of its own and with KERNEL_TARGET naming it: the compiler takes vectors apart, for
// targets that lack them, before it inlines, so each function must say what it is for. Without
// contraction to fused multiply-add every set gives the same bits.
#define KERNEL KERNEL_TARGET [[gnu::always_inline]] static inline

KERNEL Lanes all_lanes(double value) {
    return Lanes{} + value;
}

KERNEL Lanes load_lanes(const double *from) {
    Lanes out{};
    __builtin_memcpy(&out, from, sizeof out);
    return out;
}

KERNEL void store_lanes(const Lanes &value, double *to) {
    __builtin_memcpy(to, &value, sizeof value);
}

KERNEL Lanes select(const LaneBits &mask, const Lanes &yes, const Lanes &no) {
    return mask ? yes : no;
}

KERNEL bool any(const LaneBits &mask) {
    const LaneBits half = mask | __builtin_shufflevector(mask, mask, 4, 5, 6, 7, 0, 1, 2, 3);
    const LaneBits quarter = half | __builtin_shufflevector(half, half, 2, 3, 0, 1, 6, 7, 4, 5);
    return (quarter[0] | quarter[1]) != 0;
}

KERNEL Lanes absolute(const Lanes &x) {
    return (Lanes)((LaneBits)x & INT64_MAX);
}

/// `x`, not negative, with the sign of `sign`.
KERNEL Lanes with_sign(const Lanes &x, const Lanes &sign) {
    return (Lanes)((LaneBits)x | ((LaneBits)sign & INT64_MIN));
}

KERNEL Lanes square_root(const Lanes &x) {
    Lanes out{};
    for (std::size_t i = 0; i < lane_count; ++i)
        out[i] = __builtin_sqrt(x[i]);
    return out;
}

/// ln x of a normal x > 0 to 2 units in the last place (near 1: of 1e-16 absolute).
/// x = 2^k m with m in (0.7, 1.41], and ln m = 2 atanh(s) with s = (m - 1)/(m + 1) as its series,
/// 2 (s + s^3/3 + s^5/5 + ...), summed in pairs.
KERNEL Lanes natural_log(const Lanes &x) {
    constexpr std::int64_t one = 0x3FF0000000000000;
    constexpr std::int64_t root_half = 0x3FE6A09E667F3BCD;
    constexpr std::int64_t two_to_52 = 0x4330000000000000;
    constexpr double bias = 4503599627370496.0 + 1023.0; // 2^52 and that of the exponent
    const LaneBits shifted = (LaneBits)x + (one - root_half);
    const LaneBits exponent = (LaneBits)((LaneWords)shifted >> 52);
    const Lanes k = (Lanes)(exponent | two_to_52) - bias;
    const Lanes m = (Lanes)((LaneBits)x - ((exponent - 1023) << 52));
    const Lanes s = (m - 1.0) / (m + 1.0);
    const Lanes z = s * s, z2 = z * z, z4 = z2 * z2;
    const Lanes low = (1.0 / 3 + z * (1.0 / 5)) + z2 * (1.0 / 7 + z * (1.0 / 9));
    const Lanes high = (1.0 / 11 + z * (1.0 / 13)) + z2 * (1.0 / 15 + z * (1.0 / 17));
    const Lanes series = low + z4 * (high + z4 * (1.0 / 19));
    constexpr double ln2_high = 0x1.62e42fefap-1; // product with k is exact
    constexpr double ln2_low = 0x1.cf79abc9e3b3ap-40;
    return k * ln2_high + (2.0 * s + (2.0 * s * z * series + k * ln2_low));
}

/// e^x to 2 units in the last place; x is held to -700..700. e^x = 2^k e^r, |r| < 0.35, as its
/// series, summed in pairs.
KERNEL Lanes exponential(const Lanes &argument) {
    constexpr double magic = 6755399441055744.0; // 1.5 * 2^52: its last bits count whole numbers
    constexpr double ln2_high = 0x1.62e42fefap-1;
    constexpr double ln2_low = 0x1.cf79abc9e3b3ap-40;
    Lanes x = select(argument > -700.0, argument, all_lanes(-700.0));
    x = select(x < 700.0, x, all_lanes(700.0));
    const Lanes rounded = x * 1.4426950408889634 + magic;
    const Lanes k = rounded - magic;
    const Lanes r = (x - k * ln2_high) - k * ln2_low;
    const Lanes r2 = r * r, r4 = r2 * r2;
    const Lanes first = (1.0 / 2 + r * (1.0 / 6)) + r2 * (1.0 / 24 + r * (1.0 / 120));
    const Lanes second = (1.0 / 720 + r * (1.0 / 5040)) + r2 * (1.0 / 40320 + r * (1.0 / 362880));
    const Lanes third = (1.0 / 3628800 + r * (1.0 / 39916800)) + r2 * (1.0 / 479001600);
    const Lanes series = 1.0 + (r + r2 * (first + r4 * (second + r4 * third)));
    return (Lanes)((LaneBits)series + ((LaneBits)rounded << 52));
}

struct LaneNumbers {
    Lanes value;
    Lanes slope;
};

/// The constants of eight pipes.
struct Curves {
    Lanes of[pipe_constants];
};

// [White1929], see laminar_number in friction.cpp.
KERNEL LaneNumbers laminar(const Curves &curves, const Lanes &re) {
    LaneNumbers out{32.0 * re, all_lanes(32.0)};
    const Lanes dean = re * curves.of[root_curvature];
    const LaneBits bent = dean > dean_of_first_effect;
    if (!any(bent))
        return out;
    const Lanes bent_dean = select(bent, dean, all_lanes(2.0 * dean_of_first_effect));
    const Lanes s = exponential(white_exponent * natural_log(dean_of_first_effect / bent_dean));
    const Lanes rest = select(s < 1.0, 1.0 - s, all_lanes(1e-300));
    const Lanes power = exponential(natural_log(rest) * (1.0 / white_exponent));
    const Lanes ratio = 1.0 / (1.0 - power);
    const Lanes growth = ratio * ratio * power / rest * s; // Re d(ratio)/dRe
    out.value = select(bent, 32.0 * re * ratio, out.value);
    out.slope = select(bent, 32.0 * (ratio + growth), out.slope);
    return out;
}

// [Colebrook1939]: g(x) = x + 2 lg(e/(3.7 D) + 2.51 x/Re) = 0 from the last x by steps of
// fourth order, from g and its three derivatives.
KERNEL LaneNumbers turbulent(const Curves &curves, const Lanes &re, Lanes &x) {
    const Lanes smooth = 2.51 / re;
    if (any(x <= 0.0)) // the explicit start of Haaland 1983
        x = select(x <= 0.0, -0.9 * two_per_ln10 * natural_log(curves.of[haaland_rough] + 6.9 / re),
                   x);
    for (int i = 0; i < most_colebrook_steps; ++i) {
        const Lanes inner = curves.of[rough] + smooth * x;
        const Lanes g = x + two_per_ln10 * natural_log(inner);
        const Lanes share = smooth / inner;
        const Lanes g1 = 1.0 + two_per_ln10 * share;
        const Lanes g2 = -two_per_ln10 * share * share;
        const Lanes g3 = -2.0 * g2 * share;
        const Lanes step =
            g * (g1 * g1 - 0.5 * g * g2) / (g1 * (g1 * g1 - g * g2) + (1.0 / 6) * g * g * g3);
        const Lanes floor = 0.05 * x;
        const Lanes next = x - step;
        x = select(next > floor, next, floor);
        if (!any(absolute(step) > last_step_share * x))
            break;
    }
    const Lanes straight = 1.0 / (x * x);
    const Lanes factor = straight + 0.029 * curves.of[root_curvature]; // [Ito1959]
    const Lanes growth = two_per_ln10 * smooth /                       // Re/x dx/dRe
                         (curves.of[rough] + smooth * (x + two_per_ln10));
    return {0.5 * factor * re * re, re * (factor - straight * growth)};
}

KERNEL LaneNumbers number(const Curves &curves, const Lanes &re, Lanes &x) {
    const LaneBits constant = curves.of[constant_factor] > 0.0;
    const LaneBits is_laminar = (re <= curves.of[laminar_until]) | constant;
    const LaneBits is_turbulent = (re >= curves.of[turbulent_from]) & ~constant;
    LaneNumbers out{};
    if (any(is_laminar))
        out = laminar(curves, select(is_laminar, re, all_lanes(0.0)));
    if (any(~(is_laminar | is_turbulent))) {
        const Lanes s = (re - curves.of[laminar_until]) * curves.of[inverse_width];
        out.value = select(
            is_laminar, out.value,
            curves.of[laminar_value] +
                s * (curves.of[cubic_1] + s * (curves.of[cubic_2] + s * curves.of[cubic_3])));
        out.slope = select(
            is_laminar, out.slope,
            (curves.of[cubic_1] + s * (2.0 * curves.of[cubic_2] + 3.0 * s * curves.of[cubic_3])) *
                curves.of[inverse_width]);
    }
    if (any(is_turbulent)) {
        Lanes root = x;
        const LaneNumbers rough = turbulent(curves, select(is_turbulent, re, all_lanes(1e4)), root);
        x = select(is_turbulent, root, x);
        out.value = select(is_turbulent, rough.value, out.value);
        out.slope = select(is_turbulent, rough.slope, out.slope);
    }
    if (any(constant)) {
        out.value = select(constant, 0.5 * curves.of[constant_factor] * re * re, out.value);
        out.slope = select(constant, curves.of[constant_factor] * re, out.slope);
    }
    return out;
}

KERNEL_TARGET static void add_pipe_losses(const PipeLanes &pipes, const double *flow,
                                          double *pressure, double *slope) {
    for (std::size_t block = 0; block < pipes.blocks; ++block) {
        const std::size_t first = block * lane_count;
        const std::uint32_t *place = pipes.place + first;
        const double *constants = pipes.constants + pipes.block[block].first;
        Curves curves;
        for (std::size_t c = 0; c < pipe_constants; ++c)
            curves.of[c] = pipes.block[block].shared ? all_lanes(constants[c])
                                                     : load_lanes(constants + c * lane_count);
        const Lanes q{flow[place[0]], flow[place[1]], flow[place[2]], flow[place[3]],
                      flow[place[4]], flow[place[5]], flow[place[6]], flow[place[7]]};
        const Lanes per_flow = load_lanes(pipes.reynolds_per_flow + first);
        const Lanes scale = load_lanes(pipes.loss_per_number_pa + first);
        Lanes x = load_lanes(pipes.inverse_root + first);
        const LaneNumbers hagen = number(curves, per_flow * absolute(q), x);
        store_lanes(x, pipes.inverse_root + first);
        const Lanes loss = with_sign(scale * hagen.value, q);
        const Lanes rise = scale * hagen.slope * per_flow;
        for (std::size_t i = 0; i < lane_count; ++i) {
            pressure[place[i]] += loss[i];
            slope[place[i]] += rise[i];
        }
    }
}

// loss = m sqrt(K (K m^2 + p0)), p0 the loss below which it is linear.
KERNEL_TARGET static void add_fitting_losses(const FittingLanes &fittings, const double *flow,
                                             double *pressure, double *slope) {
    for (std::size_t block = 0; block < fittings.blocks; ++block) {
        const std::size_t first = block * lane_count;
        const std::uint32_t *place = fittings.place + first;
        const Lanes q{flow[place[0]], flow[place[1]], flow[place[2]], flow[place[3]],
                      flow[place[4]], flow[place[5]], flow[place[6]], flow[place[7]]};
        const Lanes k = load_lanes(fittings.resistance + first);
        const Lanes number = load_lanes(fittings.number + first);
        const Lanes steep = k * q * q;
        const Lanes root = square_root(k * (steep + linear_below_pa));
        const Lanes loss = number * q * root;
        const Lanes rise = number * k * (2.0 * steep + linear_below_pa) / root;
        for (std::size_t i = 0; i < lane_count; ++i) {
            pressure[place[i]] += loss[i];
            slope[place[i]] += rise[i];
        }
    }
}

#undef KERNEL
