#include "networks/fields.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace headroom::networks {
namespace {

std::string_view kind_name(const Entry &entry) {
    switch (entry.kind) {
    case Entry::Kind::Null:
        return "nothing";
    case Entry::Kind::Scalar:
        return "a single value";
    case Entry::Kind::List:
        return "a list";
    case Entry::Kind::Map:
        return "a map of keys";
    }
    return "something else";
}

std::string quoted_list(const std::vector<std::string> &words) {
    std::string out;
    for (const std::string &word : words)
        out += fmt::format("{}`{}`", out.empty() ? "" : ", ", word);
    return out;
}

} // namespace

Fields::Fields(const Entry *entry, Place where, std::string what, Diagnostics &diagnostics)
    : where_(where), what_(std::move(what)), diagnostics_(diagnostics) {
    if (entry == nullptr)
        return;
    if (entry->is_map()) {
        entry_ = entry;
        return;
    }
    diagnostics_.error("not-a-map", entry->place,
                       fmt::format("{} must be a map of keys, but is {}", what_, kind_name(*entry)),
                       "write `{key: value, ...}` or indented `key: value` lines");
}

const Entry *Fields::child(std::string_view key) {
    known_.emplace_back(key);
    return entry_ == nullptr ? nullptr : entry_->find(key);
}

bool Fields::has(std::string_view key) {
    return child(key) != nullptr;
}

Place Fields::key_place(std::string_view key) const {
    if (entry_ != nullptr)
        for (const Pair &pair : entry_->pairs)
            if (pair.key == key)
                return pair.key_place;
    return where_;
}

namespace {

// A length of 150 where at most 1 m can stand is meant in mm.
std::string in_likely_unit(std::string help, const std::string &number, Dimension dimension,
                           const Range &range) {
    const auto within = [&](const char *unit) {
        const auto value = parse_quantity(number + unit, dimension);
        const double *si = std::get_if<double>(&value);
        return si != nullptr && *si >= range.least && *si <= range.most;
    };
    const std::string metres = number + " m`";
    const std::size_t at = help.find(metres);
    if (dimension == Dimension::Length && at != std::string::npos && !within(" m") && within(" mm"))
        help.replace(at, metres.size(), number + " mm`");
    return help;
}

} // namespace

std::optional<double> read_quantity(const Entry &entry, std::string_view what, Dimension dimension,
                                    const Range &range, Diagnostics &diagnostics) {
    if (!entry.is_scalar()) {
        diagnostics.error("not-a-value", entry.place,
                          fmt::format("`{}` must be {}, but is {}", what, dimension_name(dimension),
                                      kind_name(entry)),
                          "write one number with its unit");
        return std::nullopt;
    }
    const auto parsed = parse_quantity(entry.scalar, dimension);
    if (const auto *fault = std::get_if<QuantityFault>(&parsed)) {
        using Kind = QuantityFault::Kind;
        std::string code;
        switch (fault->kind) {
        case Kind::NotANumber:
            code = "not-a-number";
            break;
        case Kind::NoUnit:
            code = "missing-unit";
            break;
        case Kind::UnknownUnit:
            code = "unknown-unit";
            break;
        case Kind::WrongDimension:
            code = "wrong-dimension";
            break;
        case Kind::NotFinite:
            code = "not-finite";
            break;
        }
        diagnostics.error(code, entry.place, fmt::format("`{}`: {}", what, fault->message),
                          fault->kind == Kind::NoUnit
                              ? in_likely_unit(fault->help, entry.scalar, dimension, range)
                              : fault->help);
        return std::nullopt;
    }
    const double value = std::get<double>(parsed);
    if (value < range.least || value > range.most) {
        diagnostics.error("out-of-range", entry.place,
                          fmt::format("`{}` of {} is out of range", what, entry.scalar),
                          fmt::format("it must lie between {} and {}{}{}",
                                      written(range.least, dimension),
                                      written(range.most, dimension),
                                      range.slip.empty() ? "" : "; ", range.slip));
        return std::nullopt;
    }
    return value;
}

std::optional<double> Fields::quantity(std::string_view key, Dimension dimension,
                                       const Range &range) {
    const Entry *entry = child(key);
    if (entry == nullptr)
        return std::nullopt;
    return read_quantity(*entry, key, dimension, range, diagnostics_);
}

std::optional<double> read_number(const Entry &entry, std::string_view what, const Range &range,
                                  Diagnostics &diagnostics) {
    double value = 0.0;
    const std::string &text = entry.scalar;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (!entry.is_scalar() || error != std::errc{} || end != text.data() + text.size() ||
        !std::isfinite(value)) {
        diagnostics.error("not-a-number", entry.place,
                          fmt::format("`{}` must be a plain number, but is {}", what,
                                      entry.is_scalar() ? fmt::format("`{}`", text)
                                                        : std::string(kind_name(entry))),
                          "write digits alone, such as `2`; this value has no unit");
        return std::nullopt;
    }
    if (value < range.least || value > range.most) {
        diagnostics.error(
            "out-of-range", entry.place, fmt::format("`{}` of {} is out of range", what, text),
            fmt::format("it must lie between {:.7g} and {:.7g}", range.least, range.most));
        return std::nullopt;
    }
    return value;
}

std::optional<double> Fields::number(std::string_view key, const Range &range) {
    const Entry *entry = child(key);
    if (entry == nullptr)
        return std::nullopt;
    return read_number(*entry, key, range, diagnostics_);
}

