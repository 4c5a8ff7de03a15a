// The pieces of the sheet, one file each. For those files alone.
#pragma once

#include "solver/questions/sheet.hpp"

#include <string>
#include <string_view>

namespace headroom::solver {

/// The page's style: screen, telephone and A4.
std::string sheet_style();

/// The whole house as a tree of pipes from the source; needs a drawing.
std::string draw_schematic(const HouseDrawing &drawing);
/// Single pipes from point to point, one a row; empty without any.
std::string draw_single_pipes(const HouseDrawing &drawing);
/// Flow and return temperature of each place.
std::string draw_temperatures(const HouseDrawing &drawing);

std::string draw_index_pressure(const DriveAnswer &drive);
std::string draw_pump_curves(const SheetAnswer &answer);
std::string draw_loop_bars(const DriveAnswer &drive);
/// Drawing, table and conclusions of the bores side by side.
std::string bores_part(const BoresAnswer &bores);
/// `number` makes its id unique.
std::string draw_floor_section(const FloorDrawing &floor, std::size_t number);
std::string draw_weather_curves(const SeasonAnswer &season);
/// Empty without a mixer.
std::string draw_mixer_positions(const SeasonAnswer &season);
std::string draw_season_bars(const SeasonAnswer &season);

/// Sections of the page, each with its heading.
std::string sheet_customer(const SheetAnswer &answer);
std::string sheet_system(const SheetAnswer &answer);
std::string sheet_year(const SheetAnswer &answer);
std::string sheet_fitter(const SheetAnswer &answer);
std::string sheet_record(const SheetAnswer &answer, std::string_view version);

} // namespace headroom::solver
