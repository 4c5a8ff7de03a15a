#include "solver/program/starter.hpp"

#include "networks/quantity.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Dimension;

constexpr double loss_w_m2 = 50.0;          // placeholder, of floor
constexpr double radiator_room_w = 600.0;   // placeholder
constexpr double warmest_to_floor_c = 45.0; // above it the placeholder is a mixer
constexpr double mixed_c = 40.0;

std::string degrees(double value_c) {
    return networks::written(value_c, Dimension::Temperature);
}

double sent_c(const Starter &s) {
    if (s.flow_temperature_c > 0.0)
        return s.flow_temperature_c;
    if (!s.floors)
        return s.heat_pump ? 50.0 : 70.0;
    return s.heat_pump ? (s.radiators > 0 ? 45.0 : 40.0) : s.header ? 60.0 : 45.0;
}

bool mixed(const Starter &s) {
    return s.floors && s.header && sent_c(s) > warmest_to_floor_c;
}

// Usual longest loops; common practice, no source.
double longest_m(double bore_m) {
    return bore_m <= 8.5e-3 ? 60.0 : bore_m <= 10.5e-3 ? 80.0 : bore_m <= 13.5e-3 ? 100.0 : 120.0;
}

// Names for the rooms upstairs that no room with loops has, nor any of its loops.
std::vector<std::string> radiator_rooms(const Starter &s) {
    std::vector<std::string> out;
    for (int i = 1; static_cast<int>(out.size()) < s.radiators; ++i) {
        std::string name = fmt::format("{} {}", s.floors ? "upstairs" : "room", i);
        for (bool taken = true; taken;) {
            taken = std::any_of(s.rooms.begin(), s.rooms.end(), [&](const StarterRoom &room) {
                return name == room.name || name.starts_with(room.name + " ");
            });
            if (taken)
                name.insert(0, "radiator in ");
        }
        out.push_back(std::move(name));
    }
    return out;
}

std::string head(const Starter &s) {
    std::string out =
        "# A first draft for `headroom`, made by `headroom new`. Every line with `check:` holds a\n"
        "# placeholder or a guess: put in what the survey and the data sheets say, and take the\n"
        "# remark away. Until then no answer about this house is worth anything.\n"
        "# Gas, unvented hot water, electrical and refrigerant work belongs to licensed people; "
        "local\n"
        "# codes stand above the program. `headroom explain KEY` tells what a key means.\n";
    out += fmt::format("house: {}\n", yaml_quoted(s.name));
    out += fmt::format("design_day: {{outdoor: {}}} # by the national annex or the survey\n",
                       degrees(s.outdoor_c));
    if (s.glycol_share > 0.0)
        out +=
            fmt::format("water: {{glycol: propylene, share: {}, by: mass}} # check: kind, share, "
                        "and whether by mass or by volume\n",
                        networks::written(s.glycol_share, Dimension::Ratio));
    else
        out +=
            fmt::format("water: plain{}\n",
                        s.assumed.contains("glycol") ? " # check: no glycol against frost?" : "");
    out += "levels: {ground: 0 m, upstairs: 2.6 m} # check: storey height\n";
    if (s.radiators > 0)
        out += "junctions: {landing: {level: upstairs}}\n";
    return out;
}

std::string rooms(const Starter &s) {
    std::string out = "\n# Nothing is sized for a room without a heat loss: survey each room, or "
                      "describe its `fabric:`\n# and `air_changes:` for the program to work it "
                      "out.\nrooms:\n";
    if (s.rooms_made_up)
        out += "  # check: the floor area was split evenly; name the real rooms with their areas\n";
    for (const StarterRoom &room : s.rooms)
        out +=
            fmt::format("  {}: {{floor_area: {}, indoor: 21 degC, loss: {:.0f} W}} # check: loss "
                        "at {:g} W/m2, indoor temperature\n",
                        yaml_quoted(room.name), networks::written(room.area_m2, Dimension::Area),
                        std::max(1.0, std::round(loss_w_m2 * room.area_m2)), loss_w_m2);
    for (const std::string &name : radiator_rooms(s))
        out += fmt::format("  {}: {{indoor: 19 degC, loss: {:g} W}} # check: loss, indoor "
                           "temperature, name\n",
                           yaml_quoted(name), radiator_room_w);
    return out;
}

