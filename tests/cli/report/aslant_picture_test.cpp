// SPDX-License-Identifier: MIT
#include "cli/report/drawing/aslant_picture.hpp"

#include "cli/read/piece_file.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <regex>
#include <sstream>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::vector<std::vector<Point>> dashed_polygons(const std::string& svg) {
    static const std::regex polygon(R"re(<polygon points="([^"]*)"[^>]*stroke-dasharray)re");
    std::vector<std::vector<Point>> all;
    for (std::sregex_iterator it(svg.begin(), svg.end(), polygon), end; it != end; ++it) {
        std::string numbers = (*it)[1];
        for (char& c : numbers) c = c == ',' ? ' ' : c;
        std::istringstream in(numbers);
        std::vector<Point> points;
        for (Point p; in >> p.x >> p.y;) points.push_back(p);
        all.push_back(points);
    }
    return all;
}

Svg picture_of(const std::string& recesses) {
    const Piece piece = piece_of_json(
        R"({"hollowtop": 1, "top": {"length": 1200, "width": 600, "thickness": 40, "wood": "white oak"}, "recesses": [)" +
        recesses + R"(], "supports": [{"kind": "pad", "at": [60, 60], "size": [80, 80]}]})");
    return aslant_picture("a", piece, plan_of(piece), 760, Units::mm);
}

} // namespace

TEST_CASE("seen aslant, lengths along and across the top are to one scale", "[report]") {
    const auto pads = dashed_polygons(picture_of("").element());
    REQUIRE(pads.size() == 1);
    REQUIRE(pads[0].size() == 4);
    const auto side = [&](std::size_t i) {
        const Point &a = pads[0][i], &b = pads[0][(i + 1) % 4];
        return std::hypot(b.x - a.x, b.y - a.y);
    };
    for (const std::size_t i : {1, 2, 3}) CHECK_THAT(side(i), WithinRel(side(0), 1e-3));
    // isometric: both run at 30 degrees to the page's foot
    const Point &a = pads[0][0], &b = pads[0][1];
    CHECK_THAT((b.y - a.y) / (b.x - a.x), WithinAbs(std::tan(std::acos(-1.0) / 6), 1e-3));
}

TEST_CASE(
    "the floor of a recess lies below its mouth by its depth, and what is behind its near walls is not drawn",
    "[report]") {
    const std::string svg =
        picture_of(R"({"name": "well", "x": [200, 1000], "y": [100, 500], "depth": 25})").element();
    static const std::regex path(R"re(<path d="M([-0-9.]+) ([-0-9.]+)L)re");
    std::vector<Point> starts;
    for (std::sregex_iterator it(svg.begin(), svg.end(), path), end; it != end; ++it)
        starts.push_back({std::stod((*it)[1]), std::stod((*it)[2])});
    // outline, the mouth as a ground, the floor, the mouth's rim; the clip's shape stands among the definitions
    REQUIRE(starts.size() == 5);
    const Point clip = starts[0], floor = starts[3], rim = starts[4];
    CHECK_THAT(floor.x, WithinAbs(rim.x, 1e-3));
    const auto pads = dashed_polygons(svg);
    const double scale = std::hypot(pads[0][1].x - pads[0][0].x, pads[0][1].y - pads[0][0].y) / 80;
    CHECK_THAT(floor.y - rim.y, WithinAbs(25 * scale, 2e-2));
    // all of it is drawn within the mouth
    CHECK(clip.x == rim.x);
    CHECK(clip.y == rim.y);
    CHECK(svg.find("clip-path=\"url(#a-clip-1)\"") != std::string::npos);
}
