// Pump curve and system curves of the sheet.
#include "networks/network.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/settings.hpp"
#include "solver/questions/sheet.hpp"
#include "solver/questions/variants.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <array>

namespace headroom::solver {
namespace {

using networks::House;

constexpr std::array rise_shares{0.0, 0.05, 0.15, 0.3, 0.5, 0.75, 1.0, 1.3, 1.7};
constexpr int circulator_points = 40;
constexpr double beyond = 1.3; // drawn past the design flow

std::vector<FlowPressure> system_points(House house, double rise_pa) {
    std::vector<FlowPressure> out;
    for (const double share : rise_shares) {
        const double pressure = share * rise_pa;
        if (pressure == 0.0) {
            out.push_back({0.0, 0.0});
            continue;
        }
        house.source->ideal_rise_pa = pressure;
        const networks::Network network = networks::expand(house);
        const Solution solution = solve(network, &house);
        if (!solution.outcome.converged())
            continue;
        const networks::LinkId pump = network.source->pump;
        out.push_back({solution.flow_kg_s[pump] / solution.fluid[pump].density_kg_m3, pressure});
    }
    return out;
}

std::vector<FlowPressure> circulator(const House &sized, double most_m3_s) {
    const House house = single_circulator(sized);
    const double density =
        models::fluid_state(house.fluid, house.source->flow_temperature_c).density_kg_m3;
    std::vector<FlowPressure> out;
    for (int i = 0; i <= circulator_points; ++i) {
        const double flow = most_m3_s * i / circulator_points;
        const double pressure = residual_head_pa(house, flow * density);
        if (pressure < 0.0)
            break;
        out.push_back({flow, pressure});
    }
    return out;
}

} // namespace

House set_for_rise(const House &sized, double rise_pa) {
    const House ideal = with_ideal_rise(with_ideal_balancing(single_circulator(sized)), rise_pa);
    Settings settings = valve_settings(ideal);
    if (!settings.outcome.converged())
        return ideal;
    return std::move(settings.set);
}

std::vector<PressureCurve> pressure_curves(const House &sized, const DriveAnswer &drive) {
    using Kind = PressureCurve::Kind;
    const networks::Pump &pump = sized.source->circulator;
    const double last = pump.speed * pump.curve.points.back().flow_m3_s;
    const double rise = std::max(drive.needed_pa, drive.set_pa);
    const House set = set_for_rise(sized, rise);
    std::vector<PressureCurve> out;
    out.push_back({Kind::Circulator, "circulator, outside the source",
                   circulator(sized, std::max(last, beyond * drive.source_l_min / 6.0e4))});
    out.push_back({Kind::Design, "pipes on the design day", system_points(set, rise)});
    House cold = set;
    cold.condition.all_water_c =
        sized.cold_start_c ? *sized.cold_start_c : sized.habits[networks::Habit::ColdStart];
    out.push_back({Kind::ColdStart, "pipes at cold start", system_points(cold, rise)});
    if (!zone_names(set).empty())
        out.push_back({Kind::PartLoad, "pipes with all zones shut",
                       system_points(with_zones(set, {}), rise)});
    // A house whose every way is shut asks for no flow, which no curve shows.
    std::erase_if(out, [&](const PressureCurve &curve) {
        return std::all_of(curve.points.begin(), curve.points.end(), [&](const FlowPressure &p) {
            return p.flow_m3_s < 1e-3 * drive.source_l_min / 6.0e4;
        });
    });
    return out;
}

} // namespace headroom::solver
