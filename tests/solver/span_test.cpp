// SPDX-License-Identifier: MIT
#include "solver/readout/span.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Support foot(Point at, double size = 0) { return {"foot", Pad{.at = at, .size_x = size, .size_y = size}}; }
Support bearer(Point from, Point to, double width = 0) {
    return {"bearer", Bearer{.from = from, .to = to, .width = width}};
}
Support rail(Point from, Point to) {
    return {"rail", Rail{.from = from, .to = to, .section = {}, .metal = {}, .wood = {}, .elastic = {}}};
}

const std::vector<Support> four_legs{foot({0, 0}), foot({1720, 0}), foot({0, 700}), foot({1720, 700})};
const std::vector<Support> frame{bearer({0, 0}, {1200, 0}), bearer({0, 700}, {1200, 700}),
                                 bearer({0, 0}, {0, 700}), bearer({1200, 0}, {1200, 700})};
const std::vector<Support> apron{rail({0, 0}, {1200, 0}), rail({0, 700}, {1200, 700}), rail({0, 0}, {0, 700}),
                                 rail({1200, 0}, {1200, 700})};
const std::vector<Support> trestles{bearer({300, 0}, {300, 800}, 60), bearer({1700, 0}, {1700, 800}, 60)};

Point turned(Point p, double angle) {
    return {p.x * std::cos(angle) - p.y * std::sin(angle), p.x * std::sin(angle) + p.y * std::cos(angle)};
}

std::vector<Support> turned(std::vector<Support> supports, double angle) {
    for (Support& support : supports)
        std::visit(
            [&](auto& kind) {
                if constexpr (requires { kind.at; })
                    kind.at = turned(kind.at, angle);
                else
                    kind.from = turned(kind.from, angle), kind.to = turned(kind.to, angle);
            },
            support.kind);
    return supports;
}

} // namespace

TEST_CASE("between two bearers the span is the distance of their middles", "[solver][span]") {
    for (const Point p : {Point{1000, 400}, {1000, 0}, {1000, 800}, {800, 300}}) {
        const Span span = span_at(trestles, p);
        CHECK_THAT(span.span_mm, WithinRel(1400, 1e-6));
        CHECK(span.overhang_mm == 0);
    }
}

TEST_CASE("over three bearers the span is that between neighbours", "[solver][span]") {
    std::vector<Support> three = trestles;
    three.push_back(bearer({1100, 0}, {1100, 800}, 60));
    CHECK_THAT(span_at(three, {700, 400}).span_mm, WithinRel(800, 1e-6));
    CHECK_THAT(span_at(three, {1400, 400}).span_mm, WithinRel(600, 1e-6));
}

TEST_CASE("a top on four legs spans their longer distance, in the middle and at its long edge",
          "[solver][span]") {
    CHECK_THAT(span_at(four_legs, {860, 350}).span_mm, WithinRel(1720, 1e-9));
    CHECK_THAT(span_at(four_legs, {860, 0}).span_mm, WithinRel(1720, 1e-6));
    const Span past = span_at(four_legs, {860, -75});
    CHECK_THAT(past.span_mm, WithinRel(1720, 1e-6));
    CHECK_THAT(past.overhang_mm, WithinRel(75, 1e-12));
    // at its short edge, inside the line of the legs or past it, it spans between the two legs there
    CHECK_THAT(span_at(four_legs, {0, 350}).span_mm, WithinRel(700, 1e-6));
    CHECK_THAT(span_at(four_legs, {-75, 350}).span_mm, WithinRel(700, 1e-6));
}

TEST_CASE("a square of legs spans its side, and six legs the bay", "[solver][span]") {
    const std::vector<Support> square{foot({0, 0}), foot({900, 0}), foot({0, 900}), foot({900, 900})};
    CHECK_THAT(span_at(square, {450, 450}).span_mm, WithinRel(900, 1e-9));
    std::vector<Support> six = four_legs;
    six.push_back(foot({860, 0}));
    six.push_back(foot({860, 700}));
    CHECK_THAT(span_at(six, {430, 350}).span_mm, WithinRel(860, 1e-9));
    CHECK_THAT(span_at(six, {1290, 350}).span_mm, WithinRel(860, 1e-9));
}

TEST_CASE("a frame all round is spanned both ways, by what each way carries", "[solver][span]") {
    // 700 and 1200 apart: 1 / 700^4 against k / 1200^4, (1200 / 700)^4 = 8.6364
    const double ratio = std::pow(1200.0 / 700, 4);
    CHECK_THAT(span_at(frame, {600, 350}).span_mm, WithinRel(700 + 500 / (1 + ratio), 1e-6));
    const auto along_x = [](Point way) {
        return 12 * way.x * way.x * way.x * way.x + way.y * way.y * way.y * way.y;
    };
    CHECK_THAT(span_at(frame, {600, 350}, along_x).span_mm, WithinRel(700 + 500 * 12 / (12 + ratio), 1e-6));
    const std::vector<Support> square{rail({0, 0}, {800, 0}), rail({0, 800}, {800, 800}),
                                      rail({0, 0}, {0, 800}), rail({800, 0}, {800, 800})};
    CHECK_THAT(span_at(square, {400, 400}, along_x).span_mm, WithinRel(800, 1e-6));
}

TEST_CASE("over a line that holds the top the span is that of the room beside it", "[solver][span]") {
    CHECK_THAT(span_at({bearer({0, 0}, {0, 600}), bearer({1400, 0}, {1400, 600})}, {0, 300}).span_mm,
               WithinRel(1400, 1e-5));
    CHECK_THAT(
        span_at({bearer({0, 0}, {0, 600}), bearer({500, 0}, {500, 600}), bearer({1400, 0}, {1400, 600})},
                {500, 300})
            .span_mm,
        WithinRel(900, 1e-5));
}

