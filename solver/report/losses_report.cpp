#include "solver/report/figures.hpp"
#include "solver/report/json.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string watts(const std::optional<double> &value) {
    return value ? fixed(*value, 0) : "-";
}

// The product that an element's loss is.
std::string made_of(const networks::RoomPartLoss &part, double air_heat) {
    std::string out =
        part.volume_m3 ? fmt::format("{:.1f} m3 x {:.2f} /h x {:.3f}", *part.volume_m3,
                                     *part.changes_per_h, air_heat)
                       : fmt::format("{:.1f} m2 x {:.2f} W/(m2 K)", *part.area_m2, *part.u_w_m2k);
    if (part.share != 1.0)
        out += fmt::format(" x {:.2f}", part.share);
    return out + fmt::format(" x {:.1f} K", part.difference_k);
}

std::string elements_text(const LossesAnswer &a) {
    Table table({{"room", Align::Left},
                 {"through", Align::Left},
                 {"made of", Align::Left},
                 {"W"},
                 {"of the room"}});
    for (const RoomRow &row : a.rooms)
        for (const networks::RoomPartLoss &part : row.parts)
            table.row({row.room, part.what, made_of(part, a.air_heat), fixed(part.loss_w, 0),
                       percent(part.loss_w / *row.worked_w)});
    std::string out = "\nElement by element (EN 12831-1): area, U-value, temperature factor, "
                      "difference\n" +
                      table.text(a.form) +
                      "  thermal bridges: over all areas, each by its factor, but those to a known "
                      "temperature\n";
    return out;
}

std::string text_report(const LossesAnswer &a) {
    std::string out = fmt::format("{}\n{:.0f} W on the design day", a.house, a.total_w);
    if (a.outdoor_c)
        out += fmt::format(" at {:g} degC outside", *a.outdoor_c);
    if (a.coefficient_w_k)
        out += fmt::format(", heat loss coefficient {:.1f} W/K", *a.coefficient_w_k);
    if (a.floor_area_m2)
        out += fmt::format(", {:.1f} W/m2", a.total_w / *a.floor_area_m2);
    out += "\n";
    Table table({{"room", Align::Left},
                 {"degC"},
                 {"m2"},
                 {"surveyed W"},
                 {"worked out W"},
                 {"used W"},
                 {"W/m2"},
                 {"of the house"}});
    for (const RoomRow &row : a.rooms)
        table.row({row.room, fixed(row.indoor_c, 0),
                   row.floor_area_m2 ? fixed(*row.floor_area_m2, 1) : "-", watts(row.surveyed_w),
                   watts(row.worked_w), fixed(row.used_w, 0),
                   row.floor_area_m2 ? fixed(row.used_w / *row.floor_area_m2, 1) : "-",
                   percent(row.used_w / a.total_w)});
    out += "\nRooms\n" + table.text(a.form);
    if (a.shares.empty())
        return out;
    double worked = 0.0;
    for (const LossPart &part : a.shares)
        worked += part.loss_w;
    Table shares({{"through", Align::Left}, {"W"}, {"share"}});
    for (const LossPart &part : a.shares)
        shares.row({part.what, fixed(part.loss_w, 0), percent(part.loss_w / worked)});
    out += "\nWhere it goes, over the rooms worked out\n" + shares.text(a.form);
    out += fmt::format("  air: {:.3f} W/(m3 K) per change an hour ({})\n", a.air_heat,
                       a.air_heat > 0.335 ? "EN 12831-1; the British third would be 2 % less"
                                          : "the British third; EN 12831-1 has 0.34");
    if (a.bridges_assumed)
        out += fmt::format("  thermal bridges: {:.2f} W/(m2 K) added to every U-value, assumed "
                           "(EN 12831-1 default, from memory)\n",
                           a.bridge_w_m2k);
    return out + elements_text(a);
}

Json json_report(const LossesAnswer &a) {
    Json j = json_head("losses", a.house);
    j["outdoor_c"] = optional_json(a.outdoor_c);
    j["total_w"] = a.total_w;
    j["heat_loss_coefficient_w_k"] = optional_json(a.coefficient_w_k);
    j["floor_area_m2"] = optional_json(a.floor_area_m2);
    j["air_heat_w_m3k"] = a.air_heat;
    const auto parts_json = [](const std::vector<networks::RoomPartLoss> &parts) {
        Json list = Json::array();
        for (const networks::RoomPartLoss &part : parts)
            list.push_back({{"through", part.what},
                            {"loss_w", part.loss_w},
                            {"difference_k", part.difference_k},
                            {"factor_share", part.share},
                            {"area_m2", optional_json(part.area_m2)},
                            {"u_w_m2k", optional_json(part.u_w_m2k)},
                            {"volume_m3", optional_json(part.volume_m3)},
                            {"changes_per_h", optional_json(part.changes_per_h)}});
        return list;
    };
    j["rooms"] = Json::array();
    for (const RoomRow &row : a.rooms)
        j["rooms"].push_back({{"room", row.room},
                              {"indoor_c", row.indoor_c},
                              {"floor_area_m2", optional_json(row.floor_area_m2)},
                              {"surveyed_w", optional_json(row.surveyed_w)},
                              {"worked_w", optional_json(row.worked_w)},
                              {"used_w", row.used_w},
                              {"parts", parts_json(row.parts)}});
    j["shares"] = Json::array();
    for (const LossPart &part : a.shares)
        j["shares"].push_back({{"through", part.what}, {"loss_w", part.loss_w}});
    return j;
}

std::string csv_report(const LossesAnswer &a) {
    std::string out =
        csv_record({"room", "indoor_c", "floor_area_m2", "surveyed_w", "worked_w", "used_w"});
    const auto cell = [](const std::optional<double> &value) {
        return value ? number(*value) : std::string();
    };
    for (const RoomRow &row : a.rooms)
        out += csv_record({row.room, number(row.indoor_c), cell(row.floor_area_m2),
                           cell(row.surveyed_w), cell(row.worked_w), number(row.used_w)});
    return out;
}

} // namespace

std::string report(const LossesAnswer &answer, Format format) {
    return report_in(format, answer, text_report, json_report, csv_report);
}

} // namespace headroom::solver
