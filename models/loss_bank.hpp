// The losses of many pipes and fittings at once, eight at a time. What `pipe_loss` and
// `quadratic_loss` say of one, to 1e-12.
#pragma once

#include "models/lanes.hpp"
#include "models/pipe.hpp"

#include <cstdint>
#include <vector>

namespace headroom::models {

/// Friction curves by number. Equal ones asked for one soon after the other share a number.
class FrictionCurves {
public:
    std::uint32_t number(const FrictionCurve &curve);
    const FrictionCurve &operator[](std::uint32_t number) const { return curves_[number]; }
    void clear() { curves_.clear(); }

private:
    std::vector<FrictionCurve> curves_;
};

/// A pipe adds its loss to its place in the given arrays; several may share one. Between calls a
/// bank keeps each pipe's 1/sqrt(f).
class PipeBank {
public:
    struct Entry {
        std::uint32_t place; ///< into the arrays of flows and losses
        std::uint32_t curve; ///< number of its friction curve
    };

    /// Takes the pipes that stand in the bank from now on, quickest if sorted by curve. `spare` is
    /// a place whose losses do not matter.
    void arrange(const std::vector<Entry> &entries, const FrictionCurves &curves,
                 std::uint32_t spare);

    /// Gives a pipe, by its place among the entries, 4/(pi D mu) [s/kg] and mu^2 L/(rho D^3) [Pa].
    void scale(std::size_t pipe, double reynolds_per_flow, double loss_per_number_pa) {
        reynolds_per_flow_[pipe] = reynolds_per_flow;
        loss_per_number_pa_[pipe] = loss_per_number_pa;
    }

    /// Starts friction factors anew, as after flows that were no numbers.
    void forget() { inverse_root_.assign(inverse_root_.size(), 0.0); }

    /// Adds each pipe's loss [Pa] and its slope [Pa s/kg] at `flow_kg_s` of its place.
    void add_losses(const double *flow_kg_s, double *pressure_pa, double *slope_pa_s_kg);

private:
    std::vector<BlockConstants> block_;
    std::vector<double> constants_;
    std::vector<std::uint32_t> place_;
    std::vector<double> reynolds_per_flow_, loss_per_number_pa_, inverse_root_;
};

/// Fittings with loss = K m sqrt(m^2 + m0^2), likewise; each may stand for several equal ones.
class FittingBank {
public:
    struct Entry {
        std::uint32_t place;
        double number; ///< of equal ones
    };
    void arrange(const std::vector<Entry> &entries, std::uint32_t spare);

    /// K of one [Pa s2/kg2] of those of an entry.
    void scale(std::size_t fitting, double resistance) { resistance_[fitting] = resistance; }

    void add_losses(const double *flow_kg_s, double *pressure_pa, double *slope_pa_s_kg) const;

private:
    std::vector<std::uint32_t> place_;
    std::vector<double> number_, resistance_;
};

/// Which instructions a bank uses; chosen once by what the processor has, best first.
enum class Instructions { Baseline, Avx2, Avx512 };
Instructions instructions();

/// Uses no better than these from now on, so that tests can compare.
void limit_instructions(Instructions most);

} // namespace headroom::models
