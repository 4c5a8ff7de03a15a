#include "solver/questions/compare.hpp"

#include "solver/questions/as_found.hpp"
#include "solver/questions/bill.hpp"
#include "solver/questions/lay.hpp"
#include "solver/questions/season.hpp"
#include "solver/questions/size.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::House;

using Value = std::optional<double>;

class Rows {
public:
    /// Starts the next house's column.
    void next_house() { ++houses_; }
    void value(const std::string &key, Value value) { row(key).values.back() = value; }
    void words(const std::string &key, const std::string &words) { row(key).words.back() = words; }
    std::vector<ComparedRow> finished() {
        for (ComparedRow &row : rows_) {
            pad(row);
            settle(row);
        }
        std::stable_partition(rows_.begin(), rows_.end(),
                              [](const ComparedRow &row) { return row.differs; });
        return std::move(rows_);
    }

private:
    void pad(ComparedRow &row) const {
        row.values.resize(houses_);
        row.words.resize(houses_);
    }
    ComparedRow &row(const std::string &key) {
        auto found = std::find_if(rows_.begin(), rows_.end(),
                                  [&](const ComparedRow &known) { return known.key == key; });
        if (found == rows_.end()) {
            rows_.push_back({});
            rows_.back().key = key;
            found = rows_.end() - 1;
        }
        pad(*found);
        return *found;
    }
    static bool same(const Value &a, const Value &b) {
        constexpr double relative = 1e-6; // well within what the equations are solved to
        if (!a || !b)
            return a.has_value() == b.has_value();
        return std::abs(*a - *b) <= relative * std::max(std::abs(*a), std::abs(*b));
    }
    static void settle(ComparedRow &row) {
        for (std::size_t i = 0; i < row.values.size(); ++i) {
            const Value &base = row.values.front();
            row.changes.push_back(base && row.values[i] ? Value(*row.values[i] - *base)
                                                        : std::nullopt);
            row.differs =
                row.differs || !same(base, row.values[i]) || row.words[i] != row.words.front();
        }
    }
    std::vector<ComparedRow> rows_;
    std::size_t houses_ = 0;
};

// Short enough for a column.
std::string short_verdict(Verdict verdict) {
    return verdict == Verdict::ThermalNo ? "thermally no" : verdict_word(verdict);
}

ComparedHouse add_verdict(const House &house, const std::string &name, Rows &rows) {
    ComparedHouse out{name, Verdict::NotSolved, why_not_driven(house), ""};
    if (!out.sentence.empty()) {
        rows.words("verdict", "none");
        return out;
    }
    const DriveAnswer driven = drive_verdict(house);
    out.year_note = year_note(house, fmt::format("of `{}`", name), driven.flow_temperature_c,
                              driven.needed_temperature_c);
    out.verdict = driven.verdict;
    out.sentence =
        driven.verdict == Verdict::NotSolved ? driven.outcome.explanation : driven.sentence;
    rows.words("verdict", short_verdict(driven.verdict));
    if (driven.states.empty())
        return out;
    rows.words("index_circuit", driven.index);
    rows.value("headroom_low_pa", driven.headroom_low_pa);
    rows.value("headroom_pa", driven.headroom_pa);
    rows.value("headroom_high_pa", driven.headroom_high_pa);
    rows.value("needed_pa", driven.needed_pa);
    rows.value("available_pa", driven.available_pa);
    rows.value("flow_temperature_c", driven.flow_temperature_c);
    rows.value("drop_k", driven.flow_temperature_c - driven.return_temperature_c);
    rows.value("source_flow_m3_s", driven.source_l_min / 6.0e4);
    return out;
}

void add_year(const House &house, Rows &rows) {
    if (!house.source)
        return;
    if (!why_no_season(house).empty()) {
        if (const AsFound found = as_found(size_as_found(house).house); found.solved)
            rows.value("pump_electric_w", found.electric_w);
        return;
    }
    const HeatingHouse heated = heating_house(house);
    const SeasonTotals year = season_totals(heated, {true, 0.0, house.year.free_heat});
    rows.value("pump_electric_w", heated.pump_electric_w);
    if (year.fuel_known)
        rows.value("seasonal_performance", year.performance_with_pumps);
    rows.value("electricity_kwh", year.electricity_kwh);
    if (year.fuel_known)
        rows.value("gas_kwh", year.gas_kwh);
    if (year.cost && !flattered_words(year).empty())
        rows.value("beyond_figures_kwh", year.flattered_kwh);
    rows.value("energy_cost", year.cost);
}

void add_bill(const Bill &bill, Rows &rows) {
    rows.value("parts_and_work_cost", bill.cost);
    rows.value("work_h", bill.hours);
    rows.value("all_new_cost", bill.whole_cost);
}

void add_file(const House &house, const std::string &base_name, const std::string &before,
              CompareAnswer &out, Rows &rows) {
    const auto add = [&](const House &one, const std::string &name, const Bill &bill) {
        rows.next_house();
        out.houses.push_back(add_verdict(one, name, rows));
        add_year(one, rows);
        add_bill(bill, rows);
    };
    const Bill base = bill_of(house);
    add(house, base_name, base);
    for (const networks::Proposal &proposal : house.proposals)
        add(lay(*proposal.house), before + proposal.name, bill_of_proposal(base, proposal));
}

} // namespace

CompareAnswer compare(const House &house, const House *other) {
    CompareAnswer out;
    out.house = house.name;
    out.form = house.text_form;
    out.currency = house.tariff.currency;
    out.price_currency = house.prices.currency;
    Rows rows;
    add_file(house, other == nullptr ? "as found" : house.name, "", out, rows);
    if (other != nullptr)
        add_file(*other, other->name, other->name + ": ", out, rows);
    out.rows = rows.finished();
    return out;
}

} // namespace headroom::solver
