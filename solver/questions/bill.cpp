#include "solver/questions/bill.hpp"

#include "networks/network.hpp"
#include "solver/questions/bill_count.hpp"
#include "solver/questions/lay.hpp"
#include "solver/questions/variants.hpp"
#include "solver/questions/volume.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::House;
using networks::Priced;
using networks::Run;

constexpr double l_per_m3 = 1000.0;

bool priced_as_valve(const House &house, const std::string &fitting) {
    const networks::FittingType *known = house.catalogue.fitting(fitting);
    return fitting.ends_with("valve") || fitting == "air_separator" || fitting == "volumiser" ||
           (known != nullptr && (known->filter || known->kv_m3_h > 0.0));
}

void count_fittings(const House &house, const networks::RunSide &side, bool there, Count &count) {
    for (const networks::FittingCount &fitting : side.fittings) {
        const bool valve = priced_as_valve(house, fitting.name);
        count.piece({valve ? "valves" : "fittings", fitting.name, ""}, fitting.count, there,
                    valve ? Priced::Valve : Priced::Fitting);
    }
}

std::string pump_words(const networks::Pump &pump) {
    return pump.model.empty() ? "secondary pump" : "secondary pump, " + pump.model;
}

void count_run(const House &house, const Run &run, Count &count) {
    const double metres = run.flow.length_m + (run.one_way ? 0.0 : run.back.length_m);
    count.pipe(run.pipe, metres, run.existing);
    count.work({"work", "running pipe", "m"}, metres, run.existing, Priced::RepipingPerMetre);
    count_fittings(house, run.flow, run.existing, count);
    if (!run.one_way)
        count_fittings(house, run.back, run.existing, count);
    for (const networks::Part &part : run.parts) {
        count.piece({"valves", part.name, ""}, 1, run.existing, Priced::Valve);
        if (part.kind == networks::Part::Kind::Zone)
            count.piece({"controls", "actuator", ""}, 1, run.existing, Priced::Actuator);
    }
    if (run.high_limit)
        count.unpriced({"controls", "high-limit stat", ""}, run.existing);
    if (run.pump)
        count.piece({"pumps", pump_words(*run.pump), ""}, 1, run.existing, Priced::SecondaryPump);
    if (!run.mixer)
        return;
    count.piece({"mixers", "mixer with actuator and sensor", ""}, 1, run.existing, Priced::Mixer);
    count.setting("mixer set to work", 1, run.existing, Priced::MixerHours);
}

void count_radiator(const Emitter &emitter, Count &count) {
    const auto *build = std::get_if<models::Radiator>(&emitter.emission);
    const std::string_view kind = networks::emitter_word(emitter);
    if (build == nullptr) {
        count.unpriced(
            {"radiators", fmt::format("{} `{}`, output not in the file", kind, emitter.name), ""},
            emitter.existing);
    } else {
        const double output_w = models::radiator_size_w(*build);
        count.piece({"radiators", fmt::format("{}, {:.0f} W at 75/65/20", kind, output_w), ""}, 1,
                    emitter.existing, Priced::RadiatorPerKilowatt, output_w * 1e-3);
    }
    count.work({"work", "fitting a radiator", ""}, 1, emitter.existing, Priced::RadiatorSwap);
    count.piece({"valves", "radiator valve or lockshield", ""}, 2, emitter.existing, Priced::Valve);
    if (emitter.pipe.bore_m <= 0.0)
        return;
    count.pipe(emitter.pipe, 2.0 * emitter.length_m, emitter.existing);
    count.work({"work", "running pipe", "m"}, 2.0 * emitter.length_m, emitter.existing,
               Priced::RepipingPerMetre);
}

void count_emitter(const Emitter &emitter, Count &count) {
    if (emitter.kind == Emitter::Kind::Radiator) {
        count_radiator(emitter, count);
    } else {
        count.pipe(emitter.pipe, emitter.length_m, emitter.existing);
        count.work({"work", "laying loops", "m"}, emitter.length_m, emitter.existing,
                   Priced::LayingPerMetre);
        count.piece({"manifolds", "loop port with valve and flow meter", ""}, 1, emitter.existing,
                    Priced::LoopPort);
    }
    if (!emitter.zone.empty())
        count.piece({"controls", "actuator", ""}, 1, emitter.existing, Priced::Actuator);
    count.setting("balancing", 1, emitter.existing, Priced::BalancingHours);
}

bool header_is_there(const House &house) {
    return std::any_of(house.runs.begin(), house.runs.end(), [&](const Run &run) {
        return run.existing &&
               (run.from == house.separator->name || run.to == house.separator->name);
    });
}

std::string separator_words(const networks::Separator &separator) {
    switch (separator.kind) {
    case networks::Separator::Kind::CloseTees:
        return "close tees";
    case networks::Separator::Kind::Buffer:
        return fmt::format("buffer, bore {:.0f} mm", separator.bore_m * 1e3);
    case networks::Separator::Kind::Header:
        break;
    }
    return fmt::format("header, bore {:.0f} mm", separator.bore_m * 1e3);
}

constexpr std::string_view circulator_of_source = "circulator of the source";

std::string_view source_word(networks::Source::Kind kind) {
    switch (kind) {
    case networks::Source::Kind::HeatPump:
        return "heat pump";
    case networks::Source::Kind::SolidFuel:
        return "solid-fuel source";
    case networks::Source::Kind::Boiler:
        break;
    }
    return "boiler";
}

