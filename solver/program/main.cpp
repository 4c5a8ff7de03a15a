#include "networks/document.hpp"
#include "networks/reader.hpp"
#include "solver/program/arguments.hpp"
#include "solver/program/commands.hpp"
#include "solver/questions/lay.hpp"

#include <csignal>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <string>
#include <utility>

namespace {

using namespace headroom;
using solver::Arguments;
using solver::ExitCode;

// The house of a file; its faults go to standard error.
std::optional<networks::House> load(const std::string &file) {
    std::error_code code;
    std::ifstream stream(file, std::ios::binary);
    if (!stream || std::filesystem::is_directory(file, code)) {
        fmt::print(stderr,
                   "error[no-file]: cannot read `{}`\nhelp: check the name and the permissions\n",
                   file);
        return std::nullopt;
    }
    // One byte more than is accepted, so that an endless file is refused and not swallowed whole.
    std::string text(networks::most_bytes + 1, '\0');
    stream.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(stream.gcount()));
    const networks::SourceText source{file, std::move(text)};
    networks::Diagnostics diagnostics;
    std::optional<networks::House> house = networks::read_house(source.text, diagnostics);
    for (const networks::Diagnostic &diagnostic : diagnostics.sorted())
        fmt::print(stderr, "{}\n", networks::render(diagnostic, source));
    return house;
}

// The house asked for: the base, or one of its proposals.
const networks::House *chosen(const networks::House &base, const std::string &proposal) {
    if (proposal.empty())
        return &base;
    std::vector<std::string> names;
    for (const networks::Proposal &known : base.proposals) {
        if (known.name == proposal)
            return known.house.get();
        names.push_back(known.name);
    }
    const std::string near = networks::nearest(proposal, names);
    fmt::print(stderr, "error[unknown-proposal]: the file has no proposal `{}`\nhelp: {}\n",
               proposal,
               names.empty()  ? "name one under `proposals:`"
               : near.empty() ? fmt::format("it has {}", fmt::join(names, ", "))
                              : fmt::format("did you mean `{}`?", near));
    return nullptr;
}

ExitCode run(const Arguments &arguments) {
    const auto base = load(arguments.file);
    if (!base)
        return ExitCode::bad_input;
    const networks::House *house = chosen(*base, arguments.proposal);
    if (house == nullptr)
        return ExitCode::bad_input;
    if (arguments.command->takes_base)
        house = &*base;
    return arguments.command->run(solver::lay(*house), arguments);
}

} // namespace

int main(int argc, char **argv) {
    std::signal(SIGPIPE, SIG_IGN); // a closed pipe is a failed write, not a silent death
    try {
        const solver::Parsed parsed = solver::parse_arguments(argc, argv);
        return parsed.arguments ? run(*parsed.arguments) : parsed.exit_code;
    } catch (const std::exception &fault) {
        fmt::print(stderr,
                   "error[program-fault]: {}\nhelp: this is a fault of headroom; please report it "
                   "with the house file\n",
                   fault.what());
        return solver::ExitCode::program_fault;
    }
}
