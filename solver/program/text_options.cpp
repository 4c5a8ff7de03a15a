#include "solver/program/text_options.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cctype>
#include <charconv>
#include <cstdlib>
#include <string>
#include <sys/ioctl.h>
#include <unistd.h>

namespace headroom::solver {
namespace {

std::string environment(const char *name) {
    const char *value = std::getenv(name);
    return value == nullptr ? "" : value;
}

// The characters that programs are told to write: the first of these that is not empty decides.
bool utf8_locale() {
    for (const char *name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
        std::string value = environment(name);
        if (value.empty())
            continue;
        std::transform(value.begin(), value.end(), value.begin(),
                       [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
        return value.find("utf-8") != std::string::npos || value.find("utf8") != std::string::npos;
    }
    return false;
}

constexpr int usual_columns = 100;
constexpr int least_columns = 40; // below it no table can be set

int terminal_columns() {
    winsize size{};
    if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
        return std::max<int>(least_columns, size.ws_col);
    const std::string stated = environment("COLUMNS");
    int columns = 0;
    std::from_chars(stated.data(), stated.data() + stated.size(), columns);
    return columns > 0 ? std::max(least_columns, columns) : usual_columns;
}

void set_units(networks::TextForm &form, const std::string &words) {
    std::size_t at = 0;
    while (at <= words.size()) {
        const std::size_t end = std::min(words.find(',', at), words.size());
        const std::string word = words.substr(at, end - at);
        if (word == "kPa" || word == "head")
            form.metres_head = word == "head";
        else if (word == "l/min" || word == "m3/h")
            form.m3_h = word == "m3/h";
        else
            throw CLI::ValidationError("--units", "`" + word +
                                                      "` is none of kPa, head, l/min, m3/h; write "
                                                      "one, or two as in `head,m3/h`");
        at = end + 1;
    }
}

void set_colour(Colour &colour, const std::string &word) {
    if (word == "auto")
        colour = Colour::Auto;
    else if (word == "always")
        colour = Colour::Always;
    else if (word == "never")
        colour = Colour::Never;
    else
        throw CLI::ValidationError("--color", "`" + word + "` is none of auto, always, never");
}

} // namespace

void add_text_options(CLI::App &app, TextOptions &options) {
    app.add_option_function<std::string>(
           "--units", [&](const std::string &words) { set_units(options.form, words); },
           "units of heads and flows in text: kPa or head (metres), l/min or m3/h; two with a "
           "comma. JSON and CSV stay SI, static pressures in bar")
        ->type_name("UNITS");
    app.add_option_function<std::string>(
           "--color,--colour", [&](const std::string &word) { set_colour(options.colour, word); },
           "colour: auto is on a terminal, unless NO_COLOR is set")
        ->type_name("auto|always|never");
    app.add_flag("--ascii", options.form.ascii,
                 "plain ASCII, names too; so on a terminal whose locale is not UTF-8");
}

bool colour_on(Colour asked, int descriptor) {
    if (asked != Colour::Auto)
        return asked == Colour::Always;
    return ::isatty(descriptor) == 1 && environment("NO_COLOR").empty() &&
           environment("TERM") != "dumb";
}

TextLook text_look(const TextOptions &options, bool to_file) {
    TextLook look{options.form, options.colour == Colour::Always};
    if (to_file || ::isatty(STDOUT_FILENO) == 0)
        return look;
    look.form.columns = terminal_columns();
    look.form.ascii = look.form.ascii || !utf8_locale();
    look.colour = colour_on(options.colour, STDOUT_FILENO);
    return look;
}

} // namespace headroom::solver
