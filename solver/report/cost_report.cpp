#include "solver/report/figures.hpp"
#include "solver/report/json.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string money_words(const CostAnswer &a) {
    return a.currency.empty() ? "(relative figures)" : a.currency;
}

std::string quantity(double value, const std::string &unit) {
    return unit.empty() ? fixed(value, 0) : fixed(value, 1) + " " + unit;
}

std::string price(const BillLine &line, bool stated) {
    if (!line.each)
        return "not listed";
    return fixed(*line.each, 2) + (line.invented && stated ? " *" : stated ? "  " : "");
}

void add_line(Table &table, const BillLine &line, bool stated) {
    table.row({line.what, quantity(line.quantity, line.unit),
               line.there > 0.0 ? quantity(line.there, line.unit) : "-", price(line, stated),
               line.each ? fixed(line.cost(), 0) : "-",
               line.hours_each > 0.0 ? fixed(line.hours(), 1) : "-"});
}

std::vector<Table::Column> line_columns(const std::string &head) {
    return {{head, Align::Left}, {"quantity"}, {"there"}, {"each"}, {"cost"}, {"hours"}};
}

std::string bill_text(const CostAnswer &a, const Bill &bill) {
    Table table(line_columns("item"));
    for (const BillLine &line : bill.lines)
        add_line(table, line, a.stated);
    table.row({"all that is not there", "", "", "", fixed(bill.cost, 0), fixed(bill.hours, 1)});
    std::string out = fmt::format("\nQuantities, {}\n", bill.name) + table.text(a.form);
    for (const std::string &what : bill.unpriced)
        out += fmt::format("  not in the sum: {}\n", what);
    return out;
}

std::string choices_text(const CostAnswer &a) {
    if (a.choices.empty())
        return {};
    Table table({{"to control them", Align::Left}, {"cost"}, {"hours"}});
    for (const ControlChoice &choice : a.choices)
        table.row({choice.what, fixed(choice.cost, 0), fixed(choice.hours, 1)});
    std::string out =
        fmt::format("\nControl of {} loops in {} rooms, all new\n", a.loops, a.loop_rooms) +
        table.text(a.form);
    for (const ControlChoice &choice : a.choices) {
        Table parts(line_columns(choice.what));
        for (const BillLine &line : choice.lines)
            add_line(parts, line, a.stated);
        out += "\n" + parts.text(a.form);
    }
    return out;
}

std::string text_report(const CostAnswer &a) {
    std::string out = a.house + "\n";
    for (std::size_t i = 0; i < a.bills.size(); ++i)
        out += wrapped(fmt::format("{}: {:.0f} {} {} {:.1f} h of work", a.bills[i].name,
                                   a.bills[i].cost, money_words(a),
                                   i == 0 ? "for what is not there yet, with" : "and",
                                   a.bills[i].hours),
                       "  ");
    out += !a.stated
               ? "all figures are invented and relative: a metre of 16 mm floor pipe is 1\n"
               : fmt::format("figures marked * are not in the file's list: they are invented, "
                             "taken as {}\n",
                             money_words(a));
    Table sums({{"house", Align::Left}, {"to buy and do"}, {"hours"}, {"were all new"}});
    for (const Bill &bill : a.bills)
        sums.row({bill.name, fixed(bill.cost, 0), fixed(bill.hours, 1), fixed(bill.whole_cost, 0)});
    out += "\nSums\n" + sums.text(a.form);
    for (const Bill &bill : a.bills)
        out += bill_text(a, bill);
    out += choices_text(a);
    return out +
           "  hours: of work alone, at the list's price of an hour; a fitted part's are in its "
           "price\n"
           "  there: what the house as found has; the source is not in the list; this is no offer\n"
           "\nCautions\n" +
           bullets(a.cautions);
}

Json line_json(const BillLine &line) {
    return {{"group", line.group},
            {"what", line.what},
            {"unit", line.unit.empty() ? "pieces" : line.unit},
            {"quantity", line.quantity},
            {"there", line.there},
            {"each_cost", optional_json(line.each)},
            {"invented", line.invented},
            {"cost", line.cost()},
            {"work_h", line.hours()}};
}

Json lines_json(const std::vector<BillLine> &lines) {
    Json list = Json::array();
    for (const BillLine &line : lines)
        list.push_back(line_json(line));
    return list;
}

Json json_report(const CostAnswer &a) {
    Json j = json_head("cost", a.house);
    j["currency"] = a.currency;
    j["list_in_file"] = a.stated;
    j["cautions"] = a.cautions;
    j["bills"] = Json::array();
    for (const Bill &bill : a.bills)
        j["bills"].push_back({{"name", bill.name},
                              {"cost", bill.cost},
                              {"work_h", bill.hours},
                              {"all_new_cost", bill.whole_cost},
                              {"not_priced", bill.unpriced},
                              {"lines", lines_json(bill.lines)}});
    j["control"] = Json::array();
    for (const ControlChoice &choice : a.choices)
        j["control"].push_back({{"what", choice.what},
                                {"cost", choice.cost},
                                {"work_h", choice.hours},
                                {"lines", lines_json(choice.lines)}});
    return j;
}

std::string csv_report(const CostAnswer &a) {
    std::string out = csv_record({"name", "group", "piece", "unit", "quantity", "there",
                                  "each_cost", "cost", "work_h", "invented"});
    for (const Bill &bill : a.bills)
        for (const BillLine &line : bill.lines)
            out += csv_record(
                {bill.name, line.group, line.what, line.unit.empty() ? "pieces" : line.unit,
                 number(line.quantity), number(line.there), line.each ? number(*line.each) : "",
                 number(line.cost()), number(line.hours()), line.invented ? "yes" : "no"});
    return out;
}

} // namespace

std::string report(const CostAnswer &answer, Format format) {
    return report_in(format, answer, text_report, json_report, csv_report);
}

} // namespace headroom::solver
