// The verdict of every shipped house, its index and what decided, as reasoned from its file.
#include "solver/questions/drive.hpp"
#include "tests/support/read_house.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <filesystem>

using namespace headroom;
using solver::Verdict;

namespace {

struct Expected {
    const char *file;
    Verdict verdict;
    const char *index;
    const char *decided_by;
};

constexpr std::array expected{
    // Balanced by itself: the longest loop of the largest room.
    Expected{"balance-readings.yaml", Verdict::Yes, "lounge 1", "design, all open"},
    // The longest loop of the largest room in 16 mm.
    Expected{"direct-16mm.yaml", Verdict::Yes, "lounge 1", "design, all open"},
    // 65 degC water without its mixer.
    Expected{"conversion.yaml", Verdict::ThermalNo, "lounge 1", "design, all open"},
    Expected{"cylinder.yaml", Verdict::Yes, "living 1", "design, all open"},
    Expected{"fabric-losses.yaml", Verdict::Yes, "parlour", "design, all open"},
    // At 55 degC without its mixers it draws less than the boiler's least flow.
    Expected{"header-protected.yaml", Verdict::No, "dining 1", "design, all open"},
    // 60 degC water without its mixers.
    Expected{"header-three-pumps.yaml", Verdict::ThermalNo, "hall 1", "design, all open"},
    // The edge strip has the longest loop at the closest spacing.
    Expected{"laid-by-program.yaml", Verdict::Yes, "lounge edge 1", "design, all open"},
    Expected{"microbore-radiators.yaml", Verdict::Yes, "front", "design, all open"},
    // The first radiator of the ring has least of the ring's pressure to itself.
    Expected{"one-pipe-and-reverse-return.yaml", Verdict::Yes, "parlour", "design, all open"},
    Expected{"small-bore-long-glycol.yaml", Verdict::Marginal, "lounge 1", "design, all open"},
    Expected{"small-bore-long.yaml", Verdict::Marginal, "lounge 1", "design, all open"},
    Expected{"small-bore-short.yaml", Verdict::Yes, "lounge 1", "design, all open"},
    Expected{"two-manifolds-radiators.yaml", Verdict::Yes, "garden room 1", "design, all open"},
    // Flows are small at the temperature its bath needs.
    Expected{"warm-floor.yaml", Verdict::No, "lounge 1", "design, all open"},
    Expected{"well-insulated-small-bore.yaml", Verdict::Yes, "bath 1", "design, all open"},
    // The bath's loop alone is far below the heat pump's least flow.
    Expected{"well-insulated-zoned.yaml", Verdict::No, "bath 1", "all zones shut"},
};

} // namespace

TEST_CASE("every shipped house has the verdict reasoned for it") {
    for (const Expected &house : expected) {
        INFO(house.file);
        const solver::DriveAnswer answer = solver::drive(tests::example_house(house.file));
        CHECK(answer.verdict == house.verdict);
        CHECK(answer.index == house.index);
        CHECK(answer.decided_by == house.decided_by);
    }
}

TEST_CASE("no shipped house is without a reasoned verdict") {
    std::size_t houses = 0;
    for (const auto &entry :
         std::filesystem::directory_iterator(std::string(SOURCE_DIR) + "/networks/examples"))
        houses += entry.path().extension() == ".yaml" ? 1 : 0;
    CHECK(houses == expected.size());
}
