// SPDX-License-Identifier: MIT
// The same piece seen otherwise: on another reference surface, in a mirror, turned, twice as large, on more
// threads.
#include "solver/check/check_piece.hpp"
#include "tests/properties/pieces_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstring>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

namespace {

/// The stiffness of a top is some 1e7 times as large for stretch as for bending, so of sixteen digits some
/// nine are left in a movement; a refinement round brings back most. Seen: 4e-10 at most.
constexpr double same = 1e-8;
enum class Seen { alike, mirrored, turned };

/// Greatest differences, each against the greatest value of its kind in the piece.
struct Differences {
    double sag = 0, dish = 0, reaction = 0, movement = 0, stress = 0, moment = 0, frequency = 0;
    double worst() const { return std::max({sag, dish, reaction, movement, stress, moment, frequency}); }
};

Differences differences(const Answer& one, const Answer& other, Seen seen) {
    double greatest[3] = {0, 0, 0};
    for (const SituationResponse& s : one.response.situations)
        for (const ProbeReading& p : s.probes) {
            greatest[0] = std::max(greatest[0], std::abs(p.w_mm));
            for (std::size_t k = 0; k < 3; ++k) {
                greatest[1] =
                    std::max({greatest[1], std::abs(p.stress_top_MPa[k]), std::abs(p.stress_bottom_MPa[k])});
                greatest[2] = std::max(greatest[2], std::abs(p.moment_N[k]));
            }
        }
    Differences d;
    REQUIRE(one.response.situations.size() == other.response.situations.size());
    for (std::size_t i = 0; i < one.response.situations.size(); ++i) {
        const SituationResponse &a = one.response.situations[i], &b = other.response.situations[i];
        d.sag = std::max(d.sag, std::abs(a.sag_mm - b.sag_mm) / a.sag_mm);
        REQUIRE(a.dish_mm.has_value() == b.dish_mm.has_value());
        if (a.dish_mm) d.dish = std::max(d.dish, std::abs(*a.dish_mm - *b.dish_mm) / *a.dish_mm);
        for (std::size_t k = 0; k < a.supports.size(); ++k) {
            d.reaction =
                std::max(d.reaction, std::abs(a.supports[k].force_N - b.supports[k].force_N) / a.applied_N);
            CHECK(a.supports[k].lifts == b.supports[k].lifts);
        }
        for (std::size_t k = 0; k < a.probes.size(); ++k) {
            const ProbeReading& p = a.probes[k];
            ProbeReading q = b.probes[k];
            if (seen == Seen::turned) std::swap(q.moment_N[0], q.moment_N[1]);
            if (seen != Seen::alike) q.moment_N[2] = -q.moment_N[2];
            if (seen ==
                Seen::mirrored) { // the grain's own axes are mirrored, so shear in them changes its sign
                q.stress_top_MPa[2] = -q.stress_top_MPa[2];
                q.stress_bottom_MPa[2] = -q.stress_bottom_MPa[2];
            }
            d.movement = std::max(d.movement, std::abs(p.w_mm - q.w_mm) / greatest[0]);
            for (std::size_t c = 0; c < 3; ++c) {
                d.stress =
                    std::max({d.stress, std::abs(p.stress_top_MPa[c] - q.stress_top_MPa[c]) / greatest[1],
                              std::abs(p.stress_bottom_MPa[c] - q.stress_bottom_MPa[c]) / greatest[1]});
                d.moment = std::max(d.moment, std::abs(p.moment_N[c] - q.moment_N[c]) / greatest[2]);
            }
        }
    }
    REQUIRE(one.frequency_Hz.size() == other.frequency_Hz.size());
    for (std::size_t k = 0; k < one.frequency_Hz.size(); ++k)
        d.frequency = std::max(d.frequency,
                               std::abs(one.frequency_Hz[k] - other.frequency_Hz[k]) / one.frequency_Hz[k]);
    return d;
}

void check_alike(const Differences& d, double tolerance) {
    INFO("sag " << d.sag << ", dish " << d.dish << ", reaction " << d.reaction << ", movement " << d.movement
                << ", stress " << d.stress << ", moment " << d.moment << ", frequency " << d.frequency);
    CHECK(d.worst() < tolerance);
}

Piece oval() {
    Piece piece = crooked_top();
    piece.top.outline = EllipseShape{{0, 1000, 0, 600}};
    piece.recesses = {recess_of(RimShape{.rim = 80, .corner_radius = 0}, 16)};
    piece.supports = {pad_at({250, 130}, true), pad_at({800, 180}), pad_at({300, 480}), pad_at({750, 450})};
    piece.loads.pop_back();
    piece.probes = {{500, 300}, {200, 350}, {650, 150}, {420, 455}, {820, 330}};
    return piece;
}

Piece rounded() {
    Piece piece = crooked_top();
    piece.top.outline = RectangleShape{.box = {0, 1000, 0, 600}, .corner_radius = 70};
    std::get<RectangleShape>(piece.recesses[0].shape).corner_radius = 30;
    std::get<RectangleShape>(piece.recesses[1].shape).corner_radius = 12;
    piece.probes[2] = {672, 300};
    return piece;
}

Piece five_sided() {
    Piece piece = crooked_top();
    piece.top.outline =
        PolygonShape{.points = {{0, 0}, {1000, 0}, {940, 600}, {400, 600}, {50, 560}}, .corner_radius = 0};
    piece.recesses = {recess_of(
        RimShape{.rim = 80, .corner_radius = 0}, 16,
        {{.name = "wedge",
          .shape = PolygonShape{.points = {{400, 250}, {520, 250}, {450, 340}}, .corner_radius = 0}}})};
    piece.supports = {pad_at({60, 70}, true), pad_at({900, 60}), pad_at({100, 500}), pad_at({870, 530})};
    return piece;
}

Piece on_lines() {
    Piece piece = crooked_top();
    piece.supports = {{.name = "wall", .kind = BuiltIn{.from = {0, 100}, .to = {0, 500}}},
                      {.name = "rest",
                       .kind = Held{.from = {950, 50},
                                    .to = {950, 580},
                                    .down = true,
                                    .twist = true,
                                    .along = true,
                                    .level = Level::bottom}},
                      {.name = "slant",
                       .kind = Held{.from = {650, 30},
                                    .to = {690, 130},
                                    .down = true,
                                    .tilt = true,
                                    .across = true,
                                    .level = Level::top}}};
    return piece;
}

} // namespace

