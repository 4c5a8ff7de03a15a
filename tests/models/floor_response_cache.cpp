#include "models/floor_response_cache.hpp"

#include "tests/support/floor_sections.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <thread>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("A cached response is the computed one and stays where it is") {
    FloorResponseCache cache;
    const FloorResponse *first = cache.find(insulated_section());
    REQUIRE(first != nullptr);
    CHECK(first->up == floor_response(insulated_section())->up);
    for (const double spacing : {0.10, 0.20, 0.30})
        cache.find(insulated_section(spacing));
    CHECK(cache.find(insulated_section()) == first);
    CHECK(cache.size() == 4);
}

TEST_CASE("Sections that differ in one bit are kept apart") {
    FloorResponseCache cache;
    FloorSection section = insulated_section();
    const FloorResponse *first = cache.find(section);
    section.covering_resistance_m2k_w = std::nextafter(section.covering_resistance_m2k_w, 1.0);
    CHECK(cache.find(section) != first);
    CHECK(cache.find(dry_section(0.0)) != cache.find(dry_section(0.12)));
    CHECK(cache.size() == 4);
}

TEST_CASE("A section that cannot be built is remembered as such") {
    FloorResponseCache cache;
    CHECK(cache.find(FloorSection{}) == nullptr);
    CHECK(cache.find(FloorSection{}) == nullptr);
    CHECK(cache.size() == 1);
}

TEST_CASE("Threads that ask at once get one and the same response") {
    FloorResponseCache cache;
    std::array<const FloorResponse *, 4> found{};
    std::vector<std::thread> threads;
    for (const FloorResponse *&place : found)
        threads.emplace_back([&cache, &place] { place = cache.find(dry_section(0.12)); });
    for (std::thread &thread : threads)
        thread.join();
    for (const FloorResponse *place : found)
        CHECK(place == found[0]);
    CHECK(cache.size() == 1);
}
