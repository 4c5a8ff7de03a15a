// A floor section with its lines of even temperature, over two pipes.
#include "solver/report/figures.hpp"
#include "solver/report/sheet_parts.hpp"
#include "solver/report/svg.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace headroom::solver {
namespace {

using models::FloorField;
using models::FloorSection;

constexpr double drawn_width = 440.0, left = 16.0, top = 60.0;
constexpr double covering_height = 9.0, slab_height = 26.0; // layers that have no thickness
constexpr double label_height = 13.0, label_width = 22.0;

struct Segment {
    SvgPoint a, b; ///< in m from the pipe's axis
};

/// Marching squares over one cell of neighbouring values, split along a diagonal so that no case is
/// ambiguous.
void cross_triangle(const std::array<SvgPoint, 3> &corners, const std::array<double, 3> &values,
                    double level, std::vector<Segment> &out) {
    std::vector<SvgPoint> ends;
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t j = (i + 1) % 3;
        if ((values[i] < level) == (values[j] < level))
            continue;
        const double share = (level - values[i]) / (values[j] - values[i]);
        ends.push_back({corners[i].x + share * (corners[j].x - corners[i].x),
                        corners[i].y + share * (corners[j].y - corners[i].y)});
    }
    if (ends.size() == 2)
        out.push_back({ends[0], ends[1]});
}

// The field drawn out to its two lines of symmetry, where it is level.
FloorField to_symmetry(const FloorField &field, double half_spacing_m) {
    FloorField out{{0.0}, field.y_m, {}};
    out.x_m.insert(out.x_m.end(), field.x_m.begin(), field.x_m.end());
    out.x_m.push_back(half_spacing_m);
    for (std::size_t row = 0; row < field.y_m.size(); ++row) {
        out.above_room_k.push_back(field.at(0, row));
        for (std::size_t column = 0; column < field.x_m.size(); ++column)
            out.above_room_k.push_back(field.at(column, row));
        out.above_room_k.push_back(field.at(field.x_m.size() - 1, row));
    }
    return out;
}

std::vector<Segment> level_line(const FloorField &field, double level) {
    std::vector<Segment> out;
    for (std::size_t row = 0; row + 1 < field.y_m.size(); ++row)
        for (std::size_t column = 0; column + 1 < field.x_m.size(); ++column) {
            const SvgPoint a{field.x_m[column], field.y_m[row]},
                b{field.x_m[column + 1], field.y_m[row]},
                c{field.x_m[column + 1], field.y_m[row + 1]},
                d{field.x_m[column], field.y_m[row + 1]};
            const double va = field.at(column, row), vb = field.at(column + 1, row),
                         vc = field.at(column + 1, row + 1), vd = field.at(column, row + 1);
            cross_triangle({a, b, c}, {va, vb, vc}, level, out);
            cross_triangle({a, c, d}, {va, vc, vd}, level, out);
        }
    return out;
}

class SectionDrawing {
public:
    SectionDrawing(const FloorDrawing &floor, std::size_t number)
        : floor_(floor), section_(floor.section),
          scale_(drawn_width / (2.0 * floor.section.spacing_m)),
          upper_(section_.cover_m + 0.5 * section_.pipe.overall_diameter_m()),
          lower_(section_.axis_height_m() + section_.insulation_thickness_m),
          svg_(fmt::format("floor-{}", number), 720.0,
               top + covering_height + (upper_ + lower_) * scale_ + slab_height + 34.0,
               "Section through the floor of " + floor.emitter,
               fmt::format("Two pipes in the floor with water at {} degC on average, room at {} "
                           "degC, floor surface at {} degC on average.",
                           fixed(floor.water_c, 1), fixed(floor.room_c, 1),
                           fixed(floor.surface_mean_c, 1))) {}

    std::string draw();

private:
    double x(double metres) const { return left + (metres + 0.5 * section_.spacing_m) * scale_; }
    double y(double metres) const { return top + covering_height + (upper_ - metres) * scale_; }
    void layer(double from_m, double to_m, std::string_view look, const std::string &name);
    void draw_layers();
    void draw_lines();
    void draw_line(const std::vector<Segment> &segments);
    void draw_pipes();

    const FloorDrawing &floor_;
    const FloorSection &section_;
    double scale_;
    double upper_, lower_; ///< of the drawn part above and below the pipe's axis
    Svg svg_;
};

void SectionDrawing::layer(double from_m, double to_m, std::string_view look,
                           const std::string &name) {
    svg_.rect(left, y(to_m), drawn_width, (to_m - from_m) * scale_, look);
    if (!name.empty())
        svg_.text({left + drawn_width + 10.0,
                   std::clamp(0.5 * (y(from_m) + y(to_m)) + 4.0, top + 24.0, 1e9)},
                  name);
}

