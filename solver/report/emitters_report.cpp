// How floors and radiators come to their output, as text.
#include "solver/report/emitters_report.hpp"
#include "solver/questions/circuit.hpp"
#include "solver/report/figures.hpp"
#include "solver/report/table.hpp"

#include <algorithm>
#include <fmt/ranges.h>

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string cell(const std::optional<double> &value, int digits) {
    return value ? fixed(*value, digits) : std::string("-");
}

// With its sign, and "+0.0 %" for what rounds to nothing.
std::string signed_percent(double share) {
    const std::string text = fixed(100.0 * share, 1) + " %";
    return text[0] == '-' ? text : "+" + text;
}

std::string sections_text(const EmittersAnswer &a) {
    Table table({{"section", Align::Left},
                 {"floor", Align::Left},
                 {"pipe", Align::Left},
                 {"T mm"},
                 {"s_u mm"},
                 {"lambda"},
                 {"R_B"},
                 {"loops", Align::Left}});
    Table factors({{"section", Align::Left},
                   {"a_B"},
                   {"a_T"},
                   {"m_T"},
                   {"a_U"},
                   {"m_U"},
                   {"a_D"},
                   {"m_D"},
                   {"B"},
                   {"K_H"}});
    std::string outside;
    for (std::size_t i = 0; i < a.sections.size(); ++i) {
        const FloorFactors &row = a.sections[i];
        const std::string letter = section_letter(i);
        table.row({letter, row.floor, row.pipe, fixed(row.section.spacing_m * 1e3, 0),
                   fixed(row.section.cover_m * 1e3, 0),
                   fixed(row.section.layer_conductivity_w_m_k, 2),
                   fixed(row.section.covering_resistance_m2k_w, 3),
                   fmt::format("{}", fmt::join(row.loops, ", "))});
        if (const auto &f = row.factors)
            factors.row({letter, fixed(f->a_covering, 5), fixed(f->a_spacing, 4),
                         fixed(f->m_spacing, 3), fixed(f->a_cover, 4), fixed(f->m_cover, 2),
                         fixed(f->a_diameter, 4), fixed(f->m_diameter, 2),
                         fixed(f->system_w_m2_k, 4), fixed(f->characteristic_w_m2_k, 4)});
        else
            outside += wrapped(fmt::format("  {} lies outside the standard's tables: {}", letter,
                                           range_words(row.range)),
                               "    ");
    }
    std::string out = "\nFloor sections\n" + table.text(a.form) +
                      "  T spacing; s_u cover over the pipe; lambda of the screed or dry layer "
                      "W/(m K); R_B covering\n  m2 K/W\n";
    out += "\nEN 1264-2, types A and C, factor by factor: K_H = B a_B a_T^m_T a_U^m_U a_D^m_D\n";
    if (!factors.empty())
        out += factors.text(a.form) + "  B and K_H in W/(m2 K)\n";
    return out + outside;
}

