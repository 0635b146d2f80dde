// SPDX-License-Identifier: MIT
// The worst place of a load that travels, against every place of a 10 mm grid, and a place's answer against a
// whole solve.
#include "solver/check/worst_position.hpp"

#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/check/position_search.hpp"
#include "solver/model/make_model.hpp"
#include "solver/piece/sense.hpp"
#include "solver/piece/wording.hpp"
#include "solver/readout/gather.hpp"
#include "solver/situations/load_positions.hpp"
#include "solver/situations/travelling_load.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Piece top_of(double length, double width, double thickness) {
    Piece piece;
    piece.top.length = length;
    piece.top.width = width;
    piece.top.thickness = thickness;
    piece.top.wood = "oak_white";
    piece.top.outline = RectangleShape{{0, length, 0, width}, 0};
    return piece;
}

void put_pads(Piece& piece, double inset, bool hold_down) {
    int n = 0;
    for (const double x : {inset, piece.top.length - inset})
        for (const double y : {inset, piece.top.width - inset})
            piece.supports.push_back(
                {"pad " + std::to_string(++n),
                 Pad{.at = {x, y}, .size_x = 60, .size_y = 60, .hold_down = hold_down, .stiffness = {}}});
}

/// Loose on four pads: it rocks, and which pads press depends on the place.
Piece loose() {
    Piece piece = top_of(700, 420, 22);
    put_pads(piece, 90, false);
    return piece;
}

/// Hollowed off the middle, on two bearers; one lies under the recess and is packed up to it.
Piece hollowed() {
    Piece piece = top_of(800, 400, 30);
    piece.recesses = {{"well", RectangleShape{{150, 720, 60, 330}, 0}, 17, 3, {}}};
    for (const double x : {90.0, 640.0})
        piece.supports.push_back({"bearer", Bearer{.from = {x, 40},
                                                   .to = {x, 360},
                                                   .width = 40,
                                                   .hold_down = true,
                                                   .stiffness = {},
                                                   .packed = true}});
    return piece;
}

Piece oval() {
    Piece piece = top_of(700, 500, 20);
    piece.top.outline = EllipseShape{{0, 700, 0, 500}};
    put_pads(piece, 150, true);
    return piece;
}

/// Two angles in slots: screws, stops and contact.
Piece stiffened() {
    Piece piece = hollowed();
    Stiffener angle{.name = "angle",
                    .section = "angle 30x30x3",
                    .metal = "S235",
                    .wood = "",
                    .elastic = {},
                    .from = {200, 195},
                    .to = {680, 195},
                    .screws = {}};
    angle.screws = {
        .diameter = 4, .length = 12, .spacing = 120, .at = {}, .holes = Holes::slotted, .stiffness = {}};
    piece.stiffeners = {angle};
    return piece;
}

Load patch(double side, double force = 500) {
    return {"guest", Duration::short_term, PatchLoad{force, {}, side, side, true, {}}};
}
Load line() { return {"guests", Duration::short_term, LineLoad{400, {0, 0}, {300, 0}, true, {}}}; }

Result check(const Piece& piece) {
    CheckOptions options;
    options.mesh_size = std::max(piece.top.length, piece.top.width) / 10;
    options.threads = 1;
    return check_piece(piece, options).result;
}

} // namespace

TEST_CASE("a load is tried over and beside each support and against the walls of each recess", "[solver]") {
    for (const bool on_pads : {true, false}) {
        Piece piece = on_pads ? loose() : hollowed();
        const double half = 40;
        std::vector<Point> dangers;
        if (on_pads)
            dangers = {{90, 90},
                       {90 + 30 + half, 90},
                       {90, 90 + 30 + half}}; // over a pad and beside it; the other three are its images
        else
            dangers = {{90, 200},
                       {640 + 20 + half, 200},
                       {150 + half, 60 + half},
                       {720 - half, 195}}; // bearers, a corner, a wall
        PositionSearch search(coarse_top(piece, 1), patch(2 * half), "loads[0]");
        search.run();
        const int n = search.result().n_places;
        search.used_at(dangers);
        CAPTURE(on_pads);
        CHECK(search.result().n_places == n); // known already
        search.used_at({{201.3, 187.1}});
        CHECK(search.result().n_places == n + 1);
    }
}

