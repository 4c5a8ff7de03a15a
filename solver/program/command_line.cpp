#include "solver/program/command_line.hpp"

#include "solver/program/commands.hpp"
#include "solver/program/exit_code.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <sstream>

namespace headroom::solver {
namespace {

std::string exit_codes() {
    std::string out = "Exit codes:";
    for (const ExitMeaning &exit : exit_meanings)
        out += fmt::format("{} {} {}", exit.code == exit_meanings.front().code ? "" : ",",
                           static_cast<int>(exit.code), exit.meaning);
    return out + ".";
}

} // namespace

CommandLine::CommandLine()
    : app_("headroom: what is left of the pump's head once every loop has what it needs",
           "headroom") {
    app_.set_version_flag("--version", std::string("headroom ") + HEADROOM_VERSION);
    app_.require_subcommand(1);
    app_.footer(exit_codes());
    for (const Command &command : commands()) {
        CLI::App *question = app_.add_subcommand(command.name, command.what);
        if (command.reads_house())
            question->add_option("file", arguments.file, "house file (YAML)")
                ->type_name("FILE")
                ->required();
        if (command.has_formats)
            question->add_option("--format", format, "form of the answer")
                ->type_name("text|json|csv");
        question->add_option("-o,--output", arguments.output, "write to this file instead")
            ->type_name("FILE");
        if (command.reads_house())
            question
                ->add_option("--proposal", arguments.proposal,
                             "answer for this proposal of the file, not its base")
                ->type_name("NAME");
        if (command.states_figures()) {
            add_text_options(*question, arguments.text);
            question->add_flag("--watch", arguments.watch,
                               "answer again whenever the file is saved; Ctrl-C ends it");
        }
        if (command.options != nullptr)
            command.options(*question, arguments);
        question->footer(fmt::format("Example: {}", command.example));
        questions_.push_back(question);
    }
}

const Command *CommandLine::chosen() const {
    for (std::size_t i = 0; i < questions_.size(); ++i)
        if (questions_[i]->parsed())
            return &commands()[i];
    return nullptr;
}

std::vector<std::string> choices(const CLI::Option &option) {
    std::string type = option.get_type_name();
    type.resize(std::min(type.find(':'), type.size())); // checks follow
    std::vector<std::string> out;
    if (type.find('|') == std::string::npos)
        return out;
    std::istringstream words(type);
    for (std::string word; std::getline(words, word, '|');)
        out.push_back(word);
    return out;
}

} // namespace headroom::solver