std::string source(const Starter &s) {
    std::string out = fmt::format("\nsource:\n  kind: {}\n  level: ground\n",
                                  s.heat_pump ? "heat_pump" : "boiler");
    out +=
        fmt::format("  flow_temperature: {} # {}\n", degrees(sent_c(s)),
                    s.flow_temperature_c > 0.0 ? "on the design day"
                                               : "check: what the house needs on the design day");
    out += fmt::format("  drop: {} # check: as the source is run\n", s.heat_pump ? "5 K"
                                                                     : !s.floors ? "11 K"
                                                                     : s.header  ? "15 K"
                                                                                 : "7 K");
    if (s.heat_pump)
        out +=
            "  # check: add what the maker states, as it decides too:\n"
            "  # least_flow: 11 l/min\n"
            "  # least_open_volume: 60 l\n"
            "  # performance: [[-7 degC, 35 degC, 5.2 kW, 2.9], [7 degC, 35 degC, 6.4 kW, 4.6]]\n"
            "  circulator: # residual head outside the casing, from the data sheet\n"
            "    states: external\n"
            "    curve: [[0 m3/h, 68 kPa], [0.6 m3/h, 64 kPa], [1 m3/h, 55 kPa], [1.4 m3/h, 41 "
            "kPa], [1.9 m3/h, 18 kPa]] # check: invented\n";
    else
        out += "  # check: add what the maker states: greatest_output: 18 kW, least_output: 5 kW\n"
               "  circulator: {states: gross, model: generic 6 m, mode: fixed_speed} # check: "
               "invented; its own curve\n"
               "  inner: # what lies inside the casing and is taken off a gross curve\n"
               "    - {name: heat exchanger, loss: 9 kPa, at_flow: 1 m3/h} # check: invented\n";
    return out;
}

std::string secondary_pump(const Starter &s, const char *setting) {
    return s.header ? fmt::format("    pump: {{model: generic 6 m, mode: constant_pressure, "
                                  "setting: {}}} # check: invented; as fitted and set\n",
                                  setting)
                    : "";
}

std::string pipework(const Starter &s) {
    const char *middle = s.header ? "header" : "plant room";
    std::string out = fmt::format(
        "\n# A run is a flow and a return pipe; length and fittings are those of one of them. "
        "Pipe\n"
        "# that is there already says `existing: yes`.\n"
        "pipework:\n"
        "  - run: primaries\n"
        "    from: source\n"
        "    to: {}\n"
        "    pipe: copper 28 # check: size\n"
        "    length: 8 m # check: as measured\n"
        "    fittings: {{elbow: 8, full_bore_valve: 2}} # check: count them\n"
        "    return: {{fittings: {{elbow: 8, full_bore_valve: 2, y_strainer: 1, magnetic_filter: "
        "1}}}} # check: filters\n",
        middle);
    if (s.floors)
        out += fmt::format("  - run: floor feed\n"
                           "    from: {}\n"
                           "    to: manifold\n"
                           "    pipe: copper 22 # check: size\n"
                           "    length: 6 m # check: as measured\n"
                           "    fittings: {{elbow: 4, full_bore_valve: 2}} # check: count them\n",
                           middle);
    if (mixed(s))
        out += fmt::format("    mixer: {{kv: 4 m3/h, set: {}}} # check: Kv, temperature it holds\n",
                           degrees(mixed_c));
    if (s.floors)
        out += secondary_pump(s, "2.5 m");
    if (s.radiators > 0)
        out += fmt::format("  - run: riser\n"
                           "    from: {}\n"
                           "    to: landing\n"
                           "    pipe: copper 22 # check: size\n"
                           "    length: 6 m # check: as measured\n"
                           "    fittings: {{elbow: 4}} # check: count them\n",
                           middle) +
               secondary_pump(s, "2 m");
    if (s.header)
        out += "\nheader: {bore: 80 mm, height: 0.6 m, level: ground} # check: inside diameter, "
               "height between the connections\n";
    return out;
}

