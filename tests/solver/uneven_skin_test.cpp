// SPDX-License-Identifier: MIT
#include "solver/check/check_piece.hpp"
#include "solver/readout/movement.hpp"
#include "solver/shell/loads.hpp"
#include "solver/situations/respond.hpp"
#include "solver/situations/situations.hpp"
#include "tests/solver/uneven_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

SkinGrid grid_of(const Rectangle& box, int nx, int ny, const std::function<double(Point)>& thickness) {
    SkinGrid grid{.box = box, .nx = nx, .ny = ny, .thickness = {}};
    for (int j = 0; j < ny; ++j)
        for (int i = 0; i < nx; ++i)
            grid.thickness.push_back(thickness(
                {box.x0 + (box.x1 - box.x0) * i / (nx - 1), box.y0 + (box.y1 - box.y0) * j / (ny - 1)}));
    return grid;
}

} // namespace

TEST_CASE("an uneven skin and an uneven board that are the same all over are checked as drawn ones",
          "[solver][uneven][slow]") {
    Piece drawn = uneven_top();
    drawn.loads.push_back(patch_of(300, {500, 300}, 120, 90));
    Piece uneven = drawn;
    uneven.recesses.front().surveyed = grid_of(uneven_well, 40, 20, [](Point) { return 18.0; });
    uneven.top.surveyed = grid_of({0, 1600, 0, 800}, 40, 20, [](Point) { return 40.0; });
    const CheckOptions options{
        .mesh = CheckOptions::Mesh::coarse, .mesh_size = {}, .threads = 1, .progress = {}};
    const Result a = check_piece(drawn, options).result, b = check_piece(uneven, options).result;
    REQUIRE(a.checks.size() == b.checks.size());
    for (std::size_t i = 0; i < a.checks.size(); ++i) {
        INFO(a.checks[i].check);
        CHECK(a.checks[i].check == b.checks[i].check);
        CHECK_THAT(b.checks[i].demand, WithinRel(a.checks[i].demand, 1e-6));
        CHECK_THAT(b.checks[i].capacity, WithinRel(a.checks[i].capacity, 1e-6));
    }
    REQUIRE(a.situations.size() == b.situations.size());
    for (std::size_t i = 0; i < a.situations.size(); ++i)
        CHECK_THAT(b.situations[i].sag_mm, WithinRel(a.situations[i].sag_mm, 1e-9));
    CHECK_THAT(b.mass.top_kg, WithinRel(a.mass.top_kg, 1e-12));
    REQUIRE(a.frequency_Hz.size() == b.frequency_Hz.size());
    CHECK_THAT(b.frequency_Hz.front(), WithinRel(a.frequency_Hz.front(), 1e-8));
    REQUIRE_FALSE(a.pushes.empty());
    CHECK_THAT(b.pushes.front().dish_mm, WithinRel(a.pushes.front().dish_mm, 1e-6));
}

TEST_CASE("a skin found to be the same all over is drawn as such", "[solver][uneven]") {
    Piece piece = uneven_top();
    give_skin(piece.recesses.front(), piece.top, grid_of(uneven_well, 10, 10, [](Point) { return 17.25; }),
              17.2499);
    CHECK_FALSE(piece.recesses.front().surveyed);
    CHECK(skin_of(piece.recesses.front(), piece.top) == 17.25);
}

namespace {

/// Timoshenko's tapered beam, by quadrature of M m / EI + V v / (5/6 G A) with h(x) as it is.
void expect_tapered_beam(bool is_skin) {
    constexpr double length = 1200, width = 80, thin = 12, thick = 24, force = 60;
    Piece piece = plain_piece(length, width, 30);
    Elastic wood = invented_wood();
    wood.nu12 = 0;
    piece.top.elastic = wood;
    piece.self_weight = false;
    const auto h = [&](double x) { return thin + (thick - thin) * x / length; };
    const Rectangle whole{0, length, 0, width};
    SkinGrid grid = grid_of(whole, 61, 3, [&](Point p) { return h(p.x); });
    if (is_skin) {
        piece.recesses = {{.name = "all",
                           .shape = RectangleShape{.box = whole, .corner_radius = 0},
                           .depth = 12,
                           .root_radius = 0,
                           .lands = {}}};
        give_skin(piece.recesses.front(), piece.top, std::move(grid), 18);
        REQUIRE(piece.recesses.front().surveyed);
    } else {
        give_thickness(piece, std::move(grid), 18);
        REQUIRE(piece.top.surveyed);
    }
    piece.supports = {edge({0, 0}, {0, width}, true), edge({length, 0}, {length, width}, true)};
    for (Support& support : piece.supports) std::get<Bearer>(support.kind).packed = true;
    piece.loads = {patch_of(force, {length / 2, width / 2}, 60, width)};
    const Model model = make_model(piece, coarse(4));
    const std::vector<SolvedSituation> solved = solve_situations(piece, model);
    const double w = -movement_at(model.shell, solved.front().dofs, {length / 2, width / 2});
    double bending = 0, shear = 0;
    constexpr int n = 20000;
    const auto moment = [&](double x) { // of the patch, 60 long
        const double r = force / 2 * x, over = std::max(0.0, x - (length / 2 - 30)),
                     past = std::max(0.0, x - (length / 2 + 30));
        return r - force / 60 * (over * over - past * past) / 2;
    };
    for (int k = 0; k < n; ++k) {
        const double x = length * (k + 0.5) / n, dx = length / n,
                     unit = x < length / 2 ? x / 2 : (length - x) / 2;
        bending += moment(x) * unit / (wood.E1 * width * std::pow(h(x), 3) / 12) * dx;
        const double V = (moment(x + 1e-3) - moment(x - 1e-3)) / 2e-3, v = x < length / 2 ? 0.5 : -0.5;
        shear += V * v / (5.0 / 6 * wood.G13 * width * h(x)) * dx;
    }
    // half a per cent: the mesh, and that the beam's own axis, at mid-depth, slopes
    CHECK_THAT(w, WithinRel(bending + shear, 0.005));
    double volume = 0;
    for (int k = 0; k < n; ++k) volume += width * h(length * (k + 0.5) / n) * length / n;
    CHECK_THAT(model.volume, WithinRel(volume, 1e-9));
}

} // namespace

