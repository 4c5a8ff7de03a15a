#include "networks/document.hpp"

#include "networks/utf8.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <map>
#include <optional>
#include <sstream>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/yaml.h>

namespace headroom::networks {
namespace {

constexpr std::size_t most_bytes = 4U << 20U;
constexpr std::size_t most_entries = 200'000;
constexpr std::size_t most_depth = 24;

struct Refused {};

// What the parser says when it can go no further, in the words of someone who writes house files.
struct SyntaxFault {
    std::string_view parser;
    std::string_view message;
    std::string_view help;
    bool at_bracket = false; ///< the fault is the last opened bracket, not where the parser stopped
};
constexpr std::array syntax_faults{
    SyntaxFault{"end of map flow not found", "this bracket is never closed",
                "close it with `}`, or put a comma before the next key", true},
    SyntaxFault{"end of sequence flow not found", "this bracket is never closed",
                "close it with `]`, or put a comma before the next item", true},
    SyntaxFault{"illegal block entry", "a list item stands where none can",
                "give the `- ` of all items of a list the same indentation"},
    SyntaxFault{"illegal flow end", "this bracket does not close the last one opened",
                "every `{` needs its `}` and every `[` its `]`"},
    SyntaxFault{"illegal map value", "a `:` stands where no key can end",
                "indent the keys of one map equally, put a space after each `:`, and quote a text "
                "that holds `: `"},
    SyntaxFault{"end of map not found", "this line fits no map above it",
                "indent the keys of one map equally"},
    SyntaxFault{"end of sequence not found", "this line fits no list above it",
                "give the `- ` of all items of a list the same indentation"},
    SyntaxFault{"the referenced anchor is not defined", "aliases (`*name`) are not accepted",
                "write the value out"},
    SyntaxFault{"illegal EOF in scalar", "the file ends inside quotes",
                "close them with the same quote that opened them"},
};

class TreeBuilder final : public YAML::EventHandler {
public:
    TreeBuilder(std::string_view text, Diagnostics &diagnostics)
        : text_(text), diagnostics_(diagnostics) {
        line_starts_.push_back(0);
        for (std::size_t i = 0; i < text.size(); ++i)
            if (text[i] == '\n')
                line_starts_.push_back(i + 1);
    }

    std::unique_ptr<Entry> take_root() { return std::move(root_); }

    void OnDocumentStart(const YAML::Mark &mark) override {
        if (root_)
            refuse(mark, "second-document", "a second document starts here",
                   "keep one house in one file and remove the `---` between them");
    }
    void OnDocumentEnd() override {}

    void OnNull(const YAML::Mark &mark, YAML::anchor_t anchor) override {
        refuse_anchor(mark, anchor);
        add(make(Entry::Kind::Null, mark));
    }
    void OnAlias(const YAML::Mark &mark, YAML::anchor_t) override {
        refuse(mark, "alias", "aliases (`*name`) are not accepted", "write the value out");
    }
    void OnScalar(const YAML::Mark &mark, const std::string &tag, YAML::anchor_t anchor,
                  const std::string &value) override {
        refuse_anchor(mark, anchor);
        refuse_tag(mark, tag);
        const int quotes = tag == "!" ? 2 : 0;
        auto entry = make(Entry::Kind::Scalar, mark, characters(value) + quotes);
        entry->scalar = value;
        entry->quoted = tag == "!";
        if (value.empty() && !entry->quoted)
            entry->kind = Entry::Kind::Null;
        add(std::move(entry));
    }
    void OnSequenceStart(const YAML::Mark &mark, const std::string &tag, YAML::anchor_t anchor,
                         YAML::EmitterStyle::value style) override {
        open(mark, tag, anchor, Entry::Kind::List, style);
    }
    void OnSequenceEnd() override { open_.pop_back(); }
    void OnMapStart(const YAML::Mark &mark, const std::string &tag, YAML::anchor_t anchor,
                    YAML::EmitterStyle::value style) override {
        open(mark, tag, anchor, Entry::Kind::Map, style);
    }
    void OnMapEnd() override { open_.pop_back(); }

