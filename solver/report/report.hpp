// Answers as text, JSON and CSV. The outputs know no physics.
#pragma once

#include "solver/questions/balance.hpp"
#include "solver/questions/bores.hpp"
#include "solver/questions/commission.hpp"
#include "solver/questions/compare.hpp"
#include "solver/questions/convert.hpp"
#include "solver/questions/cost.hpp"
#include "solver/questions/drill.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/emitters.hpp"
#include "solver/questions/explain.hpp"
#include "solver/questions/fill.hpp"
#include "solver/questions/flows.hpp"
#include "solver/questions/hotwater.hpp"
#include "solver/questions/losses.hpp"
#include "solver/questions/pump.hpp"
#include "solver/questions/season.hpp"

#include <string>

namespace headroom::solver {

enum class Format { Text, Json, Csv };

std::string report(const ExplainAnswer &answer, Format format);
std::string report(const CompareAnswer &answer, Format format);
std::string report(const CostAnswer &answer, Format format);
std::string report(const DriveAnswer &answer, Format format);
std::string report(const BoresAnswer &answer, Format format);
std::string report(const DrillAnswer &answer, Format format);
std::string report(const ConvertAnswer &answer, Format format);
std::string report(const BalanceAnswer &answer, Format format);
std::string report(const FlowsAnswer &answer, Format format);
std::string report(const LossesAnswer &answer, Format format);
std::string report(const EmittersAnswer &answer, Format format);
std::string report(const PumpAnswer &answer, Format format);
std::string report(const SeasonAnswer &answer, Format format);
std::string report(const HotWaterAnswer &answer, Format format);
std::string report(const FillAnswer &answer, Format format);
std::string report(const CommissionAnswer &answer, Format format);

/// What is said when nothing could be solved: the failed equation by name and by how much.
std::string failure_text(const Outcome &outcome);

} // namespace headroom::solver
