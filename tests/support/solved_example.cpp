#include "tests/support/solved_example.hpp"

#include "networks/reader.hpp"
#include "solver/heat/emission.hpp"
#include "solver/solve.hpp"
#include "tests/support/network_check.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>

#include <fstream>
#include <sstream>

namespace headroom::tests {

std::vector<SolvedExample> solved_examples() {
    const std::vector<std::string> files = example_houses();
    REQUIRE_FALSE(files.empty());

    std::vector<SolvedExample> examples;
    for (const std::string &file : files) {
        INFO(file);
        std::ifstream stream(file);
        std::stringstream text;
        text << stream.rdbuf();
        networks::Diagnostics diagnostics;
        const auto house = networks::read_house(text.str(), diagnostics);
        REQUIRE(house.has_value());
        for (const bool buoyancy : {false, true}) {
            if (buoyancy && !house->levels_given)
                continue;
            SolvedExample example{file, *house, {}, {}};
            solver::with_responses(example.house);
            example.house.condition.buoyancy = buoyancy;
            if (buoyancy)
                example.file += ", with buoyancy";
            const networks::Network network = networks::expand(example.house);
            example.solution = solver::solve(network, &example.house);
            INFO(example.file << ": " << example.solution.outcome.explanation);
            REQUIRE(example.solution.outcome.converged());
            example.network = as_solved(network, example.solution);
            examples.push_back(std::move(example));
        }
    }
    return examples;
}

} // namespace headroom::tests
