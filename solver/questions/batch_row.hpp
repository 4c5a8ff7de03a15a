// One house of many: its verdict in a row.
#pragma once

#include "models/floor_response_cache.hpp"
#include "networks/house.hpp"
#include "solver/questions/drive.hpp"

#include <optional>
#include <string>

namespace headroom::solver {

/// What a batch says of one file. Figures are absent where there is no verdict.
struct BatchRow {
    std::string file;
    std::string house;
    std::string verdict; ///< "yes", "marginal", ...; "not read", "not judged" or "not solved"
    int exit_code = 0;   ///< what `drive` would end with
    std::optional<double> headroom_pa, headroom_low_pa, headroom_high_pa;
    std::optional<double> needed_pa, available_pa, flow_m3_s, flow_temperature_c;
    std::string index;
    std::string decided_by;
    std::string fault; ///< what is wrong, in one line
};

/// The row of a house that was read. `floors` is shared by all houses and threads.
BatchRow batch_row(networks::House house, models::FloorResponseCache &floors);

} // namespace headroom::solver