std::string heat_up_text(const EmittersAnswer &a) {
    Table table({{"loop", Align::Left},
                 {"in", Align::Left},
                 {"K_H"},
                 {"no film"},
                 {"with film"},
                 {"section"},
                 {"film"},
                 {"in all"},
                 {"needs degC"},
                 {"by K_H"}});
    Table films({{"loop", Align::Left}, {"Re"}, {"regime", Align::Left}, {"film m K/W"}});
    double step = 0.0;
    std::size_t cells = 0;
    for (const LoopOutput &row : a.floors) {
        const auto of_standard = [&](double more) {
            return row.standard_w_m2k ? signed_percent(more / *row.standard_w_m2k) : "-";
        };
        const double standard = row.standard_w_m2k.value_or(0.0);
        table.row({row.name, section_letter(row.section), cell(row.standard_w_m2k, 3),
                   fixed(row.without_film_w_m2k, 3), fixed(row.conduction_w_m2k, 3),
                   of_standard(row.without_film_w_m2k - standard),
                   of_standard(row.conduction_w_m2k - row.without_film_w_m2k),
                   of_standard(row.conduction_w_m2k - standard), fixed(row.needs_c, 1),
                   cell(row.standard_needs_c, 1)});
        films.row(
            {row.name, fixed(row.reynolds, 0), regime_name(row.regime), cell(row.film_mk_w, 4)});
        step = std::max(step, a.sections[row.section].grid_step_share);
        cells = std::max(cells, a.sections[row.section].cells);
    }
    return "\nHeat up for each K of mean water above the room, W/(m2 K): the standard, and 2-D "
           "conduction\n" +
           table.text(a.form) +
           wrapped(fmt::format(
                       "  conduction differs from K_H by the section (where the pipe lies, its "
                       "wall, the cold below) and by the water film, which the standard leaves "
                       "out; decisions use the figure with film. needs: flow temperature at the "
                       "loop's own drop, by conduction and by K_H. Grids of up to {} cells; the "
                       "last step to their limit is {:.2f} % of any result at most (0.15 % keeps "
                       "the error within 0.1 %)",
                       cells, 100.0 * step),
                   "  ") +
           "\nWater film, by the flow as solved\n" + films.text(a.form);
}

std::string surface_text(const EmittersAnswer &a) {
    Table table({{"loop", Align::Left},
                 {"asked W/m2"},
                 {"limit"},
                 {"B_G"},
                 {"n_G"},
                 {"dT_G K"},
                 {"q_G"},
                 {"of q_G"},
                 {"even"},
                 {"highest"},
                 {"", Align::Left}});
    for (const LoopOutput &row : a.floors) {
        const auto &limit = row.limit;
        table.row({row.name, fixed(row.asked_w_m2, 1), fixed(row.surface_limit_c, 0),
                   limit ? fixed(limit->b_factor, 1) : "-", limit ? fixed(limit->exponent, 3) : "-",
                   limit ? fixed(limit->excess_k, 1) : "-",
                   limit ? fixed(limit->heat_w_m2, 1) : "-",
                   limit ? percent(row.asked_w_m2 / limit->heat_w_m2) : "-",
                   fixed(row.even_surface_c, 1), fixed(row.surface_highest_c, 1),
                   row.surface_highest_c > row.surface_limit_c + 1e-9 ? "TOO WARM" : ""});
    }
    return "\nSurface: the standard's limit curve, and the warmest place by conduction\n" +
           table.text(a.form) +
           "  surfaces in degC, q_G in W/m2: q_G = phi B_G (dT_G/phi)^n_G, phi = ((limit - room)/9 "
           "K)^1.1;\n  even: by the base curve q = 8.92 (surface - room)^1.1\n";
}

std::string down_text(const EmittersAnswer &a) {
    Table table({{"loop", Align::Left},
                 {"R_o"},
                 {"R_u"},
                 {"down W/m2"},
                 {"flow more"},
                 {"conduction W/m2"},
                 {"flow more"}});
    for (const LoopOutput &row : a.floors) {
        const auto &down = row.down;
        table.row({row.name, down ? fixed(down->upper_resistance_m2k_w, 3) : "-",
                   down ? fixed(down->lower_resistance_m2k_w, 3) : "-",
                   down ? fixed(down->heat_down_w_m2, 1) : "-",
                   down ? signed_percent(down->water_share - 1.0) : "-", fixed(row.down_w_m2, 1),
                   signed_percent(row.down_w_m2 / row.asked_w_m2)});
    }
    return "\nHeat down, and the flow it costs, by EN 1264-3 and by conduction\n" +
           table.text(a.form) +
           "  R_o = 1/10.8 + R_B + s_u/lambda above the pipe, R_u insulation and all below it, "
           "m2 K/W\n";
}

