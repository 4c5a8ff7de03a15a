// Evenly spread points in a cube of many dimensions.
#pragma once

#include <cstdint>
#include <vector>

namespace headroom::solver {

/// A rank-1 lattice rule of Korobov's form: coordinate j of point i is the fraction of
/// i a^j / n + s_j, with n prime and one shift s_j a coordinate. Each coordinate alone takes n
/// evenly spaced values. Of some multipliers a the one with the smallest P_2 (the mean square error
/// of integrals of smooth functions) is taken. [SloanJoe1994]
class Lattice {
public:
    /// At least `points` points; their number is the next prime.
    Lattice(std::uint32_t points, std::size_t dimensions);

    std::uint32_t points() const { return points_; }

    /// Coordinates of a point, each in [0, 1).
    void point(std::uint32_t index, std::vector<double> &coordinates) const;

private:
    std::uint32_t points_;
    std::vector<std::uint32_t> step_; // a^j mod n
    std::vector<double> shift_;
};

} // namespace headroom::solver
