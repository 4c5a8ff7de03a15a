// A first house file, made from a few answers, with a remark wherever a survey has to replace what
// it puts in.
#pragma once

#include "networks/catalogue.hpp"

#include <set>
#include <string>
#include <vector>

namespace headroom::solver {

struct StarterRoom {
    std::string name;
    double area_m2;
};

struct Starter {
    std::string name;
    bool heat_pump = true; ///< else a boiler
    bool header = false;   ///< else all on the source's circulator
    double outdoor_c = 0.0;
    bool floors = true;               ///< else radiators alone
    std::vector<StarterRoom> rooms{}; ///< with floor loops
    bool rooms_made_up = false;       ///< an area split evenly, not rooms as they are
    networks::PipeChoice loop_pipe{};
    int radiators = 0;
    double glycol_share = 0.0;
    bool hot_water = false;
    double flow_temperature_c = 0.0; ///< 0: the usual one for what there is
    std::set<std::string> assumed{}; ///< questions that nobody answered
};

/// The file. Every placeholder stands on a line with `# check:`.
std::string starter_text(const Starter &starter);

/// As a double-quoted YAML scalar.
std::string yaml_quoted(const std::string &text);

} // namespace headroom::solver
