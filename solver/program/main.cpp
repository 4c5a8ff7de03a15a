#include "networks/diagnostic.hpp"
#include "solver/program/arguments.hpp"
#include "solver/program/commands.hpp"
#include "solver/program/complaint.hpp"
#include "solver/program/load.hpp"
#include "solver/program/watch.hpp"
#include "solver/questions/lay.hpp"

#include <csignal>
#include <fmt/format.h>

namespace {

using namespace headroom;
using solver::Arguments;
using solver::ExitCode;

// The house asked for: the base, or one of its proposals.
const networks::House *chosen(const networks::House &base, const std::string &proposal,
                              solver::Colour colour) {
    if (proposal.empty())
        return &base;
    std::vector<std::string> names;
    for (const networks::Proposal &known : base.proposals) {
        if (known.name == proposal)
            return known.house.get();
        names.push_back(known.name);
    }
    const std::string near = networks::nearest(proposal, names);
    solver::complain("unknown-proposal", fmt::format("the file has no proposal `{}`", proposal),
                     names.empty()  ? "name one under `proposals:`"
                     : near.empty() ? fmt::format("it has {}", fmt::join(names, ", "))
                                    : fmt::format("did you mean `{}`?", near),
                     colour);
    return nullptr;
}

// The form of text, for the house and for each of its proposals.
void set_form(networks::House &base, networks::TextForm form) {
    base.text_form = form;
    for (networks::Proposal &proposal : base.proposals) {
        auto house = std::make_shared<networks::House>(*proposal.house);
        house->text_form = form;
        proposal.house = std::move(house);
    }
}

ExitCode run(const Arguments &arguments) {
    const solver::Command &command = *arguments.command;
    if (const auto *alone = std::get_if<solver::Command::Alone>(&command.run))
        return (*alone)(arguments);
    auto base = solver::load_house(arguments.file, arguments.text.colour);
    if (!base)
        return ExitCode::bad_input;
    set_form(*base, arguments.look.form);
    const networks::House *house = chosen(*base, arguments.proposal, arguments.text.colour);
    if (house == nullptr)
        return ExitCode::bad_input;
    if (command.takes_base)
        house = &*base;
    return std::get<solver::Command::ForHouse>(command.run)(solver::lay(*house), arguments);
}

} // namespace

int main(int argc, char **argv) {
    std::signal(SIGPIPE, SIG_IGN); // a closed pipe is a failed write, not a silent death
    try {
        const solver::Parsed parsed = solver::parse_arguments(argc, argv);
        if (!parsed.arguments)
            return parsed.exit_code;
        const Arguments &arguments = *parsed.arguments;
        if (!arguments.watch)
            return run(arguments);
        std::vector<std::string> files{arguments.file};
        if (!arguments.with.empty())
            files.push_back(arguments.with);
        return solver::watch(files, [&] { return run(arguments); });
    } catch (const std::exception &fault) {
        solver::complain("program-fault", fault.what(),
                         "this is a fault of headroom; please report it with the house file",
                         solver::Colour::Auto);
        return solver::ExitCode::program_fault;
    }
}