    void report(const YAML::Exception &fault) {
        Place place = place_of(fault.mark);
        if (const std::optional<Place> tab = tab_in_indentation(fault.mark.line)) {
            diagnostics_.error("tab", *tab, "a tab stands in the indentation",
                               "indent with spaces only");
            return;
        }
        const auto known =
            std::find_if(syntax_faults.begin(), syntax_faults.end(),
                         [&](const SyntaxFault &known) { return known.parser == fault.msg; });
        if (known == syntax_faults.end()) {
            diagnostics_.error("yaml-syntax", place, fmt::format("not valid YAML: {}", fault.msg),
                               "check indentation, colons, quotes and brackets on this line and "
                               "the one before");
            return;
        }
        const bool in_brackets = !open_.empty() && open_.back().brackets;
        if (in_brackets && (known->at_bracket || fault.msg == "illegal block entry")) {
            const bool list = open_.back().entry->is_list();
            const SyntaxFault &unclosed = syntax_faults[list ? 1 : 0];
            diagnostics_.error("yaml-syntax", open_.back().entry->place,
                               std::string(unclosed.message), std::string(unclosed.help));
            return;
        }
        diagnostics_.error("yaml-syntax", place, std::string(known->message),
                           std::string(known->help));
    }

private:
    struct OpenEntry {
        Entry *entry;
        bool brackets;                     // written with brackets, not by indentation
        bool key_waits = false;            // a key has been read and its value comes next
        std::map<std::string, int> keys{}; // with their lines
    };

    // The parser counts bytes; people count characters.
    Place place_of(const YAML::Mark &mark, int length = 1) {
        if (mark.line < 0)
            return {};
        const auto line = std::min(static_cast<std::size_t>(mark.line), line_starts_.size() - 1);
        const std::size_t start = line_starts_[line];
        const std::size_t end =
            std::min(start + static_cast<std::size_t>(std::max(mark.column, 0)), text_.size());
        // Counting goes on from the last place of the same line, so that one long line costs once.
        if (counted_to_ < start || counted_to_ > end) {
            counted_to_ = start;
            counted_ = 0;
        }
        counted_ += characters(text_.substr(counted_to_, end - counted_to_));
        counted_to_ = end;
        return {static_cast<int>(line) + 1, counted_ + 1, std::max(length, 1)};
    }

    // A tab among the leading blanks of the line or the one before it.
    std::optional<Place> tab_in_indentation(int line) const {
        for (int i = std::max(line - 1, 0); i <= line; ++i) {
            const auto index = static_cast<std::size_t>(i);
            if (index >= line_starts_.size())
                break;
            const std::string_view rest = text_.substr(line_starts_[index]);
            const std::size_t first = rest.find_first_not_of(" ");
            if (first != std::string_view::npos && rest[first] == '\t')
                return Place{i + 1, static_cast<int>(first) + 1, 1};
        }
        return std::nullopt;
    }

    std::unique_ptr<Entry> make(Entry::Kind kind, const YAML::Mark &mark, int length = 1) {
        if (++count_ > most_entries)
            refuse(mark, "too-large", fmt::format("more than {} values in one file", most_entries),
                   "split the house into several files");
        auto entry = std::make_unique<Entry>();
        entry->kind = kind;
        entry->place = place_of(mark, length);
        return entry;
    }

    void open(const YAML::Mark &mark, const std::string &tag, YAML::anchor_t anchor,
              Entry::Kind kind, YAML::EmitterStyle::value style) {
        refuse_anchor(mark, anchor);
        refuse_tag(mark, tag);
        if (open_.size() >= most_depth)
            refuse(mark, "too-deep", fmt::format("nested more than {} levels deep", most_depth),
                   "no part of a house needs this; look for a stray bracket");
        Entry *opened = add(make(kind, mark));
        open_.push_back({opened, style == YAML::EmitterStyle::Flow});
    }