TEST_CASE("the worst place is found between the places of the grid", "[solver]") {
    // A board on two bearers that cannot lift: what hangs over carries nothing, so between them the board is alike
    // on both sides, and a load makes it sag most in the middle of the span.
    Piece piece = top_of(600, 150, 20);
    piece.self_weight = false;
    const double near_bearer = 60, far_bearer = 520, half = 40;
    for (const double x : {near_bearer, far_bearer})
        piece.supports.push_back(
            {"bearer",
             Bearer{.from = {x, 10}, .to = {x, 140}, .width = 20, .hold_down = true, .stiffness = {}}});
    PositionSearch search(coarse_top(piece, 1), patch(2 * half), "loads[0]");
    search.run();
    const Travel travel = search.result();
    const auto sag = std::find_if(travel.fields.begin(), travel.fields.end(),
                                  [](const Travel::Field& field) { return field.check == "sag at once"; });
    REQUIRE(sag != travel.fields.end());
    const double middle = (near_bearer + far_bearer) / 2, hand = 5; // mm: set down no more exactly
    double from_grid = 600;
    for (const double x : travel.xs) from_grid = std::min(from_grid, std::abs(x - middle));
    REQUIRE(from_grid > hand + 1);
    CHECK_THAT(sag->worst_at.x, WithinAbs(middle, hand + 1));
}

TEST_CASE("a place's answer by reciprocity is that of a whole solve", "[solver]") {
    const Piece bare = GENERATE(loose(), hollowed(), stiffened());
    const ModelOptions options{
        .shell = {.size = {.largest = 100, .at_walls = 40, .at_edges = 100, .growth = 1}, .order = 3},
        .threads = 1};
    const Model standing = make_model(bare, options);
    const LoadPositionSolver solver(standing);
    for (const Point at : {Point{210, 120}, Point{520, 300}, Point{60, 60}}) {
        Piece piece = bare;
        piece.loads = {set_down(patch(90), at)};
        const std::vector<LoadPositionAnswer> answers = solver.solve(piece.loads);
        REQUIRE(answers.front().solved.has_value());
        const SolvedSituation& quick = *answers.front().solved;
        const Model model = make_model(piece, options);
        const SolvedSituation whole = solve_situations(piece, model).back();
        double most = 0;
        for (const double v : whole.dofs) most = std::max(most, std::abs(v));
        REQUIRE(quick.dofs.size() == whole.dofs.size());
        // the quick solve is not refined: eight digits of the greatest movement
        for (std::size_t i = 0; i < whole.dofs.size(); ++i)
            REQUIRE_THAT(quick.dofs[i], WithinAbs(whole.dofs[i], 1e-7 * most));
        for (std::size_t i = 0; i < whole.connection_force.size(); ++i)
            REQUIRE_THAT(quick.connection_force[i],
                         WithinAbs(whole.connection_force[i], 1e-5 * whole.applied.force));
        for (std::size_t i = 0; i < whole.support_force.size(); ++i)
            CHECK_THAT(quick.support_force[i], WithinAbs(whole.support_force[i], 1e-5 * whole.applied.force));
        CHECK_THAT(quick.applied.x_moment, WithinRel(whole.applied.x_moment, 1e-9));
        if (whole.tipping_factor)
            CHECK_THAT(quick.tipping_factor.value_or(0), WithinRel(*whole.tipping_factor, 1e-9));
    }
}

