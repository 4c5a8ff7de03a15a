// How text is to look: what the command line asks for, and what the terminal is.
#pragma once

#include "networks/text_form.hpp"

namespace CLI {
class App;
}

namespace headroom::solver {

enum class Colour { Auto, Always, Never };

struct TextOptions {
    networks::TextForm form; ///< units and ASCII as asked for
    Colour colour = Colour::Auto;
};

/// Adds --units, --color and --ascii.
void add_text_options(CLI::App &app, TextOptions &options);

struct TextLook {
    networks::TextForm form;
    bool colour = false;
};

/// Whether what goes to a descriptor is coloured: as asked for, or else on a terminal. NO_COLOR
/// (any value) and TERM=dumb mean no colour.
bool colour_on(Colour asked, int descriptor);

/// The look of text on standard output, or in a file: a terminal's width, colour and character set
/// count only where text goes to one.
TextLook text_look(const TextOptions &options, bool to_file);

} // namespace headroom::solver
