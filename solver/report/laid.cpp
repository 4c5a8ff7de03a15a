#include "solver/report/laid.hpp"

#include "solver/report/figures.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {

std::string laid_text(networks::TextForm form, const std::vector<LaidRoom> &rooms) {
    if (rooms.empty())
        return {};
    using Align = Table::Align;
    Table table({{"room", Align::Left},
                 {"manifold", Align::Left},
                 {"pipe", Align::Left},
                 {"spacing mm"},
                 {"", Align::Left},
                 {"loops"},
                 {"each m"},
                 {"pipe m"}});
    double pipe_m = 0.0;
    int loops = 0;
    for (const LaidRoom &room : rooms) {
        table.row({room.name, room.manifold, room.pipe, fixed(room.spacing_m * 1e3, 0),
                   room.spacing_chosen ? "chosen" : "", std::to_string(room.loops),
                   fixed(room.loop_length_m, 1), fixed(room.pipe_m, 0)});
        pipe_m += room.pipe_m;
        loops += room.loops;
    }
    return fmt::format("\nLaid by the program: {} loops, {:.0f} m of pipe\n", loops, pipe_m) +
           table.text(form, 100);
}

Json laid_json(const std::vector<LaidRoom> &rooms) {
    Json list = Json::array();
    for (const LaidRoom &room : rooms)
        list.push_back({{"room", room.name},
                        {"manifold", room.manifold},
                        {"pipe", room.pipe},
                        {"spacing_m", room.spacing_m},
                        {"spacing_chosen", room.spacing_chosen},
                        {"loops", room.loops},
                        {"loop_length_m", room.loop_length_m},
                        {"pipe_m", room.pipe_m}});
    return list;
}

} // namespace headroom::solver
