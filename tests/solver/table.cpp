#include "solver/report/table.hpp"

#include <catch2/catch.hpp>

using namespace headroom::solver;
using Align = Table::Align;

TEST_CASE("words of a table that is too wide run on in the line below, and none is lost") {
    Table table({{"assumed", Align::Words}, {"value", Align::Words}, {"kPa"}});
    table.row({"water in a radiator for each kW of its output", "3.5 l in steel panels", "+0.2"});
    table.row({"fittings", "none", ""});
    CHECK(table.text({}, 50) == "  assumed              value            kPa\n"
                                "  water in a radiator  3.5 l in steel  +0.2\n"
                                "    for each kW of       panels\n"
                                "    its output\n"
                                "  fittings             none\n");
}

TEST_CASE("words of a table that fits stand in one line") {
    Table table({{"assumed", Align::Words}, {"value", Align::Words}});
    table.row({"water in a radiator for each kW of its output", "3.5 l"});
    CHECK(table.text({}) == "  assumed                                        value\n"
                            "  water in a radiator for each kW of its output  3.5 l\n");
}

TEST_CASE("names give way only after words have, and differ still") {
    Table table({{"part", Align::Left}, {"remark", Align::Words}});
    table.row({"run front floor feed, flow", "rough as aged pipe is"});
    table.row({"run front floor feed, return", "rough as aged pipe is"});
    CHECK(table.text({}, 44) == "  part                  remark\n"
                                "  run front..eed, flow  rough as aged pipe\n"
                                "                          is\n"
                                "  run front..d, return  rough as aged pipe\n"
                                "                          is\n");
}
