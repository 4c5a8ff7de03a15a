#pragma once

namespace headroom::models {

/// The sum of `freedom` (>= 1) squared standard deviations that chance exceeds once in twenty:
/// chi2 = n (1 - 2/(9 n) + 1.6449 sqrt(2/(9 n)))^3 [WilsonHilferty1931], within 2.5 % from one
/// degree of freedom on, within 0.3 % from five.
double chi_squared_once_in_twenty(int freedom);

} // namespace headroom::models
