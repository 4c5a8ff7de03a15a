#include "networks/reader.hpp"
#include "solver/solve.hpp"
#include <fmt/format.h>
#include <fstream>
#include <iostream>
#include <sstream>
using namespace headroom;
int main(int argc, char **argv) {
    std::ifstream f(argv[argc - 1]);
    std::stringstream s;
    s << f.rdbuf();
    networks::Diagnostics d;
    auto h = networks::read_house(s.str(), d);
    for (auto &x : d.sorted())
        std::cout << networks::render(x, {argv[argc - 1], s.str()});
    if (!h)
        return 2;
    auto n = networks::expand(*h);
    auto r = solver::solve(n, &*h);
    fmt::print("reason {} steps {} outer {} mass {} law {} {} {}\n", (int)r.outcome.reason,
               r.outcome.newton_steps, r.outer_steps, r.outcome.worst_mass_kg_s,
               r.outcome.worst_law_pa, r.outcome.worst_equation, r.outcome.explanation);
    for (size_t e = 0; e < n.links.size(); ++e)
        fmt::print("{:40} {:45} {:9.5f} {:9.2f} {:6.2f}\n", n.owner_name(*h, n.links[e].owner),
                   n.links[e].name, r.flow_kg_s[e], r.loss_pa[e], r.heat.mean_c[e]);
}
