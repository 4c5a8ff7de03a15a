// A house whose head goes into one valve.
#pragma once

#include <string>

namespace headroom::tests {

/// The margins of `curve` and `heat_loss`; the others are nothing.
inline std::string margin(const std::string &curve_by, const std::string &heat_by) {
    return "curve: " + curve_by +
           ", bore: 0 %, filter: 0 %, length: 0 %, fittings: 0 %, "
           "roughness: 0 %, heat_loss: " +
           heat_by;
}

/// One radiator behind a valve that takes nearly all the head there is, on a flat curve.
inline std::string one_valve(const std::string &margin, const std::string &more = "",
                             const std::string &feed = "1 m") {
    return R"(
house: one valve
margin: {)" +
           margin + R"(}
rooms:
  hall: {indoor: 20 degC, loss: 5000 W}
source:
  kind: boiler
  flow_temperature: 55 degC
  drop: 10 K
  circulator: {states: external, curve: [[1 m3/h, 30 kPa]]}
pipework:
  - {run: feed, from: source, to: tee, pipe: copper 28, length: )" +
           feed + R"(}
radiators:
  - {radiator: hall, room: hall, from: tee, valve_kv: 0.9 m3/h, lockshield_kv: 2 m3/h}
)" + more;
}

} // namespace headroom::tests
