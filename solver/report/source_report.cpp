#include "solver/report/source_report.hpp"

#include "solver/report/figures.hpp"

namespace headroom::solver {

std::string source_sentence(const SourceHeat &s) {
    return fmt::format("{:.0f} W at most{}, {} {}, {:.0f} W of {}{}{}{}", s.greatest_w,
                       s.least_w > 0.0 ? fmt::format(", {:.0f} W at least", s.least_w) : "",
                       s.heat_pump ? "COP" : "efficiency",
                       s.heat_pump ? fixed(s.efficiency, 2) : percent(s.efficiency), s.input_w,
                       s.heat_pump ? "electricity" : "gas (gross)",
                       s.short_w > 0.0 ? fmt::format("; {:.0f} W SHORT", s.short_w) : "",
                       s.cycles ? "; it cycles, as the load is below its least output" : "",
                       s.within_rating ? "" : "; beyond its stated figures, held at their end");
}

Json source_json(const SourceHeat &s) {
    return {{"load_w", s.load_w},
            {"greatest_w", s.greatest_w},
            {"least_w", s.least_w},
            {"short_w", s.short_w},
            {s.heat_pump ? "cop" : "efficiency", s.efficiency},
            {"input_w", s.input_w},
            {"cycles", s.cycles},
            {"within_rating", s.within_rating}};
}

Json pipe_losses_json(const std::vector<PipeLoss> &pipes) {
    Json j = Json::array();
    for (const PipeLoss &pipe : pipes)
        j.push_back({{"where", pipe.where}, {"heat_w", pipe.heat_w}});
    return j;
}

} // namespace headroom::solver
