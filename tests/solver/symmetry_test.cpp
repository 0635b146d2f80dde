// SPDX-License-Identifier: MIT
// A top that is its own mirror image is searched on one side: it must be one, and the search must find no less.
#include "solver/check/symmetry.hpp"

#include "solver/check/position_search.hpp"
#include "solver/check/worst_position.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace hollowtop;

namespace {

/// 1000 x 600 x 30 on four pads, a recess in its middle, two flats under it, books all over.
Piece even_table() {
    Piece piece = invented_top();
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {200, 800, 100, 500}, .corner_radius = 10},
                       .depth = 12,
                       .root_radius = 3,
                       .lands = {{"rib", RectangleShape{.box = {480, 520, 100, 500}}}}}};
    for (const Point at : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}})
        piece.supports.push_back(pad(at, 60, true));
    for (const double y : {200.0, 400.0})
        piece.stiffeners.push_back({.name = "flat",
                                    .section = "flat 40x5",
                                    .metal = "S235",
                                    .wood = "",
                                    .elastic = {},
                                    .from = {y < 300 ? 210.0 : 790.0, y},
                                    .to = {y < 300 ? 790.0 : 210.0, y},
                                    .screws = {.diameter = 4,
                                               .length = 14,
                                               .spacing = 150,
                                               .at = {},
                                               .holes = Holes::slotted,
                                               .stiffness = {}}});
    piece.loads = {spread(0.0005, Duration::long_term)};
    return piece;
}

bool even_in(const Piece& piece, bool x, bool y) { return symmetry_of(piece) == Symmetry{.x = x, .y = y}; }

} // namespace

TEST_CASE("an even table is its own image on both sides", "[solver][symmetry]") {
    CHECK(even_in(even_table(), true, true));
    Piece crossed = even_table();
    crossed.top.grain_deg = 90;
    CHECK(even_in(crossed, true, true));
}

TEST_CASE("whatever is on one side only takes the symmetry away", "[solver][symmetry]") {
    Piece piece = even_table();
    std::get<Pad>(piece.supports[1].kind).at.x = 930;
    CHECK(even_in(piece, false, false));
    piece = even_table();
    std::get<Pad>(piece.supports[2].kind).hold_down = false;
    CHECK(even_in(piece, false, false));
    piece = even_table();
    std::get<RectangleShape>(piece.recesses[0].shape).box.x1 = 790;
    CHECK(even_in(piece, false, true));
    piece = even_table();
    std::get<RectangleShape>(piece.recesses[0].lands[0].shape).box.y1 = 450;
    CHECK(even_in(piece, true, false));
    piece = even_table();
    piece.top.grain_deg = 10;
    CHECK(even_in(piece, false, false));
    piece = even_table();
    piece.loads.push_back(patch_of(100, {500, 200}, 50, 50, Duration::permanent));
    CHECK(even_in(piece, true, false));
    piece.loads.back().duration = Duration::short_term; // it passes: nothing stays on one side
    CHECK(even_in(piece, true, true));
    piece = even_table();
    piece.stiffeners[0].from.x = 260; // shorter at one end
    CHECK(even_in(piece, false, false));
    piece = even_table();
    piece.stiffeners.pop_back();
    CHECK(even_in(piece, true, false));
    piece = even_table();
    piece.stiffeners[0].screws.spacing = 0;
    piece.stiffeners[0].screws.at = {20, 100};
    CHECK(even_in(piece, false, false));
}

TEST_CASE("of an even top one side is searched, and no place of the other is worse",
          "[solver][symmetry][slow]") {
    Piece piece = even_table();
    piece.stiffeners.clear();
    piece.top.elastic.reset();
    piece.top.wood = "oak_white";
    Load guest = patch_of(600, {500, 300}, 80, 80);
    auto& patch = std::get<PatchLoad>(guest.kind);
    patch.travels = true;
    PositionSearch search(coarse_top(piece, 2), guest, "loads[1]");
    search.run();
    const Travel travel = search.result();
    std::vector<Point> places;
    for (double x = 40; x <= 960; x += 23)
        for (double y = 40; y <= 560; y += 20) places.push_back({x, y});
    const std::vector<std::vector<double>> used = search.used_at(places);
    for (const Travel::Field& field : travel.fields) {
        CHECK(field.worst_at.x <= 500 + 1e-6);
        CHECK(field.worst_at.y <= 300 + 1e-6);
        // the picture is whole, and even
        const std::size_t nx = travel.xs.size(), ny = travel.ys.size();
        for (std::size_t j = 0; j < ny; ++j)
            for (std::size_t i = 0; i < nx; ++i) {
                const auto &here = field.utilisation[j * nx + i],
                           &there = field.utilisation[(ny - 1 - j) * nx + nx - 1 - i];
                CHECK(here.has_value() == there.has_value());
                if (here && there) CHECK(*here == Approx(*there));
            }
    }
    const auto worst_of = [&](const std::string& check) {
        return *std::find_if(travel.fields.begin(), travel.fields.end(),
                             [&](const Travel::Field& field) { return field.check == check; });
    };
    // the row of sag is the first of the table
    double most = 0;
    for (const auto& rows : used)
        if (!rows.empty()) most = std::max(most, rows[0]);
    CHECK(worst_of("sag at once").worst_utilisation >= 0.99 * most);
}