TEST_CASE("the answer does not depend on where the reference surface lies", "[properties][reference][slow]") {
    for (const Piece& piece : {crooked_top(), oval(), rounded(), five_sided(), on_lines()}) {
        const Answer on_face = answer_of(piece, 3);
        for (const double depth : {15.0, 30.0, 17.3}) {
            ModelOptions options = coarse_mesh(piece);
            options.shell.reference_depth = depth;
            INFO("reference " << depth << " mm down");
            check_alike(differences(on_face, answer_of(piece, options, 3), Seen::alike), same);
        }
    }
}

TEST_CASE("a mirrored piece gives the mirrored answer", "[properties][mirror][slow]") {
    for (const Piece& piece : {crooked_top(), oval(), rounded(), five_sided(), on_lines()}) {
        const Answer original = answer_of(piece, 3);
        {
            INFO("left and right");
            check_alike(differences(original, answer_of(mirrored_in_x(piece), 3), Seen::mirrored), same);
        }
        INFO("front and back");
        check_alike(differences(original, answer_of(mirrored_in_y(piece), 3), Seen::mirrored), same);
    }
}

TEST_CASE("a piece turned by a quarter, grain and all, gives the turned answer", "[properties][turn][slow]") {
    // round and slanting edges too: cells that they cross are integrated half along x first and half along y
    // first
    for (const Piece& piece : {crooked_top(), oval(), on_lines(), rounded(), five_sided()})
        check_alike(differences(answer_of(piece, 3), answer_of(turned(piece), 3), Seen::turned), same);
}