    Entry *add(std::unique_ptr<Entry> entry) {
        Entry *raw = entry.get();
        if (open_.empty()) {
            root_ = std::move(entry);
            return raw;
        }
        OpenEntry &parent = open_.back();
        if (parent.entry->kind == Entry::Kind::List) {
            parent.entry->items.push_back(std::move(entry));
            return raw;
        }
        if (parent.key_waits) {
            // A value left out has no place of its own.
            if (raw->kind == Entry::Kind::Null)
                raw->place = parent.entry->pairs.back().key_place;
            parent.entry->pairs.back().value = std::move(entry);
            parent.key_waits = false;
            return raw;
        }
        if (raw->kind != Entry::Kind::Scalar) {
            diagnostics_.error("key-not-text", raw->place, "a key must be a word or words",
                               "quote it, or look for a stray `:` or bracket");
            throw Refused{};
        }
        const auto [first, fresh] = parent.keys.try_emplace(raw->scalar, raw->place.line);
        if (!fresh)
            diagnostics_.error(
                "duplicate-key", raw->place,
                fmt::format("`{}` stands twice here, first on line {}", raw->scalar, first->second),
                "remove or rename one of them");
        parent.entry->pairs.push_back({raw->scalar, raw->place, nullptr});
        parent.key_waits = true;
        return raw;
    }

    [[noreturn]] void refuse(const YAML::Mark &mark, std::string code, std::string message,
                             std::string help) {
        diagnostics_.error(std::move(code), place_of(mark), std::move(message), std::move(help));
        throw Refused{};
    }
    void refuse_anchor(const YAML::Mark &mark, YAML::anchor_t anchor) {
        if (anchor != YAML::NullAnchor)
            refuse(mark, "anchor", "anchors (`&name`) are not accepted", "write the value out");
    }
    void refuse_tag(const YAML::Mark &mark, const std::string &tag) {
        if (!tag.empty() && tag != "?" && tag != "!")
            refuse(mark, "tag", "type tags (`!name`) are not accepted", "remove the tag");
    }

    std::string_view text_;
    std::vector<std::size_t> line_starts_;
    std::size_t counted_to_ = 0; // bytes of text_
    int counted_ = 0;            // characters from the line's start to there
    Diagnostics &diagnostics_;
    std::unique_ptr<Entry> root_;
    std::vector<OpenEntry> open_;
    std::size_t count_ = 0;
};

} // namespace

const Entry *Entry::find(std::string_view key) const {
    for (const Pair &pair : pairs)
        if (pair.key == key)
            return pair.value.get();
    return nullptr;
}

std::unique_ptr<Entry> parse_document(const std::string &text, Diagnostics &diagnostics) {
    if (text.size() > most_bytes) {
        diagnostics.error("too-large", {},
                          fmt::format("the file has more than {} MiB", most_bytes >> 20U),
                          "a house takes a few kilobytes; is this the right file?");
        return nullptr;
    }
    if (text.find('\0') != std::string::npos) {
        diagnostics.error("not-text", {}, "the file holds zero bytes, so it is not a text file",
                          "save it as plain UTF-8 text");
        return nullptr;
    }
    const std::string_view body = without_byte_order_mark(text);
    if (const std::size_t bad = first_invalid_utf8(body); bad != std::string_view::npos) {
        const std::string_view before = body.substr(0, bad);
        const std::size_t newline = before.rfind('\n');
        const std::size_t start = newline == std::string_view::npos ? 0 : newline + 1;
        const auto line = std::count(before.begin(), before.end(), '\n');
        diagnostics.error("not-text",
                          {static_cast<int>(line) + 1, characters(before.substr(start)) + 1, 1},
                          "this byte is not UTF-8 text", "save the file as plain UTF-8 text");
        return nullptr;
    }
    TreeBuilder builder(body, diagnostics);
    try {
        std::istringstream stream{std::string(body)};
        YAML::Parser parser(stream);
        if (!parser.HandleNextDocument(builder)) {
            diagnostics.error("empty-file", {}, "the file is empty",
                              "start from one of the example houses");
            return nullptr;
        }
        parser.HandleNextDocument(builder); // refused if there is one
    } catch (const Refused &) {
        return nullptr;
    } catch (const YAML::Exception &fault) {
        builder.report(fault);
        return nullptr;
    }
    std::unique_ptr<Entry> root = builder.take_root();
    if (!root || !root->is_map()) {
        diagnostics.error("not-a-house", root ? root->place : Place{},
                          "a house file is a map of keys such as `house:`, `source:`, `pipework:`",
                          "start from one of the example houses");
        return nullptr;
    }
    return root;
}

} // namespace headroom::networks