std::string manifolds(const Starter &s) {
    if (!s.floors)
        return "";
    std::string out = fmt::format(
        "\nmanifolds:\n"
        "  manifold:\n"
        "    level: ground\n"
        "{}"
        "    valve_kv: 1.1 m3/h # check: open loop valve and flow meter together, by the maker\n"
        "    bar: {{bore: 28 mm, pitch: 50 mm}} # check: bars of the manifold\n"
        "    # The program lays these rooms. Loops that lie already go under `loops:` instead, "
        "each "
        "as\n"
        "    # {{room: kitchen, pipe: pex 16x2, length: 88 m, tails: 8 m}}, `length` port to "
        "port.\n"
        "    rooms:\n",
        s.header && !s.heat_pump ? "    drop: 6 K # check: of the floor loops\n" : "");
    for (const StarterRoom &room : s.rooms)
        out += fmt::format("      - {{room: {}, pipe: {}, spacing: 150 mm, tails: 6 m, longest: "
                           "{:g} m}} # check: spacing, tails, longest loop\n",
                           yaml_quoted(room.name), s.loop_pipe.name, longest_m(s.loop_pipe.bore_m));
    return out;
}

// A house of radiators alone hangs on what they give; beside floors that may come later.
std::string radiators(const Starter &s) {
    std::string out;
    if (s.radiators > 0)
        out += s.floors ? "\n# With `output: 1150 W, rated_at: 75/65/20` it is checked that they "
                          "heat their rooms.\nradiators:\n"
                        : "\n# Microbore is said with its wall, such as `copper 10x0.7`.\n"
                          "radiators:\n";
    for (const std::string &name : radiator_rooms(s))
        out += fmt::format("  - {{radiator: {}, room: {}, from: landing, pipe: copper 15, length: "
                           "4 m{}}} # check: "
                           "tails{}\n",
                           yaml_quoted(name), yaml_quoted(name),
                           s.floors ? "" : ", existing: yes, output: 700 W, rated_at: 75/65/20",
                           s.floors ? "" : ", rated output");
    if (s.radiators == 0 && s.assumed.contains("radiators"))
        out += "\n# check: no radiators upstairs?\n";
    return out;
}

std::string water_side(const Starter &s) {
    std::string out;
    if (s.hot_water)
        out += fmt::format(
            "\nhot_water:\n"
            "  from: source # check: where the diverter stands\n"
            "  coil: {{loss: 12 kPa, at_flow: 1.2 m3/h}} # check: of the cylinder's coil\n"
            "  flow: 17 l/min # check: while the cylinder is heated\n"
            "  flow_temperature: {} # check: stored hot water is heated through to 60 degC against "
            "legionella\n"
            "  after_run: coil # check: `heating` sends what is left in the source to the floors\n",
            degrees(s.heat_pump ? 55.0 : 70.0));
    else if (s.assumed.contains("hot-water"))
        out += "\n# check: does this source heat a cylinder? Then add `hot_water:`.\n";
    out += "\nfill: {pressure: 1.2 bar, vessel_at: source.return} # check: cold, at the expansion "
           "vessel\n";
    return out;
}

} // namespace

std::string yaml_quoted(const std::string &text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\')
            out += '\\';
        out += c;
    }
    return out + '"';
}

std::string starter_text(const Starter &s) {
    return head(s) + rooms(s) + source(s) + pipework(s) + manifolds(s) + radiators(s) +
           water_side(s);
}

} // namespace headroom::solver
