// What to test, warm up, dial in and write down on the day the system is handed to its water.
#pragma once

#include "networks/house.hpp"
#include "solver/outcome.hpp"
#include "solver/questions/site_settings.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

struct PressureTest {
    std::string what;
    double least_pa;
    std::optional<double> most_pa;
    double hold_s;
    std::string how;
    std::string source; ///< of these figures
};

/// One step of warming a screed.
struct ScreedStep {
    std::string screed;
    int from_day; ///< since it was laid, at the earliest
    int days;
    double water_c;
};

struct DialIn {
    double flow_c;
    double return_c;                     ///< expected
    double source_flow_m3_s;             ///< expected with each emitter at its design flow
    std::optional<double> circulator_pa; ///< absent where it is not set or does not drive all
    /// The head for setting the valves, where that is not circulator_pa: each emitter at its design
    /// flow, which together are below the source's least flow.
    std::optional<double> balancing_pa;
    std::optional<double> least_flow_m3_s; ///< the source's, where source_flow_m3_s is below it
    std::vector<SitePump> pumps;           ///< the source's first; none where it is not set
    std::optional<double> floor_limit_c;   ///< lowest of the floors'; high-limit stat no higher
    bool floor_limit_assumed = false;
    std::optional<double> hot_water_flow_c, hot_water_flow_m3_s, store_to_c;
    std::optional<double> fill_least_pa, fill_most_pa, precharge_pa;
};

/// The high-limit stat of a floor manifold, as the file has it or where it has to stand.
struct StatPlace {
    std::string manifold;
    double limit_c; ///< lowest of its loops'
    std::string stands;
    std::string stops; ///< empty where none is needed
    bool there;        ///< the file has it, and it can feel the water
};

/// A loop or radiator: what to set, beside which its readings are written.
struct MeterRow {
    std::string name;
    std::string room;
    std::string kind;
    double design_m3_s;
    double drop_k;
    std::optional<double> kv_m3_h; ///< absent where nothing is to be set
    bool in_range = true;
    std::optional<networks::MeterRange> meter{}; ///< its scale, where the file gives it
    bool meter_holds = true;                     ///< the scale shows the design flow
};

struct CommissionAnswer {
    std::string house;
    networks::TextForm form;
    std::string fluid;
    std::string verdict;  ///< of drive, in words
    std::string settings; ///< in words which house they are of
    std::vector<PressureTest> tests;
    std::vector<ScreedStep> screed;
    DialIn dial{};
    std::vector<StatPlace> stats; ///< for the house as the file has it
    std::vector<MeterRow> meters;
    std::vector<std::string> order; ///< of work
    std::vector<std::string> remarks;
    std::vector<std::string> cautions;
    Outcome outcome;
};

/// For a house that `drive` can be asked of (why_not_driven).
CommissionAnswer commission(const networks::House &house);

} // namespace headroom::solver