TEST_CASE("a tapered strip bends as a tapered beam", "[solver][uneven]") { expect_tapered_beam(true); }
TEST_CASE("a board that tapers bends as a tapered beam", "[solver][uneven]") { expect_tapered_beam(false); }

// The sections beside walls are a parabola's: here at its end, where it is what was put in.
TEST_CASE("a board found a millimetre thicker all over is as stiff as one drawn so", "[solver][uneven]") {
    Piece drawn = uneven_top(), found = drawn;
    drawn.top.thickness = 41;
    drawn.recesses.front().depth = 23;
    found.top.surveyed = grid_of({0, 1600, 0, 800}, 9, 5, [](Point) { return 41.0; });
    const auto sag = [](const Piece& piece) {
        const Model model = make_model(piece, coarse(3));
        return -movement_at(model.shell, solve_situations(piece, model).front().dofs, {800, 400});
    };
    const double as_drawn = sag(drawn), as_found = sag(found), before = sag(uneven_top());
    INFO(before << " " << as_found << " " << as_drawn);
    // zones beside walls are as wide as those of a board of 40, and their springs as stiff: a part in thirty of what
    // the millimetre does
    CHECK_THAT(as_found, WithinAbs(as_drawn, (before - as_drawn) / 30));
    CHECK(as_drawn < 0.99 * before);
}

TEST_CASE("boards keep their own stiffness where skin and board are uneven", "[solver][uneven]") {
    Piece drawn = uneven_top();
    drawn.top.elastic.reset();
    drawn.top.wood = "ash_white";
    for (const double modulus : {7000.0, 16000.0, 12000.0, 10000.0}) {
        Board board{.width = 200};
        board.measured.E_along = modulus;
        drawn.top.each_board.push_back(board);
    }
    drawn.top.boards = 4;
    drawn.loads = {patch_of(300, {800, 60}, 100, 100)};
    Piece uneven = drawn;
    uneven.recesses.front().surveyed = grid_of(uneven_well, 5, 5, [](Point) { return 18.0; });
    uneven.top.surveyed = grid_of({0, 1600, 0, 800}, 5, 5, [](Point) { return 40.0; });
    const auto sag = [](const Piece& piece, Point at) {
        const Model model = make_model(piece, coarse(3));
        return -movement_at(model.shell, solve_situations(piece, model).front().dofs, at);
    };
    for (const Point at : {Point{800, 20}, {800, 780}})
        CHECK_THAT(sag(uneven, at), WithinRel(sag(drawn, at), 1e-9));
}

TEST_CASE("the uneven skin of a top turned over end for end gives the mirrored sag",
          "[solver][uneven][slow]") {
    UnevenSkinDrawn skin{.level = 17};
    skin.tilt_x = 1.5;
    skin.gouges = {{{500, 300}, 1.2, 120}};
    UnevenSkinDrawn mirrored = skin;
    mirrored.tilt_x = -1.5;
    mirrored.gouges = {{{1100, 300}, 1.2, 120}};
    const CheckOptions options{.mesh = CheckOptions::Mesh::coarse,
                               .mesh_size = {},
                               .threads = 1,
                               .essentials = true,
                               .no_advice = true,
                               .progress = {}};
    const SituationResult a = check_piece(with_skin(uneven_top(), skin), options).result.situations.front(),
                          b = check_piece(with_skin(uneven_top(), mirrored), options)
                                  .result.situations.front();
    CHECK_THAT(b.sag_mm, WithinRel(a.sag_mm, 1e-6));
    CHECK_THAT(b.sag_at.x, WithinAbs(1600 - a.sag_at.x, 1e-3));
}

// What bends the skin across has to pass a groove that runs from end to end: of a plate strip 6 M / h^2 grows by
// (18 / 13)^2 = 1.9, less what the ends and the rim take.
TEST_CASE("a groove along the whole skin raises what it bears across", "[solver][uneven][slow]") {
    Piece drawn = uneven_top();
    drawn.probes = {{800, 400}};
    Piece grooved = drawn;
    give_skin(grooved.recesses.front(), grooved.top,
              grid_of(uneven_well, 3, 201,
                      [](Point p) {
                          const double off = (p.y - 400) / 40;
                          return 18 - 5 * std::exp(-off * off);
                      }),
              17.4);
    const CheckOptions options{.mesh = CheckOptions::Mesh::coarse,
                               .mesh_size = {},
                               .threads = 1,
                               .essentials = true,
                               .no_advice = true,
                               .progress = {}};
    const auto bent_across = [&](const Piece& p) { // half the difference of the faces: bending alone
        const ProbeReading probe = check_piece(p, options).result.situations.front().probes.front();
        return (probe.stress_bottom_MPa[1] - probe.stress_top_MPa[1]) / 2;
    };
    const double before = bent_across(drawn), after = bent_across(grooved);
    INFO(before << " " << after);
    CHECK(before > 0);
    CHECK(after > 1.2 * before);
    CHECK(after < 1.9 * before);
}