TEST_CASE("no place of a 10 mm grid is worse than the worst place found", "[solver][property][slow]") {
    struct Try {
        std::string name;
        Piece piece;
        Load load;
    };
    const auto a = GENERATE(values<Try>({{"loose top", loose(), patch(80, 200)},
                                         {"hollowed top", hollowed(), patch(100)},
                                         {"oval top", oval(), patch(60, 900)},
                                         {"line on a hollowed top", hollowed(), line()},
                                         {"stiffened top", stiffened(), patch(60, 700)}}));
    INFO(a.name);
    const auto top = coarse_top(a.piece, 1);
    PositionSearch search(top, a.load, "loads[0]"), all(top, a.load, "loads[0]");
    search.run();
    std::vector<Point> grid;
    const Rectangle range = all.range();
    for (double y = range.y0; y <= range.y1 + 1e-9; y += 10)
        for (double x = range.x0; x <= range.x1 + 1e-9; x += 10) grid.push_back({x, y});
    all.used_at(grid);
    const Travel found = search.result(), best = all.result();
    CHECK(found.n_places < best.n_places);
    for (const Travel::Field& field : best.fields) {
        if (field.worst_utilisation < 0.1) continue; // not refined
        INFO(field.check << " of the grid " << field.worst_utilisation << " at " << field.worst_at.x << ", "
                         << field.worst_at.y);
        const auto same = std::find_if(found.fields.begin(), found.fields.end(),
                                       [&](const auto& f) { return f.check == field.check; });
        REQUIRE(same != found.fields.end());
        // what takes up less than a third may have a rival peak a little higher: 5 %;
        // a cell's worth of pressure comes and goes as pieces of a pad begin to press, and lift-off grows by
        // leaps: 3 %; else the 5 mm of the last step, within which no harm falls by more than 1 %
        const bool jumps = field.check.find("bearing") == 0 || field.check == "lift-off";
        CHECK(same->worst_utilisation >= (field.worst_utilisation < 1.0 / 3 ? 0.95
                                          : jumps                           ? 0.97
                                                                            : 0.99) *
                                             field.worst_utilisation);
    }
}

TEST_CASE("a load on a strip between two bearers sags it most in the middle", "[solver]") {
    Piece piece = top_of(1000, 200, 20);
    for (const double x : {0.0, 1000.0})
        piece.supports.push_back(
            {"edge", Bearer{.from = {x, 0}, .to = {x, 200}, .width = 0, .hold_down = true, .stiffness = {}}});
    PositionSearch search(coarse_top(piece, 1),
                          {"weight", Duration::short_term, PatchLoad{300, {}, 60, 200, true, {}}},
                          "loads[0]");
    search.run();
    const Travel travel = search.result();
    REQUIRE(travel.fields.front().check == "sag at once");
    CHECK_THAT(travel.fields.front().worst_at.x, WithinAbs(500, 5)); // by symmetry, to the finest step
    CHECK(travel.fields.front().worst_at.y == 100); // as wide as the strip: it can stand nowhere else
    CHECK(travel.ys == std::vector<double>{100});
    CHECK(travel.xs.front() == 30);
    CHECK(travel.xs.back() == 970);
    CHECK(travel.fields.front().utilisation.size() == travel.xs.size());
}

TEST_CASE("a load that travels stays whole, on the top and inside the part it may travel over", "[solver]") {
    Piece piece = loose();
    piece.loads = {patch(80, 100)};
    std::get<PatchLoad>(piece.loads[0].kind).over = Rectangle{200, 500, 100, 320};
    for (const Load& load : with_worst_positions(piece, 1).piece.loads) {
        const Point p = *place_of(load);
        CHECK(p.x >= 240);
        CHECK(p.x <= 460);
        CHECK(p.y >= 140);
        CHECK(p.y <= 280);
    }
    const auto fault_of = [](const Piece& one) -> std::string {
        try {
            with_worst_positions(one, 1);
        } catch (const Error& error) {
            return error.faults().front().place + ": " + in_own_units(error.faults().front().what);
        }
        return "";
    };
    std::get<PatchLoad>(piece.loads[0].kind).over = Rectangle{-400, -200, 100, 320};
    CHECK(fault_of(piece) == "loads[0]: the load fits nowhere on the top");
}

