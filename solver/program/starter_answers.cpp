#include "solver/program/starter_answers.hpp"

#include "networks/quantity.hpp"
#include "networks/utf8.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <sstream>
#include <variant>

namespace headroom::solver {
namespace {

using networks::Dimension;
using Fault = std::optional<AnswerFault>;

constexpr double usual_room_m2 = 25.0; // an area is split into rooms no larger
constexpr int most_radiators = 50;

std::string trimmed(const std::string &text) {
    const std::size_t first = text.find_first_not_of(" \t");
    return first == std::string::npos
               ? ""
               : text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

Fault bad_name(const std::string &name) {
    if (name.empty())
        return AnswerFault{"a name is empty", "give it one"};
    if (networks::first_invalid_utf8(name) != std::string::npos ||
        std::any_of(name.begin(), name.end(),
                    [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }))
        return AnswerFault{"a name holds bytes that are no text", "write it in plain UTF-8"};
    return std::nullopt;
}

// A quantity within its range, or why not.
Fault take_quantity(const std::string &answer, Dimension dimension, double least, double most,
                    double &value) {
    const auto read = networks::parse_quantity(answer, dimension);
    if (const auto *fault = std::get_if<networks::QuantityFault>(&read))
        return AnswerFault{fault->message, fault->help};
    value = std::get<double>(read);
    if (value >= least && value <= most)
        return std::nullopt;
    return AnswerFault{fmt::format("{} is out of range", answer),
                       fmt::format("from {} to {}", networks::written(least, dimension),
                                   networks::written(most, dimension))};
}

// One of two words.
Fault take_word(const std::string &answer, const char *yes, const char *no, bool &value) {
    if (answer != yes && answer != no)
        return AnswerFault{fmt::format("`{}` is neither `{}` nor `{}`", answer, yes, no),
                           "write one of them"};
    value = answer == yes;
    return std::nullopt;
}

Fault take_name(const std::string &answer, Starter &house) {
    house.name = trimmed(answer);
    return bad_name(house.name);
}

Fault take_source(const std::string &answer, Starter &house) {
    return take_word(answer, "heat_pump", "boiler", house.heat_pump);
}

Fault take_circuits(const std::string &answer, Starter &house) {
    return take_word(answer, "header", "direct", house.header);
}

Fault take_outdoor(const std::string &answer, Starter &house) {
    return take_quantity(answer, Dimension::Temperature, -60.0, 15.0, house.outdoor_c);
}

// "110 m2", split evenly.
Fault take_area(const std::string &answer, Starter &house) {
    double area_m2 = 0.0;
    if (Fault fault = take_quantity(answer, Dimension::Area, 1.0, 2000.0, area_m2))
        return fault;
    const int count = static_cast<int>(std::ceil(area_m2 / usual_room_m2));
    for (int i = 1; i <= count; ++i)
        house.rooms.push_back({fmt::format("room {}", i), area_m2 / count});
    house.rooms_made_up = true;
    return std::nullopt;
}

// "kitchen=22 m2, hall=9 m2", an area, or "none".
Fault take_rooms(const std::string &answer, Starter &house) {
    house.rooms.clear();
    house.floors = answer != "none";
    if (!house.floors)
        return std::nullopt;
    if (answer.find('=') == std::string::npos)
        return take_area(answer, house);
    std::istringstream list(answer);
    for (std::string item; std::getline(list, item, ',');) {
        const std::size_t equals = item.rfind('=');
        if (equals == std::string::npos)
            return AnswerFault{fmt::format("room `{}` has no area", trimmed(item)),
                               "such as `kitchen=22 m2, hall=9 m2`"};
        StarterRoom room{trimmed(item.substr(0, equals)), 0.0};
        if (Fault fault = bad_name(room.name))
            return fault;
        if (Fault fault = take_quantity(trimmed(item.substr(equals + 1)), Dimension::Area, 0.5,
                                        500.0, room.area_m2))
            return fault;
        if (std::any_of(house.rooms.begin(), house.rooms.end(),
                        [&](const StarterRoom &other) { return other.name == room.name; }))
            return AnswerFault{fmt::format("there are two rooms `{}`", room.name), "rename one"};
        house.rooms.push_back(std::move(room));
    }
    return std::nullopt;
}

Fault take_pipe(const std::string &answer, Starter &house) {
    networks::Diagnostics diagnostics;
    const auto pipe =
        networks::find_pipe(networks::shipped_catalogue(), {trimmed(answer), {}}, diagnostics);
    if (!pipe) {
        const networks::Diagnostic fault = diagnostics.sorted().front();
        return AnswerFault{fault.message, fault.help};
    }
    house.loop_pipe = *pipe;
    return std::nullopt;
}

Fault take_radiators(const std::string &answer, Starter &house) {
    const char *end = answer.data() + answer.size();
    const auto [rest, fault] = std::from_chars(answer.data(), end, house.radiators);
    if (fault == std::errc() && rest == end && house.radiators == 0 && !house.floors)
        return AnswerFault{"a house without floor heating needs radiators",
                           fmt::format("a whole number from 1 to {}", most_radiators)};
    if (fault == std::errc() && rest == end && house.radiators >= 0 &&
        house.radiators <= most_radiators)
        return std::nullopt;
    return AnswerFault{fmt::format("`{}` is no number of radiators", answer),
                       fmt::format("a whole number from 0 to {}", most_radiators)};
}

Fault take_glycol(const std::string &answer, Starter &house) {
    house.glycol_share = 0.0;
    if (answer == "none")
        return std::nullopt;
    return take_quantity(answer, Dimension::Ratio, 0.05, 0.6, house.glycol_share);
}

Fault take_hot_water(const std::string &answer, Starter &house) {
    return take_word(answer, "yes", "no", house.hot_water);
}

Fault take_flow_temperature(const std::string &answer, Starter &house) {
    house.flow_temperature_c = 0.0;
    if (answer == "usual")
        return std::nullopt;
    return take_quantity(answer, Dimension::Temperature, 25.0, 90.0, house.flow_temperature_c);
}

constexpr std::array questions{
    StarterQuestion{"name", "TEXT", "the house's name", "Quayside Cottage", nullptr, take_name},
    StarterQuestion{"source", "heat_pump|boiler", "what heats it", "heat_pump", nullptr,
                    take_source},
    StarterQuestion{"circuits", "direct|header",
                    "all on the source's circulator, or behind a header with pumps of their own",
                    "direct", nullptr, take_circuits},
    StarterQuestion{"outdoor", "TEMPERATURE", "outdoor temperature of the design day", "-3 degC",
                    nullptr, take_outdoor},
    StarterQuestion{"rooms", "LIST",
                    "rooms with floor heating and their areas, or the whole area, to be split, or "
                    "`none`",
                    "kitchen=22 m2, hall=9 m2", nullptr, take_rooms},
    StarterQuestion{"loop-pipe", "PIPE", "pipe of the floor loops", "pex 16x2", nullptr, take_pipe,
                    true},
    StarterQuestion{"radiators", "N", "how many radiators, upstairs where there are floors", "3",
                    "0", take_radiators},
    StarterQuestion{"glycol", "SHARE", "share of glycol by mass, or `none`", "25 %", "none",
                    take_glycol},
    StarterQuestion{"hot-water", "yes|no", "does the source heat a cylinder", "yes", "no",
                    take_hot_water},
    StarterQuestion{"flow-temperature", "TEMPERATURE",
                    "water sent on the design day, or `usual` for a placeholder", "40 degC",
                    "usual", take_flow_temperature},
};

} // namespace

std::span<const StarterQuestion> starter_questions() {
    return questions;
}

} // namespace headroom::solver