std::string radiators_text(const EmittersAnswer &a) {
    Table table({{"radiator", Align::Left},
                 {"rated W"},
                 {"at", Align::Left},
                 {"n"},
                 {"connected"},
                 {"in degC"},
                 {"out"},
                 {"factor"},
                 {"gives W"},
                 {"room W"},
                 {"in hand"}});
    Table sizes({{"radiator", Align::Left},
                 {"kind", Align::Left},
                 {"is, of the room's heat"},
                 {"must be"},
                 {"rated W it needs"},
                 {"W more to rate"}});
    for (const RadiatorOutput &row : a.radiators) {
        const models::Radiator &r = row.radiator;
        table.row({row.name, fixed(r.rated_w, 0),
                   fmt::format("{:g}/{:g}/{:g}", r.rated_flow_c, r.rated_return_c, r.rated_room_c),
                   fixed(r.exponent, 2) + (row.exponent_assumed ? "*" : ""), percent(r.share),
                   fixed(row.in_c, 1), fixed(row.out_c, 1), fixed(row.factor, 4),
                   fixed(row.gives_w, 0), fixed(row.room_w, 0),
                   signed_percent(row.gives_w / row.room_w - 1.0)});
        const double more_w = row.needs_rated_w ? *row.needs_rated_w - r.rated_w : 0.0;
        sizes.row({row.name, body_name(row.body), percent(row.rated_share),
                   row.needs_rated_share ? percent(*row.needs_rated_share) : "-",
                   cell(row.needs_rated_w, 0),
                   !row.needs_rated_w ? "none will do"
                   : more_w > 0.5     ? fixed(more_w, 0)
                                      : "-"});
    }
    return "\nRadiators by EN 442, at the water that reaches them and their own drop\n" +
           table.text(a.form) +
           "  factor: what it gives over its rated output as connected, the temperature falling "
           "along it\n  (out, exact at low flow)\n" +
           "\nHow oversized each is, and must be at this water\n" + sizes.text(a.form);
}

std::string text_report(const EmittersAnswer &a) {
    const auto count = [](std::size_t number, std::string_view what) {
        return fmt::format("{} {}{}", number, what, number == 1 ? "" : "s");
    };
    std::string what;
    if (!a.floors.empty())
        what = fmt::format("{} in {}", count(a.floors.size(), "floor loop"),
                           count(a.sections.size(), "section"));
    if (!a.radiators.empty())
        what +=
            fmt::format("{}{}", what.empty() ? "" : " and ", count(a.radiators.size(), "radiator"));
    std::string out = a.house + "\n";
    out += wrapped(
        fmt::format("{} described; water is sent at {:.1f} degC{}{}", what, a.flow_temperature_c,
                    a.temperature_computed ? "" : " as the file says",
                    a.set_by.empty() ? "" : fmt::format(", `{}` needs it warmest", a.set_by)));
    if (!a.floors.empty())
        out += sections_text(a) + heat_up_text(a) + surface_text(a) + down_text(a);
    if (!a.radiators.empty()) {
        out += radiators_text(a);
        for (const RadiatorOutput &row : a.radiators)
            if (row.exponent_assumed) {
                out += "  * exponent assumed: common practice, no source\n";
                break;
            }
    }
    if (!a.not_described.empty())
        out += "\n" + wrapped(fmt::format("Not described, heat and drop as the file states: {}",
                                          fmt::join(a.not_described, ", ")));
    if (!a.warnings.empty())
        out += "\n" + bullets(a.warnings);
    return out;
}

} // namespace

std::string section_letter(std::size_t index) {
    std::string letter(1, static_cast<char>('A' + index % 26));
    return index < 26 ? letter : letter + std::to_string(index / 26);
}

std::string body_name(networks::Emitter::Body body) {
    switch (body) {
    case networks::Emitter::Body::FanConvector:
        return "fan convector";
    case networks::Emitter::Body::TowelRail:
        return "towel rail";
    case networks::Emitter::Body::Radiator:
        break;
    }
    return "radiator";
}

std::string report(const EmittersAnswer &answer, Format format) {
    return report_in(format, answer, text_report, emitters_json, emitters_csv);
}

} // namespace headroom::solver
