#include "networks/document.hpp"

#include <fmt/format.h>
#include <sstream>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/yaml.h>

namespace headroom::networks {
namespace {

constexpr std::size_t most_bytes = 4U << 20U;
constexpr std::size_t most_entries = 200'000;
constexpr std::size_t most_depth = 24;

struct Refused {};

Place place_of(const YAML::Mark &mark, std::size_t length = 1) {
    return {mark.line + 1, mark.column + 1, static_cast<int>(std::max<std::size_t>(length, 1))};
}

class TreeBuilder final : public YAML::EventHandler {
public:
    explicit TreeBuilder(Diagnostics &diagnostics) : diagnostics_(diagnostics) {}

    std::unique_ptr<Entry> take_root() { return std::move(root_); }

    void OnDocumentStart(const YAML::Mark &) override {}
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
        auto entry = make(Entry::Kind::Scalar, mark, value.size());
        entry->scalar = value;
        entry->quoted = tag == "!";
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

private:
    struct OpenEntry {
        Entry *entry;
        bool key_waits = false; // a key has been read and its value comes next
    };

    std::unique_ptr<Entry> make(Entry::Kind kind, const YAML::Mark &mark, std::size_t length = 1) {
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
        if (parent.key_waits) {
            parent.entry->pairs.back().value = std::move(entry);
            parent.key_waits = false;
            return raw;
        }
        if (raw->kind != Entry::Kind::Scalar) {
            diagnostics_.error("key-not-text", raw->place, "a key must be a word or words",
                               "quote it, or look for a stray `:` or bracket");
            throw Refused{};
        }
        for (const Pair &pair : parent.entry->pairs)
            if (pair.key == raw->scalar)
                diagnostics_.error("duplicate-key", raw->place,
                                   fmt::format("`{}` stands twice here, first on line {}",
                                               raw->scalar, pair.key_place.line),
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
    TreeBuilder builder(diagnostics);
    try {
        std::istringstream stream(text);
        YAML::Parser parser(stream);
        if (!parser.HandleNextDocument(builder)) {
            diagnostics.error("empty-file", {}, "the file is empty",
                              "start from one of the example houses");
            return nullptr;
        }
    } catch (const Refused &) {
        return nullptr;
    } catch (const YAML::Exception &fault) {
        std::string message = fault.msg;
        diagnostics.error("yaml-syntax", place_of(fault.mark),
                          fmt::format("not valid YAML here: {}", message),
                          "check indentation, colons, quotes and brackets on this line and the "
                          "one before");
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
