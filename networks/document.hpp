// A YAML file as a tree in which every key and value knows its place. Built from yaml-cpp's event
// stream, because the program must refuse what the usual node tree hides: aliases, tags, repeated
// keys, and files made to exhaust the machine.
#pragma once

#include "networks/diagnostic.hpp"

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

namespace headroom::networks {

/// A longer file is refused unread.
inline constexpr std::size_t most_bytes = 4U << 20U;

struct Entry;

struct Pair {
    std::string key;
    Place key_place;
    std::unique_ptr<Entry> value;
};

struct Entry {
    enum class Kind { Null, Scalar, List, Map };
    Kind kind = Kind::Null;
    Place place;
    std::string scalar;
    bool quoted = false;
    std::vector<std::unique_ptr<Entry>> items; ///< of a list
    std::vector<Pair> pairs;                   ///< of a map, in the file's order

    const Entry *find(std::string_view key) const;
    bool is_map() const { return kind == Kind::Map; }
    bool is_list() const { return kind == Kind::List; }
    bool is_scalar() const { return kind == Kind::Scalar; }
};

/// Null when the text is not a YAML mapping this program accepts; the faults say why.
std::unique_ptr<Entry> parse_document(const std::string &text, Diagnostics &diagnostics);

} // namespace headroom::networks
