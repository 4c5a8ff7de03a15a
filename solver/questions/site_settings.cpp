#include "solver/questions/site_settings.hpp"

#include "networks/network.hpp"
#include "networks/protection.hpp"
#include "solver/questions/balance_words.hpp"
#include "solver/questions/balanced.hpp"
#include "solver/questions/figure_words.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using networks::House;

void set_alone(const House &house, const DriveAnswer &driven, SiteSettings &out) {
    out.source_m3_s = driven.source_l_min / 6.0e4;
    out.flow_c = driven.flow_temperature_c;
    out.return_c = driven.return_temperature_c;
    for (const EmitterRow &row : driven.emitters) {
        SiteValve valve{row.name,   row.kind,           row.design_l_min / 6.0e4,
                        row.drop_k, out.flow_c,         row.surplus_pa,
                        {},         row.valve_in_range, row.heat_leak};
        if (row.valve_kv_m3_h > 0.0)
            valve.kv_m3_h = row.valve_kv_m3_h;
        out.order.push_back(out.valves.size());
        out.valves.push_back(std::move(valve));
    }
    std::stable_sort(out.order.begin(), out.order.end(), [&](std::size_t a, std::size_t b) {
        return out.valves[a].takes_pa > out.valves[b].takes_pa;
    });
    double flow_m3_s = out.source_m3_s;
    double set_pa = driven.set_pa;
    if (driven.least_flow_l_min && driven.set_pa > 0.0) {
        const House single = single_circulator(size(house).house);
        out.least_flow = source_setting(single, as_set(single, driven),
                                        {out.source_m3_s, driven.needed_pa, driven.set_pa});
        flow_m3_s = out.least_flow->flow_m3_s;
        set_pa = out.least_flow->set_pa;
    }
    if (set_pa > 0.0)
        out.pumps.push_back({"source", "the source's circulator",
                             pressure_words(driven.form, set_pa), flow_m3_s, set_pa, true});
}

void set_as_drawn(const House &house, SiteSettings &out) {
    const Sizing sizing = size_as_found(house);
    out.outcome = sizing_outcome(sizing);
    if (!out.outcome.converged())
        return;
    const Balanced work = balanced(sizing.house);
    out.outcome = work.outcome;
    if (!out.outcome.converged())
        return;
    const SolvedHouse &free = work.settings.free;
    const networks::SourceLinks &source = *free.network.source;
    out.source_m3_s = free.source_l_min() / 6.0e4;
    out.flow_c = free.solution.heat.node_c[source.flow];
    out.return_c = free.solution.heat.node_c[source.back];
    std::vector<std::size_t> blocked;
    for (const BalancedPump &pump : work.pumps) {
        blocked.insert(blocked.end(), pump.blocked.begin(), pump.blocked.end());
        out.pumps.push_back({pump_name(work.house, pump.circuit),
                             pump_title(work.house, pump.circuit), setting_words(work, pump),
                             pump.flow_m3_s, pump.set_pa, pump.driven && pump.blocked.empty()});
    }
    for (std::size_t i = 0; i < work.settings.valves.size(); ++i) {
        const ValveSetting &set = work.settings.valves[i];
        const networks::Emitter &emitter = work.house.emitters[set.emitter];
        const networks::LinkId link = *free.network.emitters[i].balancing;
        SiteValve valve{emitter.name,
                        std::string(networks::emitter_word(emitter)),
                        set.design_kg_s / free.solution.fluid[link].density_kg_m3,
                        emitter.drop_k,
                        emitter.inlet_c.value_or(out.flow_c),
                        set.stays_open() ? 0.0 : set.surplus_pa,
                        {},
                        set.in_range(),
                        networks::is_heat_leak(work.house, emitter)};
        if (std::find(blocked.begin(), blocked.end(), set.emitter) == blocked.end())
            valve.kv_m3_h = set.kv_m3_h;
        out.valves.push_back(std::move(valve));
    }
    out.order = setting_order(work);
}

} // namespace

bool has_more_than_circulator(const House &house) {
    return house.separator ||
           std::any_of(house.runs.begin(), house.runs.end(), [](const networks::Run &run) {
               return run.pump.has_value() || run.mixer.has_value();
           });
}

SiteSettings site_settings(const House &house, const DriveAnswer &driven) {
    SiteSettings out;
    out.outcome = driven.outcome;
    const bool more = has_more_than_circulator(house);
    if (more && driven.verdict != Verdict::Yes) {
        out.scope = BalanceScope::AsDrawn;
        out.house = "the house as drawn: header, mixers and their pumps stay, as the verdict on "
                    "one circulator is not a yes";
        set_as_drawn(house, out);
        return out;
    }
    out.house = more ? "the house on the source's own circulator: other pumps, their mixers and a "
                       "header taken out"
                     : "the house as drawn, on the source's own circulator";
    set_alone(house, driven, out);
    return out;
}

} // namespace headroom::solver
