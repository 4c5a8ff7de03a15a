// What the file said, row by row, for the record of the sheet.
#include "networks/network.hpp"
#include "solver/questions/sheet.hpp"

#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::House;
using networks::Run;

void add_limit(const std::optional<networks::HighLimit> &limit, InputRow &row) {
    if (limit)
        row.what += fmt::format("; high-limit stat at {:g} degC", limit->at_c);
}

void add_room_inputs(const House &house, std::vector<InputRow> &out) {
    for (const networks::Room &room : house.rooms) {
        std::string what = fmt::format("{:g} degC, loss {:.0f} W", room.indoor_c, room.loss_w);
        what += room.surveyed_w ? ", surveyed" : ", worked out from fabric and air";
        if (room.floor_area_m2)
            what += fmt::format(", floor {:g} m2", *room.floor_area_m2);
        out.push_back({"room " + room.name, std::move(what)});
    }
}

std::string pump_words(const networks::Pump &pump) {
    std::string out = pump.model.empty() ? "curve" : pump.model;
    for (const models::CurvePoint &point : pump.curve.points)
        out += fmt::format("{} {:g} m3/h at {:.3g} kPa",
                           &point == &pump.curve.points.front() ? ":" : ",",
                           point.flow_m3_s * 3600.0, point.pressure_pa * 1e-3);
    switch (pump.mode) {
    case networks::PumpMode::FixedSpeed:
        return out + fmt::format("; fixed speed {:g} %", 100.0 * pump.speed);
    case networks::PumpMode::ConstantPressure:
        return out + fmt::format("; constant pressure {:.3g} kPa", pump.setting_pa * 1e-3);
    case networks::PumpMode::ProportionalPressure:
        return out + fmt::format("; proportional pressure {:.3g} kPa", pump.setting_pa * 1e-3);
    case networks::PumpMode::ConstantFlow:
        return out + fmt::format("; constant flow {:.3g} m3/h", pump.flow_m3_s * 3600.0);
    case networks::PumpMode::Stopped:
        return out + "; stopped";
    }
    return out;
}

std::string resistance_words(const networks::Resistance &part) {
    if (part.kv_m3_h)
        return fmt::format("{}: Kv {:g} m3/h", part.name, *part.kv_m3_h);
    if (part.zeta)
        return fmt::format("{}: zeta {:g}", part.name, *part.zeta);
    return fmt::format("{}: {:.3g} kPa at {:.3g} m3/h", part.name,
                       part.loss_pa ? *part.loss_pa * 1e-3 : 0.0, part.at_m3_s * 3600.0);
}

void add_source_inputs(const House &house, std::vector<InputRow> &out) {
    const networks::Source &source = *house.source;
    std::string what = source_word(source);
    if (source.flow_temperature_given)
        what += fmt::format(", sends {:g} degC", source.flow_temperature_c);
    if (source.drop_k)
        what += fmt::format(", drop {:g} K", *source.drop_k);
    if (source.greatest_drop_k)
        what += fmt::format(", drops of {:g} K at most", *source.greatest_drop_k);
    if (source.least_flow_m3_s)
        what += fmt::format(", least flow {:.3g} l/min", *source.least_flow_m3_s * 6.0e4);
    out.push_back({"source", std::move(what)});
    out.push_back({source.states == networks::CurveStates::External
                       ? "circulator, outside the source"
                       : "circulator, the pump's own",
                   pump_words(source.circulator)});
    for (const networks::Resistance &part : source.inner)
        out.push_back({"inside the source", resistance_words(part)});
}

std::string side_words(const networks::RunSide &side) {
    std::string out = fmt::format("{:g} m", side.length_m);
    for (const networks::FittingCount &fitting : side.fittings)
        out += fmt::format(", {} {}", fitting.count, fitting.name);
    if (side.zeta > 0.0)
        out += fmt::format(", zeta {:g}", side.zeta);
    return out;
}

void add_run_inputs(const House &house, std::vector<InputRow> &out) {
    for (const Run &run : house.runs) {
        std::string what = fmt::format("{} to {}: {}{}; flow {}", run.from, run.to, run.pipe.name,
                                       run.existing ? ", existing" : "", side_words(run.flow));
        if (!run.one_way)
            what += "; return " + side_words(run.back);
        for (const networks::Part &part : run.parts)
            what += "; " + part.name;
        if (run.mixer)
            what += fmt::format("; mixer Kv {:g} m3/h", run.mixer->kv_m3_h);
        if (run.pump)
            what += "; " + pump_words(*run.pump);
        out.push_back({"run " + run.name, std::move(what)});
        add_limit(run.high_limit, out.back());
    }
}

void add_emitter_inputs(const House &house, std::vector<InputRow> &out) {
    for (const Emitter &emitter : house.emitters) {
        const bool loop = emitter.kind == Emitter::Kind::FloorLoop;
        std::string what = fmt::format("in {}, from {}", emitter.room, emitter.from);
        if (emitter.pipe.bore_m > 0.0)
            what += fmt::format(", {} {:.4g} m", emitter.pipe.name, emitter.length_m);
        if (loop && emitter.tails_m > 0.0)
            what += fmt::format(" with {:g} m of tails", emitter.tails_m);
        if (const auto *floor = std::get_if<networks::FloorPart>(&emitter.emission))
            what += fmt::format(", {:.3g} m2 at {:.0f} mm", floor->area_m2,
                                floor->section.spacing_m * 1e3);
        if (emitter.valve_kv_m3_h)
            what += fmt::format(", open valve Kv {:g} m3/h", *emitter.valve_kv_m3_h);
        out.push_back(
            {fmt::format("{} {}", networks::emitter_word(emitter), emitter.name), std::move(what)});
    }
}

} // namespace

std::vector<InputRow> sheet_inputs(const House &house) {
    std::vector<InputRow> out;
    if (house.outdoor_c)
        out.push_back({"design day", fmt::format("{:g} degC outside", *house.outdoor_c)});
    out.push_back({"liquid", models::fluid_name(house.fluid)});
    add_room_inputs(house, out);
    add_source_inputs(house, out);
    add_run_inputs(house, out);
    if (house.separator)
        out.push_back(
            {house.separator->name,
             fmt::format("bore {:g} mm, {:g} mm between flow and return",
                         house.separator->bore_m * 1e3, house.separator->height_m * 1e3)});
    for (const networks::Manifold &manifold : house.manifolds)
        if (manifold.high_limit) {
            out.push_back({manifold.name, "manifold"});
            add_limit(manifold.high_limit, out.back());
        }
    add_emitter_inputs(house, out);
    for (const networks::Bypass &bypass : house.bypasses)
        out.push_back({"bypass " + bypass.name,
                       fmt::format("at {}, Kv {:g} m3/h{}", bypass.at, bypass.kv_m3_h,
                                   bypass.opens_pa ? fmt::format(", opens at {:.3g} kPa",
                                                                 *bypass.opens_pa * 1e-3)
                                                   : std::string())});
    if (house.hot_water)
        out.push_back(
            {"hot water",
             fmt::format("from {}, {:.3g} l/min at {:g} degC", house.hot_water->from,
                         house.hot_water->flow_m3_s * 6.0e4, house.hot_water->flow_temperature_c)});
    if (house.fill)
        out.push_back({"fill", fmt::format("{:.3g} bar, vessel at {}",
                                           house.fill->pressure_pa * 1e-5, house.fill->at)});
    return out;
}

} // namespace headroom::solver
