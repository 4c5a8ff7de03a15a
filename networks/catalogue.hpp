// Parts by name: pipes of the standards, fittings, invented generic circulators. A house file may
// add its own under `catalogue:`; a name given there hides the shipped one.
#pragma once

#include "models/pump.hpp"
#include "networks/fields.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::networks {

struct PipeSize {
    std::string name; ///< nominal name such as `DN15`, may be empty
    double outside_m;
    double wall_m;
    double bore_m() const { return outside_m - 2.0 * wall_m; }
};

struct PipeFamily {
    std::string name;
    std::string standard;
    double roughness_m;
    double aged_roughness_m;
    double conductivity_w_m_k; ///< of the wall
    std::vector<PipeSize> sizes;
};

/// A fitting's loss: zeta that may step with bore, or a Kv.
struct FittingType {
    struct Row {
        double from_bore_m; ///< the row holds from this bore up to the next row's
        double zeta;
    };
    std::string name;
    std::vector<Row> zeta; ///< empty when the fitting has a Kv
    double kv_m3_h = 0.0;
    bool filter = false; ///< gathers dirt, so the margin allows for it

    double zeta_at(double bore_m) const;
};

struct CirculatorModel {
    std::string name;
    std::vector<models::CurvePoint> curve;
    std::optional<double> efficiency; ///< wire to water
};

struct Catalogue {
    std::vector<PipeFamily> pipes;
    std::vector<FittingType> fittings;
    std::vector<CirculatorModel> circulators;

    const FittingType *fitting(std::string_view name) const;
    const CirculatorModel *circulator(std::string_view name) const;
    std::vector<std::string> fitting_names() const;
    std::vector<std::string> circulator_names() const;
};

/// What a pipe is, by the user's words for it.
struct PipeChoice {
    std::string name; ///< "copper 28x0.9"
    double bore_m = 0.0;
    double wall_m = 0.0;
    double roughness_m = 0.0;
    double aged_roughness_m = 0.0;
    double constant_friction_factor = 0.0; ///< stated; 0 means computed
    double conductivity_w_m_k = 0.0;       ///< of the wall; 0 if not known
};

/// The pipe called `name`, such as "copper 28", "pex 16x2", "steel medium DN20". An unknown or
/// ambiguous name is a fault that lists what there is.
std::optional<PipeChoice> find_pipe(const Catalogue &catalogue, const Text &name,
                                    Diagnostics &diagnostics);

/// The next size of the same family with a bore at least a twelfth wider; nothing above the largest
/// or for a pipe that is not of the catalogue.
std::optional<PipeChoice> next_larger(const Catalogue &catalogue, const PipeChoice &pipe);

/// The parts shipped with the program (networks/catalogue.yaml).
const Catalogue &shipped_catalogue();

/// Adds the parts of a `catalogue:` map in front of those already there.
void read_catalogue(Fields &fields, Catalogue &catalogue, Diagnostics &diagnostics);

/// `[[flow, pressure], ...]`: flows rising from at least zero, pressures that do not rise over the
/// whole curve. A stretch that rises (a drooping curve) is a warning.
std::vector<models::CurvePoint> read_curve(const Entry &entry, Diagnostics &diagnostics);

} // namespace headroom::networks
