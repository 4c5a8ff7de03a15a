#include "solver/questions/drill_work.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::House;
using networks::Part;
using networks::Run;
using networks::Source;

class Faults {
public:
    explicit Faults(const DrillWork &work) : work_(work), house_(work.house) {}

    std::vector<FaultyHouse> all() {
        add_mixers();
        add_pumps();
        add_check_valves();
        add_zones();
        add_bypasses();
        add_source();
        add_diverter();
        return std::move(out_);
    }

private:
    House &add(std::string fault, std::string remark = "") {
        out_.push_back({std::move(fault), std::move(remark), house_});
        return out_.back().house;
    }

    void add_mixers() {
        for (std::size_t r = 0; r < house_.runs.size(); ++r) {
            if (!house_.runs[r].mixer)
                continue;
            for (const bool open : {true, false}) {
                House &house = add(fmt::format("mixer of {} stuck {}", house_.runs[r].name,
                                               open ? "open" : "shut"));
                house.runs[r].mixer->set_c.reset();
                house.runs[r].mixer->position = open ? 1.0 : 0.0;
            }
        }
    }

    void add_pumps() {
        for (std::size_t r = 0; r < house_.runs.size(); ++r) {
            if (!house_.runs[r].pump)
                continue;
            add(fmt::format("pump of {} stopped", house_.runs[r].name));
            stand(r);
        }
        if (house_.source->ideal_rise_pa)
            return;
        add_power_cut();
        House &house = add("source's circulator stopped");
        house.source->circulator.mode = networks::PumpMode::Stopped;
        if (house.source->kind == Source::Kind::SolidFuel)
            house.condition.sent_c = work_.highest_c; // its heat goes on
    }

    // One failure that stops every pump at once. Other sources stop with it; a fire burns on.
    void add_power_cut() {
        if (house_.source->kind != Source::Kind::SolidFuel)
            return;
        House &house = add("power cut, every pump stopped",
                           "the fire burns on, mixers stay where they stand, valves that fall shut "
                           "without power do so");
        house.condition.sent_c = work_.highest_c;
        house.source->circulator.mode = networks::PumpMode::Stopped;
        for (const MixerState &mixer : work_.mixers) {
            house.runs[mixer.run].mixer->set_c.reset();
            house.runs[mixer.run].mixer->position = mixer.travel;
        }
        for (Run &run : house.runs) {
            if (run.pump)
                run.pump->mode = networks::PumpMode::Stopped;
            for (Part &part : run.parts)
                part.open = part.open && !part.falls_shut;
        }
    }

    // The run's pump stands in the last fault.
    void stand(std::size_t r) {
        out_.back().house.runs[r].pump->mode = networks::PumpMode::Stopped;
        out_.back().standing = r;
    }

    void add_check_valves() {
        for (std::size_t r = 0; r < house_.runs.size(); ++r)
            for (std::size_t p = 0; p < house_.runs[r].parts.size(); ++p) {
                const Part &part = house_.runs[r].parts[p];
                if (part.kind != Part::Kind::Check)
                    continue;
                const std::string name = fmt::format("{} of {}", part.name, house_.runs[r].name);
                add(name + " stuck open").runs[r].parts[p].kind = Part::Kind::Plain;
                if (house_.runs[r].pump) {
                    add(name + " stuck open, pump at rest",
                        "what it is there for: the pump rests when the rooms are warm")
                        .runs[r]
                        .parts[p]
                        .kind = Part::Kind::Plain;
                    stand(r);
                    out_.back().at_rest = true;
                }
                shut(add(name + " stuck shut").runs[r].parts[p]);
            }
    }

    static void shut(Part &part) {
        part.kind = Part::Kind::Zone;
        part.open = false;
    }

    void add_zones() {
        std::vector<std::string> with_valve;
        for (std::size_t r = 0; r < house_.runs.size(); ++r)
            for (std::size_t p = 0; p < house_.runs[r].parts.size(); ++p) {
                const Part &part = house_.runs[r].parts[p];
                if (part.kind != Part::Kind::Zone || !part.open)
                    continue;
                with_valve.push_back(part.zone);
                shut(add(fmt::format("{} of {} shut", part.name, house_.runs[r].name))
                         .runs[r]
                         .parts[p]);
            }
        const std::vector<std::string> zones = zone_names(house_);
        for (const std::string &zone : zones) {
            if (std::count(with_valve.begin(), with_valve.end(), zone) == 1)
                continue; // its one valve was shut above
            std::vector<std::string> open = zones;
            std::erase(open, zone);
            add(fmt::format("zone {} shut", zone)) = with_zones(house_, open);
        }
        for (const std::string &zone : zones)
            if (zones.size() > 1)
                add(fmt::format("all zones shut but {}", zone)) = with_zones(house_, {zone});
    }

    void add_bypasses() {
        for (std::size_t b = 0; b < house_.bypasses.size(); ++b) {
            House &house = add(fmt::format("bypass {} shut", house_.bypasses[b].name));
            house.bypasses.erase(house.bypasses.begin() + static_cast<std::ptrdiff_t>(b));
        }
    }

    void add_source() {
        if (house_.source->kind != Source::Kind::SolidFuel)
            add("outdoor sensor failed", "weather compensation reads the coldest day and asks the "
                                         "source for its highest temperature")
                .condition.sent_c = work_.highest_c;
        add("source at its highest temperature", "its control has failed").condition.sent_c =
            work_.highest_c;
    }

    void add_diverter() {
        if (!house_.hot_water)
            return;
        add("diverter stuck to the heating", "while the source heats the cylinder")
            .condition.sent_c = house_.hot_water->flow_temperature_c;
        add("diverter stuck to the cylinder").condition.hot_water = true;
    }

    const DrillWork &work_;
    const House &house_;
    std::vector<FaultyHouse> out_;
};

} // namespace

std::vector<FaultyHouse> single_faults(const DrillWork &work) {
    return Faults(work).all();
}

} // namespace headroom::solver