TEST_CASE("an apron gives too, so its top spans from leg to leg", "[solver][span]") {
    CHECK_THAT(span_at(apron, {600, 350}).span_mm, WithinRel(1200, 1e-9)); // the longer side of its four legs
    CHECK_THAT(span_at(apron, {600, 700}).span_mm, WithinRel(1200, 1e-9)); // on a long rail: along it
    CHECK_THAT(span_at(apron, {600, 730}).span_mm,
               WithinRel(1200, 1e-9)); // an edge past it goes where it goes
    CHECK_THAT(span_at(apron, {600, 730}).overhang_mm, WithinRel(30, 1e-9));
}

TEST_CASE("past the corner of a frame of bearers the span is that of the room behind", "[solver][span]") {
    const std::vector<Support> bearers{bearer({80, 80}, {1520, 80}, 20), bearer({80, 720}, {1520, 720}, 20),
                                       bearer({80, 80}, {80, 720}, 20), bearer({1520, 80}, {1520, 720}, 20)};
    const Span corner = span_at(bearers, {0, 0});
    CHECK(corner.span_mm >= 640);
    CHECK_THAT(corner.overhang_mm,
               WithinRel(75 * std::sqrt(2.0), 1e-9)); // to the line from (80, 70) to (70, 80)
}

TEST_CASE("three legs span the height of their triangle", "[solver][span]") {
    const double height = 800 * std::sqrt(3.0) / 2;
    const std::vector<Support> three{foot({0, 0}), foot({800, 0}), foot({400, height})};
    CHECK_THAT(span_at(three, {400, height / 3}).span_mm, WithinRel(height, 1e-9));
}

TEST_CASE("past a bearer the overhang is the distance to what the top rests on, and the span that behind it",
          "[solver][span]") {
    const Span end = span_at(trestles, {0, 400});
    CHECK_THAT(end.overhang_mm, WithinRel(270, 1e-12)); // from the bearer's edge, at 300 - 30
    CHECK_THAT(end.span_mm, WithinRel(1400, 1e-6));
}

TEST_CASE("one bearer, a pedestal and crossed bearers have the spread of what the top rests on",
          "[solver][span]") {
    const Span one = span_at({bearer({500, 0}, {500, 600}, 80)}, {0, 300});
    CHECK_THAT(one.span_mm, WithinRel(80, 1e-9));
    CHECK_THAT(one.overhang_mm, WithinRel(460, 1e-12));
    const Span pedestal = span_at({foot({500, 500}, 300)}, {500, 0});
    CHECK_THAT(pedestal.span_mm, WithinRel(300, 1e-9));
    CHECK_THAT(pedestal.overhang_mm, WithinRel(350, 1e-12));
    const std::vector<Support> crossed{bearer({100, 500}, {900, 500}, 60),
                                       bearer({500, 100}, {500, 900}, 60)};
    const Span tip = span_at(crossed, {0, 500});
    CHECK_THAT(tip.span_mm, WithinRel(800, 1e-9)); // along the bearer that it lies past
    CHECK_THAT(tip.overhang_mm, WithinRel(100, 1e-12));
    CHECK(span_at(crossed, {600, 600}).span_mm > 0);
    CHECK(span_at({foot({500, 500}, 300)}, {500, 500}).span_mm > 0);
    CHECK(span_at({}, {500, 500}).span_mm == 0);
}

TEST_CASE("turning supports and place together changes neither span nor overhang", "[solver][span]") {
    std::vector<Support> three = trestles;
    three.push_back(bearer({1100, 0}, {1100, 800}, 60));
    const std::vector<Support> crossed{bearer({100, 500}, {900, 500}, 60),
                                       bearer({500, 100}, {500, 900}, 60)};
    for (const std::vector<Support>& supports : {four_legs, frame, apron, trestles, three, crossed})
        for (const Point p : {Point{600, 350}, {430, 200}, {-100, 300}, {700, 950}, {-50, -80}}) {
            const Span drawn = span_at(supports, p);
            for (const double degrees : {17.0, 45.0, 90.0, 161.0}) {
                CAPTURE(degrees, p.x, p.y);
                const double angle = degrees * std::numbers::pi / 180;
                const Span now = span_at(turned(supports, angle), turned(p, angle));
                CHECK_THAT(now.span_mm, WithinAbs(drawn.span_mm, 1e-3));
                CHECK_THAT(now.overhang_mm, WithinAbs(drawn.overhang_mm, 1e-6));
            }
        }
}

TEST_CASE("no span is longer than the farthest supports are apart", "[solver][span]") {
    std::vector<Support> feet{foot({100, 80}), foot({900, 40}), foot({480, 610}), foot({1300, 560}),
                              foot({700, 330})};
    for (double x = 0; x <= 1400; x += 35)
        for (double y = 0; y <= 700; y += 35)
            CHECK(span_at(feet, {x, y}).span_mm <= std::hypot(1200, 480) + 1e-9);
}

TEST_CASE("a line that does not hold the top up is no support of a span", "[solver][span]") {
    std::vector<Support> supports = trestles;
    supports.push_back({"guide", Held{.from = {1000, 0}, .to = {1000, 800}, .down = false, .tilt = true}});
    CHECK_THAT(span_at(supports, {900, 400}).span_mm, WithinRel(1400, 1e-6));
    const Span cantilever = span_at({{"wall", BuiltIn{.from = {0, 0}, .to = {0, 500}}}}, {400, 250});
    CHECK_THAT(cantilever.overhang_mm, WithinRel(400, 1e-12));
    CHECK_THAT(cantilever.span_mm, WithinAbs(0, 1e-9));
}
