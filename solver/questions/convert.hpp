// A heat pump put in, header, secondary pumps and mixers taken out: does the house still work?
#pragma once

#include "networks/house.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/least_changes.hpp"
#include "solver/questions/volume.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

enum class Feasible { Yes, AfterChanges, No };

/// A run of the converted house at the design flow.
struct ConvertRun {
    std::string name;
    std::string pipe;
    bool existing;
    double flow_l_min;
    double velocity_m_s;
    double loss_pa_m;
    bool within; ///< both limits
};

/// The source and the year, as found or as converted.
struct ConvertState {
    std::string what;
    double flow_temperature_c = 0.0;
    double return_temperature_c = 0.0;
    double source_l_min = 0.0;
    std::optional<SourceHeat> heat; ///< on the design day
    std::optional<double> seasonal_performance;
    std::optional<double> electricity_kwh, gas_kwh, yearly_cost, co2_kg;
    std::optional<double>
        fixed_performance;     ///< as seasonal_performance, sent equally warm all year
    double fixed_c = 0.0;      ///< so warm
    std::string cost_caution;  ///< flattered_words() of its year
    double rooms_over_k = 0.0; ///< by which the warmest room passes what is wanted
    std::string year_note;     ///< season.hpp; empty for none
};

struct ConvertAnswer {
    std::string house;
    networks::TextForm form;
    std::string converted_house;
    Feasible feasible = Feasible::No;
    std::string sentence;
    std::vector<std::string> reasons;
    std::vector<std::string> taken_out; ///< header, pumps and mixers of the house as found
    DriveAnswer driven;                 ///< of the converted house, with its least changes
    ConvertState found, converted;
    std::vector<ConvertRun> runs;
    /// Runs beyond a limit renewed in the narrowest pipe within both; absent where all are within,
    /// without changes where no pipe is wide enough. `driven.changes` are then sought with them in.
    std::optional<ChangeSet> wider_runs;
    bool enough_with_wider_runs = false; ///< drive says yes with them alone
    double velocity_limit_m_s = 0.0;
    double loss_limit_pa_m = 0.0;
    bool limits_assumed = false;
    std::optional<double> least_flow_l_min;
    double least_state_l_min = 0.0;   ///< the least of all states that decide
    WantedVolume wanted_volume;       ///< to circulate
    double open_volume_m3 = 0.0;      ///< with every zone open
    double shut_open_volume_m3 = 0.0; ///< with every zone shut
    std::string currency;             ///< of changes; empty: relative figures
    std::string yearly_currency;
    Outcome outcome;
};

/// The converted house: the named proposal, or the first whose source is a heat pump, or the base
/// itself where its source is one. Nothing else can be asked.
struct Conversion {
    std::optional<networks::House> house;
    std::string why_not;
    std::string help;
};
Conversion converted_house(const networks::House &base, const std::string &proposal);

ConvertAnswer convert(const networks::House &base, const networks::House &converted,
                      const SearchLimits &limits, const Progress &progress = {});

} // namespace headroom::solver
