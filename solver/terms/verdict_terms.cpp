// Words of a verdict: heads, states, margins.
#include "solver/terms/groups.hpp"

#include <array>

namespace headroom::solver {
namespace {

constexpr std::array terms{
    Term{"headroom", "head to spare, spare head",
         "What is left of the pump's head once every loop and radiator has its design flow: head "
         "available less head needed, in kPa, at the design flow. Positive means that one "
         "circulator is enough. It is given as a middle estimate with a band round it; only a band "
         "that lies wholly above zero makes a yes.",
         "headroom drive, bores, compare, sheet"},
    Term{"head", "pressure difference, metres of head",
         "Pressure difference that a pump makes or a pipe takes. Solved in Pa, shown in kPa and in "
         "metres of water: 1 m is 9.80665 kPa, whatever the liquid and however warm. In the file a "
         "pressure may be written either way, `6 kPa` or `4 m`.",
         "headroom drive, pump, flows"},
    Term{"head needed", "needed, required head",
         "The least pressure rise at the source's connections at which each emitter has its design "
         "flow, every valve but those of the index circuit throttled. Found on the same equations "
         "as all flows, not by adding losses along the longest way: the index circuit comes out, "
         "it is not chosen.",
         "headroom drive, bores"},
    Term{"head available", "available",
         "What the source's own circulator still gives outside the casing, on its highest curve, "
         "at the design flow. With `states: external` it is the curve itself; with `gross` the "
         "source's inner losses are taken off first. Thicker liquid than water takes a derating "
         "off an external curve.",
         "headroom drive, pump"},
    Term{"residual head", "external residual head, external head",
         "Head left outside a source's casing once its own exchanger, valves and strainer have had "
         "theirs; makers of heat pumps usually print this. The file says so with `states: "
         "external`. One point at the design flow is enough for a verdict.",
         "headroom drive; house file, source.circulator"},
    Term{"gross curve", "gross",
         "A pump's own curve, with nothing taken off. The file says so with `states: gross` and "
         "then has to list what lies inside the source under `inner:`, as otherwise the head "
         "available would come out too high.",
         "house file, source.circulator"},
    Term{"index circuit", "index loop, index run, index",
         "The way through the emitter that decides: with the head just enough for all, it is the "
         "one whose balancing valve stands fully open. It need not be the longest. It is listed "
         "step by step, pipe, fittings, valve, with the loss of each and the running sum, which "
         "ends at the head needed.",
         "headroom drive, balance, hotwater, sheet"},
    Term{"surplus", "",
         "Pressure that an emitter's balancing valve must take beyond its own open loss, so that "
         "the emitter gets its design flow and no more. The smallest surplus belongs to the index "
         "circuit. With the circulator turned down to the head needed it is zero there, and what "
         "is left elsewhere is what the other valves are set for.",
         "headroom drive, balance"},
    Term{"verdict", "yes, no",
         "The answer of `drive`: yes, no, marginal, or hydraulically yes but thermally no. It is "
         "the worst of all states that decide. Only a yes ends with exit code 0; the text names "
         "the state that decided and every other reason against it.",
         "headroom drive, convert, compare, sheet"},
    Term{"marginal", "in doubt",
         "The sign of the headroom changes inside its band: at the good end of the tolerances the "
         "circulator is enough, at the bad end it is not. It counts as no for the exit code, as "
         "nobody should promise it. Better data (a measured curve, true lengths, clean filters) "
         "may settle it.",
         "headroom drive, bores"},
    Term{"thermally no", "hydraulically yes thermally no",
         "The circulator would drive every loop, but without its mixer a floor would get water "
         "warmer than it takes: on the design day, or after hot water has been made. It counts as "
         "no. Lower the flow temperature, keep the mixer with its pump, or let the after-run go "
         "into the coil.",
         "headroom drive, convert"},
    Term{"band", "tolerance, within, margin of error",
         "How far the headroom may lie from its middle estimate. The ends are solved, not guessed: "
         "early or late transition from laminar to turbulent, the circulator's curve and all bores "
         "off by the margin, dirtier filters at the low end, and buoyancy where levels are known. "
         "`margin:` in the file sets the tolerances.",
         "headroom drive, bores"},
    Term{"state", "states, decides",
         "A condition the house must stand: design day with all zones open, hot water through the "
         "coil, each permitted set of open zones, cold start. Each is solved by itself. `judged "
         "by` says what decides there: head, least flow, open water, or nothing (shown only).",
         "headroom drive"},
    Term{"design day", "design outdoor temperature, design temperature",
         "The cold outdoor temperature that rooms and source are sized for. Room losses, design "
         "flows and the flow temperature needed belong to it. It comes from your national annex or "
         "survey; the program has no list of places.",
         "house file, design_day; headroom losses, drive"},
    Term{"design flow", "",
         "The flow that carries an emitter's heat at its design drop: heat over drop over heat "
         "capacity. Where floors and radiators are described, flow and drop are found from what "
         "the emitter really gives instead. Valves are set for it and meters read against it.",
         "headroom drive, balance"},
    Term{"cold start", "cold",
         "The house filled with cold water, its valves and the circulator set as worked out. Cold "
         "water is thicker and rubs more, so flows are smaller. It decides only where the source's "
         "least flow would be missed. 10 degC is assumed unless `cold_start:` says otherwise.",
         "headroom drive, pump"},
    Term{"as found", "as it stands, beside the verdict",
         "The house with the pumps, mixers and header that the file describes. It is shown beside "
         "the verdict and never is the verdict, because `drive` judges the house with every pump "
         "but the source's taken out.",
         "headroom drive, convert, flows"},
    Term{"single circulator", "one circulator, single-circulator house",
         "The house that `drive` judges: every pump but the source's removed, mixers with them "
         "(one without a pump behind it cannot mix), and a header, close tees or a four-port "
         "buffer bridged out. A heat leak of a solid-fuel source is never touched.",
         "headroom drive, balance --single-circulator"},
    Term{"least changes", "changes, candidate",
         "What would turn a no into a yes at the least cost: a larger circulator, wider pipe, "
         "shorter loops, smaller or larger drops, an open bypass, finer valves, other radiators "
         "and the like, alone and together. Each set is put into the house and solved. Costs only "
         "rank them and are no offer. `--solves` "
         "limits the search.",
         "headroom drive, convert"},
    Term{"assumed", "habit, assumption",
         "A value the file did not give, so that the usual one stands in: common practice without "
         "a source unless one is named. Each answer lists them, and `drive` also solves the house "
         "at both ends of what is plausible, so that you see which is worth a measurement.",
         "headroom drive; most others, under Assumed"},
    Term{"caution", "cautions",
         "What has to be said with an answer because somebody could come to harm: gas, "
         "electricity, refrigerant and unvented hot water belong to licensed people, stored hot "
         "water is kept at 60 degC or heated through to it, floors need a limit and a stat. Local "
         "codes stand above the program.",
         "headroom drive, fill, hotwater, commission, cost, sheet"},
    Term{"converged", "outcome, residual, not solved",
         "All equations hold: every junction's flows balance to 1e-10 of the largest flow, and "
         "each part's loss fits its flow to 1e-6 Pa or 1e-9 of the largest loss, checked on the "
         "whole network. If they do not, nothing is answered: the equation that failed is named "
         "and the exit code is 3.",
         "--format json, outcome; sheet"},
};

} // namespace

std::span<const Term> verdict_terms() {
    return terms;
}

} // namespace headroom::solver
