#pragma once

#include "networks/reader.hpp"

#include <fstream>
#include <sstream>
#include <string>

namespace headroom::benchmarks {

/// An example house of the repository, by its file's name.
inline networks::House example_house(const std::string &name) {
    std::ifstream stream(std::string(SOURCE_DIR) + "/networks/examples/" + name);
    std::ostringstream text;
    text << stream.rdbuf();
    networks::Diagnostics diagnostics;
    return networks::read_house(text.str(), diagnostics).value();
}

} // namespace headroom::benchmarks
