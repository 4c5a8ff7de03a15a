// A few figures that stand for a whole answer: two that agree in them are the same for all one may
// expect, and where they do not the place that differs is known.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace headroom::tests {

/// Of numbers and words in their order. Numbers are summed with weights of 1 to 2 that depend on
/// where they stand, so that two that change places are seen; words are hashed (64-bit FNV-1a).
class Fingerprint {
public:
    void add(double number);
    void add(std::string_view word);

    /// `numbers,sum,words,hash`, the sum to 12 digits.
    std::string row() const;
    /// Whether this is what a row says: all equal, the sum to 1e-9 of the sum of magnitudes.
    bool agrees_with(const std::string &row) const;

private:
    std::size_t numbers_ = 0, words_ = 0;
    double sum_ = 0.0, magnitude_ = 0.0;
    std::uint64_t hash_ = 0xcbf29ce484222325u;
};

/// By place, in the order of the places' names.
using Fingerprints = std::map<std::string, Fingerprint>;

/// Every figure and word of a JSON text, by its keys (`circuits[]/flow_kg_s`) and all together as
/// `name`.
void add_json(Fingerprints &prints, const std::string &name, const std::string &text);

/// A text's words and the numbers between them.
void add_text(Fingerprint &print, std::string_view text);

/// Places that are not as `tests/regression/on_file/NAME.csv` has them, one line each, or nothing.
/// HEADROOM_WRITE_REGRESSION=1 writes the file anew first.
std::vector<std::string> not_as_on_file(const Fingerprints &prints, const std::string &name);

} // namespace headroom::tests
