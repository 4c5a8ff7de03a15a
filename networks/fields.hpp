// Reads the keys of one map of the input. Every key asked for counts as known; finish() reports the
// rest with the nearest known key. Faults go to the collector, never to an exception, so that all
// of a file's faults are seen at once.
#pragma once

#include "networks/document.hpp"
#include "networks/quantity.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace headroom::networks {

/// Allowed closed range of a quantity in SI.
struct Range {
    double least;
    double most;
    std::string_view slip = {}; ///< what a value outside it is likely to be
};

/// A text value and where it stands.
struct Text {
    std::string value;
    Place place;
};

class Fields {
public:
    /// `what` names the map in messages, such as "loop". If `entry` is not a map, that is a fault
    /// and every key reads as absent.
    Fields(const Entry *entry, Place where, std::string what, Diagnostics &diagnostics);

    Place place() const { return where_; }
    const std::string &what() const { return what_; }
    bool usable() const { return entry_ != nullptr; }

    const Entry *child(std::string_view key);
    bool has(std::string_view key);
    Place key_place(std::string_view key) const;

    std::optional<double> quantity(std::string_view key, Dimension dimension, const Range &range);
    std::optional<double> number(std::string_view key, const Range &range);
    std::optional<int> count(std::string_view key, int least, int most);
    std::optional<bool> yes_no(std::string_view key);
    std::optional<Text> text(std::string_view key);
    /// One of `choices`, by position.
    std::optional<int> choice(std::string_view key, const std::vector<std::string> &choices);

    /// Not-a-number where the value is missing or faulty, so that no rule that compares it reports
    /// the same cause again.
    double required_quantity(std::string_view key, Dimension dimension, const Range &range,
                             std::string_view help);
    Text required_text(std::string_view key, std::string_view help);
    std::optional<int> required_choice(std::string_view key,
                                       const std::vector<std::string> &choices,
                                       std::string_view help);
    /// Exactly one of the keys must be present; reports and returns false otherwise.
    bool exactly_one(const std::vector<std::string> &keys, std::string_view help);

    /// A fault to report at finish(), unless a misspelt key turns out to stand for one of `keys`.
    void missing(std::vector<std::string> keys, std::string code, std::string message,
                 std::string help);

    /// Reports the keys nobody asked for; false if one of them looks like a known key.
    bool finish();

private:
    const Entry *entry_ = nullptr;
    Place where_;
    std::string what_;
    Diagnostics &diagnostics_;
    std::vector<std::string> known_;
    struct Missing {
        std::vector<std::string> keys;
        Diagnostic fault;
    };
    std::vector<Missing> missing_;
};

/// A quantity given as a list item or map value; the fault is reported against `what`.
std::optional<double> read_quantity(const Entry &entry, std::string_view what, Dimension dimension,
                                    const Range &range, Diagnostics &diagnostics);

/// A plain number likewise.
std::optional<double> read_number(const Entry &entry, std::string_view what, const Range &range,
                                  Diagnostics &diagnostics);

/// The list under `key`, or nothing with a fault if it is something else.
const std::vector<std::unique_ptr<Entry>> *read_list(Fields &fields, std::string_view key,
                                                     Diagnostics &diagnostics);

} // namespace headroom::networks