std::optional<int> Fields::count(std::string_view key, int least, int most) {
    const std::optional<double> value =
        number(key, {static_cast<double>(least), static_cast<double>(most)});
    if (!value)
        return std::nullopt;
    if (*value != std::floor(*value)) {
        diagnostics_.error("not-a-count", child(key)->place,
                           fmt::format("`{}` must be a whole number", key), "count the pieces");
        return std::nullopt;
    }
    return static_cast<int>(*value);
}

std::optional<bool> Fields::yes_no(std::string_view key) {
    static const std::vector<std::string> words{"yes", "no", "true", "false"};
    const std::optional<int> word = choice(key, words);
    if (!word)
        return std::nullopt;
    return *word % 2 == 0;
}

std::optional<Text> Fields::text(std::string_view key) {
    const Entry *entry = child(key);
    if (entry == nullptr)
        return std::nullopt;
    if (!entry->is_scalar() || entry->scalar.empty()) {
        diagnostics_.error("not-text", entry->place,
                           fmt::format("`{}` must be a word or words, but is {}", key,
                                       entry->is_scalar() ? "empty" : kind_name(*entry)),
                           fmt::format("write `{}: some text`", key));
        return std::nullopt;
    }
    if (entry->scalar.size() > 200) {
        diagnostics_.error("too-long", entry->place,
                           fmt::format("`{}` is longer than 200 characters", key), "shorten it");
        return std::nullopt;
    }
    return Text{entry->scalar, entry->place};
}

std::optional<int> Fields::choice(std::string_view key, const std::vector<std::string> &choices) {
    const std::optional<Text> word = text(key);
    if (!word)
        return std::nullopt;
    for (std::size_t i = 0; i < choices.size(); ++i)
        if (choices[i] == word->value)
            return static_cast<int>(i);
    const std::string near = nearest(word->value, choices);
    diagnostics_.error("unknown-word", word->place,
                       fmt::format("`{}` cannot be `{}`", key, word->value),
                       near.empty() ? fmt::format("it is one of {}", quoted_list(choices))
                                    : fmt::format("did you mean `{}`? It is one of {}", near,
                                                  quoted_list(choices)));
    return std::nullopt;
}

double Fields::required_quantity(std::string_view key, Dimension dimension, const Range &range,
                                 std::string_view help) {
    if (!has(key))
        missing({std::string(key)}, "missing-key", fmt::format("{} has no `{}`", what_, key),
                std::string(help));
    return quantity(key, dimension, range).value_or(std::numeric_limits<double>::quiet_NaN());
}

Text Fields::required_text(std::string_view key, std::string_view help) {
    if (!has(key))
        missing({std::string(key)}, "missing-key", fmt::format("{} has no `{}`", what_, key),
                std::string(help));
    return text(key).value_or(Text{"", where_});
}

std::optional<int> Fields::required_choice(std::string_view key,
                                           const std::vector<std::string> &choices,
                                           std::string_view help) {
    if (!has(key))
        missing({std::string(key)}, "missing-key", fmt::format("{} has no `{}`", what_, key),
                std::string(help));
    return choice(key, choices);
}

void Fields::missing(std::vector<std::string> keys, std::string code, std::string message,
                     std::string help) {
    if (usable())
        missing_.push_back(
            {std::move(keys),
             {Severity::Error, std::move(code), std::move(message), where_, std::move(help)}});
}

bool Fields::exactly_one(const std::vector<std::string> &keys, std::string_view help) {
    int present = 0;
    Place second = where_;
    for (const std::string &key : keys)
        if (has(key) && ++present == 2)
            second = key_place(key);
    if (!usable() || present == 1)
        return present == 1;
    if (present == 0)
        missing(keys, "missing-key", fmt::format("{} needs one of {}", what_, quoted_list(keys)),
                std::string(help));
    else
        diagnostics_.error("one-too-many", second,
                           fmt::format("{} takes only one of {}", what_, quoted_list(keys)),
                           std::string(help));
    return false;
}

bool Fields::finish() {
    if (entry_ == nullptr)
        return true;
    std::sort(known_.begin(), known_.end());
    known_.erase(std::unique(known_.begin(), known_.end()), known_.end());
    bool clear = true;
    for (const Pair &pair : entry_->pairs) {
        if (std::binary_search(known_.begin(), known_.end(), pair.key))
            continue;
        const std::string near = nearest(pair.key, known_);
        clear = clear && near.empty();
        diagnostics_.error("unknown-key", pair.key_place,
                           fmt::format("{} has no key `{}`", what_, pair.key),
                           near.empty() ? fmt::format("known keys: {}", quoted_list(known_))
                                        : fmt::format("did you mean `{}`?", near));
        std::erase_if(missing_, [&](const Missing &m) {
            return std::find(m.keys.begin(), m.keys.end(), near) != m.keys.end();
        });
    }
    for (Missing &m : missing_)
        diagnostics_.error(std::move(m.fault.code), m.fault.place, std::move(m.fault.message),
                           std::move(m.fault.help));
    missing_.clear();
    return clear;
}

const std::vector<std::unique_ptr<Entry>> *read_list(Fields &fields, std::string_view key,
                                                     Diagnostics &diagnostics) {
    const Entry *entry = fields.child(key);
    if (entry == nullptr)
        return nullptr;
    if (!entry->is_list()) {
        diagnostics.error("not-a-list", entry->place,
                          fmt::format("`{}` must be a list, but is {}", key, kind_name(*entry)),
                          "start each item with `- `, or write `[a, b]`");
        return nullptr;
    }
    return &entry->items;
}

} // namespace headroom::networks