TEST_CASE("where a load does most harm does not depend on the loads sought beside it, nor on threads",
          "[solver]") {
    Piece piece = loose();
    piece.loads = {patch(80, 100), patch(120, 60)};
    const std::vector<Load> together = with_worst_positions(piece, 2).piece.loads;
    std::vector<Load> alone;
    for (const Load& load : piece.loads) {
        Piece one = piece;
        one.loads = {load};
        const std::vector<Load> found = with_worst_positions(one, 1).piece.loads;
        CHECK_FALSE(found.empty());
        alone.insert(alone.end(), found.begin(), found.end());
    }
    CHECK(together == alone);
}

TEST_CASE("each worst place is a situation of its own that says where", "[solver][slow]") {
    Piece piece = hollowed();
    piece.loads = {patch(100)};
    const Result result = check(piece);
    int n = 0;
    for (const SituationResult& s : result.situations) {
        if (s.stage != Stage::passing) {
            CHECK_FALSE(s.load_at.has_value());
            continue;
        }
        ++n;
        REQUIRE(s.load_at.has_value());
        CHECK(s.name == "guest, " + place_words(*s.load_at, Units::mm));
    }
    CHECK(n >= 1);
    CHECK(n <= 6);
    REQUIRE(result.travels.size() == 1);
    CHECK(result.travels.front().load == "guest");
    // the places were found on a coarse mesh; what it says of sag there is right to a few per cent
    for (const Travel::Field& field : result.travels.front().fields) {
        if (field.check != "sag at once") continue;
        double most = 0;
        for (const CheckResult& row : result.checks)
            if (row.check == field.check) most = std::max(most, row.utilisation);
        CHECK_THAT(field.worst_utilisation, WithinRel(most, 0.03));
    }
}

TEST_CASE("a top that a travelling load tips fails by the check of tipping, told with the place",
          "[solver]") {
    Piece piece = loose();
    piece.supports.clear();
    for (const double x : {180.0, 520.0})
        for (const double y : {50.0, 370.0})
            piece.supports.push_back(
                {"pad", Pad{.at = {x, y}, .size_x = 60, .size_y = 60, .hold_down = false, .stiffness = {}}});
    piece.loads = {patch(80, 600)};
    const Result result = check(piece);
    CHECK_FALSE(result.passes);
    const auto row = std::max_element(
        result.checks.begin(), result.checks.end(), [](const CheckResult& a, const CheckResult& b) {
            return (a.check == "tipping" ? a.utilisation : 0) < (b.check == "tipping" ? b.utilisation : 0);
        });
    REQUIRE(row->check == "tipping");
    CHECK(row->utilisation > 1);
    REQUIRE(row->at.has_value());
    CHECK(row->situation == "guest, " + place_words(*row->at, Units::mm));
    // by hand: the load lies at the very end, its middle 40 mm from it; the top tips about the line through
    // the outermost of the pads' tiles, whose middles lie between 150 mm, the pad's edge, and 165 mm from the
    // end
    CHECK_THAT(std::min(row->at->x, 700 - row->at->x), WithinAbs(40, 1e-6));
    const double weight = 9.80665 * result.mass.top_kg;
    const double line_at = (row->capacity * 600 * 40 + weight * 350) / (row->capacity * 600 + weight);
    CHECK(line_at > 150);
    CHECK(line_at < 165);
}

TEST_CASE("a load that stays and has no place of its own is refused", "[solver]") {
    Piece piece = loose();
    piece.loads = {{"aquarium", Duration::long_term, PatchLoad{800, {}, 200, 200, true, {}}}};
    REQUIRE(not_computed(piece).size() == 1);
    CHECK(not_computed(piece).front().place == "loads[0].at");
}
