#include "solver/questions/batch_row.hpp"

#include "solver/heat/emission.hpp"
#include "solver/questions/lay.hpp"

#include <fmt/format.h>

namespace headroom::solver {

BatchRow batch_row(networks::House house, models::FloorResponseCache &floors) {
    BatchRow row;
    row.house = house.name;
    if (row.fault = why_not_driven(house); !row.fault.empty()) {
        row.verdict = "not judged";
        row.exit_code = 2;
        return row;
    }
    house = lay(std::move(house), floors);
    with_responses(house, floors);
    const DriveAnswer answer = drive_verdict(house);
    row.verdict = verdict_word(answer.verdict);
    if (answer.verdict == Verdict::NotSolved) {
        row.exit_code = 3;
        row.fault =
            answer.outcome.worst_equation.empty()
                ? answer.outcome.explanation
                : fmt::format("{}: {}", answer.outcome.worst_equation, answer.outcome.explanation);
        return row;
    }
    row.exit_code = answer.verdict == Verdict::Yes ? 0 : 1;
    row.headroom_pa = answer.headroom_pa;
    row.headroom_low_pa = answer.headroom_low_pa;
    row.headroom_high_pa = answer.headroom_high_pa;
    row.needed_pa = answer.needed_pa;
    row.available_pa = answer.available_pa;
    row.flow_m3_s = answer.source_l_min / 6.0e4;
    row.flow_temperature_c = answer.flow_temperature_c;
    row.index = answer.index;
    row.decided_by = answer.decided_by;
    if (!answer.reasons.empty())
        row.fault = answer.reasons.front();
    return row;
}

} // namespace headroom::solver