void count_source(const House &house, Count &count) {
    if (!house.source)
        return;
    const networks::Source &source = *house.source;
    count.unpriced({"source", std::string(source_word(source.kind)), ""}, true);
    if (source.states == networks::CurveStates::Gross)
        count.piece({"pumps",
                     std::string(circulator_of_source) +
                         (source.circulator.model.empty() ? "" : ", " + source.circulator.model),
                     ""},
                    1, true, Priced::Circulator);
}

void count_glycol(const House &house, Count &count) {
    if (house.fluid.glycol_mass_share <= 0.0)
        return;
    double mixture_m3 = house.fill ? house.fill->other_m3.value_or(0.0) : 0.0;
    for (const VolumePart &part : volumes(house))
        mixture_m3 += part.volume_m3;
    const double glycol_m3 =
        mixture_m3 * models::glycol_volume_share(house.fluid.kind, house.fluid.glycol_mass_share);
    count.piece({"liquid", "glycol", "l"}, glycol_m3 * l_per_m3, false, Priced::GlycolPerLitre);
}

void sum_up(Bill &bill) {
    for (const BillLine &line : bill.lines) {
        bill.cost += line.cost();
        bill.hours += line.hours();
        bill.whole_cost += line.group == "removal" ? 0.0 : line.quantity * line.each.value_or(0.0);
        if (!line.each && line.to_buy() > 0.0)
            bill.unpriced.push_back(line.what);
    }
}

Bill count_house(const House &house) {
    Count count(house);
    count_source(house, count);
    for (const Run &run : house.runs)
        count_run(house, run, count);
    if (house.separator)
        count.piece({"header", separator_words(*house.separator), ""}, 1, header_is_there(house),
                    Priced::Header);
    for (const Emitter &emitter : house.emitters)
        count_emitter(emitter, count);
    for (std::size_t i = 0; i < house.bypasses.size(); ++i)
        count.piece({"valves", "bypass with its valve", ""}, 1, false, Priced::Bypass);
    if (const double zones = static_cast<double>(zone_names(house).size()); zones > 0.0) {
        count.piece({"controls", "thermostat", ""}, zones, false, Priced::Thermostat);
        count.setting("thermostat set to work", zones, false, Priced::ZoneHours);
    }
    for (const networks::Manifold &manifold : house.manifolds)
        if (manifold.high_limit)
            count.unpriced({"controls", "high-limit stat", ""}, false);
    count_glycol(house, count);
    Bill bill;
    bill.lines = std::move(count.lines);
    std::stable_sort(bill.lines.begin(), bill.lines.end(),
                     [](const BillLine &a, const BillLine &b) {
                         return (a.group == "work") < (b.group == "work");
                     });
    return bill;
}

// The circulator inside a source goes with it.
bool goes_with_source(const BillLine &line, const Bill &base, const Bill &after) {
    const auto has_source = [&](const BillLine &source) {
        return std::any_of(after.lines.begin(), after.lines.end(), [&](const BillLine &other) {
            return other.group == source.group && other.what == source.what;
        });
    };
    return line.what.starts_with(circulator_of_source) &&
           std::none_of(base.lines.begin(), base.lines.end(), [&](const BillLine &other) {
               return other.group == "source" && has_source(other);
           });
}

// A part whose going is work; pipe and fittings stay where they are.
bool taken_out(const BillLine &line) {
    return line.group == "pumps" || line.group == "mixers" || line.group == "header" ||
           line.group == "valves" || line.group == "radiators";
}

} // namespace

double BillLine::to_buy() const {
    return std::max(0.0, quantity - there);
}
double BillLine::cost() const {
    return to_buy() * each.value_or(0.0);
}
double BillLine::hours() const {
    return to_buy() * hours_each;
}

Bill bill_of(const House &house) {
    Bill bill = count_house(house);
    bill.name = "as found";
    sum_up(bill);
    return bill;
}

Bill bill_of_proposal(const Bill &base, const networks::Proposal &proposal) {
    const House house = lay(*proposal.house);
    Bill bill = count_house(house);
    bill.name = proposal.name;
    Count removals(house);
    for (BillLine &line : bill.lines)
        line.there = 0.0;
    for (const BillLine &stands : base.lines) {
        const auto used =
            std::find_if(bill.lines.begin(), bill.lines.end(), [&](const BillLine &line) {
                return line.group == stands.group && line.what == stands.what;
            });
        if (used != bill.lines.end() && !used->redone)
            used->there = std::min(stands.there, used->quantity);
        const double left = stands.there - (used != bill.lines.end() ? used->quantity : 0.0);
        if (taken_out(stands) && !goes_with_source(stands, base, bill) && left > 0.0)
            removals.work({"removal", stands.what + ", taken out", ""}, left, false,
                          Priced::Removal);
    }
    // Radiators of another size are fitted anew although the number stays.
    double radiators = 0.0;
    for (const BillLine &line : bill.lines)
        radiators += line.group == "radiators" ? line.to_buy() : 0.0;
    for (BillLine &line : bill.lines)
        if (line.what == "fitting a radiator")
            line.there = std::min(line.there, line.quantity - radiators);
    bill.lines.insert(bill.lines.end(), removals.lines.begin(), removals.lines.end());
    sum_up(bill);
    return bill;
}

} // namespace headroom::solver
