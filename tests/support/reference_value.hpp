// A matcher for a value taken from outside the project. What it prints on failure names the
// source, so that a failing check says at once which document is contradicted.
#pragma once

#include "tests/support/record.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <sstream>
#include <string>
#include <utility>

namespace headroom::tests {

/// Value, relative tolerance and citation. `printed_half_digit` is half of the last printed digit
/// where the source prints so few digits that rounding alone exceeds the tolerance.
struct ReferenceValue {
    double value;
    double relative_tolerance;
    std::string source;
    double printed_half_digit = 0.0;
};

class AgreesWith : public Catch::MatcherBase<double> {
public:
    explicit AgreesWith(ReferenceValue reference) : reference_(std::move(reference)) {}

    bool match(const double &actual) const override {
        const double allowed = std::fmax(reference_.relative_tolerance * std::abs(reference_.value),
                                         reference_.printed_half_digit);
        record(reference_.source, reference_.value, actual, allowed);
        // Not written as "deviation > allowed", so that not-a-number never agrees.
        return std::abs(actual - reference_.value) <= allowed;
    }

    std::string describe() const override {
        std::ostringstream text;
        text.precision(15);
        text << "agrees with " << reference_.value << " to " << reference_.relative_tolerance
             << " relative";
        if (reference_.printed_half_digit > 0.0)
            text << " or its last printed digit (+-" << reference_.printed_half_digit << ")";
        text << " [" << reference_.source << "]";
        return text.str();
    }

private:
    ReferenceValue reference_;
};

inline AgreesWith agrees_with(double value, double relative_tolerance, std::string source,
                              double printed_half_digit = 0.0) {
    return AgreesWith({value, relative_tolerance, std::move(source), printed_half_digit});
}

} // namespace headroom::tests
