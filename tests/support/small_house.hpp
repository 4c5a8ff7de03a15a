// A house of one source, one run and two loops, as text, with the parts that tests vary.
#pragma once

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

namespace headroom::tests {

/// A name as a double-quoted YAML scalar.
inline std::string yaml_quoted(const std::string &name) {
    std::string out = "\"";
    for (const char c : name) {
        if (c == '"' || c == '\\')
            out += '\\';
        out += c;
    }
    return out + "\"";
}

struct SmallHouse {
    std::string name = "Two loops";
    std::string run = "primaries";
    std::string loop = "den 1";
    std::string shutoff_head = "5 m"; ///< 0.5 m leaves the loops undriven

    std::string text() const {
        return "house: " + yaml_quoted(name) +
               "\n"
               "water: plain\n"
               "rooms:\n"
               "  den: {floor_area: 20 m2, indoor: 20 degC, loss: 1200 W}\n"
               "source:\n"
               "  kind: heat_pump\n"
               "  flow_temperature: 40 degC\n"
               "  drop: 5 K\n"
               "  circulator: {states: external, curve: [[0 m3/h, " +
               shutoff_head +
               "], [2 m3/h, 0.1 m]]}\n"
               "pipework:\n"
               "  - {run: " +
               yaml_quoted(run) +
               ", from: source, to: manifold, pipe: copper 22, length: 6 m}\n"
               "manifolds:\n"
               "  manifold:\n"
               "    valve_kv: 1.1 m3/h\n"
               "    loops:\n"
               "      - {loop: " +
               yaml_quoted(loop) +
               ", room: den, pipe: pex 16x2, length: 80 m}\n"
               "      - {loop: other, room: den, pipe: pex 16x2, length: 70 m}\n";
    }
};

/// The example houses that come with the project, in the order of their names.
inline std::vector<std::string> example_houses() {
    std::vector<std::string> files;
    for (const auto &entry :
         std::filesystem::directory_iterator(std::string(SOURCE_DIR) + "/networks/examples"))
        if (entry.path().extension() == ".yaml")
            files.push_back(entry.path().string());
    std::sort(files.begin(), files.end());
    return files;
}

} // namespace headroom::tests
