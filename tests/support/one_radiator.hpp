// A house of one room at 20 degC and one radiator on a heat pump, as text, with the parts that
// tests of a year vary.
#pragma once

#include "tests/support/read_house.hpp"

#include <string>

namespace headroom::tests {

struct OneRadiator {
    std::string design_outdoor = "-3 degC";
    std::string indoor = "20 degC";
    std::string loss = "2300 W";
    std::string sent = "40 degC";
    std::string drop = "5 K";
    std::string rated_at = "40/35/20"; ///< at the loss; empty: no rating
    std::string exponent = "1.3";
    std::string source = "kind: heat_pump, carnot: {output: 6 kW, fraction: 42 %}";
    std::string more; ///< further sections

    std::string text() const {
        return "house: one radiator\n"
               "water: plain\n"
               "design_day: {outdoor: " +
               design_outdoor + "}\nrooms: {den: {indoor: " + indoor + ", loss: " + loss +
               "}}\nsource: {" + source + ", flow_temperature: " + sent + ", drop: " + drop +
               ", circulator: {states: external, curve: [[0 m3/h, 50 kPa], [2 m3/h, 10 kPa]]}}\n"
               "pipework: [{run: feed, from: source, to: landing, pipe: copper 22, length: 6 m}]\n"
               "radiators: [{radiator: den, room: den, from: landing, pipe: copper 15, length: 3 "
               "m" +
               (rated_at.empty()
                    ? ""
                    : ", output: " + loss + ", rated_at: " + rated_at + ", exponent: " + exponent) +
               "}]\n" + more;
    }
};

} // namespace headroom::tests
