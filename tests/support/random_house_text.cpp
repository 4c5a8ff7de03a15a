#include "tests/support/random_house_text.hpp"

#include "tests/support/random_network.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::tests {
namespace {

class Writer {
public:
    explicit Writer(std::uint64_t seed) : random_(seed) {}

    std::string text() {
        kind_ = random_.chance(0.5);
        separated_ = random_.chance(0.3);
        boiler_ = random_.chance(0.4);
        levels_ = random_.chance(0.7);
        drop_k_ = boiler_ ? random_.uniform(8.0, 20.0) : random_.uniform(4.0, 8.0);
        lay_out();
        std::string out = "house: Random\ndesign_day: {outdoor: -3 degC}\n" + water();
        if (levels_)
            out += "levels: {ground: 0 m, upstairs: 2.7 m}\n";
        out += "rooms:\n" + rooms_ + source() + "pipework:\n" + runs_;
        if (separated_)
            out += fmt::format("header: {{bore: {:.0f} mm, height: 0.5 m{}}}\n",
                               random_.uniform(40.0, 100.0), level("ground"));
        if (!manifolds_.empty())
            out += "manifolds:\n" + manifolds_;
        if (!radiators_.empty())
            out += "radiators:\n" + radiators_;
        if (!junctions_.empty() && levels_)
            out += "junctions: {" + junctions_ + "}\n";
        if (!separated_ && random_.chance(0.3))
            out += "bypasses:\n  - {bypass: guard, at: plant, " +
                   (random_.chance(0.7)
                        ? fmt::format("opens: {:.1f} kPa, kv: 2 m3/h", random_.uniform(5.0, 40.0))
                        : fmt::format("kv: {:.3f} m3/h", random_.log_uniform(0.05, 1.5))) +
                   "}\n";
        if (random_.chance(0.3))
            out += fmt::format("hot_water: {{from: {}, coil: {{loss: {:.1f} kPa, at_flow: 1.2 "
                               "m3/h}}, flow: {:.1f} l/min, flow_temperature: 55 degC, after_run: "
                               "coil}}\n",
                               random_.chance(0.5) ? "source"
                               : separated_        ? "header"
                                                   : "plant",
                               random_.uniform(4.0, 25.0), random_.uniform(8.0, 24.0));
        return out + "fill: {pressure: 1.5 bar, vessel_at: source.return}\n";
    }

private:
    std::string pick(std::initializer_list<const char *> of) {
        return *(of.begin() + random_.below(of.size()));
    }

    std::string level(const char *name) {
        return levels_ ? fmt::format(", level: {}", name) : std::string();
    }

    std::string water() {
        if (random_.chance(0.7))
            return "water: plain\n";
        return fmt::format("water: {{glycol: {}, share: {:.0f} %, by: mass}}\n",
                           pick({"propylene", "ethylene"}), random_.uniform(15.0, 35.0));
    }

    std::string source() {
        const double head_m = kind_ ? random_.uniform(5.0, 11.0) : random_.uniform(1.5, 9.0);
        const double flow = load_w_ / (4180.0 * drop_k_) * 3.6 * (kind_ ? 1.4 : 1.0); // m3/h, about
        const std::string curve = fmt::format(
            "curve: [[0 m3/h, {:.2f} m], [{:.3f} m3/h, {:.2f} m], [{:.3f} m3/h, {:.2f} m]]", head_m,
            0.9 * flow, 0.8 * head_m, 2.2 * flow, 0.1 * head_m);
        std::string out = fmt::format(
            "source:\n  kind: {}\n  flow_temperature: {:.1f} degC\n"
            "  drop: {:.1f} K\n",
            boiler_ ? "boiler" : "heat_pump",
            boiler_ ? random_.uniform(50.0, 70.0) : random_.uniform(32.0, 45.0), drop_k_);
        if (levels_)
            out += "  level: ground\n";
        if (random_.chance(0.6))
            out += fmt::format("  least_flow: {:.1f} l/min\n",
                               std::max(0.1, random_.uniform(0.2, 0.9) * flow / 0.06));
        if (random_.chance(0.5))
            return out + "  circulator: {states: external, " + curve + "}\n";
        std::string mode = "mode: fixed_speed";
        if (random_.chance(0.3))
            mode = fmt::format("mode: {}, setting: {:.2f} m",
                               pick({"constant_pressure", "proportional_pressure"}),
                               random_.uniform(0.4, 0.9) * head_m);
        return out + "  circulator: {states: gross, " + curve + ", " + mode + "}\n" +
               fmt::format(
                   "  inner: [{{name: exchanger, loss: {:.1f} kPa, at_flow: {:.3f} m3/h}}]\n",
                   random_.uniform(2.0, 15.0), flow);
    }

