// Faults of a file's text, keys and values.
#include "solver/terms/groups.hpp"

#include <array>

namespace headroom::solver {
namespace {

constexpr std::array terms{
    Term{"yaml-syntax", "",
         "The file's brackets, colons, quotes or indentation do not fit together, so it cannot be "
         "read as a tree. The caret stands where reading stopped; the slip may be on the line "
         "before.",
         "check that line; quote a name that holds `: ` or ` #`"},
    Term{"tab", "",
         "A tab stands in the indentation. YAML wants spaces, since a tab has no agreed width.",
         "replace it by spaces"},
    Term{"tag", "",
         "A type tag such as `!text` stands before a value. A house file needs none and they are "
         "refused.",
         "remove it"},
    Term{"anchor", "",
         "A name such as `&a` marks a value for use elsewhere. Refused: a file is to be read "
         "without following names, and short texts could otherwise grow without end.",
         "write the value out"},
    Term{"alias", "", "`*a` stands for a value marked elsewhere. Refused, as anchors are.",
         "write the value out"},
    Term{"second-document", "", "A line `---` starts a second document. One file holds one house.",
         "make two files, or write a proposal"},
    Term{"duplicate-key", "",
         "The same key stands twice in one map, so one of its values would be lost. The first line "
         "is named.",
         "remove or rename one"},
    Term{"key-not-text", "", "A key is a list, a map or empty. Keys are words.",
         "quote it, or look for a stray `?`, `:` or bracket"},
    Term{"not-text", "", "Zero bytes or bytes that are no UTF-8, or a list where a word belongs.",
         "save the file as plain UTF-8 text; write `key: some text`"},
    Term{"empty-file", "", "Nothing stands in the file.", "`headroom new` writes a starter"},
    Term{"not-a-house", "",
         "The file is valid YAML but no map of keys at its top, so it cannot be a house.",
         "`headroom new` writes a starter"},
    Term{"too-large", "",
         "More bytes, values, loops, runs or different floors than any house has. Refused before "
         "it is solved, so that a wrong or hostile file cannot exhaust the machine.",
         "check that it is the right file; split it"},
    Term{"too-deep", "", "Maps and lists nested deeper than any part of a house needs.",
         "look for a stray bracket"},
    Term{"too-long", "", "A name of more than 200 characters.",
         "shorten it; longer texts belong in comments, after `#`"},
    Term{"too-many-faults", "",
         "A hundred faults were found and reading stopped there. Most are likely to have one "
         "cause, such as a wrong indentation near the top.",
         "mend the first ones and run again"},
    Term{"unknown-key", "",
         "A key that means nothing here: misspelt, or in the wrong map. The nearest known key is "
         "offered, or all of them. Nothing is ever skipped in silence.",
         "correct or move it; `headroom explain KEY`"},
    Term{"missing-key", "",
         "Something the program cannot do without and does not guess: a length, a room's loss, a "
         "circulator's curve. The help line shows how to write it.",
         "add the key"},
    Term{"one-too-many", "",
         "Two keys say the same thing in different ways and might contradict each other.",
         "keep one"},
    Term{"not-used", "",
         "A key that can have no effect here, such as a `setting` for a pump at fixed speed. It "
         "may mean that another key is wrong.",
         "remove it, or change what it belongs to"},
    Term{"unknown-word", "", "A value is to be one of a few words and is another.",
         "choose one of those listed"},
    Term{"not-a-list", "", "A list belongs here, but there is a map or a single value.",
         "start each item with `- `, or write `[a, b]`"},
    Term{"not-a-map", "", "A map of keys belongs here, but there is a list or a single value.",
         "write `{key: value}` or indented lines"},
    Term{"not-a-value", "", "One value belongs here, but there is a list or a map.",
         "write one number with its unit"},
    Term{"not-a-count", "", "Pieces are counted in whole numbers.", "write how many there are"},
    Term{"not-a-number", "",
         "No number can be read here: a decimal comma, a stray word, two numbers.",
         "write digits with a decimal point"},
    Term{"missing-unit", "",
         "A number without its unit. The program assumes none, as mm and m, or K and degC, would "
         "turn the answer over.",
         "add the unit, such as `92 m`"},
    Term{"unknown-unit", "", "A unit the program does not know.", "write one of those listed"},
    Term{"wrong-dimension", "",
         "A unit of another kind: a length where a flow belongs, a temperature where a difference "
         "in K does.",
         "check the value and its unit"},
    Term{"not-finite", "", "A number too large or too small to reckon with.",
         "check for stray digits"},
    Term{"out-of-range", "",
         "A value outside what such a part can have, or two values in the wrong order. The range "
         "is wide: it is there to catch slips of unit and of decimal point.",
         "check the value and its unit"},
};

} // namespace

std::span<const Term> file_faults() {
    return terms;
}

} // namespace headroom::solver
