// One section of a heated floor: what lies between the room above and the space below, and the
// pipe in it. Lengths in m, conductivities in W/(m K), resistances in m2 K/W.
#pragma once

#include <cmath>
#include <optional>

namespace headroom::models {

/// A round pipe, bare or in a sheath that touches it (0 stands for no sheath).
struct FloorPipe {
    double outside_diameter_m = 0.0; ///< of the pipe itself
    double wall_m = 0.0;
    double wall_conductivity_w_m_k = 0.0;
    double sheath_diameter_m = 0.0; ///< outside diameter of the sheath, above the pipe's
    double sheath_conductivity_w_m_k = 0.0;

    /// Outside diameter of all that lies in the screed or groove.
    double overall_diameter_m() const {
        return sheath_diameter_m > 0.0 ? sheath_diameter_m : outside_diameter_m;
    }
    double bore_m() const { return outside_diameter_m - 2.0 * wall_m; }

    bool operator==(const FloorPipe &) const = default;
};

/// A thin metal plate that lies against the pipe's lower half, rises beside the pipe to the top of
/// the board and runs out flat on it. Contact with pipe, board and layer above is taken as perfect.
struct DiffuserPlate {
    double thickness_m = 0.0;
    double conductivity_w_m_k = 0.0;
    double width_m = 0.0; ///< of the whole flat, both sides of one pipe; at most the spacing

    bool operator==(const DiffuserPlate &) const = default;
};

/// An insulating board with upright-sided, round-bottomed grooves as wide and deep as the pipe, so
/// that the pipe's crown is flush with the board's top.
struct GrooveBoard {
    double thickness_m = 0.0; ///< at least the pipe's overall diameter
    double conductivity_w_m_k = 0.0;
    /// What fills the groove's two corners above the pipe's axis, and the slit of the plate's
    /// thickness over the crown: still air unless the maker states a filler.
    double groove_filling_conductivity_w_m_k = 0.026;
    std::optional<DiffuserPlate> plate;

    bool operator==(const GrooveBoard &) const = default;
};

/// From top to bottom: room, surface coefficient, covering, layer (screed, or the dry layer over a
/// groove board) with the pipe, insulation, slab and ceiling, surface below, space below.
/// The covering, slab and lower surface act as resistances per area and spread no heat sideways;
/// a covering that does (thick stone) is better given as cover.
struct FloorSection {
    double spacing_m = 0.0; ///< between the axes of neighbouring pipes
    FloorPipe pipe;
    double cover_m = 0.0; ///< layer over the pipe's crown; over the board or plate in dry work
    double layer_conductivity_w_m_k = 0.0;
    double covering_resistance_m2k_w = 0.0;
    double gap_below_pipe_m = 0.0;    ///< screed between pipe and insulation; 0: pipe rests on it
    std::optional<GrooveBoard> board; ///< dry construction: the pipe lies in this, gap not used
    double insulation_thickness_m = 0.0;
    double insulation_conductivity_w_m_k = 0.035;
    double slab_resistance_m2k_w = 0.0; ///< slab, ceiling, plaster; infinite: no heat down
    double lower_surface_resistance_m2k_w = 0.17; ///< 0.17 at a ceiling below, 0 on ground
    double surface_coefficient_w_m2_k = 10.8;     ///< floor surface to room

    double axis_height_m() const { ///< of the pipe above the top of the insulation
        const double radius = 0.5 * pipe.overall_diameter_m();
        return board ? board->thickness_m - radius : gap_below_pipe_m + radius;
    }
    double insulation_resistance_m2k_w() const {
        return insulation_thickness_m / insulation_conductivity_w_m_k;
    }

    bool operator==(const FloorSection &) const = default;
};

/// What makes a section impossible, as a sentence; nullptr if it can be built.
inline const char *floor_section_fault(const FloorSection &section) {
    const auto positive = [](double value) { return value > 0.0 && std::isfinite(value); };
    const auto not_negative = [](double value) { return value >= 0.0 && std::isfinite(value); };
    const FloorPipe &pipe = section.pipe;
    if (!positive(pipe.outside_diameter_m) || !positive(pipe.wall_m) || !(pipe.bore_m() > 0.0))
        return "the pipe's wall must leave a bore";
    if (!positive(pipe.wall_conductivity_w_m_k))
        return "the pipe wall needs a conductivity above zero";
    if (pipe.sheath_diameter_m != 0.0 && (!(pipe.sheath_diameter_m > pipe.outside_diameter_m) ||
                                          !positive(pipe.sheath_conductivity_w_m_k)))
        return "the sheath must be wider than the pipe and conduct";
    if (!positive(section.spacing_m) || !(section.spacing_m > pipe.overall_diameter_m()))
        return "the spacing must exceed the pipe's diameter";
    if (!positive(section.cover_m) || !positive(section.layer_conductivity_w_m_k))
        return "the layer over the pipe needs a thickness and a conductivity above zero";
    if (!not_negative(section.covering_resistance_m2k_w) ||
        !not_negative(section.gap_below_pipe_m) || !not_negative(section.insulation_thickness_m) ||
        !positive(section.insulation_conductivity_w_m_k))
        return "covering, gap and insulation must not be negative";
    if (!(section.slab_resistance_m2k_w >= 0.0) ||
        !not_negative(section.lower_surface_resistance_m2k_w))
        return "resistances below the insulation must not be negative";
    if (!positive(section.surface_coefficient_w_m2_k))
        return "the surface coefficient must be above zero";
    if (!section.board)
        return nullptr;
    const GrooveBoard &board = *section.board;
    if (!(board.thickness_m >= pipe.overall_diameter_m()) || !std::isfinite(board.thickness_m) ||
        !positive(board.conductivity_w_m_k) || !positive(board.groove_filling_conductivity_w_m_k))
        return "the groove board must be at least as thick as the pipe and conduct";
    if (!board.plate)
        return nullptr;
    const DiffuserPlate &plate = *board.plate;
    if (!positive(plate.thickness_m) || !positive(plate.conductivity_w_m_k) ||
        !(plate.width_m > pipe.overall_diameter_m() + 2.0 * plate.thickness_m) ||
        !(plate.width_m <= section.spacing_m))
        return "the plate must be wider than the groove and no wider than the spacing";
    return nullptr;
}

} // namespace headroom::models
