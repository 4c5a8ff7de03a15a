#include "solver/program/load.hpp"

#include "solver/program/complaint.hpp"

#include "networks/document.hpp"
#include "networks/reader.hpp"

#include <array>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <utility>

namespace headroom::solver {

std::optional<std::string> file_text(const std::string &file) {
    std::error_code code;
    std::ifstream stream(file, std::ios::binary);
    if (!stream || std::filesystem::is_directory(file, code))
        return std::nullopt;
    // A little more than is accepted, so that an endless file is refused and not swallowed whole.
    std::string text;
    std::array<char, 1U << 14U> piece{};
    while (stream && text.size() <= networks::most_bytes) {
        stream.read(piece.data(), piece.size());
        text.append(piece.data(), static_cast<std::size_t>(stream.gcount()));
    }
    return text;
}

std::optional<networks::House> load_house(const std::string &file, Colour colour) {
    std::optional<std::string> text = file_text(file);
    if (!text) {
        complain("no-file", fmt::format("cannot read `{}`", file),
                 "check the name and the permissions", colour);
        return std::nullopt;
    }
    const networks::SourceText source{file, std::move(*text)};
    networks::Diagnostics diagnostics;
    std::optional<networks::House> house = networks::read_house(source.text, diagnostics);
    for (const networks::Diagnostic &diagnostic : diagnostics.sorted())
        complain(networks::render(diagnostic, source) + "\n", colour);
    return house;
}

} // namespace headroom::solver
