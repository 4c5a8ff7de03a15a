// Readings from site against the house as drawn: which single part is not as drawn, how far off it
// is, how sure that is, and what the readings cannot tell apart.
#pragma once

#include "networks/house.hpp"
#include "solver/outcome.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

struct ReadingRow {
    networks::SiteReading::Kind kind;
    std::string what;
    double measured; ///< m3/s, Pa or degC by kind, as are the next three (accuracy in K)
    double accuracy;
    double drawn;  ///< what the house as drawn would show
    double fitted; ///< what it would show with the likeliest part as fitted
};

/// One way in which a part may differ, fitted to the readings.
struct FaultWay {
    std::string what;          ///< "92 m would have to be 141 m"
    double chi_squared;        ///< what of the readings it leaves unexplained
    double factor_share;       ///< fitted: of the drawn length, loss, Kv or speed
    double factor_error_share; ///< one standard deviation of it
};

/// A part that may not be as drawn. Ways that the readings cannot tell apart by their nature
/// (length and an added loss in one loop) stand together.
struct Suspect {
    std::string part;      ///< name of the loop, radiator or run; of a pump, its run's or "source"
    std::string title;     ///< "loop `kitchen 2`"
    std::string complaint; ///< "more loss than drawn (...)"
    double chi_squared;    ///< of its best way
    double probability_share = 0.0;
    bool alike = false;              ///< no worse than the first by more than `alike_chi_squared`
    std::vector<FaultWay> ways = {}; ///< the best first
};

/// Chi-squared by which two suspects must differ to count as told apart: two standard deviations.
inline constexpr double alike_chi_squared = 4.0;
/// By which a fault must improve on the house as drawn to count as found: three of them.
inline constexpr double found_chi_squared = 9.0;

struct Diagnosis {
    Outcome outcome;
    std::string sentence;
    bool as_drawn = false; ///< no part improves enough on the house as drawn
    bool explained = true; ///< the best suspect leaves no more than chance would
    double drawn_chi_squared = 0.0;
    double chance_chi_squared = 0.0; ///< what chance exceeds once in twenty
    std::vector<ReadingRow> readings;
    std::vector<Suspect> suspects; ///< the likeliest first
    networks::House fitted; ///< the house with the likeliest fault; as drawn if none is found
};

/// Each fault has one parameter, found by weighted least squares (Gauss-Newton, numerical
/// derivative) over solved variants of the house: a loop's or tail's length, a loss added to it,
/// its valve further open than noted, a loss added to a run, a pump's speed or setting. Parts are
/// ranked by chi-squared; probabilities are exp(-chi2/2) normalised, each part as likely as any
/// other before the readings, one fault only. Accuracies are taken as standard deviations. The
/// house needs its design flows (size.hpp) and at least one reading.
Diagnosis diagnose(const networks::House &house);

} // namespace headroom::solver