TEST_CASE("without strips beside its walls a piece turns as exactly", "[properties][turn]") {
    for (const Piece& piece : {rounded(), five_sided()}) {
        ModelOptions options = coarse_mesh(piece);
        options.shell.with_wall_compliance = false;
        const Answer original = answer_of(piece, options, 3);
        const Piece other = turned(piece);
        options = coarse_mesh(other);
        options.shell.with_wall_compliance = false;
        check_alike(differences(original, answer_of(other, options, 3), Seen::turned), same);
    }
}

TEST_CASE("a top of twice the size under the same pressure moves twice as far under the same stress",
          "[properties][scaling]") {
    // Dimensional analysis: all lengths, with pressures and moduli as they were; bearing springs are moduli
    // over thickness, so they scale too. Weight would not: it is left out, but the natural frequencies halve.
    // Scaling by 2 rounds nothing, so only the places where lengths meet fixed lengths (30 mm for a mesh
    // line) could tell.
    Piece piece = crooked_top();
    piece.self_weight = false;
    for (Load& load : piece.loads)
        load.duration = Duration::short_term; // loads that stay would swing with the top
    const Piece large = scaled(piece, 2);
    const Answer one = answer_of(piece, 3), two = answer_of(large, 3);
    for (std::size_t i = 0; i < one.response.situations.size(); ++i) {
        const SituationResponse &a = one.response.situations[i], &b = two.response.situations[i];
        CHECK_THAT(b.sag_mm, WithinRel(2 * a.sag_mm, same));
        CHECK_THAT(*b.dish_mm, WithinRel(2 * *a.dish_mm, 1e-6)); // read a fixed 0.00001 mm beside the edges
        for (std::size_t k = 0; k < a.supports.size(); ++k)
            CHECK_THAT(b.supports[k].force_N, WithinRel(4 * a.supports[k].force_N, 1e-7)); // some are small
        CHECK_THAT(b.probes[0].stress_bottom_MPa[0], WithinRel(a.probes[0].stress_bottom_MPa[0], same));
        CHECK_THAT(b.probes[0].moment_N[0], WithinRel(4 * a.probes[0].moment_N[0], same));
    }
    for (std::size_t k = 0; k < 3; ++k)
        CHECK_THAT(two.frequency_Hz[k], WithinRel(one.frequency_Hz[k] / 2, same));
}

TEST_CASE("stiffer wood moves less and is stressed the same", "[properties][scaling]") {
    Piece piece = crooked_top();
    piece.self_weight = false;
    for (Load& load : piece.loads) load.duration = Duration::short_term;
    Piece stiff = piece;
    for (double* modulus : {&stiff.top.elastic->E1, &stiff.top.elastic->E2, &stiff.top.elastic->G12,
                            &stiff.top.elastic->G13, &stiff.top.elastic->G23})
        *modulus *= 2;
    const Answer one = answer_of(piece, 3), two = answer_of(stiff, 3);
    for (std::size_t i = 0; i < one.response.situations.size(); ++i) {
        const SituationResponse &a = one.response.situations[i], &b = two.response.situations[i];
        CHECK_THAT(b.sag_mm, WithinRel(a.sag_mm / 2, same));
        CHECK_THAT(b.probes[0].stress_bottom_MPa[0], WithinRel(a.probes[0].stress_bottom_MPa[0], same));
    }
    for (std::size_t k = 0; k < 3; ++k)
        CHECK_THAT(two.frequency_Hz[k], WithinRel(std::sqrt(2) * one.frequency_Hz[k], same));
}

