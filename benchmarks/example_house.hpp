#pragma once

#include "networks/reader.hpp"

#include <fstream>
#include <sstream>
#include <string>

namespace headroom::benchmarks {

/// An example of the repository, by its file's name: its text, and the house it describes.
inline std::string example_text(const std::string &name) {
    std::ifstream stream(std::string(SOURCE_DIR) + "/networks/examples/" + name);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}
inline networks::House example_house(const std::string &name) {
    networks::Diagnostics diagnostics;
    return networks::read_house(example_text(name), diagnostics).value();
}

} // namespace headroom::benchmarks
