#include "models/floor_response_cache.hpp"

#include <array>
#include <bit>
#include <cstdint>
#include <mutex>

namespace headroom::models {
namespace {

using Bits = std::array<std::uint64_t, 22>;

/// Every number of a section; what it does not have counts as zeros with a flag.
Bits bits(const FloorSection &section) {
    const FloorPipe &pipe = section.pipe;
    const GrooveBoard board = section.board.value_or(GrooveBoard{});
    const DiffuserPlate plate = board.plate.value_or(DiffuserPlate{});
    const double parts = (section.board ? 1.0 : 0.0) + (board.plate ? 2.0 : 0.0);
    const std::array<double, 22> numbers{section.spacing_m,
                                         pipe.outside_diameter_m,
                                         pipe.wall_m,
                                         pipe.wall_conductivity_w_m_k,
                                         pipe.sheath_diameter_m,
                                         pipe.sheath_conductivity_w_m_k,
                                         section.cover_m,
                                         section.layer_conductivity_w_m_k,
                                         section.covering_resistance_m2k_w,
                                         section.gap_below_pipe_m,
                                         section.insulation_thickness_m,
                                         section.insulation_conductivity_w_m_k,
                                         section.slab_resistance_m2k_w,
                                         section.lower_surface_resistance_m2k_w,
                                         section.surface_coefficient_w_m2_k,
                                         board.thickness_m,
                                         board.conductivity_w_m_k,
                                         board.groove_filling_conductivity_w_m_k,
                                         plate.thickness_m,
                                         plate.conductivity_w_m_k,
                                         plate.width_m,
                                         parts};
    return std::bit_cast<Bits>(numbers);
}

} // namespace

std::size_t FloorResponseCache::Hash::operator()(const FloorSection &section) const {
    std::uint64_t hash = 0x9e3779b97f4a7c15u;
    for (const std::uint64_t word : bits(section)) {
        hash = (hash ^ word) * 0xff51afd7ed558ccdu;
        hash ^= hash >> 32;
    }
    return static_cast<std::size_t>(hash);
}

bool FloorResponseCache::SameBits::operator()(const FloorSection &a, const FloorSection &b) const {
    return bits(a) == bits(b);
}

const FloorResponse *FloorResponseCache::find(const FloorSection &section) {
    const auto answer = [](const std::optional<FloorResponse> &response) {
        return response ? &*response : nullptr;
    };
    {
        const std::shared_lock lock(mutex_);
        if (const auto known = responses_.find(section); known != responses_.end())
            return answer(known->second);
    }
    std::optional<FloorResponse> response = floor_response(section);
    const std::unique_lock lock(mutex_);
    return answer(responses_.try_emplace(section, response).first->second);
}

std::size_t FloorResponseCache::size() const {
    const std::shared_lock lock(mutex_);
    return responses_.size();
}

} // namespace headroom::models
