#include "networks/catalogue.hpp"

#include "networks/catalogue_text.hpp"
#include "networks/read_parts.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <stdexcept>

namespace headroom::networks {
namespace {

// "8x0.6" or "DN15 21.3x2.6", both in mm.
std::optional<PipeSize> parse_size(std::string_view text) {
    PipeSize size{};
    if (const std::size_t space = text.rfind(' '); space != std::string_view::npos) {
        size.name = std::string(text.substr(0, space));
        text.remove_prefix(space + 1);
    }
    double outside = 0.0;
    double wall = 0.0;
    const char *end = text.data() + text.size();
    const auto first = std::from_chars(text.data(), end, outside);
    if (first.ec != std::errc{} || first.ptr == end || *first.ptr != 'x')
        return std::nullopt;
    const auto second = std::from_chars(first.ptr + 1, end, wall);
    if (second.ec != std::errc{} || second.ptr != end || !(wall > 0.0) || !(outside > 2.0 * wall) ||
        outside > 2000.0)
        return std::nullopt;
    size.outside_m = outside * 1e-3;
    size.wall_m = wall * 1e-3;
    return size;
}

std::string size_text(const PipeSize &size) {
    return fmt::format("{:g}x{:g}", size.outside_m * 1e3, size.wall_m * 1e3);
}

PipeChoice chosen(const PipeFamily &family, const PipeSize &size) {
    return {fmt::format("{} {}", family.name, size_text(size)),
            size.bore_m(),
            size.wall_m,
            family.roughness_m,
            family.aged_roughness_m,
            0.0,
            family.conductivity_w_m_k};
}

// By nominal name, by outside diameter, or by that and the wall, as they are printed. Most sizes
// are ruled out by their diameter, before anything is printed.
bool matches(const PipeSize &size, std::string_view wanted) {
    if (!wanted.empty() && wanted == size.name)
        return true;
    constexpr double printing_share = 1e-5; // more than rounding to six digits changes
    const double outside = size.outside_m * 1e3;
    double stated = 0.0;
    std::from_chars(wanted.data(), wanted.data() + wanted.size(), stated);
    return std::abs(stated - outside) <= printing_share * outside &&
           (wanted == size_text(size) || wanted == fmt::format("{:g}", outside));
}

void read_family(const std::string &name, const Entry &entry, Place place, Catalogue &catalogue,
                 Diagnostics &diagnostics) {
    Fields fields(&entry, place, fmt::format("pipe family `{}`", name), diagnostics);
    PipeFamily family;
    family.name = name;
    const auto standard = fields.text("standard");
    family.standard = standard ? standard->value : "";
    family.roughness_m = fields.required_quantity("roughness", Dimension::Length, {0.0, 0.01},
                                                  "such as `roughness: 0.007 mm`");
    family.aged_roughness_m = fields.quantity("aged_roughness", Dimension::Length, {0.0, 0.01})
                                  .value_or(family.roughness_m);
    family.conductivity_w_m_k =
        fields.quantity("conductivity", Dimension::Conductivity, {0.01, 1000.0}).value_or(0.0);
    if (const auto *sizes = read_list(fields, "sizes", diagnostics))
        for (const auto &item : *sizes) {
            if (auto size = parse_size(item->scalar); size && item->is_scalar())
                family.sizes.push_back(*size);
            else
                diagnostics.error("pipe-size", item->place,
                                  item->is_scalar()
                                      ? fmt::format("`{}` is not a pipe size", item->scalar)
                                      : "a pipe size is one word",
                                  "write outside diameter x wall in mm, such as `16x2`");
        }
    else if (!fields.has("sizes"))
        fields.missing({"sizes"}, "missing-key",
                       fmt::format("pipe family `{}` has no `sizes`", name),
                       "such as `sizes: [16x2, 20x2]`");
    fields.finish();
    catalogue.pipes.insert(catalogue.pipes.begin(), std::move(family));
}

void read_fitting(const std::string &name, const Entry &entry, Place place, Catalogue &catalogue,
                  Diagnostics &diagnostics) {
    Fields fields(&entry, place, fmt::format("fitting `{}`", name), diagnostics);
    FittingType fitting;
    fitting.name = name;
    fitting.filter = fields.yes_no("filter").value_or(false);
    fields.exactly_one({"zeta", "kv"}, "give its loss as `zeta: 1.5` or `kv: 8 m3/h`");
    fitting.kv_m3_h = fields.quantity("kv", Dimension::FlowFactor, {1e-3, 1e4}).value_or(0.0);
    const Entry *zeta = fields.child("zeta");
    if (zeta != nullptr && zeta->is_list()) {
        for (const auto &row : zeta->items) {
            if (!row->is_list() || row->items.size() != 2) {
                diagnostics.error("zeta-row", row->place, "a zeta row is `[bore, zeta]`",
                                  "such as `[15 mm, 2.0]`");
                continue;
            }
            const auto bore =
                read_quantity(*row->items[0], "bore", Dimension::Length, {0.0, 2.0}, diagnostics);
            const auto value = read_number(*row->items[1], "zeta", {0.0, 1e4}, diagnostics);
            if (bore && !fitting.zeta.empty() && *bore <= fitting.zeta.back().from_bore_m)
                diagnostics.error("zeta-row", row->items[0]->place,
                                  "the bores of zeta rows must rise from row to row",
                                  "sort the rows by bore and remove repeats");
            if (bore && value)
                fitting.zeta.push_back({*bore, *value});
        }
    } else if (zeta != nullptr) {
        fitting.zeta.push_back({0.0, fields.number("zeta", {0.0, 1e4}).value_or(0.0)});
    }
    fields.finish();
    catalogue.fittings.insert(catalogue.fittings.begin(), std::move(fitting));
}

} // namespace

double FittingType::zeta_at(double bore_m) const {
    double value = zeta.empty() ? 0.0 : zeta.front().zeta;
    for (const Row &row : zeta)
        if (bore_m >= row.from_bore_m)
            value = row.zeta;
    return value;
}

const FittingType *Catalogue::fitting(std::string_view name) const {
    const auto found = std::find_if(fittings.begin(), fittings.end(),
                                    [&](const FittingType &f) { return f.name == name; });
    return found == fittings.end() ? nullptr : &*found;
}

const CirculatorModel *Catalogue::circulator(std::string_view name) const {
    const auto found = std::find_if(circulators.begin(), circulators.end(),
                                    [&](const CirculatorModel &c) { return c.name == name; });
    return found == circulators.end() ? nullptr : &*found;
}

std::vector<std::string> Catalogue::fitting_names() const {
    std::vector<std::string> names;
    for (const FittingType &f : fittings)
        names.push_back(f.name);
    return names;
}

std::vector<std::string> Catalogue::circulator_names() const {
    std::vector<std::string> names;
    for (const CirculatorModel &c : circulators)
        names.push_back(c.name);
    return names;
}

std::optional<PipeChoice> find_pipe(const Catalogue &catalogue, const Text &name,
                                    Diagnostics &diagnostics) {
    const PipeFamily *family = nullptr;
    std::vector<std::string> family_names;
    for (const PipeFamily &candidate : catalogue.pipes) {
        family_names.push_back(candidate.name);
        if (name.value.starts_with(candidate.name + " ") &&
            (family == nullptr || candidate.name.size() > family->name.size()))
            family = &candidate;
    }
    if (family == nullptr) {
        const std::size_t space = name.value.rfind(' ');
        const std::string near = nearest(name.value.substr(0, space), family_names);
        if (near == name.value) {
            diagnostics.error(
                "unknown-pipe", name.place, fmt::format("`{}` does not say which size", name.value),
                fmt::format("write it after the family, such as `{} 28` or `{} 16x2`", near, near));
            return std::nullopt;
        }
        if (!near.empty()) {
            diagnostics.error(
                "unknown-pipe", name.place, fmt::format("unknown pipe `{}`", name.value),
                fmt::format("did you mean `{}{}`?", near,
                            space == std::string::npos ? "" : name.value.substr(space)));
            return std::nullopt;
        }
        std::string listed;
        for (const std::string &known : family_names)
            listed += fmt::format("{}`{}`", listed.empty() ? "" : ", ", known);
        diagnostics.error("unknown-pipe", name.place, fmt::format("unknown pipe `{}`", name.value),
                          fmt::format("write a family and a size, such as `copper 28`; families: "
                                      "{}; or give `{{bore: 13 mm, roughness: 0.007 mm}}`",
                                      listed));
        return std::nullopt;
    }
    const std::string wanted = name.value.substr(family->name.size() + 1);
    std::vector<const PipeSize *> found;
    for (const PipeSize &size : family->sizes)
        if (matches(size, wanted))
            found.push_back(&size);
    if (found.size() == 1)
        return chosen(*family, *found.front());
    std::string listed;
    for (const PipeSize &size : family->sizes)
        if (found.empty() || matches(size, wanted))
            listed +=
                fmt::format("{}`{} {}`", listed.empty() ? "" : ", ", family->name, size_text(size));
    if (found.empty())
        diagnostics.error("unknown-pipe", name.place,
                          fmt::format("{} pipe comes in no size `{}`", family->name, wanted),
                          fmt::format("sizes: {}", listed));
    else
        diagnostics.error("ambiguous-pipe", name.place,
                          fmt::format("`{}` is made with more than one wall", name.value),
                          fmt::format("say which: {}", listed));
    return std::nullopt;
}

std::optional<PipeChoice> next_larger(const Catalogue &catalogue, const PipeChoice &pipe) {
    constexpr double wider = 1.0 + 1.0 / 12.0;
    std::optional<PipeChoice> next;
    for (const PipeFamily &family : catalogue.pipes) {
        const bool own =
            std::any_of(family.sizes.begin(), family.sizes.end(), [&](const PipeSize &size) {
                return chosen(family, size).name == pipe.name;
            });
        for (const PipeSize &size : family.sizes)
            if (own && size.bore_m() >= wider * pipe.bore_m &&
                (!next || size.bore_m() < next->bore_m))
                next = chosen(family, size);
    }
    return next;
}

const Catalogue &shipped_catalogue() {
    static const Catalogue catalogue = [] {
        Diagnostics diagnostics;
        Catalogue parts;
        const auto root = parse_document(std::string(catalogue_text), diagnostics);
        Fields fields(root.get(), {}, "catalogue", diagnostics);
        read_catalogue(fields, parts, diagnostics);
        fields.finish();
        if (diagnostics.has_errors())
            throw std::logic_error(render(diagnostics.sorted().front(),
                                          {"catalogue.yaml", std::string(catalogue_text)}));
        return parts;
    }();
    return catalogue;
}

void read_catalogue(Fields &fields, Catalogue &catalogue, Diagnostics &diagnostics) {
    const auto each = [&](std::string_view key, auto &&read) {
        const Entry *group = fields.child(key);
        if (group == nullptr)
            return;
        constexpr std::size_t most_parts = 500;
        if (group->pairs.size() > most_parts) {
            diagnostics.error("too-large", group->place,
                              fmt::format("`{}` holds more than {} parts", key, most_parts),
                              "keep those the house uses");
            return;
        }
        if (!group->is_map()) {
            diagnostics.error("not-a-map", group->place,
                              fmt::format("`{}` must map names to parts", key),
                              "write `name: {...}` lines");
            return;
        }
        // Backwards, as each goes in front: the shipped order stays the file's order.
        for (auto pair = group->pairs.rbegin(); pair != group->pairs.rend(); ++pair)
            read(pair->key, *pair->value, pair->key_place, catalogue, diagnostics);
    };
    each("pipes", read_family);
    each("fittings", read_fitting);
    each("circulators", [](const std::string &name, const Entry &entry, Place place,
                           Catalogue &into, Diagnostics &faults) {
        Fields model(&entry, place, fmt::format("circulator `{}`", name), faults);
        CirculatorModel circulator{name, {}, std::nullopt};
        if (const Entry *curve = model.child("curve"))
            circulator.curve = read_curve(*curve, faults);
        else
            model.missing({"curve"}, "missing-key",
                          fmt::format("circulator `{}` has no `curve`", name),
                          "such as `curve: [[0 m3/h, 6 m], [1 m3/h, 5.2 m], [3 m3/h, 1 m]]`");
        circulator.efficiency = model.quantity("efficiency", Dimension::Ratio, {0.02, 0.9});
        model.finish();
        into.circulators.insert(into.circulators.begin(), std::move(circulator));
    });
}

std::vector<models::CurvePoint> read_curve(const Entry &entry, Diagnostics &diagnostics) {
    return read_curve(entry, limits::head, diagnostics);
}

std::vector<models::CurvePoint> read_curve(const Entry &entry, const Range &head,
                                           Diagnostics &diagnostics) {
    std::vector<models::CurvePoint> points;
    if (!entry.is_list() || entry.items.empty()) {
        diagnostics.error("curve", entry.place, "a pump curve is a list of `[flow, pressure]`",
                          "such as `[[0 m3/h, 6 m], [1 m3/h, 5.2 m], [3 m3/h, 1 m]]`");
        return points;
    }
    bool faulty = false;
    for (const auto &item : entry.items) {
        if (!item->is_list() || item->items.size() != 2) {
            diagnostics.error("curve", item->place, "a point of a pump curve is `[flow, pressure]`",
                              "such as `[1 m3/h, 5.2 m]`");
            return {}; // the others are likely to be written the same way
        }
        const auto flow =
            read_quantity(*item->items[0], "flow", Dimension::VolumeFlow, {0.0, 10.0}, diagnostics);
        const auto pressure =
            read_quantity(*item->items[1], "pressure", Dimension::Pressure, head, diagnostics);
        if (!flow || !pressure) {
            faulty = true;
            continue;
        }
        if (!points.empty() && *flow <= points.back().flow_m3_s) {
            diagnostics.error("curve-order", item->items[0]->place,
                              "the flows of a pump curve must rise from point to point",
                              "sort the points by flow and remove repeats");
            faulty = true;
        }
        points.push_back({*flow, *pressure});
    }
    if (faulty)
        return {};
    if (points.back().flow_m3_s <= 0.0) {
        diagnostics.error("curve", entry.place, "a pump curve needs a point above zero flow",
                          "add the head at the flow you expect");
        return {};
    }
    if (points.front().pressure_pa <= 0.0) {
        diagnostics.error("curve", entry.items.front()->place, "this pump curve gives no head",
                          "check the order of the numbers and their units");
        return {};
    }
    if (points.size() > 1 && points.back().pressure_pa >= points.front().pressure_pa) {
        diagnostics.error("curve-rises", entry.place,
                          "this pump curve does not fall from its first to its last point",
                          "a circulator gives less head at more flow; check the order of the "
                          "numbers and their units");
        return {};
    }
    for (std::size_t i = 1; i < points.size(); ++i)
        if (points[i].pressure_pa > points[i - 1].pressure_pa) {
            diagnostics.warning("curve-droops", entry.items[i]->place,
                                "this pump curve rises here before it falls",
                                "a drooping curve can have two working points; check the data "
                                "sheet");
            break;
        }
    return points;
}

} // namespace headroom::networks
