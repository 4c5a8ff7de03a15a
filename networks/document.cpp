#include "networks/document.hpp"

#include "networks/syntax.hpp"
#include "networks/utf8.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <optional>
#include <sstream>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/yaml.h>

namespace headroom::networks {
namespace {

constexpr std::size_t most_entries = 200'000;
constexpr std::size_t most_depth = 24;

struct Refused {};

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
        const bool quoted = tag == "!";
        const std::size_t at = byte_of_mark(mark);
        if (quoted && at < text_.size() && (text_[at] == '"' || text_[at] == '\'') &&
            !quote_closes(text_, at))
            refuse(mark, "yaml-syntax", "this quote is never closed",
                   fmt::format("end the text with `{}`", text_[at]));
        if (!quoted && ends_split_number(at, value)) {
            join_split_number(value);
            return;
        }
        auto entry = make(Entry::Kind::Scalar, mark, characters(value) + (quoted ? 2 : 0));
        entry->scalar = value;
        entry->quoted = quoted;
        if (value.empty() && !entry->quoted)
            entry->kind = Entry::Kind::Null;
        add(std::move(entry));
    }
    void OnSequenceStart(const YAML::Mark &mark, const std::string &tag, YAML::anchor_t anchor,
                         YAML::EmitterStyle::value) override {
        open(mark, tag, anchor, Entry::Kind::List);
    }
    void OnSequenceEnd() override { open_.pop_back(); }
    void OnMapStart(const YAML::Mark &mark, const std::string &tag, YAML::anchor_t anchor,
                    YAML::EmitterStyle::value) override {
        open(mark, tag, anchor, Entry::Kind::Map);
    }
    void OnMapEnd() override { open_.pop_back(); }

    void report(const YAML::Exception &fault) {
        diagnostics_.add(syntax_fault(text_, byte_of_mark(fault.mark), fault.msg));
    }
    /// What could only be judged at the end of the document.
    void finish() {
        if (!odd_key_)
            return;
        diagnostics_.error("key-not-text", *odd_key_, "a key must be a word or words",
                           "quote it, or look for a stray `?`, `:` or bracket");
        throw Refused{};
    }

private:
    struct OpenEntry {
        Entry *entry;
        bool key_waits = false;            // a key has been read and its value comes next
        bool drops_value = false;          // the empty value of what is no key comes next
        std::map<std::string, int> keys{}; // with their lines
    };

    // `{length: 90,5 m}` is a `length` of 90 and a key `5 m` to YAML; no key starts with a digit
    // right behind a comma and has no value.
    bool ends_split_number(std::size_t at, const std::string &key) const {
        if (open_.empty() || open_.back().entry->kind != Entry::Kind::Map ||
            open_.back().key_waits || open_.back().entry->pairs.empty())
            return false;
        const Entry *before = open_.back().entry->pairs.back().value.get();
        const auto digit = [](char c) { return c >= '0' && c <= '9'; };
        const std::size_t next = text_.find_first_not_of(' ', at + key.size());
        return before != nullptr && before->is_scalar() && !before->quoted &&
               digit(before->scalar.back()) && !key.empty() && digit(key.front()) && at >= 2 &&
               text_[at - 1] == ',' && text_[at - 2] == before->scalar.back() &&
               next != std::string_view::npos && (text_[next] == ',' || text_[next] == '}');
    }
    void join_split_number(const std::string &rest) {
        Entry &number = *open_.back().entry->pairs.back().value;
        number.scalar += "," + rest;
        number.place.length += 1 + characters(rest);
        open_.back().drops_value = true;
    }

    // The parser counts lines and bytes from 0.
    std::size_t byte_of_mark(const YAML::Mark &mark) const {
        const auto line = static_cast<std::size_t>(std::max(mark.line, 0));
        const auto column = static_cast<std::size_t>(std::max(mark.column, 0));
        return line < line_starts_.size() ? std::min(line_starts_[line] + column, text_.size())
                                          : text_.size();
    }

    // People count characters from 1. Counting goes on from the last place of the same line, so
    // that one long line costs once.
    Place place_of(const YAML::Mark &mark, int length = 1) {
        const std::size_t start =
            line_starts_[std::min(static_cast<std::size_t>(mark.line), line_starts_.size() - 1)];
        const std::size_t end = byte_of_mark(mark);
        if (counted_to_ < start || counted_to_ > end) {
            counted_to_ = start;
            counted_ = 0;
        }
        counted_ += characters(text_.substr(counted_to_, end - counted_to_));
        counted_to_ = end;
        return {mark.line + 1, counted_ + 1, std::max(length, 1)};
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
              Entry::Kind kind) {
        refuse_anchor(mark, anchor);
        refuse_tag(mark, tag);
        if (open_.size() >= most_depth)
            refuse(mark, "too-deep", fmt::format("nested more than {} levels deep", most_depth),
                   "no part of a house needs this; look for a stray bracket");
        Entry *opened = add(make(kind, mark));
        open_.push_back({opened});
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
        if (parent.drops_value) {
            parent.drops_value = false;
            return nullptr; // only values that hold others are asked for
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
            // Not refused yet: the parser also takes a bracket that is never closed for a key.
            if (!odd_key_)
                odd_key_ = raw->place;
            odd_keys_.push_back(std::move(entry));
            parent.entry->pairs.push_back({"", raw->place, nullptr});
            parent.key_waits = true;
            return raw;
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
    std::optional<Place> odd_key_; // the first key that is no word
    std::vector<std::unique_ptr<Entry>> odd_keys_;
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
        diagnostics.error("not-text", place_at(body, bad), "this byte is not UTF-8 text",
                          "save the file as plain UTF-8 text");
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
        builder.finish();
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
