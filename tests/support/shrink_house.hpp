// A house file that shows a fault, made small.
#pragma once

#include <functional>
#include <string>

namespace headroom::tests {

/// The text without whatever can be left out of it while `fails` stays true: sections, rooms, runs,
/// manifolds, loops and radiators, each with its further lines and, where that alone does not do,
/// with every entry that names it. Nothing more can be taken from the result in one such step.
/// `fails` must hold for the text given, and be false for texts that are not a house.
/// The text is laid out as random_house_text lays it out: an entry a line or a dash, two blanks a
/// level.
std::string shrunk_house(const std::string &text,
                         const std::function<bool(const std::string &)> &fails);

} // namespace headroom::tests
