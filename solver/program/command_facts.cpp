#include "solver/program/command_facts.hpp"

#include "solver/program/command_line.hpp"
#include "solver/program/commands.hpp"

namespace headroom::solver {
namespace {

OptionFacts facts_of(const CLI::Option &option) {
    OptionFacts out;
    for (const std::string &name : option.get_snames())
        out.names.push_back("-" + name);
    for (const std::string &name : option.get_lnames())
        out.names.push_back("--" + name);
    if (out.names.empty())
        out.names.push_back(option.get_name());
    out.what = option.get_description();
    const std::string type = option.get_type_name(); // "N:INT in [0 - 9]": checks follow
    out.value = option.get_items_expected_max() > 0 ? type.substr(0, type.find(':')) : "";
    out.choices = choices(option);
    out.required = option.get_required();
    return out;
}

std::vector<OptionFacts> options_of(CLI::App &app, bool positional) {
    std::vector<OptionFacts> out;
    for (const CLI::Option *option : app.get_options())
        if (option->nonpositional() != positional)
            out.push_back(facts_of(*option));
    return out;
}

} // namespace

std::vector<CommandFacts> command_facts() {
    CommandLine line;
    std::vector<CommandFacts> out;
    for (std::size_t i = 0; i < commands().size(); ++i) {
        const Command &command = commands()[i];
        CLI::App &app = *line.questions()[i];
        out.push_back({command.name, command.what, command.example, options_of(app, true),
                       options_of(app, false)});
    }
    return out;
}

std::vector<OptionFacts> general_options() {
    CommandLine line;
    return options_of(line.app(), false);
}

} // namespace headroom::solver
