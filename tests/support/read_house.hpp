// A house from its text or from a shipped example, for tests that need one without faults.
#pragma once

#include "networks/reader.hpp"
#include "solver/questions/lay.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>
#include <string>

namespace headroom::tests {

inline networks::House house_of(const std::string &text) {
    networks::Diagnostics diagnostics;
    auto house = networks::read_house(text, diagnostics);
    std::string faults;
    for (const auto &fault : diagnostics.sorted())
        faults += networks::render(fault, {"test.yaml", text});
    INFO(faults);
    REQUIRE(house.has_value());
    return *house;
}

inline std::string example_text(const std::string &name) {
    std::ifstream stream(std::string(SOURCE_DIR) + "/networks/examples/" + name);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

inline networks::House example_house(const std::string &name) {
    return solver::lay(house_of(example_text(name)));
}

} // namespace headroom::tests
