#include "solver/report/readings_report.hpp"

#include "solver/report/figures.hpp"
#include "solver/report/table.hpp"

#include <cmath>

namespace headroom::solver {
namespace {

using Align = Table::Align;
using Kind = networks::SiteReading::Kind;

struct Unit {
    const char *words;
    const char *suffix; // of JSON keys
    double factor;      // from SI
    int digits;
};

Unit unit_of(TextForm form, Kind kind) {
    switch (kind) {
    case Kind::MeterFlow:
    case Kind::PumpFlow:
        return form.m3_h ? Unit{"m3/h", "_m3_s", models::seconds_per_hour, 4}
                         : Unit{"l/min", "_m3_s", 6e4, 2};
    case Kind::PumpHead:
    case Kind::PressureBetween:
        return form.metres_head ? Unit{"m head", "_pa", 1.0 / models::pa_per_metre_head, 3}
                                : Unit{"kPa", "_pa", 1e-3, 2};
    case Kind::TemperatureAt:
        break;
    }
    return {"degC", "_c", 1.0, 1};
}

std::string sure(double share) {
    return share > 0.99 ? "> 99 %" : share < 0.01 ? "< 1 %" : percent(share);
}

void add_readings(TextForm form, const Diagnosis &d, std::string &out) {
    Table table({{"reading", Align::Left},
                 {"unit", Align::Left},
                 {"read"},
                 {"+/-"},
                 {"as drawn"},
                 {"off by"},
                 {"as fitted"},
                 {"off by"}});
    for (const ReadingRow &row : d.readings) {
        const Unit unit = unit_of(form, row.kind);
        const auto off = [&](double value) -> std::string {
            const double misses = (row.measured - value) / row.accuracy;
            return std::abs(misses) < 0.05 ? "0.0" : fmt::format("{:+.1f}", misses);
        };
        table.row({row.what, unit.words, fixed(row.measured * unit.factor, unit.digits),
                   fixed(row.accuracy * unit.factor, unit.digits),
                   fixed(row.drawn * unit.factor, unit.digits), off(row.drawn),
                   fixed(row.fitted * unit.factor, unit.digits), off(row.fitted)});
    }
    out += "\nReadings\n" + table.text(form);
    out +=
        "  off by: reading less model, in accuracies; as fitted: with the likeliest part below\n";
}

void add_suspects(TextForm form, const Diagnosis &d, std::string &out) {
    constexpr std::size_t shown = 6;
    Table table({{"part that may not be as drawn", Align::Left},
                 {"probability"},
                 {"chi2"},
                 {"told from the first", Align::Left}});
    for (std::size_t i = 0; i < d.suspects.size() && i < shown; ++i) {
        const Suspect &suspect = d.suspects[i];
        table.row({fmt::format("{}: {}", suspect.title,
                               suspect.complaint.substr(0, suspect.complaint.find(" ("))),
                   sure(suspect.probability_share), fixed(suspect.chi_squared, 1),
                   i == 0          ? "-"
                   : suspect.alike ? "no"
                                   : "yes"});
    }
    out += "\nSuspects, one fault at a time\n" + table.text(form);
    for (const Suspect &suspect : d.suspects) {
        if (!suspect.alike || d.as_drawn)
            continue;
        out += fmt::format("  {} could have\n", suspect.title);
        for (const FaultWay &way : suspect.ways)
            out += wrapped(fmt::format("  - {}: {:.2f} +/- {:.2f} times as drawn", way.what,
                                       way.factor_share, way.factor_error_share),
                           "    ");
    }
    out += fmt::format(
        "  chi2: sum of squared misses in accuracies, after fitting; {:.1f} as drawn; chance "
        "exceeds\n"
        "  {:.1f} once in twenty. Probability: exp(-chi2/2), each part as likely beforehand, one "
        "fault\n"
        "  only. Told apart: chi2 differs by more than {:g}. Length, kink, dirt, air and a valve "
        "part\n"
        "  shut in one loop look alike to the meters; a meter that reads wrong looks like its "
        "loop.\n",
        d.drawn_chi_squared, d.chance_chi_squared, alike_chi_squared);
}

} // namespace

std::string readings_text(const BalanceAnswer &a) {
    std::string out;
    add_readings(a.form, *a.diagnosis, out);
    if (!a.diagnosis->suspects.empty())
        add_suspects(a.form, *a.diagnosis, out);
    if (a.next) {
        out += fmt::format("\nTurn next: {} from Kv {:.3f} to {:.3f}", a.next->valve,
                           a.next->now_kv_m3_h, a.next->kv_m3_h);
        if (a.next->turns)
            out += fmt::format(" ({:.1f} turns open)", *a.next->turns);
        out += fmt::format(", until it reads {} in place of {}\n",
                           flow_words(a.form, a.next->reads_m3_s), flow(a.form, a.next->now_m3_s));
        for (const std::string &pump : a.next->pumps)
            out += fmt::format("  first set {}\n", pump);
        out += "  (for the house as fitted, the other valves where they stand; a fault that can be "
               "cleared\n  is cleared first)\n";
    } else {
        out += "\nTurn next: none; every valve stands within 5 % of its Kv\n";
    }
    return out;
}

Json readings_json(const BalanceAnswer &a) {
    const Diagnosis &d = *a.diagnosis;
    Json j;
    j["sentence"] = d.sentence;
    j["as_drawn"] = d.as_drawn;
    j["explained"] = d.explained;
    j["drawn_chi_squared"] = d.drawn_chi_squared;
    j["chance_chi_squared"] = d.chance_chi_squared;
    j["rows"] = Json::array();
    for (const ReadingRow &row : d.readings) {
        const std::string suffix = unit_of(a.form, row.kind).suffix;
        const std::string step = row.kind == Kind::TemperatureAt ? "_k" : suffix;
        j["rows"].push_back({{"what", row.what},
                             {"read" + suffix, row.measured},
                             {"accuracy" + step, row.accuracy},
                             {"as_drawn" + suffix, row.drawn},
                             {"as_fitted" + suffix, row.fitted}});
    }
    j["suspects"] = Json::array();
    for (const Suspect &suspect : d.suspects) {
        Json ways = Json::array();
        for (const FaultWay &way : suspect.ways)
            ways.push_back({{"what", way.what},
                            {"chi_squared", way.chi_squared},
                            {"factor_share", way.factor_share},
                            {"factor_error_share", way.factor_error_share}});
        j["suspects"].push_back({{"part", suspect.part},
                                 {"title", suspect.title},
                                 {"complaint", suspect.complaint},
                                 {"chi_squared", suspect.chi_squared},
                                 {"probability_share", suspect.probability_share},
                                 {"like_the_first", suspect.alike},
                                 {"ways", std::move(ways)}});
    }
    j["next_turn"] = Json();
    if (a.next)
        j["next_turn"] = {{"valve", a.next->valve},         {"now_kv_m3_h", a.next->now_kv_m3_h},
                          {"set_kv_m3_h", a.next->kv_m3_h}, {"turns", optional_json(a.next->turns)},
                          {"now_m3_s", a.next->now_m3_s},   {"reads_m3_s", a.next->reads_m3_s},
                          {"pumps_first", a.next->pumps}};
    return j;
}

} // namespace headroom::solver
