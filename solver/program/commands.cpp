#include "solver/program/commands.hpp"

#include "solver/heat/emission.hpp"
#include "solver/program/batch.hpp"
#include "solver/program/complaint.hpp"
#include "solver/program/completion.hpp"
#include "solver/program/explain.hpp"
#include "solver/program/load.hpp"
#include "solver/program/man_page.hpp"
#include "solver/program/new_house.hpp"
#include "solver/program/output.hpp"
#include "solver/program/progress.hpp"
#include "solver/questions/lay.hpp"
#include "solver/questions/least_changes.hpp"
#include "solver/questions/sheet.hpp"
#include "solver/questions/site_readings.hpp"
#include "solver/report/dress.hpp"
#include "solver/report/sheet_report.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <thread>

namespace headroom::solver {
namespace {

using networks::House;

ExitCode written(const std::string &text, const Arguments &arguments,
                 ExitCode code = ExitCode::answered) {
    const TextLook &look = arguments.look;
    return write_output(dressed(text, look.form, look.colour), arguments.output,
                        arguments.text.colour)
               ? code
               : ExitCode::cannot_write;
}

ExitCode not_solved(const Outcome &outcome, const Arguments &arguments) {
    complain(failure_text(outcome), arguments.text.colour);
    return ExitCode::could_not_solve;
}

ExitCode not_asked(const std::string &why, const Arguments &arguments, std::string_view help) {
    complain(
        fmt::format("error[nothing-to-judge]: {}\n  --> {}\nhelp: {}\n", why, arguments.file, help),
        arguments.text.colour);
    return ExitCode::bad_input;
}

// With every floor section worked out, once for all the houses that an answer makes of this one.
House with_floors(House house) {
    with_responses(house);
    return house;
}

SearchLimits search_limits(const Arguments &arguments) {
    SearchLimits limits;
    limits.most_judged = arguments.solves;
    return limits;
}

void search_options(CLI::App &app, Arguments &arguments) {
    app.add_option("--solves", arguments.solves,
                   "most houses to solve in search of the least changes; 0 for no search")
        ->type_name("N")
        ->check(CLI::Range(0, 1000000));
}

DriveAnswer searched(const House &house, const Arguments &arguments) {
    ProgressLine progress("houses solved for the least changes");
    return drive_with_changes(house, search_limits(arguments),
                              [&](int judged) { progress.show(judged); });
}

ExitCode run_drive(const House &given, const Arguments &arguments) {
    if (const std::string why = why_not_driven(given); !why.empty())
        return not_asked(why, arguments, "use `headroom flows` for a network without a verdict");
    const House house = with_floors(given);
    DriveAnswer answer = searched(house, arguments);
    if (answer.verdict == Verdict::NotSolved)
        return not_solved(answer.outcome, arguments);
    if (arguments.tolerance) {
        ProgressLine progress("houses drawn within the tolerances");
        answer.how_sure =
            how_sure(house, arguments.samples, std::max(1u, std::thread::hardware_concurrency()),
                     [&](int done) { progress.show(done); });
    }
    return written(report(answer, arguments.format), arguments,
                   answer.verdict == Verdict::Yes ? ExitCode::answered : ExitCode::verdict_no);
}

void drive_options(CLI::App &app, Arguments &arguments) {
    search_options(app, arguments);
    app.add_flag("--tolerance", arguments.tolerance,
                 "repeat the verdict over houses drawn within the tolerances: how sure it is");
    app.add_option("--samples", arguments.samples, "how many, for --tolerance")
        ->type_name("N")
        ->check(CLI::Range(10, 1000000));
}

ExitCode run_balance(const House &house, const Arguments &arguments) {
    if (const std::string why = why_not_driven(house); !why.empty())
        return not_asked(why, arguments, "only loops and radiators on a source can be balanced");
    if (const std::string loop = loop_not_laid(house); !loop.empty())
        return not_asked(
            fmt::format("a meter of `{}` was read, but the program laid no such loop", loop),
            arguments, "`headroom drive` lists the loops as laid");
    BalanceAnswer answer =
        balance(house, arguments.single_circulator ? BalanceScope::SingleCirculator
                                                   : BalanceScope::AsDrawn);
    if (!answer.outcome.converged()) {
        answer.outcome.explanation = answer.state + ": " + answer.outcome.explanation;
        return not_solved(answer.outcome, arguments);
    }
    return written(report(answer, arguments.format), arguments);
}

void balance_options(CLI::App &app, Arguments &arguments) {
    app.add_flag("--single-circulator", arguments.single_circulator,
                 "take out every pump but the source's, mixers and header first");
}

ExitCode run_bores(const House &house, const Arguments &arguments) {
    if (const std::string why = why_no_bores(house); !why.empty())
        return not_asked(why, arguments, "use `headroom drive` or `headroom flows`");
    const BorePipes pipes = bore_pipes(house, arguments.pipes);
    if (!pipes.fault.empty()) {
        complain("arguments", pipes.fault, pipes.help, arguments.text.colour);
        return ExitCode::bad_input;
    }
    ProgressLine progress("bores done");
    const BoresAnswer answer = bores(with_floors(house), pipes, search_limits(arguments),
                                     [&](int done) { progress.show(done); });
    if (!answer.outcome.converged())
        return not_solved(answer.outcome, arguments);
    return written(report(answer, arguments.format), arguments);
}

void bores_options(CLI::App &app, Arguments &arguments) {
    app.add_option("--pipe", arguments.pipes,
                   "a pipe to compare, such as `pex 12x1.4`; may be given several times")
        ->type_name("NAME");
    search_options(app, arguments);
}

ExitCode run_convert(const House &base, const Arguments &arguments) {
    const Conversion conversion = converted_house(base, arguments.proposal);
    if (!conversion.house)
        return not_asked(conversion.why_not, arguments, conversion.help);
    if (const std::string why = why_not_driven(base); !why.empty())
        return not_asked(why, arguments, "use `headroom drive` with --proposal");
    ProgressLine progress("houses solved for the least changes");
    const ConvertAnswer answer =
        convert(with_floors(base), with_floors(*conversion.house), search_limits(arguments),
                [&](int judged) { progress.show(judged); });
    if (!answer.outcome.converged())
        return not_solved(answer.outcome, arguments);
    return written(report(answer, arguments.format), arguments,
                   answer.feasible == Feasible::Yes ? ExitCode::answered : ExitCode::verdict_no);
}

ExitCode run_drill(const House &house, const Arguments &arguments) {
    if (const std::string why = why_not_driven(house); !why.empty())
        return not_asked(why, arguments, "use `headroom flows` for a network without faults");
    const DrillAnswer answer = drill(house);
    if (!answer.outcome.converged())
        return not_solved(answer.outcome, arguments);
    return written(report(answer, arguments.format), arguments,
                   !answer.missing.empty()    ? ExitCode::verdict_no
                   : !answer.unsolved.empty() ? ExitCode::could_not_solve
                                              : ExitCode::answered);
}

ExitCode run_flows(const House &house, const Arguments &arguments) {
    const FlowsAnswer answer = flows(house);
    if (!answer.outcome.converged())
        return not_solved(answer.outcome, arguments);
    return written(report(answer, arguments.format), arguments);
}

ExitCode run_losses(const House &house, const Arguments &arguments) {
    if (house.rooms.empty())
        return not_asked("the file has no `rooms`, so there is no loss to work out", arguments,
                         "list the rooms with their fabric and air changes, or surveyed losses");
    return written(report(losses(house), arguments.format), arguments);
}

ExitCode run_emitters(const House &house, const Arguments &arguments) {
    if (const std::string why = why_no_emitters(house); !why.empty())
        return not_asked(why, arguments,
                         "describe `floors:` and name one at each loop, or give radiators their "
                         "`output:`; see networks/examples/warm-floor.yaml");
    return written(report(emitters(house), arguments.format), arguments);
}

ExitCode run_season(const House &house, const Arguments &arguments) {
    if (const std::string why = why_no_season(house); !why.empty())
        return not_asked(
            why, arguments,
            "the year needs a source, `design_day: {outdoor: -3 degC}` and what heats");
    return written(report(season(house), arguments.format), arguments);
}

ExitCode run_hot_water(const House &house, const Arguments &arguments) {
    if (const auto missing = missing_for_hot_water(house); !missing.empty())
        return not_asked(fmt::format("for hot water the file lacks {}", fmt::join(missing, ", ")),
                         arguments,
                         "describe the cylinder, such as `store: 210 l`, `cold: 10 degC`, "
                         "`store_to: 50 degC` and `coil: {ua: 900 W/K, ...}`, and what the source "
                         "gives; see networks/examples/cylinder.yaml");
    const HotWaterAnswer answer = hot_water(house);
    if (!answer.outcome.converged())
        return not_solved(answer.outcome, arguments);
    return written(report(answer, arguments.format), arguments);
}

ExitCode run_fill(const House &house, const Arguments &arguments) {
    if (const std::string why = why_not_filled(house); !why.empty())
        return not_asked(why, arguments, "use `headroom flows` for its flows and pressures");
    const FillAnswer answer = fill(house);
    if (!answer.outcome.converged())
        return not_solved(answer.outcome, arguments);
    return written(report(answer, arguments.format), arguments);
}

ExitCode run_commission(const House &house, const Arguments &arguments) {
    if (const std::string why = why_not_driven(house); !why.empty())
        return not_asked(why, arguments, "commissioning needs a source and its loops or radiators");
    if (const std::string why = why_not_filled(house); !why.empty())
        return not_asked(why, arguments, "commissioning is for a closed heating system");
    const CommissionAnswer answer = commission(with_floors(house));
    if (!answer.outcome.converged())
        return not_solved(answer.outcome, arguments);
    return written(report(answer, arguments.format), arguments);
}

ExitCode run_pump(const House &house, const Arguments &arguments) {
    if (const std::string why = why_not_driven(house); !why.empty())
        return not_asked(why, arguments, "use `headroom flows` for a network without a source");
    const PumpAnswer answer = pumps(with_floors(house));
    if (!answer.outcome.converged())
        return not_solved(answer.outcome, arguments);
    return written(report(answer, arguments.format), arguments);
}

ExitCode run_cost(const House &house, const Arguments &arguments) {
    return written(report(cost(house), arguments.format), arguments);
}

void batch_options(CLI::App &app, Arguments &arguments) {
    app.add_option("folder", arguments.file, "folder of house files (.yaml, .yml)")->required();
    app.add_option("--shard", arguments.shard,
                   "take every n-th file from the i-th on, to spread a folder over machines")
        ->type_name("I/N");
}

void compare_options(CLI::App &app, Arguments &arguments) {
    app.add_option("--with", arguments.with, "a second house file to set beside this one")
        ->type_name("FILE");
}

ExitCode run_compare(const House &house, const Arguments &arguments) {
    if (arguments.with.empty() && house.proposals.empty())
        return not_asked("the file has no `proposals` and there is no second file", arguments,
                         "name a proposal in the file, or compare `--with` another file");
    if (arguments.with.empty())
        return written(report(compare(house, nullptr), arguments.format), arguments);
    std::optional<House> other = load_house(arguments.with, arguments.text.colour);
    if (!other)
        return ExitCode::bad_input;
    other->text_form = house.text_form;
    const House beside = lay(*other);
    return written(report(compare(house, &beside), arguments.format), arguments);
}

ExitCode run_sheet(const House &house, const Arguments &arguments) {
    if (const std::string why = why_not_driven(house); !why.empty())
        return not_asked(why, arguments, "a sheet is made for a house that `drive` can judge");
    if (arguments.format != Format::Text) {
        complain("arguments", "a sheet is an HTML page and has no other form",
                 "leave `--format` out", arguments.text.colour);
        return ExitCode::bad_input;
    }
    ProgressLine progress("houses solved for the least changes");
    const SheetAnswer answer = sheet(with_floors(house), search_limits(arguments),
                                     [&](int judged) { progress.show(judged); });
    if (answer.drive.verdict == Verdict::NotSolved)
        return not_solved(answer.drive.outcome, arguments);
    return written(sheet_page(answer, HEADROOM_VERSION), arguments);
}

constexpr std::array table{
    Command{"drive", "Can the source's one circulator drive every loop and radiator?",
            "headroom drive networks/examples/direct-16mm.yaml", run_drive, drive_options},
    Command{"balance",
            "Every valve's setting, the order, what the meters read; faults from readings",
            "headroom balance networks/examples/direct-16mm.yaml", run_balance, balance_options},
    Command{"bores", "The same rooms laid in each bore, side by side",
            "headroom bores networks/examples/direct-16mm.yaml", run_bores, bores_options},
    Command{"convert", "A heat pump put in, header, pumps and mixers out: does the house work?",
            "headroom convert networks/examples/conversion.yaml", run_convert, search_options,
            true},
    Command{"drill", "What each single fault does, and whether something stops the harm",
            "headroom drill networks/examples/header-protected.yaml", run_drill},
    Command{"flows", "Flows, pressures and temperatures of the network as it stands",
            "headroom flows networks/examples/direct-16mm.yaml --format csv", run_flows},
    Command{"losses", "Heat loss of each room on the design day",
            "headroom losses networks/examples/fabric-losses.yaml", run_losses},
    Command{"emitters", "How each floor and radiator comes to its output, factor by factor",
            "headroom emitters networks/examples/warm-floor.yaml", run_emitters},
    Command{"season", "Weather curve, and a year's heat, energy, cost, CO2 and cycling",
            "headroom season networks/examples/warm-floor.yaml", run_season},
    Command{"hotwater", "Reheat of the cylinder, its coil, and the rooms meanwhile",
            "headroom hotwater networks/examples/cylinder.yaml", run_hot_water},
    Command{"fill", "Water in the system, expansion vessel, pressures, additives, flushing",
            "headroom fill networks/examples/cylinder.yaml", run_fill},
    Command{"commission", "Tests, screed warm-up, set points and a meter table for the site",
            "headroom commission networks/examples/cylinder.yaml", run_commission},
    Command{"pump", "Duty and power of each pump, the circulator's setting, header flows",
            "headroom pump networks/examples/header-three-pumps.yaml", run_pump},
    Command{"cost", "Quantities and cost of the house and its proposals, and of zones",
            "headroom cost networks/examples/conversion.yaml", run_cost, nullptr, true},
    Command{"compare", "The house and its proposals, or another file's, side by side",
            "headroom compare networks/examples/conversion.yaml", run_compare, compare_options,
            true},
    Command{"sheet", "One HTML page to hand over: drawings, settings, inputs, sources",
            "headroom sheet networks/examples/warm-floor.yaml -o house.html", run_sheet,
            search_options},
    Command{"batch", "The verdict of every house file under a folder, a row each",
            "headroom batch networks/examples --format csv", batch, batch_options},
    Command{"explain", "What a trade word, a key of the house file or a fault's code means",
            "headroom explain index circuit", run_explain, explain_options},
    Command{"new", "A first house file from a few answers, with what is to be checked marked",
            "headroom new --name \"Quayside Cottage\" --source heat_pump --circuits direct "
            "--outdoor \"-3 degC\" --rooms \"kitchen=22 m2, hall=9 m2\" --loop-pipe \"pex 16x2\"",
            run_new, new_options, false, false},
    Command{"completion", "Completion of commands, options and files, for a shell to read",
            "headroom completion bash", run_completion, completion_options, false, false},
    Command{"man", "The manual page headroom(1), for `man -l` or to be installed", "headroom man",
            run_man, nullptr, false, false},
};

} // namespace

std::span<const Command> commands() {
    return table;
}

} // namespace headroom::solver
