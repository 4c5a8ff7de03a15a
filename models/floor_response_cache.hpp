#pragma once

#include "models/floor_conduction.hpp"

#include <cstddef>
#include <optional>
#include <shared_mutex>
#include <unordered_map>

namespace headroom::models {

/// Keeps the response of every section once worked out. Sections are the same if all their numbers
/// are the same bit for bit. Safe to use from several threads; two that miss the same section at
/// once both work it out, to the same bits.
class FloorResponseCache {
public:
    /// floor_response(section); nullptr if the section cannot be built. Valid as long as the cache.
    const FloorResponse *find(const FloorSection &section);

    std::size_t size() const;

private:
    struct Hash {
        std::size_t operator()(const FloorSection &section) const;
    };
    struct SameBits {
        bool operator()(const FloorSection &a, const FloorSection &b) const;
    };
    mutable std::shared_mutex mutex_;
    std::unordered_map<FloorSection, std::optional<FloorResponse>, Hash, SameBits> responses_;
};

} // namespace headroom::models
