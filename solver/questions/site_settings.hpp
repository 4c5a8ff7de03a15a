// What is set on site: valves and pumps of the house as it will stand.
#pragma once

#include "networks/house.hpp"
#include "solver/questions/balance.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/source_setting.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// One of House::emitters.
struct SiteValve {
    std::string name;
    std::string kind; ///< "loop", "radiator", ...
    double design_m3_s;
    double drop_k;
    double water_c;                ///< what it is sent on the design day
    double takes_pa;               ///< beyond its open loss
    std::optional<double> kv_m3_h; ///< absent where nothing is to be set
    bool in_range = true;
    bool heat_leak = false; ///< its valves stay fully open: nothing is set
};

struct SitePump {
    std::string name;    ///< "source" or the run's
    std::string title;   ///< "the source's circulator", "the pump of `riser`"
    std::string setting; ///< in words; empty if it stays as it is
    double flow_m3_s;
    double set_pa; ///< at that flow; of the source's, outside its casing
    bool driven;   ///< it drives all that it is for
};

struct SiteSettings {
    BalanceScope scope = BalanceScope::SingleCirculator;
    std::string house; ///< in words which house they are of
    std::vector<SiteValve> valves;
    std::vector<std::size_t> order; ///< to set them in; into valves
    std::vector<SitePump> pumps;    ///< none where the one circulator is not set
    double source_m3_s = 0.0;       ///< with every valve set and each at its design flow
    /// Where that is below the source's least flow: what then stands among the pumps is for the
    /// least flow, and the valves are set at another head.
    std::optional<SourceSetting> least_flow;
    double flow_c = 0.0; ///< sent by the source
    double return_c = 0.0;
    Outcome outcome;
};

/// Something that the single-circulator house is without: a pump or mixer in a run, a header.
bool has_more_than_circulator(const networks::House &house);

/// Where `driven` is a yes, header, mixers and their pumps go, and the settings are those of the
/// source's circulator alone; so they are in a house that has nothing else. Where it is not, what
/// the house has stays, and it is balanced as it is drawn (balanced.hpp).
SiteSettings site_settings(const networks::House &house, const DriveAnswer &driven);

} // namespace headroom::solver
