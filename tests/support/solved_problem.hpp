// A problem of tests/published/problems, solved by the program from its file.
#pragma once

#include "tests/support/run_program.hpp"

#include <nlohmann/json.hpp>

#include <stdexcept>
#include <string>

namespace headroom::tests {

class SolvedProblem {
public:
    explicit SolvedProblem(const std::string &name) {
        const std::string file =
            std::string(SOURCE_DIR) + "/tests/published/problems/" + name + ".yaml";
        const ProgramRun run = run_program({"flows", file, "--format", "json"});
        if (run.exit_code != 0)
            throw std::runtime_error(name + " was not solved:\n" + run.errors);
        answer_ = nlohmann::json::parse(run.output);
    }

    double flow_m3_s(const std::string &run) const { return pipe(run).at("flow_m3_s"); }
    double reynolds(const std::string &run) const { return pipe(run).at("reynolds"); }
    double velocity_m_s(const std::string &run) const { return pipe(run).at("velocity_m_s"); }
    /// Of the pipe alone, without its fittings.
    double friction_pa(const std::string &run) const { return pipe(run).at("loss_pa"); }
    double pressure_pa(const std::string &node) const {
        return named("nodes", "name", node).at("pressure_pa");
    }
    double pump_rise_pa(const std::string &run) const {
        return named("pumps", "where", "run " + run).at("rise_pa");
    }

private:
    const nlohmann::json &pipe(const std::string &run) const {
        return named("links", "where", "run " + run); // the pipe is a run's first piece
    }
    const nlohmann::json &named(const char *list, const char *key, const std::string &name) const {
        for (const nlohmann::json &row : answer_.at(list))
            if (row.at(key) == name)
                return row;
        throw std::runtime_error("the answer's " + std::string(list) + " have no " + name);
    }

    nlohmann::json answer_;
};

} // namespace headroom::tests
