// Any text as a quantity of any dimension. The first byte picks the dimension.
#include "networks/quantity.hpp"
#include "tests/fuzz/fuzz.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>

using namespace headroom;
using networks::Dimension;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t *data, std::size_t size) {
    if (size == 0)
        return 0;
    constexpr int dimensions = static_cast<int>(Dimension::Coefficient) + 1;
    const auto dimension = static_cast<Dimension>(data[0] % dimensions);
    const std::string_view text(reinterpret_cast<const char *>(data + 1), size - 1);
    const auto parsed = networks::parse_quantity(text, dimension);
    if (const auto *fault = std::get_if<networks::QuantityFault>(&parsed)) {
        fuzz::must(!fault->message.empty() && !fault->help.empty(), "a fault names its fix");
        return 0;
    }
    const double value = std::get<double>(parsed);
    fuzz::must(std::isfinite(value), "a quantity is finite");
    if (std::abs(value) > 1e300 || std::abs(value) < 1e-300)
        return 0; // may leave the range of numbers in another unit
    const auto again = networks::parse_quantity(networks::written(value, dimension), dimension);
    fuzz::must(std::holds_alternative<double>(again), "a quantity as written is read");
    fuzz::must(std::abs(std::get<double>(again) - value) <= 1e-6 * std::abs(value),
               "a quantity as written is the same to its seven digits");
    return 0;
}
