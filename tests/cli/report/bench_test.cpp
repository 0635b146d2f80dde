// SPDX-License-Identifier: MIT
#include "cli/report/workshop/bench.hpp"

#include "cli/read/piece_file.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Piece bench_top() { return load_piece(std::string(HOLLOWTOP_SOURCE_DIR) + "/docs/examples/bench_top.json"); }

} // namespace

TEST_CASE("passes reach the depth, none deeper than the cutter allows, the last a millimetre", "[report]") {
    const double depth = GENERATE(0.5, 1.0, 2.9, 3.0, 3.1, 16.0, 20.0);
    const double cutter = GENERATE(4.0, 12.0, 40.0);
    CAPTURE(depth, cutter);
    const auto passes = passes_of(depth, 42, cutter, pass_rule(Units::mm));
    REQUIRE_FALSE(passes.empty());
    double before = 0;
    for (const Pass& pass : passes) {
        CHECK(pass.depth > before);
        CHECK(pass.depth - before <= std::min(3.0, cutter / 2) + 1e-9);
        CHECK_THAT(pass.depth + pass.left, WithinAbs(42, 1e-9));
        before = pass.depth;
    }
    CHECK_THAT(passes.back().depth, WithinAbs(depth, 1e-12));
    CHECK(passes.back().last);
    if (depth > 1) CHECK_THAT(passes.back().depth - passes[passes.size() - 2].depth, WithinAbs(1, 1e-9));
    int rests = 0;
    for (const Pass& pass : passes) rests += pass.rest_before ? 1 : 0;
    CHECK(rests == (depth > 3 + 1e-9 ? 1 : 0));
}

TEST_CASE("a bench page has the chips, the screws and the gauges of its piece", "[report]") {
    const Piece piece = bench_top();
    const Plan plan = plan_of(piece);
    Result result;
    result.mass.total_kg = 30;
    const Bench bench = bench_of(piece, plan, result, std::nullopt, 12);
    // 1660 x 630 less four corners of radius 10, 20 deep
    CHECK_THAT(bench.volume_l, WithinRel((1660.0 * 630 - (4 - 3.14159265358979) * 100) * 20 / 1e6, 1e-9));
    CHECK(bench.people == 2);
    CHECK(bench.each_kg == 15);
    REQUIRE(bench.stiffeners.size() == 2);
    CHECK(bench.stiffeners[0].length == 1600);
    REQUIRE(bench.stiffeners[0].screws.size() == 11);
    const ScrewWork& screw = bench.stiffeners[0].screws.front();
    CHECK(screw.wood == 22);
    CHECK(screw.thread == 17); // 20 less the 3 of the angle
    CHECK(screw.left == 5);    // 22 less 17
    // angle 30x30x3: the free part of the flat leg runs from 3 to 30, its middle 16.5; the line is the middle
    // of the leg, 15
    CHECK_THAT(screw.at.y, WithinAbs(301.5, 1e-9));
    CHECK_THAT(bench.stiffeners[1].screws.front().at.y, WithinAbs(548.5, 1e-9)); // laid the other way round
    CHECK_THAT(bench.stiffeners[0].slot_to_length_deg,
               WithinAbs(90, 1e-9)); // along the grain: slots square to it
    REQUIRE(bench.gauges.size() >= 5);
    for (const Gauge& gauge : bench.gauges) {
        CHECK(gauge.thickness == 22);
        CHECK(thickness_at(plan, gauge.at) == 22);
    }
}

TEST_CASE("heavier tops need more hands", "[report]") {
    const Piece piece = bench_top();
    Result result;
    // by the guide figure of 16 kg a person, and never fewer than two
    for (const auto& [kg, by_guide, people] :
         {std::tuple{5.0, 1, 2}, {16.0, 1, 2}, {32.0, 2, 2}, {32.1, 3, 3}, {70.0, 5, 5}}) {
        result.mass.total_kg = kg;
        const Bench bench = bench_of(piece, plan_of(piece), result, std::nullopt, 12);
        CHECK(bench.people == people);
        CHECK(bench.people_by_guide == by_guide);
    }
}

TEST_CASE("passes stop at whole millimetres, or at sixteenths of an inch", "[report]") {
    const auto depths = [](const std::vector<Pass>& passes) {
        std::vector<double> all;
        for (const Pass& pass : passes) all.push_back(pass.depth);
        return all;
    };
    CHECK(depths(passes_of(20, 42, 12, pass_rule(Units::mm))) ==
          std::vector<double>{3, 6, 9, 12, 15, 17, 19, 20});
    const auto inches = depths(passes_of(0.375 * 25.4, 28.575, 12.7, pass_rule(Units::inch)));
    REQUIRE(inches.size() == 4);
    for (std::size_t k = 0; k < 4; ++k)
        CHECK_THAT(inches[k] / 25.4, WithinAbs(std::vector<double>{0.125, 0.25, 0.3125, 0.375}[k], 1e-12));
}
