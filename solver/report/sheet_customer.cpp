// One page of the sheet for the household, in plain words.
#include "solver/report/figures.hpp"
#include "solver/report/html.hpp"
#include "solver/report/sheet_parts.hpp"

#include <cmath>

namespace headroom::solver {
namespace {

std::string meaning(const SheetAnswer &answer) {
    const std::string &source = answer.source;
    switch (answer.drive.verdict) {
    case Verdict::Yes:
        return fmt::format("The pump of your {} is strong enough to push warm water through every "
                           "floor loop and radiator. The heating needs no further pump.",
                           source);
    case Verdict::Marginal:
        return fmt::format("The pump of your {} is close to its limit. Whether it is enough hangs "
                           "on how exactly pipes and pump keep to their stated sizes, so something "
                           "should be changed before it is relied on.",
                           source);
    case Verdict::ThermalNo:
        return fmt::format("The pump of your {} is strong enough, but the water it sends is too "
                           "warm for a floor. What mixes it down has to stay.",
                           source);
    default:
        return fmt::format("As planned, the pump of your {} alone does not give all that this "
                           "house asks of it. The sentence at the top says what is missing.",
                           source);
    }
}

std::string changes(const DriveAnswer &drive) {
    if (!drive.changes || drive.changes->sets.empty())
        return {};
    std::string words;
    for (const std::string &change : drive.changes->sets.front().changes)
        words += (words.empty() ? "" : "; and ") + change;
    return paragraph("The least change found that turns this into a yes: " + words + ".");
}

// As exactly as a year can be foreseen.
std::string hundreds(double value) {
    return fixed(100.0 * std::round(value / 100.0), 0);
}

std::string year_words(const SheetAnswer &answer) {
    if (!answer.season)
        return {};
    const SeasonTotals &year = answer.season->with_curve.totals;
    const bool heat_pump = answer.season->heat_pump;
    const std::string caveat = ". Weather and habits move these figures; they are an estimate, not "
                               "a promise.";
    if (!year.fuel_known)
        return paragraph(fmt::format("In an ordinary year the {} gives about {} kWh of heat. How "
                                     "much fuel that takes is not worked out here",
                                     answer.source, hundreds(year.heat_kwh)) +
                         caveat);
    std::string text = fmt::format("In an ordinary year the {} gives about {} kWh of heat. For "
                                   "that it takes about {} kWh of {}",
                                   answer.source, hundreds(year.heat_kwh),
                                   hundreds(heat_pump ? year.source_electricity_kwh : year.gas_kwh),
                                   heat_pump ? "electricity" : "gas");
    if (year.cost)
        text += fmt::format(", which with the pumps costs about {}{}", fixed(*year.cost, 0),
                            answer.season->currency.empty() ? "" : " " + answer.season->currency);
    return paragraph(text + caveat);
}

std::string rooms(const SheetAnswer &answer) {
    if (!answer.losses)
        return {};
    HtmlTable table("What each room is planned for",
                    {{"room", "", false}, {"temperature", "°C"}, {"heat on the coldest day", "W"}});
    for (const RoomRow &room : answer.losses->rooms)
        table.row({room.room, fixed(room.indoor_c, 0), fixed(room.used_w, 0)});
    return table.html();
}

} // namespace

std::string sheet_customer(const SheetAnswer &answer) {
    const DriveAnswer &drive = answer.drive;
    std::string out = "<section id=\"household\">\n<h2>For the household</h2>\n";
    out += paragraph(meaning(answer)) + changes(drive);
    if (answer.losses && answer.losses->outdoor_c)
        out += paragraph(fmt::format("On the coldest day it is planned for, {:g} °C outside, the "
                                     "house needs {} W of heat and the {} sends water at {} °C.",
                                     *answer.losses->outdoor_c, fixed(answer.losses->total_w, 0),
                                     answer.source, fixed(drive.flow_temperature_c, 0)));
    out += year_words(answer) + rooms(answer);
    out += "<h3>Living with it</h3>\n";
    out +=
        bullets({"A heated floor is slow: give a change of setting some hours, in thick screed a "
                 "day. Long steady running is as it should be.",
                 "Leave the settings at the manifolds and the lower radiator valves alone. They "
                 "share the water out between the rooms.",
                 "The cooler the water, the less it costs. If every room is warm, the heating "
                 "curve may be turned down a little at a time.",
                 "Look at the pressure gauge now and then, and have the filters cleaned when the "
                 "heating is serviced.",
                 "Call the fitter if a room stays cold, if pipes or valves make noise, or if the "
                 "pressure keeps falling."});
    out += "<h3>What not to do yourself</h3>\n" + bullets(answer.cautions);
    return out + "</section>\n";
}

} // namespace headroom::solver