    std::string room(double watt_per_m2) {
        const double area = random_.uniform(6.0, 40.0);
        const double loss = area * watt_per_m2;
        const std::string name = fmt::format("room {}", ++room_count_);
        load_w_ += loss;
        rooms_ += fmt::format("  {}: {{floor_area: {:.1f} m2, indoor: {} degC, loss: {:.0f} W}}\n",
                              name, area, pick({"18", "20", "21"}), loss);
        return name;
    }

    std::string pipe(bool large) {
        if (kind_)
            return large ? "copper 35" : "copper 28";
        return large ? pick({"copper 22", "copper 28", "copper 35", "multilayer 26x3"})
                     : pick({"copper 10x0.7", "copper 15", "copper 22", "multilayer 16x2"});
    }

    // A run from a place to a new one, with what may stand in it.
    void run(const std::string &name, const std::string &from, const std::string &to, bool large,
             bool secondary, const std::string &zone) {
        runs_ += fmt::format(
            "  - run: {}\n    from: {}\n    to: {}\n    pipe: {}\n"
            "    length: {:.1f} m\n    fittings: {{elbow: {}, full_bore_valve: 2}}\n",
            name, from, to, pipe(large), random_.uniform(0.5, 18.0), 1 + random_.below(9));
        if (secondary) {
            runs_ += fmt::format("    pump: {{model: generic 6 m, mode: {}}}\n",
                                 pick({"fixed_speed", "constant_pressure, setting: 2.5 m",
                                       "proportional_pressure, setting: 3 m"}));
            if (random_.chance(0.5))
                runs_ +=
                    fmt::format("    mixer: {{kv: {:.1f} m3/h, {}}}\n", random_.uniform(1.6, 6.0),
                                random_.chance(0.7)
                                    ? fmt::format("position: {:.0f} %", random_.uniform(20.0, 90.0))
                                    : fmt::format("set: {:.0f} degC", random_.uniform(28.0, 45.0)));
        }
        std::string parts;
        const auto add = [&parts](const std::string &part) {
            parts += (parts.empty() ? "" : ", ") + part;
        };
        if (random_.chance(secondary ? 0.6 : 0.15))
            add("{part: check_valve, kv: 7 m3/h, opens: 1 kPa, side: return}");
        if (!zone.empty())
            add("{part: zone_valve, kv: 5 m3/h, zone: " + zone + "}");
        if (!kind_ && random_.chance(0.15))
            add(fmt::format("{{part: balancing_valve, kvs: {:.1f} m3/h, travel: {:.0f} %, "
                            "characteristic: {}}}",
                            random_.uniform(1.0, 6.0), random_.uniform(15.0, 100.0),
                            pick({"linear", "equal_percentage"})));
        if (!kind_ && random_.chance(0.1))
            add(fmt::format("{{part: flow_limiter, kv: 4 m3/h, limit: {:.1f} l/min}}",
                            random_.uniform(2.0, 30.0)));
        if (!parts.empty())
            runs_ += "    parts: [" + parts + "]\n";
    }

