#include "networks/prices.hpp"

#include <fmt/format.h>

namespace headroom::networks {
namespace {

constexpr Range price{0.0, 1e6};
constexpr Range work_h{0.0, 1000.0};

struct FamilyFigure {
    std::string_view family;
    double per_mm; ///< of bore, a metre; relative
};

constexpr std::array family_figures{
    FamilyFigure{"copper", 0.55}, FamilyFigure{"steel", 0.45},      FamilyFigure{"pex", 0.083},
    FamilyFigure{"pert", 0.08},   FamilyFigure{"multilayer", 0.15},
};
constexpr double other_per_mm = 0.4;

} // namespace

Prices::Prices() {
    for (std::size_t i = 0; i < figures_.size(); ++i)
        figures_[i] = priced_table[i].relative;
}

double Prices::pipe_per_metre(const std::string &name, double bore_m) const {
    if (const auto found = pipes.find(name); found != pipes.end())
        return found->second;
    for (const FamilyFigure &figure : family_figures)
        if (name.starts_with(figure.family))
            return figure.per_mm * bore_m * 1e3;
    return other_per_mm * bore_m * 1e3;
}

void read_prices(Fields &root, Prices &prices, Diagnostics &diagnostics) {
    const Entry *entry = root.child("prices");
    if (entry == nullptr)
        return;
    Fields fields(entry, root.key_place("prices"), "prices", diagnostics);
    prices.stated = true;
    const Text currency =
        fields.required_text("currency", "what the figures are in, such as `currency: GBP`");
    prices.currency = currency.value;
    for (std::size_t i = 0; i < priced_table.size(); ++i) {
        const auto item = static_cast<Priced>(i);
        const std::string_view key = priced_table[i].key;
        const auto figure = item >= Priced::BalancingHours
                                ? fields.quantity(key, Dimension::Duration, work_h)
                                : fields.number(key, price);
        if (figure)
            prices.set(item, *figure);
    }
    if (const Entry *pipes = fields.child("pipe_per_metre")) {
        if (Fields all(pipes, fields.key_place("pipe_per_metre"), "pipe_per_metre", diagnostics);
            all.usable())
            for (const Pair &pair : pipes->pairs)
                if (const auto figure = read_number(*pair.value, pair.key, price, diagnostics))
                    prices.pipes[pair.key] = *figure;
    }
    fields.finish();
}

} // namespace headroom::networks
