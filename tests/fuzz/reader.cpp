// Any bytes as a house file: read, with every fault rendered.
#include "networks/reader.hpp"
#include "tests/fuzz/fuzz.hpp"

#include <cstddef>
#include <cstdint>

using namespace headroom;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t *data, std::size_t size) {
    const networks::SourceText source{"house.yaml",
                                      std::string(reinterpret_cast<const char *>(data), size)};
    networks::Diagnostics diagnostics;
    const auto house = networks::read_house(source.text, diagnostics);
    fuzz::must(house.has_value() != diagnostics.has_errors(),
               "a file has a fault or is a house, never both or neither");
    for (const networks::Diagnostic &fault : diagnostics.sorted())
        fuzz::must(!networks::render(fault, source).empty(), "a fault has words");
    return 0;
}
