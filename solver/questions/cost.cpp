#include "solver/questions/cost.hpp"

#include "solver/questions/cautions.hpp"

#include <algorithm>
#include <set>

namespace headroom::solver {
namespace {

using networks::House;
using networks::Priced;
using networks::Prices;

BillLine part(const Prices &prices, const std::string &what, int count, Priced price) {
    BillLine line;
    line.group = "controls";
    line.what = what;
    line.quantity = count;
    line.each = prices[price];
    line.invented = !prices.given(price);
    return line;
}

BillLine hours(const Prices &prices, const std::string &what, int count, Priced price) {
    BillLine line = part(prices, what, count, price);
    line.group = "work";
    line.each = prices[price] * prices[Priced::Hour];
    line.invented = !prices.given(price) || !prices.given(Priced::Hour);
    line.hours_each = prices[price];
    return line;
}

ControlChoice choice(std::string what, std::vector<BillLine> lines) {
    ControlChoice out{std::move(what), std::move(lines)};
    for (const BillLine &line : out.lines) {
        out.cost += line.cost();
        out.hours += line.hours();
    }
    return out;
}

void add_choices(const House &house, CostAnswer &out) {
    std::set<std::string> rooms;
    for (const networks::Emitter &emitter : house.emitters)
        if (emitter.kind == networks::Emitter::Kind::FloorLoop) {
            ++out.loops;
            rooms.insert(emitter.room);
        }
    out.loop_rooms = static_cast<int>(rooms.size());
    if (out.loops == 0)
        return;
    const Prices &prices = house.prices;
    const BillLine balancing = hours(prices, "balancing a loop", out.loops, Priced::BalancingHours);
    out.choices.push_back(choice(
        "an actuator on each loop, a thermostat in each room",
        {part(prices, "actuator", out.loops, Priced::Actuator),
         part(prices, "thermostat", out.loop_rooms, Priced::Thermostat),
         hours(prices, "thermostat set to work", out.loop_rooms, Priced::ZoneHours), balancing}));
    out.choices.push_back(
        choice("balanced open loops behind one modulating mixer",
               {part(prices, "mixer with actuator and sensor", 1, Priced::Mixer),
                part(prices, "pump behind the mixer", 1, Priced::SecondaryPump),
                hours(prices, "mixer set to work", 1, Priced::MixerHours), balancing}));
    out.choices.push_back(
        choice("balanced open loops on the source's own weather curve",
               {part(prices, "weather curve set", 1, Priced::Setting), balancing}));
    std::stable_sort(
        out.choices.begin(), out.choices.end(),
        [](const ControlChoice &a, const ControlChoice &b) { return a.cost < b.cost; });
}

} // namespace

CostAnswer cost(const House &house) {
    CostAnswer out;
    out.house = house.name;
    out.form = house.text_form;
    out.cautions = cautions(house);
    out.currency = house.prices.currency;
    out.stated = house.prices.stated;
    out.bills.push_back(bill_of(house));
    for (const networks::Proposal &proposal : house.proposals)
        out.bills.push_back(bill_of_proposal(out.bills.front(), proposal));
    add_choices(house, out);
    return out;
}

} // namespace headroom::solver
