// SPDX-License-Identifier: MIT
#include "cli/report/drawing/compare_chart.hpp"

#include "cli/report/drawing/axis_frame.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

namespace {

StudyRow row(double mass, double sag, bool passes) {
    StudyRow r;
    r.mass_kg = mass;
    r.sag_mm = sag;
    r.passes = passes;
    r.governing_check = "dish";
    return r;
}

std::size_t count(const std::string& text, const std::string& what) {
    std::size_t n = 0;
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
    return n;
}

} // namespace

TEST_CASE("ticks are round numbers inside the range", "[cli]") {
    const std::vector<double> ticks = round_ticks(21.3, 38.9, 4);
    REQUIRE(ticks.size() >= 3);
    CHECK_THAT(ticks.front(), WithinAbs(25, 1e-9));
    CHECK_THAT(ticks.back(), WithinAbs(35, 1e-9));
    CHECK_FALSE(round_ticks(3, 3, 5).empty()); // all alike
    CHECK(round_ticks(0, 0.004, 4).size() >= 3);
}

TEST_CASE("each variant is drawn once, told apart by shape, and the best are numbered", "[cli]") {
    Tally tally({});
    tally.add(0, row(30, 2, true));
    tally.add(1, row(25, 3, true));
    tally.add(2, row(33, 2.5, true));
    tally.add(3, row(20, 4, false));
    const std::string svg = compare_chart(tally, "A <top>", Units::mm);
    CHECK_THAT(svg, Contains("A &lt;top&gt;"));
    CHECK_THAT(svg, Contains("4 variants, 3 meet the limits set"));
    CHECK(count(svg, "<circle") == 4 + 2);  // and one of each kind to explain them
    CHECK(count(svg, "<polygon") == 2 + 1); // those that no other beats
    CHECK_THAT(svg, Contains("no. 0") && Contains("no. 1") && !Contains("no. 2"));
    CHECK_THAT(svg, Contains("weight of top and stiffeners, kg"));
    CHECK_THAT(compare_chart(tally, "", Units::inch),
               Contains("weight of top and stiffeners, lb") && Contains("greatest sag at once, in"));
}

TEST_CASE("a chart of nothing, of one, or of very different sags can be drawn", "[cli]") {
    Tally none({});
    CHECK_THAT(compare_chart(none, "", Units::mm), Contains("0 variants"));
    Tally one({});
    one.add(0, row(30, 2, false));
    CHECK_THAT(compare_chart(one, "", Units::mm), Contains("1 variant,"));
    Tally wild({});
    for (int i = 0; i < 20; ++i) wild.add(static_cast<std::uint64_t>(i), row(30 + i, 2, true));
    wild.add(20, row(10, 900, false));
    CHECK_THAT(compare_chart(wild, "", Units::mm), Contains("1 sag further than is shown"));
}
