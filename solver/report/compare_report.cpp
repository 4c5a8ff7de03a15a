#include "solver/report/figures.hpp"
#include "solver/report/json.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

#include <algorithm>
#include <array>

namespace headroom::solver {
namespace {

using Align = Table::Align;

// How a quantity is shown: its words, its digits in the default units.
struct Shown {
    std::string_view key;
    std::string_view words;
    int digits;
    enum class Kind { Plain, Pressure, Flow } kind = Kind::Plain;
};

using Kind = Shown::Kind;

constexpr std::array shown_rows{
    Shown{"verdict", "one circulator drives all", 0},
    Shown{"index_circuit", "index circuit", 0},
    Shown{"headroom_low_pa", "headroom, low", 1, Kind::Pressure},
    Shown{"headroom_pa", "headroom", 1, Kind::Pressure},
    Shown{"headroom_high_pa", "headroom, high", 1, Kind::Pressure},
    Shown{"needed_pa", "head needed", 1, Kind::Pressure},
    Shown{"available_pa", "head available", 1, Kind::Pressure},
    Shown{"flow_temperature_c", "flow temperature degC", 1},
    Shown{"drop_k", "drop K", 1},
    Shown{"source_flow_m3_s", "flow of the source", 1, Kind::Flow},
    Shown{"pump_electric_w", "pumps as they stand W", 0},
    Shown{"seasonal_performance", "season, with pumps", 2},
    Shown{"electricity_kwh", "electricity kWh a year", 0},
    Shown{"gas_kwh", "gas kWh a year", 0},
    Shown{"beyond_figures_kwh", "heat beyond the source's figures kWh", 0},
    Shown{"energy_cost", "energy a year", 0},
    Shown{"parts_and_work_cost", "parts and work to buy", 0},
    Shown{"work_h", "known work h", 1},
    Shown{"all_new_cost", "were all new", 0},
};

const Shown &shown(const std::string &key) {
    return *std::find_if(shown_rows.begin(), shown_rows.end(),
                         [&](const Shown &row) { return row.key == key; });
}

std::string row_words(const CompareAnswer &a, const Shown &row) {
    std::string out(row.words);
    if (row.kind == Kind::Pressure)
        return in_pressure(a.form, row.words);
    if (row.kind == Kind::Flow)
        return in_flow(a.form, row.words);
    if (row.key == "energy_cost" && !a.currency.empty())
        out += ", " + a.currency;
    if (row.key == "parts_and_work_cost" || row.key == "all_new_cost")
        out += ", " + (a.price_currency.empty() ? std::string("relative") : a.price_currency);
    return out;
}

std::string figure(TextForm form, const Shown &as, double value) {
    switch (as.kind) {
    case Kind::Pressure:
        return pressure(form, value, as.digits);
    case Kind::Flow:
        return flow(form, value, as.digits);
    case Kind::Plain:
        break;
    }
    return fixed(value, as.digits);
}

std::string cell(TextForm form, const ComparedRow &row, std::size_t i) {
    if (!row.words[i].empty())
        return row.words[i];
    return row.values[i] ? figure(form, shown(row.key), *row.values[i]) : "-";
}

std::string change_cell(TextForm form, const ComparedRow &row, std::size_t i) {
    if (!row.words[i].empty() || !row.changes[i])
        return "";
    const std::string text = figure(form, shown(row.key), *row.changes[i]);
    return text.front() == '-' || text.find_first_of("123456789") == std::string::npos ? text
                                                                                       : "+" + text;
}

// The base and a few others, so that a table stays within the width.
std::string part_table(const CompareAnswer &a, std::size_t first, std::size_t last,
                       bool differing) {
    std::vector<Table::Column> columns{{differing ? "differs" : "the same", Align::Left}, {"1"}};
    for (std::size_t i = first; i < last; ++i) {
        columns.push_back({fmt::format("{}", i + 1)});
        if (differing)
            columns.push_back({fmt::format("{} less 1", i + 1)});
    }
    Table table(columns);
    const auto add = [&](const ComparedRow &row) {
        std::vector<std::string> cells{row_words(a, shown(row.key)), cell(a.form, row, 0)};
        for (std::size_t i = first; i < last; ++i) {
            cells.push_back(cell(a.form, row, i));
            if (differing)
                cells.push_back(change_cell(a.form, row, i));
        }
        table.row(std::move(cells));
    };
    for (const Shown &next : shown_rows) // in their order, whichever house had one first
        for (const ComparedRow &row : a.rows)
            if (row.key == next.key && row.differs == differing)
                add(row);
    return table.empty() ? "" : "\n" + table.text(a.form);
}

std::string text_report(const CompareAnswer &a) {
    std::string out = a.house + "\n";
    for (std::size_t i = 0; i < a.houses.size(); ++i)
        out +=
            wrapped(fmt::format("{} {}: {}", i + 1, a.houses[i].name, a.houses[i].sentence), "  ");
    constexpr std::size_t beside = 2;
    for (const bool differing : {true, false})
        for (std::size_t first = 1; first < a.houses.size(); first += beside)
            out += part_table(a, first, std::min(first + beside, a.houses.size()), differing);
    if (std::any_of(a.rows.begin(), a.rows.end(),
                    [](const ComparedRow &row) { return row.key == "beyond_figures_kwh"; }))
        out +=
            "  heat beyond the source's figures: warmer or with colder air than they cover; they "
            "are held at\n  their end there, and the true cost of that year is higher\n";
    out += "  low and high: ends of the band of tolerances; parts and work: `headroom cost`, "
           "no offer,\n  figures that the file does not list are invented\n";
    for (const ComparedHouse &house : a.houses)
        if (!house.year_note.empty())
            out += wrapped("  " + house.year_note, "  ");
    return out;
}

Json json_report(const CompareAnswer &a) {
    Json j = json_head("compare", a.house);
    j["currency"] = a.currency;
    j["price_currency"] = a.price_currency;
    j["houses"] = Json::array();
    for (std::size_t i = 0; i < a.houses.size(); ++i) {
        Json house{{"name", a.houses[i].name},
                   {"sentence", a.houses[i].sentence},
                   {"year_note", a.houses[i].year_note}};
        Json changes = Json::object();
        for (const ComparedRow &row : a.rows) {
            house[row.key] =
                row.words[i].empty() ? optional_json(row.values[i]) : Json(row.words[i]);
            if (row.changes[i])
                changes[row.key] = *row.changes[i];
        }
        house["less_first"] = changes;
        j["houses"].push_back(house);
    }
    j["differ"] = Json::array();
    for (const ComparedRow &row : a.rows)
        if (row.differs)
            j["differ"].push_back(row.key);
    return j;
}

std::string csv_report(const CompareAnswer &a) {
    std::vector<std::string> head{"name"};
    for (const ComparedRow &row : a.rows)
        head.push_back(row.key);
    std::string out = csv_record(head);
    for (std::size_t i = 0; i < a.houses.size(); ++i) {
        std::vector<std::string> cells{a.houses[i].name};
        for (const ComparedRow &row : a.rows)
            cells.push_back(!row.words[i].empty() ? row.words[i]
                            : row.values[i]       ? number(*row.values[i])
                                                  : "");
        out += csv_record(cells);
    }
    return out;
}

} // namespace

std::string report(const CompareAnswer &answer, Format format) {
    return report_in(format, answer, text_report, json_report, csv_report);
}

} // namespace headroom::solver
