// Floor heating output by EN 1264-2 (ISO 11855-2 for types A and C): pipes within a screed. The
// standard's way to the heat of a floor; models/floor_conduction.hpp solves the same floor.
#pragma once

#include "models/floor_section.hpp"

#include <optional>

namespace headroom::models {

/// Whether a section lies within what the standard's factors cover, or the first thing outside.
enum class En1264Range {
    Covered,
    Impossible,         ///< floor_section_fault() says why
    DryBoard,           ///< type B: its factor a_WL for the plate's width could not be sourced
    SurfaceCoefficient, ///< the factors hold for 10.8 W/(m2 K) only
    Spacing,            ///< below 0.05 m
    Diameter,           ///< 0.008 to 0.030 m
    Cover,              ///< below 0.010 m
    CoveringResistance, ///< 0 to 0.15 m2 K/W
    WideAndThick        ///< spacing above 0.375 m together with cover above 0.1875 m
};

En1264Range en1264_range(const FloorSection &section);

/// Every factor of the characteristic on its way.
struct En1264Characteristic {
    double a_covering = 0.0;                   ///< a_B
    double a_spacing = 0.0, m_spacing = 0.0;   ///< a_T, m_T
    double a_cover = 0.0, m_cover = 0.0;       ///< a_U, m_U
    double a_diameter = 0.0, m_diameter = 0.0; ///< a_D, m_D
    double system_w_m2_k = 0.0;                ///< B
    double characteristic_w_m2_k = 0.0;        ///< K_H
};

/// q = K_H dtheta_H, heat into the room per K of logarithmic excess temperature,
///     K_H = B a_B a_T^m_T a_U^m_U a_D^m_D ,
///     a_B = (1/10.8 + 0.045/1) / (1/10.8 + 0.045/lambda_E + R_B) ,
///     m_T = 1 - T/0.075 ,  m_U = 100 (0.045 - s_u) ,  m_D = 250 (D - 0.020) ,
/// T spacing 0.05 to 0.375 [m], s_u cover from 0.010 [m], D outside diameter with sheath 0.008 to
/// 0.030 [m], R_B covering 0 to 0.15 [m2 K/W], lambda_E screed [W/(m K)]; a_T, a_U, a_D from tables
/// A.1 to A.3, linear between entries. B = 6.7 for a wall of 2 mm and 0.35 W/(m K); another wall or
/// a sheath changes 1/B by (1.1/pi) (product of factors) T times the difference of
/// ln(outside/inside)/(2 lambda). T > 0.375: K_H(0.375) 0.375/T. s_u above s* (0.100, or T/2 where
/// T > 0.2): 1/K_H = 1/K_H(s*) + (s_u - s*)/lambda_E.
/// nullopt where en1264_range() is not Covered. Where heat goes down does not enter, nor does the
/// pipe's height in the screed or the water film. [EN1264-2, tables A.1 to A.3]
std::optional<En1264Characteristic> en1264_characteristic(const FloorSection &section);

/// Greatest surface temperature and what it allows above the room's: [EN1264-2]
enum class FloorZone {
    Occupied,  ///< 29 degC
    Bathroom,  ///< 33 degC
    Perimeter, ///< 35 degC, within 1 m of outer walls
};
double surface_limit_c(FloorZone zone);

/// Even temperature excess [K] over the room of a surface that gives `heat_w_m2` >= 0: the inverse
/// of
///     q = 8.92 excess^1.1 [W/m2] ,
/// the base curve of every system. [EN1264-2]
double base_curve_excess_k(double heat_w_m2);

/// Where a characteristic meets the limit curve: the warmest place of the surface is at its limit.
struct En1264Limit {
    double b_factor = 0.0, exponent = 0.0; ///< B_G, n_G (of T = 0.375 where T is wider)
    double excess_k = 0.0;                 ///< limit excess temperature dtheta_H,G
    double heat_w_m2 = 0.0;                ///< limit heat q_G
};

/// q_G = phi B_G (dtheta_H/phi)^n_G met with q = K_H dtheta_H:
///     dtheta_G = phi (B_G/K_H)^(1/(1 - n_G)) ,  phi = (surface_excess/9)^1.1 ,
/// B_G and n_G from tables A.4 to A.7 by s_u/lambda_E 0.01 to 0.0792 and T, beyond that by s_u/T;
/// linear between entries. `surface_excess_k`: limit of the surface over the room, 9 K or 15 K.
/// T > 0.375: q_G = q_G(0.375) 0.375/T, for s_u/T <= 0.173 only (the factor f_G beyond it is not
/// sourced). At excess temperatures beyond some 35 K the tables themselves lie up to 2 % above the
/// base curve; they are left as they are. nullopt outside these ranges and where there is no
/// characteristic. [EN1264-2, tables A.4 to A.7, read in their draft numbering]
std::optional<En1264Limit> en1264_limit(const FloorSection &section, double surface_excess_k);

/// Heat down and the flow it costs, EN 1264-3.
struct DownwardLoss {
    double upper_resistance_m2k_w = 0.0; ///< R_o = 1/10.8 + R_B + s_u/lambda_E
    double lower_resistance_m2k_w = 0.0; ///< R_u, insulation and all below it
    double heat_down_w_m2 = 0.0;         ///< (q R_o + room - below) / R_u, negative if heat rises
    double water_share = 0.0; ///< all heat over heat up: 1 + R_o/R_u + (room-below)/(q R_u)
};

/// nullopt unless heat_up > 0 and R_u > 0. [EN1264-3]
std::optional<DownwardLoss> downward_loss(const FloorSection &section, double heat_up_w_m2,
                                          double room_c, double below_c);

/// Flow temperature over the room [K] of the most loaded room from its log-mean excess and drop:
/// excess + drop/2, and drop^2/(12 excess) more where drop > excess/2. [EN1264-3, from memory]
double supply_excess_k(double excess_k, double drop_k);

} // namespace headroom::models
