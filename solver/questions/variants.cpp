#include "solver/questions/variants.hpp"

#include "networks/protection.hpp"

#include <algorithm>

namespace headroom::solver {

using networks::Balancing;
using networks::Emitter;
using networks::House;
using networks::Part;
using networks::Run;

House with_ideal_balancing(House house) {
    for (Emitter &emitter : house.emitters)
        emitter.balancing = {networks::is_heat_leak(house, emitter) ? Balancing::Kind::Open
                                                                    : Balancing::Kind::Limiter,
                             0.0};
    for (Run &run : house.runs)
        for (Part &part : run.parts)
            if (part.kind == Part::Kind::Zone)
                part.open = true;
    return house;
}

House without_other_pumps(House house) {
    for (Run &run : house.runs) {
        run.pump.reset();
        run.mixer.reset();
    }
    return house;
}

House at_full_speed(House house) {
    const auto raise = [](networks::Pump &pump) {
        pump.mode = networks::PumpMode::FixedSpeed;
        pump.speed = std::max(1.0, pump.speed);
    };
    if (house.source)
        raise(house.source->circulator);
    for (Run &run : house.runs)
        if (run.pump && run.pump->mode != networks::PumpMode::Stopped)
            raise(*run.pump);
    return house;
}

House single_circulator(House house) {
    house = at_full_speed(without_other_pumps(std::move(house)));
    house.separator.reset();
    return house;
}

House at_band_end(const House &house, bool worse) {
    const networks::Margin &margin = house.margin;
    House out = house;
    out.condition.transition = worse ? models::Transition::Early : models::Transition::Late;
    out.condition.bore_factor = worse ? 1.0 - margin.bore : 1.0 + margin.bore;
    out.condition.curve_factor = worse ? 1.0 - margin.curve : 1.0 + margin.curve;
    if (worse)
        out.condition.filter_factor = 1.0 + margin.filter;
    return out;
}

models::PumpCurve flat_curve(double rise_pa) {
    return models::make_pump_curve({{0.0, rise_pa}, {1.0, rise_pa}});
}

House with_ideal_rise(House house, double rise_pa, std::optional<std::size_t> run) {
    if (!run) {
        house.source->ideal_rise_pa = rise_pa;
        return house;
    }
    networks::Pump &pump = *house.runs[*run].pump;
    pump.mode = networks::PumpMode::FixedSpeed;
    pump.speed = 1.0;
    pump.curve = flat_curve(rise_pa);
    return house;
}

std::vector<std::string> zone_names(const House &house) {
    std::vector<std::string> names;
    const auto add = [&](const std::string &zone) {
        if (!zone.empty() && std::find(names.begin(), names.end(), zone) == names.end())
            names.push_back(zone);
    };
    for (const Emitter &emitter : house.emitters)
        add(emitter.zone);
    for (const Run &run : house.runs)
        for (const Part &part : run.parts)
            if (part.kind == Part::Kind::Zone)
                add(part.zone);
    return names;
}

House with_zones(House house, const std::vector<std::string> &open) {
    const auto shut = [&](const std::string &zone) {
        return !zone.empty() && std::find(open.begin(), open.end(), zone) == open.end();
    };
    for (Emitter &emitter : house.emitters)
        if (shut(emitter.zone))
            emitter.balancing.kind = Balancing::Kind::Shut;
    for (Run &run : house.runs)
        for (Part &part : run.parts)
            if (part.kind == Part::Kind::Zone && shut(part.zone))
                part.open = false;
    return house;
}

} // namespace headroom::solver
