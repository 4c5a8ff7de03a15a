#pragma once

#include <utility>
#include <vector>

namespace headroom::models {

enum class Characteristic { Linear, EqualPercentage };

/// Kv [m3/h] of a valve with fully open flow factor `kvs_m3_h` at `travel` 0 (shut) to 1 (open).
/// Linear: Kv = Kvs h. Equal percentage: Kv = Kvs R^(h-1) above the travel 1/R of its range, linear
/// to zero below, so that travel 0 is shut (IEC 60534-2-4 inherent characteristics).
double valve_kv(Characteristic characteristic, double kvs_m3_h, double travel,
                double rangeability = 50.0);

/// Kv at a number of turns open from a table of (turns, Kv), rising in both; linear between rows,
/// held at the ends.
double kv_at_turns(const std::vector<std::pair<double, double>> &turns_and_kv, double turns);

/// The number of turns open at which such a table gives `kv`; its ends beyond it.
double turns_at_kv(const std::vector<std::pair<double, double>> &turns_and_kv, double kv);

} // namespace headroom::models
