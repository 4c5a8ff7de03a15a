// Single changes to a house that could turn a verdict. Each is data; one function makes the house
// changed by it.
#pragma once

#include "networks/house.hpp"

#include <string>
#include <variant>
#include <vector>

namespace headroom::solver {

/// A run renewed in a wider pipe, both pipes of it.
struct WiderRun {
    std::size_t run;
    networks::PipeChoice pipe;
};
/// Globe, gate, angle and straight valves of a run replaced by full-bore ones.
struct FullBoreValves {
    std::size_t run;
};
/// One loop made into two of half the floor each, with tails of their own.
struct SplitLoop {
    std::string loop;
};
/// All loops of a manifold in another pipe at the lengths they have.
struct LoopPipe {
    std::string manifold;
    networks::PipeChoice pipe;
};
/// One loop, or a radiator's two tails, in another pipe at the length it has.
struct OneLoopPipe {
    std::string loop;
    networks::PipeChoice pipe;
};
/// A described loop laid at another spacing over the same floor.
struct LoopSpacing {
    std::string loop;
    double spacing_m;
};
/// A radiator of `factor` times the rated output.
struct LargerRadiator {
    std::string radiator;
    double factor;
};
/// A radiator and the rated output it needs.
struct FittingRadiator {
    std::string radiator;
    double rated_w;
};
/// All radiators that are too small made large enough.
struct FittingRadiators {
    std::vector<FittingRadiator> radiators;
};
/// Every emitter and the source at another design drop.
struct OtherDrop {
    double drop_k;
};
/// No emitter at a larger drop than this: more flow than rooms need, so that the source has its
/// least. A flow temperature that is warmer than emitters then need comes down to what they need.
struct GreatestDrop {
    double drop_k;
    bool lower_temperature;
};
/// Balancing valves that can be set finer, down to `least_kv_m3_h`.
struct FinerValves {
    std::vector<std::string> emitters;
    double least_kv_m3_h;
};
/// The source sends water at this temperature.
struct FlowTemperature {
    double flow_c;
};
/// A circulator of the catalogue in place of the source's; its curve is the pump's own.
struct OtherCirculator {
    std::string model;
};
/// Plain water in place of glycol.
struct PlainWater {};
/// An open bypass between flow and return where the first run from the source ends.
struct OpenBypass {
    std::string at;
    double kv_m3_h;
};
/// A zone left open for good: its valves and actuators out.
struct ZoneLeftOpen {
    std::string zone;
};

using ChangeKind =
    std::variant<WiderRun, FullBoreValves, SplitLoop, LoopPipe, OneLoopPipe, LoopSpacing,
                 LargerRadiator, FittingRadiators, OtherDrop, GreatestDrop, FinerValves,
                 FlowTemperature, OtherCirculator, PlainWater, OpenBypass, ZoneLeftOpen>;

struct Change {
    ChangeKind kind;
    std::string words;  ///< "run `floor feed` in copper 28x0.9"
    double cost;        ///< by House::prices
    std::string target; ///< two changes of one target exclude each other
};

/// The house with the change made. What the change names must be there.
networks::House changed(networks::House house, const ChangeKind &change);

/// Why one of the house's heated floors cannot be built, as after a change; nullptr if all can.
const char *floor_fault(const networks::House &house);

/// Words and cost of a change to this house.
Change make_change(const networks::House &house, ChangeKind kind);

/// What a refused house lacks, as its verdict found it.
struct ChangeNeeds {
    std::vector<std::string> short_emitters; ///< those nearest to lacking head, or lacking it
    std::vector<std::string> cold_emitters;  ///< that cannot heat their room
    std::vector<FittingRadiator> fitting;    ///< of these, what the radiators would have to be
    double warmer_c = 0.0;      ///< flow temperature the emitters need, if the house's is below
    double cooler_c = 0.0;      ///< the most that its floors take, if the house's is above
    double missing_l_min = 0.0; ///< of the source's least flow
    double more_flow = 1.0;     ///< times the design flow for it, with every zone open
    bool warmer_than_needed = false;          ///< the stated flow temperature, for emitters' drops
    std::vector<std::string> coarse;          ///< emitters whose valves cannot be set so finely
    double finest_kv_m3_h = models::no_limit; ///< the least that one of them has to stand at
    double set_pa = 0.0;                      ///< head the circulator would be set to
    bool head = false;                        ///< the circulator is short of head, or may be
    bool loops_keep_pipe = false;             ///< no loop in other pipe: that is another question
};

/// The changes worth trying on a sized house (size()): for head, every run one or two sizes wider,
/// fewer throttling valves, the short loops split, a size wider or laid wider apart, every
/// manifold's loops a size wider, larger radiators, larger drops, warmer water, the next
/// circulators, plain water; for heat, larger radiators, one by one or all of them at once, closer
/// loops, warmer water; for floors
/// that would get too warm a water, the water they take, with what the other emitters then lack;
/// for least flow, smaller drops, a bypass or zones left open; finer valves. Drop, spacing and
/// temperature only where every emitter says how it gives its heat, as elsewhere nothing tells what
/// that does to a room.
std::vector<Change> candidate_changes(const networks::House &house, const ChangeNeeds &needs);

} // namespace headroom::solver
