#include "solver/report/svg.hpp"

#include "solver/report/figures.hpp"
#include "solver/report/html.hpp"
#include "solver/report/table.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

const char *anchor_name(Anchor anchor) {
    return anchor == Anchor::Start ? "start" : anchor == Anchor::Middle ? "middle" : "end";
}

std::string width_attribute(double width) {
    return width > 0.0 ? fmt::format(" stroke-width=\"{}\"", pixel(width)) : "";
}

std::string points_text(const std::vector<SvgPoint> &points) {
    std::string out;
    for (const SvgPoint &p : points)
        out += fmt::format("{}{},{}", out.empty() ? "" : " ", pixel(p.x), pixel(p.y));
    return out;
}

// The first `most` characters, whole ones.
std::string cut(const std::string &words, std::size_t most) {
    std::size_t characters = 0;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const bool starts = (static_cast<unsigned char>(words[i]) & 0xc0) != 0x80;
        if (starts && ++characters >= most)
            return words.substr(0, i) + "…";
    }
    return words;
}

// As many digits as steps of `step` need.
std::string tick_text(double value, double step) {
    const int digits = std::max(0, static_cast<int>(-std::floor(std::log10(step) + 1e-9)));
    return fixed(value, digits);
}

} // namespace

std::string pixel(double value) {
    std::string text = fixed(value, 1);
    if (text.ends_with(".0"))
        text.resize(text.size() - 2);
    return text;
}

Svg::Svg(std::string id, double width, double height, std::string title, std::string description)
    : id_(std::move(id)), title_(std::move(title)), description_(std::move(description)),
      width_(width), height_(height) {}

void Svg::line(SvgPoint a, SvgPoint b, std::string_view look, double width) {
    body_ +=
        fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" class=\"{}\"{}/>\n", pixel(a.x),
                    pixel(a.y), pixel(b.x), pixel(b.y), look, width_attribute(width));
}

void Svg::path(const std::vector<SvgPoint> &points, std::string_view look, double width) {
    body_ += fmt::format("<polyline points=\"{}\" fill=\"none\" class=\"{}\"{}/>\n",
                         points_text(points), look, width_attribute(width));
}

void Svg::area(const std::vector<SvgPoint> &points, std::string_view look) {
    body_ += fmt::format("<polygon points=\"{}\" class=\"{}\"/>\n", points_text(points), look);
}

void Svg::rect(double x, double y, double width, double height, std::string_view look,
               double round) {
    body_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{} class=\"{}\"/>\n",
                         pixel(x), pixel(y), pixel(width), pixel(height),
                         round > 0.0 ? fmt::format(" rx=\"{}\"", pixel(round)) : "", look);
}

void Svg::circle(SvgPoint centre, double radius, std::string_view look) {
    body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" class=\"{}\"/>\n", pixel(centre.x),
                         pixel(centre.y), pixel(radius), look);
}

void Svg::text(SvgPoint at, std::string_view words, Anchor anchor, std::string_view look) {
    body_ += fmt::format("<text x=\"{}\" y=\"{}\" text-anchor=\"{}\"{}>{}</text>\n", pixel(at.x),
                         pixel(at.y), anchor_name(anchor),
                         look.empty() ? "" : fmt::format(" class=\"{}\"", look), escaped(words));
}

void Svg::short_text(SvgPoint at, const std::string &words, std::size_t most, Anchor anchor,
                     std::string_view look) {
    if (display_width(words) <= static_cast<int>(most))
        return text(at, words, anchor, look);
    body_ += fmt::format(
        "<text x=\"{}\" y=\"{}\" text-anchor=\"{}\"{}>{}<title>{}</title></text>\n", pixel(at.x),
        pixel(at.y), anchor_name(anchor), look.empty() ? "" : fmt::format(" class=\"{}\"", look),
        escaped(cut(words, most)), escaped(words));
}

void Svg::upright_text(SvgPoint at, std::string_view words) {
    body_ += fmt::format(
        "<text x=\"{0}\" y=\"{1}\" text-anchor=\"middle\" transform=\"rotate(-90 {0} {1})\">"
        "{2}</text>\n",
        pixel(at.x), pixel(at.y), escaped(words));
}

std::string Svg::svg() const {
    return fmt::format("<svg role=\"img\" viewBox=\"0 0 {0} {1}\" width=\"{0}\" height=\"{1}\" "
                       "aria-labelledby=\"{2}-title {2}-desc\">\n<title id=\"{2}-title\">{3}"
                       "</title>\n<desc id=\"{2}-desc\">{4}</desc>\n{5}</svg>\n",
                       pixel(width_), pixel(height_), id_, escaped(title_), escaped(description_),
                       body_);
}

std::vector<double> round_ticks(double low, double high, int count) {
    if (!(high > low)) {
        low -= 0.5;
        high = low + 1.0;
    }
    const double rough = (high - low) / count;
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    const double lead = rough / power;
    const double step = power * (lead <= 1.0 ? 1.0 : lead <= 2.0 ? 2.0 : lead <= 5.0 ? 5.0 : 10.0);
    const double first = std::floor(low / step + 1e-9);
    const double last = std::ceil(high / step - 1e-9);
    std::vector<double> out;
    for (double i = first; i <= last + 0.5; i += 1.0)
        out.push_back(i * step);
    return out;
}

Axes draw_axes(Svg &svg, const AxisRange &x, const AxisRange &y, double left, double top,
               double right, double bottom) {
    const std::vector<double> xs = round_ticks(x.low, x.high, 8);
    const std::vector<double> ys = round_ticks(y.low, y.high, 6);
    const Axes axes{{xs.front(), xs.back(), left, svg.width() - right},
                    {ys.front(), ys.back(), svg.height() - bottom, top}};
    for (const double value : xs) {
        const double at = axes.x.at(value);
        svg.line({at, axes.y.from}, {at, axes.y.to}, "grid");
        svg.text({at, axes.y.from + 18.0}, tick_text(value, xs[1] - xs[0]), Anchor::Middle);
    }
    for (const double value : ys) {
        if (y.name.empty())
            break; // rows stand in its place
        const double at = axes.y.at(value);
        svg.line({axes.x.from, at}, {axes.x.to, at}, "grid");
        svg.text({axes.x.from - 7.0, at + 4.0}, tick_text(value, ys[1] - ys[0]), Anchor::End);
    }
    svg.path({{axes.x.from, axes.y.to}, {axes.x.from, axes.y.from}, {axes.x.to, axes.y.from}},
             "axis");
    svg.text({0.5 * (axes.x.from + axes.x.to), axes.y.from + 38.0}, x.name, Anchor::Middle);
    if (!y.name.empty())
        svg.upright_text({14.0, 0.5 * (axes.y.from + axes.y.to)}, y.name);
    return axes;
}

void draw_legend(Svg &svg, SvgPoint at, const std::vector<LegendLine> &lines) {
    for (const LegendLine &line : lines) {
        if (line.block)
            svg.rect(at.x, at.y - 10.0, 34.0, 12.0, line.look);
        else
            svg.line({at.x, at.y - 4.0}, {at.x + 34.0, at.y - 4.0}, line.look, 2.5);
        svg.text({at.x + 42.0, at.y}, line.words);
        at.y += 19.0;
    }
}

} // namespace headroom::solver