TEST_CASE("a thin plate follows the powers of its length and thickness", "[properties][scaling][published]") {
    // Kirchhoff's plate: w ~ q L^4 / t^3, stress ~ q L^2 / t^2, f ~ t / L^2. Length over thickness is 250 and
    // more, where shear adds (t/L)^2 E/G, under 0.05 %; tolerance of the reference 0.5 %.
    const auto plate = [](double length, double thickness) {
        Piece piece = bare_top();
        piece.top.length = piece.top.width = length;
        piece.top.thickness = thickness;
        piece.top.outline = RectangleShape{.box = {0, length, 0, length}, .corner_radius = 0};
        const Point corners[] = {{0, 0}, {length, 0}, {length, length}, {0, length}};
        for (int k = 0; k < 4; ++k)
            piece.supports.push_back({.name = "side",
                                      .kind = Held{.from = corners[k],
                                                   .to = corners[(k + 1) % 4],
                                                   .down = true,
                                                   .twist = true,
                                                   .along = true}});
        piece.loads = {area_load(1e-5)};
        piece.self_weight = false;
        piece.probes = {{length / 2, length / 2}};
        return answer_of(piece, 1);
    };
    const Answer base = plate(1000, 4), longer = plate(2000, 4), thicker = plate(2000, 8);
    const auto w = [](const Answer& a) { return a.response.situations[0].probes[0].w_mm; };
    const auto stress = [](const Answer& a) {
        return a.response.situations[0].probes[0].stress_bottom_MPa[0];
    };
    CHECK_THAT(w(longer), WithinRel(16 * w(base), 0.005));
    CHECK_THAT(w(thicker), WithinRel(w(longer) / 8, 0.005));
    CHECK_THAT(stress(longer), WithinRel(4 * stress(base), 0.005));
    CHECK_THAT(stress(thicker), WithinRel(stress(longer) / 4, 0.005));
    CHECK_THAT(longer.frequency_Hz[0], WithinRel(base.frequency_Hz[0] / 4, 0.005));
    CHECK_THAT(thicker.frequency_Hz[0], WithinRel(2 * longer.frequency_Hz[0], 0.005));
}

TEST_CASE("two threads give the same bits as one", "[properties][threads][slow]") {
    for (const Piece& piece : {crooked_top(), oval()}) {
        ModelOptions options = coarse_mesh(piece);
        const Answer one = answer_of(piece, options, 3);
        options.threads = 2;
        const Answer two = answer_of(piece, options, 3);
        for (std::size_t i = 0; i < one.solved.size(); ++i) {
            const std::vector<double>&a = one.solved[i].dofs, &b = two.solved[i].dofs;
            REQUIRE(a.size() == b.size());
            CHECK(std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0);
            CHECK(one.solved[i].support_force == two.solved[i].support_force);
        }
        CHECK(one.frequency_Hz == two.frequency_Hz);
    }
}

TEST_CASE("a checked piece gives the same numbers on one thread and on two", "[properties][threads]") {
    Piece piece = bare_top();
    piece.top.elastic.reset();
    piece.top.wood = "cherry_black";
    piece.recesses = {recess_of(RectangleShape{.box = {110, 890, 100, 500}, .corner_radius = 0}, 14)};
    piece.supports = {pad_at({60, 60}, true), pad_at({940, 60}), pad_at({60, 540}), pad_at({940, 540})};
    piece.loads = {area_load(0.0005, Duration::long_term), patch_load(300, {400, 280}, 200, 150)};
    CheckOptions options{.mesh = CheckOptions::Mesh::coarse, .mesh_size = 200, .threads = 1, .progress = {}};
    const Result one = check_piece(piece, options).result;
    options.threads = 2;
    const Result two = check_piece(piece, options).result;
    REQUIRE(one.checks.size() == two.checks.size());
    for (std::size_t k = 0; k < one.checks.size(); ++k) {
        CHECK(one.checks[k].demand == two.checks[k].demand);
        CHECK(one.checks[k].utilisation == two.checks[k].utilisation);
    }
    CHECK(one.frequency_Hz == two.frequency_Hz);
    CHECK(one.governing_utilisation == two.governing_utilisation);
    CHECK(one.mesh.sag_error_percent == two.mesh.sag_error_percent);
}
