#include "models/chi_squared.hpp"

#include <cmath>

namespace headroom::models {

double chi_squared_once_in_twenty(int freedom) {
    const double share = 2.0 / (9.0 * freedom);
    return freedom * std::pow(1.0 - share + 1.6449 * std::sqrt(share), 3);
}

} // namespace headroom::models
