#include "solver/report/how_sure.hpp"

#include "solver/report/figures.hpp"
#include "solver/report/table.hpp"

#include <fmt/format.h>

namespace headroom::solver {
namespace {

constexpr double least_share_shown = 0.005; // of the spread

std::string reasons(const HowSure &sure) {
    std::string out;
    const auto add = [&](int count, const char *what) {
        if (count > 0)
            out += fmt::format("{}{} {}", out.empty() ? "" : ", ", count, what);
    };
    add(sure.short_of_head, "short of head");
    add(sure.short_of_heat, "with a room that stays cold");
    add(sure.too_hot, "with water too warm for a floor");
    add(sure.not_solved, "without a solution");
    return out;
}

} // namespace

std::string how_sure_text(networks::TextForm form, const HowSure &sure, bool says_no) {
    std::string out = "How sure\n";
    out += wrapped(fmt::format("  In {:.1f} % of {} houses drawn within the tolerances the head is "
                               "enough and the water warm enough for each room and cool enough for "
                               "each floor{}{}.",
                               100.0 * sure.chance(), sure.samples,
                               sure.works < sure.samples ? "; " : "", reasons(sure)),
                   "  ");
    // Where most houses drawn are right in all that is counted, so is the one in the middle.
    const bool for_another_reason = says_no && sure.chance() > 0.5;
    out += wrapped(std::string("  Not counted: least flow, open volume, how finely valves can be "
                               "set and what the source gives") +
                       (for_another_reason ? ". The no above rests on these, and stands." : "."),
                   "  ");
    out +=
        wrapped(fmt::format("  Headroom on the design day: {} {} in the middle, {} or more in 95 "
                            "of 100, {} or less in 95 of 100.",
                            signed_pressure(form, sure.headroom_middle_pa), pressure_unit(form),
                            signed_pressure(form, sure.headroom_low_pa),
                            signed_pressure(form, sure.headroom_high_pa)),
                "  ");
    Table table({{"what matters most", Table::Align::Left},
                 {"drawn within", Table::Align::Left},
                 {"share of spread"},
                 {in_pressure(form, "low to high end")}});
    for (const UncertainInput &input : sure.inputs)
        if (input.spread_share >= least_share_shown)
            table.row({"  " + input.what, input.range,
                       fmt::format("{:.0f} %", 100.0 * input.spread_share),
                       signed_pressure(form, input.full_range_pa)});
    if (!table.empty())
        out += table.text(form);
    out += wrapped(
        fmt::format(
            "  Straight lines explain {:.0f} % of the spread. Each input is drawn evenly and "
            "by itself{}.",
            100.0 * sure.explained_share,
            sure.tolerances_stated
                ? " within the file's `margin:`"
                : "; the tolerances are assumed: common practice, no source; state yours "
                  "under `margin:`"),
        "  ");
    return out;
}

Json how_sure_json(const HowSure &sure) {
    Json j{{"houses", sure.samples},
           {"houses_that_work", sure.works},
           {"chance_share", sure.chance()},
           {"houses_short_of_head", sure.short_of_head},
           {"houses_short_of_heat", sure.short_of_heat},
           {"houses_too_hot", sure.too_hot},
           {"houses_not_solved", sure.not_solved},
           {"headroom_low_pa", sure.headroom_low_pa},
           {"headroom_middle_pa", sure.headroom_middle_pa},
           {"headroom_high_pa", sure.headroom_high_pa},
           {"explained_share", sure.explained_share},
           {"tolerances_stated", sure.tolerances_stated},
           {"inputs", Json::array()}};
    for (const UncertainInput &input : sure.inputs)
        j["inputs"].push_back({{"input", input.what},
                               {"within", input.range},
                               {"spread_share", input.spread_share},
                               {"headroom_over_range_pa", input.full_range_pa}});
    return j;
}

} // namespace headroom::solver