    void manifold(const std::string &name, bool mixed_zones) {
        manifolds_ += "  " + name + ":\n";
        if (levels_)
            manifolds_ += "    level: ground\n";
        if (random_.chance(0.7))
            manifolds_ += fmt::format("    valve_kv: {:.2f} m3/h\n", random_.log_uniform(0.3, 2.0));
        if (random_.chance(0.5))
            manifolds_ += "    bar: {bore: 28 mm, pitch: 50 mm}\n";
        manifolds_ += "    loops:\n";
        const std::string pipe_name = kind_
                                          ? "pex 16x2"
                                          : pick({"pex 10x1.3", "pex 12x2", "pex 14x2", "pex 16x2",
                                                  "pert 17x2", "multilayer 16x2", "pex 20x2"});
        for (std::size_t loops = 1 + random_.below(9); loops > 0; --loops) {
            const std::string in = room(random_.uniform(20.0, kind_ ? 50.0 : 70.0));
            const double length = random_.uniform(20.0, kind_ ? 70.0 : 110.0);
            manifolds_ +=
                fmt::format("      - {{room: {}, pipe: {}, length: {:.1f} m, tails: {:.1f} m{}}}\n",
                            in, pipe_name, length, random_.uniform(0.0, 0.2) * length,
                            mixed_zones && random_.chance(0.5) ? ", zone: " + in : "");
        }
    }

    void radiator(const std::string &from, const std::string &to, const std::string &zone) {
        const std::string in = room(random_.uniform(30.0, 90.0));
        radiators_ += fmt::format(
            "  - {{radiator: {0}, room: {0}, from: {1}, pipe: {2}, length: "
            "{3:.1f} m{4}{5}",
            in, from, kind_ ? "copper 15" : pick({"copper 8x0.6", "copper 10x0.7", "copper 15"}),
            random_.uniform(0.5, 9.0), to.empty() ? "" : ", to: " + to,
            zone.empty() ? "" : ", zone: " + zone);
        if (!to.empty())
            radiators_ += ", valve_kv: 2.5 m3/h, lockshield_kv: 2.5 m3/h";
        else if (random_.chance(0.5))
            radiators_ += fmt::format(", valve_kv: {:.2f} m3/h", random_.log_uniform(0.2, 1.5));
        radiators_ += "}\n";
    }

    // Radiators in turn along a ring of one pipe.
    void ring(const std::string &from) {
        const std::size_t count = 1 + random_.below(4);
        const auto one_way = [&](const std::string &name, const std::string &a,
                                 const std::string &b, double length) {
            runs_ += fmt::format("  - {{run: {}, one_way: true, from: {}, to: {}, pipe: copper 22, "
                                 "length: {:.1f} m, zeta: 4}}\n",
                                 name, a, b, length);
        };
        std::string at = from + ".flow";
        for (std::size_t i = 1; i <= count; ++i) {
            const std::string before = fmt::format("before {}", i);
            const std::string after = fmt::format("after {}", i);
            one_way(fmt::format("ring {}", i), at, before, random_.uniform(1.0, 8.0));
            one_way(fmt::format("past {}", i), before, after, 0.6);
            radiator(before, after, "");
            at = after;
        }
        one_way("ring home", at, from + ".return", random_.uniform(1.0, 8.0));
    }

    void lay_out() {
        const std::string hub = separated_ ? "header" : "plant";
        run("primaries", "source", hub, true, false, "");
        const std::size_t manifolds = random_.below(4);
        for (std::size_t m = 1; m <= manifolds; ++m) {
            const std::string name = fmt::format("manifold {}", m);
            run("feed " + name, hub, name, true, separated_, "");
            manifold(name, random_.chance(0.4));
        }
        if (manifolds == 0 || random_.chance(0.6)) {
            const std::string zone = random_.chance(0.5) ? "upstairs" : "";
            run("riser", hub, "landing", true, separated_, zone);
            junctions_ = "landing: {level: upstairs}";
            for (std::size_t count = 1 + random_.below(5); count > 0; --count)
                radiator("landing", "", zone);
            if (random_.chance(0.5)) {
                run("landing on", "landing", "end", false, false, "");
                junctions_ += ", end: {level: upstairs}";
                for (std::size_t count = 1 + random_.below(3); count > 0; --count)
                    radiator("end", "", zone);
            }
        }
        if (!separated_ && random_.chance(0.15))
            ring("plant");
    }

    Random random_;
    bool kind_ = false; // to its circulator: a yes is likely
    bool separated_ = false, boiler_ = false, levels_ = false;
    double drop_k_ = 5.0, load_w_ = 0.0;
    int room_count_ = 0;
    std::string rooms_, runs_, manifolds_, radiators_, junctions_;
};

} // namespace

std::string random_house_text(std::uint64_t seed) {
    return Writer(seed).text();
}

} // namespace headroom::tests
