// Floor sections that several tests share.
#pragma once

#include "models/floor_section.hpp"

#include <limits>
#include <vector>

namespace headroom::tests {

/// Pipe of 0.35 W/(m K) on insulation that lets no heat through, or `gap_m` above it.
inline models::FloorSection screed_section(double spacing_m, double diameter_m, double wall_m,
                                           double cover_m, double covering_m2k_w,
                                           double screed_w_m_k = 1.2, double gap_m = 0.0) {
    models::FloorSection section;
    section.spacing_m = spacing_m;
    section.pipe.outside_diameter_m = diameter_m;
    section.pipe.wall_m = wall_m;
    section.pipe.wall_conductivity_w_m_k = 0.35;
    section.cover_m = cover_m;
    section.layer_conductivity_w_m_k = screed_w_m_k;
    section.covering_resistance_m2k_w = covering_m2k_w;
    section.gap_below_pipe_m = gap_m;
    section.slab_resistance_m2k_w = std::numeric_limits<double>::infinity();
    return section;
}

/// The same on 30 mm of insulation over a ceiling.
inline models::FloorSection insulated_section(double spacing_m = 0.15, double diameter_m = 0.016,
                                              double wall_m = 0.002, double cover_m = 0.045,
                                              double covering_m2k_w = 0.05) {
    models::FloorSection section =
        screed_section(spacing_m, diameter_m, wall_m, cover_m, covering_m2k_w);
    section.insulation_thickness_m = 0.03;
    section.slab_resistance_m2k_w = 0.1;
    return section;
}

/// Groove board of 30 mm under 18 mm of dry layer, with a plate where its width is above zero.
inline models::FloorSection dry_section(double plate_width_m, double spacing_m = 0.15,
                                        double diameter_m = 0.016, double wall_m = 0.002) {
    models::FloorSection section = insulated_section(spacing_m, diameter_m, wall_m, 0.018);
    section.layer_conductivity_w_m_k = 0.32;
    section.board = models::GrooveBoard{};
    section.board->thickness_m = 0.03;
    section.board->conductivity_w_m_k = 0.035;
    if (plate_width_m > 0.0)
        section.board->plate = models::DiffuserPlate{0.0005, 200.0, plate_width_m};
    return section;
}

inline std::vector<models::FloorSection> sections_of_every_kind() {
    std::vector<models::FloorSection> sections{insulated_section(), dry_section(0.0),
                                               dry_section(0.12), dry_section(0.15),
                                               screed_section(0.10, 0.010, 0.0013, 0.030, 0.0)};
    sections.push_back(insulated_section(0.30, 0.020));
    sections.back().gap_below_pipe_m = 0.02;
    sections.push_back(insulated_section(0.20));
    sections.back().pipe.sheath_diameter_m = 0.020;
    sections.back().pipe.sheath_conductivity_w_m_k = 0.2;
    sections.push_back(insulated_section());
    sections.back().pipe.wall_m = 0.001;
    sections.back().pipe.wall_conductivity_w_m_k = 390.0;
    return sections;
}

} // namespace headroom::tests
