// Drawings as inline SVG. Coordinates in pixels, y downwards; looks are classes of the page's
// style.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace headroom::solver {

struct SvgPoint {
    double x, y;
};

enum class Anchor { Start, Middle, End };

class Svg {
public:
    /// `id` is unique on the page; title and description are read out.
    Svg(std::string id, double width, double height, std::string title, std::string description);

    void line(SvgPoint a, SvgPoint b, std::string_view look, double width = 0.0);
    void path(const std::vector<SvgPoint> &points, std::string_view look, double width = 0.0);
    void area(const std::vector<SvgPoint> &points, std::string_view look);
    void rect(double x, double y, double width, double height, std::string_view look,
              double round = 0.0);
    void circle(SvgPoint centre, double radius, std::string_view look);
    void text(SvgPoint at, std::string_view words, Anchor anchor = Anchor::Start,
              std::string_view look = "");
    /// At most `most` characters, the whole as a tip if cut.
    void short_text(SvgPoint at, const std::string &words, std::size_t most,
                    Anchor anchor = Anchor::Start, std::string_view look = "");
    /// Text that reads upwards.
    void upright_text(SvgPoint at, std::string_view words);
    void raw(std::string_view markup) { body_ += markup; }

    const std::string &id() const { return id_; }
    double width() const { return width_; }
    double height() const { return height_; }
    std::string svg() const;

private:
    std::string id_, title_, description_, body_;
    double width_, height_;
};

/// Values to pixels, straight.
struct Scale {
    double low, high;
    double from, to;
    double at(double value) const { return from + (value - low) / (high - low) * (to - from); }
};

/// Round values from `low` to `high`, both taken in: steps of 1, 2 or 5 times a power of ten, about
/// `count` of them. Equal ends are spread by one.
std::vector<double> round_ticks(double low, double high, int count = 6);

/// A coordinate, to a tenth.
std::string pixel(double value);

/// The plane of a chart: both scales from round ticks, grid, figures and axis names. An axis
/// without a name upwards has no figures either.
struct Axes {
    Scale x, y;
};
struct AxisRange {
    std::string name; ///< with its unit
    double low, high;
};
Axes draw_axes(Svg &svg, const AxisRange &x, const AxisRange &y, double left = 58.0,
               double top = 16.0, double right = 16.0, double bottom = 50.0);

/// Lines with what they stand for, one under the other from `at`; each line of its own look.
struct LegendLine {
    std::string look;
    std::string words;
    bool block = false; ///< a filled patch in place of a line
};
void draw_legend(Svg &svg, SvgPoint at, const std::vector<LegendLine> &lines);

} // namespace headroom::solver