void SectionDrawing::draw_layers() {
    const double insulation_top = -section_.axis_height_m();
    const double radius = 0.5 * section_.pipe.overall_diameter_m();
    const double board_top = section_.board ? radius : insulation_top;
    svg_.rect(left, top, drawn_width, covering_height, "layer-cover");
    svg_.text({left + drawn_width + 10.0, top + 8.0},
              fmt::format("covering {:.3g} m² K/W", section_.covering_resistance_m2k_w));
    layer(board_top, upper_, "layer-screed",
          fmt::format("{} mm over the pipe, {:.3g} W/(m K)", fixed(section_.cover_m * 1e3, 0),
                      section_.layer_conductivity_w_m_k));
    if (section_.board)
        layer(insulation_top, board_top, "layer-board",
              fmt::format("grooved board {} mm{}", fixed(section_.board->thickness_m * 1e3, 0),
                          section_.board->plate ? ", metal plate" : ""));
    if (section_.insulation_thickness_m > 0.0)
        layer(-lower_, insulation_top, "layer-insulation",
              fmt::format("insulation {} mm, {:.3g} W/(m K)",
                          fixed(section_.insulation_thickness_m * 1e3, 0),
                          section_.insulation_conductivity_w_m_k));
    svg_.rect(left, y(-lower_), drawn_width, slab_height, "layer-slab");
    svg_.text({left + drawn_width + 10.0, y(-lower_) + 18.0},
              std::isfinite(section_.slab_resistance_m2k_w)
                  ? fmt::format("below {:.3g} m² K/W", section_.slab_resistance_m2k_w)
                  : "no heat goes down");
}

void SectionDrawing::draw_lines() {
    if (!floor_.field)
        return;
    const FloorField field = to_symmetry(*floor_.field, 0.5 * section_.spacing_m);
    const auto [low, high] =
        std::minmax_element(field.above_room_k.begin(), field.above_room_k.end());
    std::vector<SvgPoint> labels;
    for (const double level : round_ticks(floor_.room_c + *low, floor_.room_c + *high, 24)) {
        const std::vector<Segment> segments = level_line(field, level - floor_.room_c);
        if (segments.empty())
            continue;
        draw_line(segments);
        const Segment &last =
            *std::max_element(segments.begin(), segments.end(),
                              [](const Segment &a, const Segment &b) { return a.a.x < b.a.x; });
        const SvgPoint at{x(last.a.x), y(last.a.y)};
        const bool free = std::none_of(labels.begin(), labels.end(), [&](const SvgPoint &other) {
            return std::abs(other.y - at.y) < label_height &&
                   std::abs(other.x - at.x) < label_width;
        });
        if (!free || last.a.x < section_.pipe.overall_diameter_m())
            continue;
        labels.push_back(at);
        svg_.text({at.x, at.y + 4.0}, fixed(level, level == std::round(level) ? 0 : 1),
                  Anchor::Middle, "small halo");
    }
}

// Both sides of both pipes.
void SectionDrawing::draw_line(const std::vector<Segment> &segments) {
    std::string path;
    for (const Segment &segment : segments)
        for (const double axis : {0.0, section_.spacing_m})
            for (const double way : {-1.0, 1.0})
                path += fmt::format("M{} {}L{} {}", pixel(x(axis + way * segment.a.x)),
                                    pixel(y(segment.a.y)), pixel(x(axis + way * segment.b.x)),
                                    pixel(y(segment.b.y)));
    svg_.raw(fmt::format("<path d=\"{}\" fill=\"none\" class=\"isotherm\"/>\n", path));
}

void SectionDrawing::draw_pipes() {
    for (const double axis : {0.0, section_.spacing_m}) {
        svg_.circle({x(axis), y(0.0)}, 0.5 * section_.pipe.overall_diameter_m() * scale_,
                    "pipe-wall");
        svg_.circle({x(axis), y(0.0)}, 0.5 * section_.pipe.bore_m() * scale_, "pipe-water");
    }
    const double under = y(-lower_) + slab_height + 18.0;
    svg_.line({x(0.0), under - 12.0}, {x(section_.spacing_m), under - 12.0}, "mark");
    svg_.text({x(0.5 * section_.spacing_m), under + 4.0},
              fmt::format("{} mm from pipe to pipe", fixed(section_.spacing_m * 1e3, 0)),
              Anchor::Middle);
}

std::string SectionDrawing::draw() {
    svg_.text({left, 18.0},
              fmt::format("room {}°, surface {}° on average, {}° at its warmest, {} W/m² up",
                          fixed(floor_.room_c, 1), fixed(floor_.surface_mean_c, 1),
                          fixed(floor_.surface_highest_c, 1), fixed(floor_.up_w_m2, 0)));
    svg_.text({left, 38.0}, fmt::format("water {}° on average, pipe wall {}° inside, below {}°",
                                        fixed(floor_.water_c, 1), fixed(floor_.wall_c, 1),
                                        fixed(floor_.below_c, 1)));
    draw_layers();
    draw_lines();
    draw_pipes();
    return svg_.svg();
}

} // namespace

std::string draw_floor_section(const FloorDrawing &floor, std::size_t number) {
    return SectionDrawing(floor, number).draw();
}

} // namespace headroom::solver
