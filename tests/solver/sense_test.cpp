// SPDX-License-Identifier: MIT
// Every fault of a piece, compared to the last letter: "place: what; remedy".
#include "solver/piece/sense.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <limits>

using namespace hollowtop;

namespace {

/// An invented table that makes sense: 1900 x 850 x 42 mm, one recess 24 mm deep, four pads, one load.
Piece table() {
    Piece piece;
    piece.top.length = 1900;
    piece.top.width = 850;
    piece.top.thickness = 42;
    piece.top.wood = "black_cherry";
    piece.top.outline = RectangleShape{{0, 1900, 0, 850}, 0};
    piece.top.moisture_percent = 8;
    piece.recesses = {{"well", RectangleShape{{120, 1780, 110, 740}, 10}, 24, 3, {}}};
    for (const Point at : {Point{90, 90}, Point{1810, 90}, Point{90, 760}, Point{1810, 760}}) {
        piece.supports.push_back({"pad", Pad{at, 70, 70, true, {}}});
    }
    piece.loads = {{"books", Duration::long_term, AreaLoad{0.0005, {}}}};
    return piece;
}

/// The table without its recess.
Piece plain_table() {
    Piece piece = table();
    piece.recesses.clear();
    return piece;
}

Piece ellipse_table() {
    Piece piece = plain_table();
    piece.top.outline = EllipseShape{{0, 1900, 0, 850}};
    piece.supports.clear();
    return piece;
}

/// Every amount of ours is one, and no text: it can be said in other units.
bool keeps_its_amounts(const Message& message) {
    for (const MessagePart& part : parts_of(message))
        if (const auto* text = std::get_if<std::string>(&part); text && states_amount(*text)) return false;
    return true;
}

std::string text_of(const std::vector<Fault>& faults) {
    std::string text;
    for (const Fault& fault : faults) {
        CAPTURE(in_own_units(fault.what), in_own_units(fault.remedy));
        CHECK((keeps_its_amounts(fault.what) && keeps_its_amounts(fault.remedy)));
        text += fault.place + ": " + in_own_units(fault.what) +
                (fault.remedy.empty() ? "" : "; " + in_own_units(fault.remedy)) + "\n";
    }
    return text;
}

struct BadPiece {
    std::function<void(Piece&)> break_it;
    std::string message;
};

void check_each(const std::function<Piece()>& make, const std::vector<BadPiece>& rows) {
    REQUIRE(text_of(faults_of(make())) == "");
    for (const BadPiece& row : rows) {
        Piece piece = make();
        row.break_it(piece);
        INFO("expected: " << row.message);
        CHECK(text_of(faults_of(piece)) == row.message + "\n");
    }
}

RectangleShape& outline_of(Piece& p) { return std::get<RectangleShape>(p.top.outline); }
RectangleShape& well_of(Piece& p) { return std::get<RectangleShape>(p.recesses[0].shape); }

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

Elastic sheet() { return {9000, 3000, 0.3, 600, 500, 200, 600.0}; }

Stiffener angle() {
    Stiffener stiffener;
    stiffener.name = "front";
    stiffener.section = "angle 30x30x3";
    stiffener.metal = "S235";
    stiffener.from = {150, 200};
    stiffener.to = {1750, 200};
    stiffener.screws = {.diameter = 4.5, .length = 15, .spacing = 180, .at = {}, .stiffness = {}};
    return stiffener;
}

} // namespace

TEST_CASE("a piece that can be built has no fault", "[solver][piece]") {
    CHECK(faults_of(table()).empty());
    CHECK(faults_of(ellipse_table()).empty());
}

TEST_CASE("a top without a size or a material is a fault that names the key", "[solver][piece]") {
    check_each(
        table,
        {
            {[](Piece& p) { p.top.length = 0; }, "top.length: 0 mm is not a length; give more than 0 mm"},
            {[](Piece& p) { p.top.width = -850; }, "top.width: -850 mm is not a width; give more than 0 mm"},
            {[](Piece& p) { p.top.thickness = not_a_number; },
             "top.thickness: nan mm is not a thickness; give more than 0 mm"},
            {[](Piece& p) { p.top.wood.clear(); },
             "top: says neither which wood it is nor how stiff; give \"wood\", \"sheet\" or \"elastic\""},
            {[](Piece& p) { p.top.wood = "black chery"; },
             "top.wood: no wood \"black chery\" in the table of woods; did you mean \"Black cherry\"?"},
            {[](Piece& p) { p.top.elastic = sheet(); },
             "top.elastic: is given beside \"wood\"; give one of the two"},
            {[](Piece& p) { p.top.measured.E_along = 0; },
             "top.measured.E_along: 0 MPa is not a stiffness; give more than 0 MPa"},
            {[](Piece& p) { p.top.measured.density_kg_m3 = -1; },
             "top.measured.density: -1 kg/m3 is not a density; give more than 0 kg/m3"},
            {[](Piece& p) { p.top.grain_deg = std::numeric_limits<double>::infinity(); },
             "top.grain: inf is not an angle; give degrees from x"},
            {[](Piece& p) { p.top.ring_angle_deg = 95; },
             "top.rings: 95 degrees is not a ring angle; give 0 (flatsawn) to 90 (quartersawn)"},
            {[](Piece& p) { p.top.moisture_percent = 35; },
             "top.moisture: 35 % is not the moisture of seasoned wood; give 0 to 30"},
            {[](Piece& p) {
                 p.top.each_board = {{.width = 140, .measured = {.E_along = 9000, .density_kg_m3 = {}}},
                                     {.width = 150}};
             },
             "top.boards: the boards are 290 mm wide together, and the top is 850 mm across its grain; give "
             "the "
             "widths as they lie glued up, from the edge nearest the origin"},
            {[](Piece& p) { p.top.measured.u_density_percent = 2; },
             "top.measured.uncertainty.density: the value that it belongs to is not given; give \"density\" "
             "beside "
             "\"uncertainty\""},
            {[](Piece& p) { p.top.boards = -1; }, "top.boards: -1 is not a number of boards; give 1 or more"},
            {[](Piece& p) {
                 p.top.each_board = {{.width = 425}, {.width = 0}};
             },
             "top.boards[1]: 0 mm is not a width; give more than 0 mm"},
        });
}

TEST_CASE("elastic constants that no material can have are faults", "[solver][piece]") {
    const auto make = [] {
        Piece piece = table();
        piece.top.wood.clear();
        piece.top.elastic = sheet();
        return piece;
    };
    check_each(
        make,
        {
            {[](Piece& p) { p.top.elastic->E1 = 0; },
             "top.elastic.E1: 0 MPa is not a stiffness; give more than 0 MPa"},
            {[](Piece& p) { p.top.elastic->E2 = -3; },
             "top.elastic.E2: -3 MPa is not a stiffness; give more than 0 MPa"},
            {[](Piece& p) { p.top.elastic->G12 = 0; },
             "top.elastic.G12: 0 MPa is not a stiffness; give more than 0 MPa"},
            {[](Piece& p) { p.top.elastic->G13 = 0; },
             "top.elastic.G13: 0 MPa is not a stiffness; give more than 0 MPa"},
            {[](Piece& p) { p.top.elastic->G23 = 0; },
             "top.elastic.G23: 0 MPa is not a stiffness; give more than 0 MPa"},
            {[](Piece& p) { p.top.elastic->nu12 = -1.8; },
             "top.elastic.nu12: -1.8 is not possible with these E1 and E2: its square must be below E1/E2; "
             "give a number between -1.732 and 1.732"},
            {[](Piece& p) { p.top.elastic->density_kg_m3 = 0; },
             "top.elastic.density: 0 kg/m3 is not a density; give more than 0 kg/m3"},
            {[](Piece& p) { p.top.elastic->density_kg_m3.reset(); },
             "top.elastic.density: is not given, but the top's own weight is wanted; "
             "give it in kg/m3, or \"self_weight\": false"},
            {[](Piece& p) { p.top.measured.E_along = 9800; },
             "top.measured: replaces the values of a wood, but \"elastic\" is given; put the values into "
             "\"elastic\""},
        });
    Piece weightless = make();
    weightless.top.elastic->density_kg_m3.reset();
    weightless.self_weight = false;
    CHECK(faults_of(weightless).empty());
}

TEST_CASE("an outline that is no shape is a fault", "[solver][piece]") {
    const auto polygon = [](std::vector<Point> points, double radius = 0) {
        return [=](Piece& p) { p.top.outline = PolygonShape{points, radius}; };
    };
    check_each(
        [] {
            Piece piece = plain_table();
            piece.supports.clear();
            return piece;
        },
        {
            {[](Piece& p) { outline_of(p).corner_radius = 426; },
             "top.outline.corner_radius: 426 mm is too large for this shape; give at most 425 mm"},
            {[](Piece& p) { outline_of(p).corner_radius = -1; },
             "top.outline.corner_radius: -1 mm is less than nothing; give 0 mm or more"},
            {polygon({{0, 0}, {1900, 0}}), "top.outline.points: has 2 points; give at least 3"},
            {polygon({{0, 0}, {1900, 0}, {1900, 0}, {0, 850}}),
             "top.outline.points[2]: is the same point as the one before; leave it out"},
            {polygon({{0, 0}, {1900, 0}, {0, 850}, {0, 0}}),
             "top.outline.points[3]: is the first point again; leave it out"},
            {polygon({{0, 0}, {not_a_number, 0}, {0, 850}}),
             "top.outline.points[1]: is not a point; give two lengths"},
            {polygon({{0, 0}, {1900, 0}, {950, 0}}),
             "top.outline.points: crosses, touches or folds back on itself at x 0, y 0; "
             "list the corners in order around the shape"},
            {polygon({{0, 0}, {1900, 850}, {1900, 0}, {0, 850}}),
             "top.outline.points: crosses, touches or folds back on itself at x 950, y 425; "
             "list the corners in order around the shape"},
            {polygon({{0, 0}, {1900, 0}, {1900, 850}, {950, 0}, {0, 850}}),
             "top.outline.points: crosses, touches or folds back on itself at x 950, y 0; "
             "list the corners in order around the shape"},
            // sides 300, 400, 500: the corner between 400 and 500 cuts radius x 3 off the half side of 200
            {polygon({{0, 0}, {300, 0}, {0, 400}}, 76),
             "top.outline.corner_radius: 76 mm is too large for this shape; give at most 66.667 mm"},
            {polygon({{0, 0}, {2000, 0}, {0, 850}}),
             "top.outline.points[1]: x 2000, y 0 lies outside the 1900 x 850 mm of the top; "
             "keep it inside, or give a larger length or width"},
        });
    Piece clockwise = plain_table();
    clockwise.top.outline = PolygonShape{{{0, 0}, {0, 850}, {1900, 850}, {1900, 0}}, 100};
    clockwise.supports.resize(0);
    CHECK(text_of(faults_of(clockwise)) == "");
}

TEST_CASE("a recess that cannot be cut is a fault", "[solver][piece]") {
    check_each(
        table,
        {
            {[](Piece& p) { p.recesses[0].depth = 45; },
             "recesses[0].depth: 45 mm is deeper than the top (42 mm); give less than 42 mm, or \"skin\" "
             "instead"},
            {[](Piece& p) { p.recesses[0].depth = 42; },
             "recesses[0].depth: 42 mm goes right through the top (42 mm); give less than 42 mm, or \"skin\" "
             "instead"},
            {[](Piece& p) { p.recesses[0].depth = 0; },
             "recesses[0].depth: 0 mm cuts nothing; give more than 0 mm, or a \"skin\" thinner than the top "
             "(42 mm)"},
            {[](Piece& p) { p.recesses[0].root_radius = 24.125; },
             "recesses[0].root_radius: 24.125 mm is larger than the depth (24 mm); give at most 24 mm"},
            {[](Piece& p) { p.recesses[0].root_radius = -1; },
             "recesses[0].root_radius: -1 mm is less than nothing; give 0 mm or more"},
            {[](Piece& p) { well_of(p).box.x1 = 100; },
             "recesses[0].x: from 120 mm to 100 mm there is no length; give the smaller number first, then "
             "the larger"},
            {[](Piece& p) { well_of(p).box.y0 = 740; },
             "recesses[0].y: from 740 mm to 740 mm there is no width; give the smaller number first, then "
             "the larger"},
            {[](Piece& p) { well_of(p).corner_radius = 315.5; },
             "recesses[0].corner_radius: 315.5 mm is too large for this shape; give at most 315 mm"},
            {[](Piece& p) {
                 well_of(p) = {{120, 1920, 110, 740}, 0};
             },
             "recesses[0]: reaches 20 mm past the outline at x 1920, y 110; keep it on the top"},
            {[](Piece& p) {
                 p.recesses[0].shape = PolygonShape{{{100, 100}, {400, 100}, {400, -5}}, 0};
             },
             "recesses[0]: reaches 5 mm past the outline at x 400, y -5; keep it on the top"},
            {[](Piece& p) {
                 p.recesses[0].shape = PolygonShape{{{100, 100}, {400, 400}, {400, 100}, {100, 400}}, 0};
             },
             "recesses[0].polygon: crosses, touches or folds back on itself at x 250, y 250; "
             "list the corners in order around the shape"},
            {[](Piece& p) {
                 p.recesses.push_back({"", RectangleShape{{1700, 1850, 200, 300}, 0}, 10, 0, {}});
             },
             "recesses[1]: overlaps recesses[0] (\"well\") at x 1700, y 250; recesses may touch but not "
             "overlap"},
            {[](Piece& p) { p.recesses.push_back(p.recesses[0]); },
             "recesses[1]: overlaps recesses[0] (\"well\") at x 950, y 416.873; recesses may touch but not "
             "overlap"},
        });
}

TEST_CASE("a rim that leaves nothing to recess is a fault", "[solver][piece]") {
    const auto rim = [](double width, double radius = 0) {
        return [=](Piece& p) { p.recesses = {{"", RimShape{width, radius}, 10, 0, {}}}; };
    };
    check_each(plain_table,
               {
                   {rim(425), "recesses[0].rim: 425 mm leaves nothing to recess; give less than 425 mm"},
                   {rim(-1), "recesses[0].rim: -1 mm is less than nothing; give 0 mm or more"},
                   {rim(400, 26),
                    "recesses[0].corner_radius: 26 mm is too large for this shape; give at most 25 mm"},
               });
    check_each(
        ellipse_table,
        {
            {rim(425), "recesses[0].rim: 425 mm leaves nothing to recess; give less than 425 mm"},
            {rim(400, 26),
             "recesses[0].corner_radius: a cutter of 26 mm radius does not fit in what the rim leaves; "
             "give less than 25 mm"},
        });
    // an hourglass, 250 mm wide at its waist
    const auto hourglass = [] {
        Piece piece = ellipse_table();
        piece.top.outline =
            PolygonShape{{{0, 0}, {950, 300}, {1900, 0}, {1900, 850}, {950, 550}, {0, 850}}, 0};
        return piece;
    };
    check_each(hourglass,
               {
                   {rim(140), "recesses[0].rim: 140 mm leaves nothing to recess, or cuts it in two; "
                              "give less, or draw the recess as a \"polygon\""},
               });
    Piece narrow = hourglass();
    rim(110)(narrow);
    CHECK(text_of(faults_of(narrow)) == "");
}

TEST_CASE("recesses may touch each other and the edge of the top", "[solver][piece]") {
    Piece piece = table();
    piece.recesses.push_back({"", RectangleShape{{1780, 1900, 110, 740}, 0}, 10, 0, {}});
    piece.recesses.push_back({"", RectangleShape{{0, 120, 0, 850}, 0}, 10, 0, {}});
    piece.recesses.push_back({"", PolygonShape{{{120, 740}, {1780, 740}, {900, 850}}, 0}, 10, 0, {}});
    CHECK(text_of(faults_of(piece)) == "");
}

TEST_CASE("a hair of overlap is an overlap, a rounding error is not", "[solver][piece]") {
    const auto with_gap = [](double overlap) {
        Piece piece = plain_table();
        piece.recesses = {{"a", RectangleShape{{100, 500, 100, 700}, 0}, 10, 0, {}},
                          {"b", RectangleShape{{500 - overlap, 900, 100, 700}, 0}, 10, 0, {}}};
        return faults_of(piece).size();
    };
    CHECK(with_gap(1e-9) == 0);
    CHECK(with_gap(1e-3) == 1);
}

TEST_CASE("a land lies inside its recess and beside other lands", "[solver][piece]") {
    const auto land = [](Rectangle box, double radius = 0) {
        return [=](Piece& p) { p.recesses[0].lands.push_back({"", RectangleShape{box, radius}}); };
    };
    const auto make = [] {
        Piece piece = table();
        piece.recesses[0].lands = {{"middle", RectangleShape{{900, 1000, 110, 740}, 0}}};
        return piece;
    };
    check_each(
        make,
        {
            {land({200, 300, 700, 760}),
             "recesses[0].lands[1]: reaches 20 mm out of its recess at x 300, y 760; keep it inside"},
            {land({950, 1100, 300, 400}), "recesses[0].lands[1]: overlaps lands[0] (\"middle\") at x 950, y "
                                          "350; lands may touch but not overlap"},
            {land({300, 200, 300, 400}), "recesses[0].lands[1].x: from 300 mm to 200 mm there is no length; "
                                         "give the smaller number first, then the larger"},
            {land({200, 300, 300, 400}, 60),
             "recesses[0].lands[1].corner_radius: 60 mm is too large for this shape; give at most 50 mm"},
            {[](Piece& p) {
                 p.recesses[0].lands[0].shape = PolygonShape{{{300, 300}}, 0};
             },
             "recesses[0].lands[0].polygon: has 1 point; give at least 3"},
        });
    Piece beside = make();
    land({1000, 1100, 110, 740})(beside);
    CHECK(text_of(faults_of(beside)) == "");
}

TEST_CASE("a support stands wholly under the top", "[solver][piece]") {
    const auto only = [](auto kind) { return [=](Piece& p) { p.supports = {{"it", kind}}; }; };
    check_each(
        plain_table,
        {
            {only(Pad{{30, 90}, 70, 70, false, {}}),
             "supports[0]: reaches 5 mm past the outline at x -5, y 55; keep the whole pad on the top"},
            {only(Pad{{90, 90}, 0, 70, false, {}}),
             "supports[0].size: 0 x 70 mm is no area to stand on; give two lengths above 0 mm"},
            {only(Pad{{90, 90}, 70, 70, false, 0.0}),
             "supports[0].stiffness: 0 is not a stiffness; give more than 0"},
            {only(Bearer{{300, 60}, {300, 60}, 40, false, {}}),
             "supports[0].to: is the same point as \"from\"; give a line with a length"},
            {only(Bearer{{10, 60}, {10, 790}, 40, false, {}}),
             "supports[0]: reaches 10 mm past the outline at x -10, y 790; keep the whole bearer on the top"},
            {only(Bearer{{300, 60}, {300, 860}, 0, false, {}}),
             "supports[0]: reaches 10 mm past the outline at x 300, y 860; keep the whole line on the top"},
            {only(Bearer{{300, 60}, {300, 790}, -1, false, {}}),
             "supports[0].width: -1 mm is less than nothing; give 0 mm (a knife edge) or more"},
            {only(Held{.from = {0, 0}, .to = {0, 850}}),
             "supports[0].holds: holds nothing; name at least one of \"down\", \"tilt\", \"twist\", "
             "\"along\", \"across\""},
            {only(Held{.from = {0, 0}, .to = {0, 851}, .down = true}),
             "supports[0]: reaches 1 mm past the outline at x 0, y 851; keep the whole line on the top"},
            {only(BuiltIn{{0, 0}, {0, 0}}),
             "supports[0].to: is the same point as \"from\"; give a line with a length"},
            {only(Rail{{90, 90}, {1810, 90}, "bar 22x90", "", "", {}, false}),
             "supports[0]: does not say what it is made of; give \"metal\", \"wood\" or \"elastic\""},
        });
}

TEST_CASE("a line on the very edge of the top, and a pad in its corner, are on the top", "[solver][piece]") {
    Piece piece = plain_table();
    piece.supports = {{"left", Held{.from = {0, 0}, .to = {0, 850}, .down = true}},
                      {"right", BuiltIn{{1900, 0}, {1900, 850}}},
                      {"front", Bearer{{0, 0}, {1900, 0}, 0, false, {}}},
                      {"corner", Pad{{35, 815}, 70, 70, false, {}}}};
    CHECK(text_of(faults_of(piece)) == "");
}

TEST_CASE("a pad in a rounded corner, or by a curved edge, is held against the curve", "[solver][piece]") {
    Piece rounded = plain_table();
    outline_of(rounded).corner_radius = 100;
    // the pad's corner at 29 mm from both edges lies (100 - 29) sqrt(2) = 100.409 mm from the corner's centre
    rounded.supports = {{"", Pad{{64, 64}, 70, 70, false, {}}}};
    CHECK(text_of(faults_of(rounded)) ==
          "supports[0]: reaches 0.409 mm past the outline at x 29, y 29; keep the whole pad on the top\n");
    rounded.supports = {{"", Pad{{64.5, 64.5}, 70, 70, false, {}}}};
    CHECK(text_of(faults_of(rounded)) == "");

    // on an ellipse of 1900 x 850 the point at x = 950 + 760 lies at y = 425 + 425 * 0.6
    Piece oval = ellipse_table();
    oval.supports = {{"", Pad{{1710 - 35, 680 - 35 - 0.1}, 70, 70, false, {}}}};
    CHECK(text_of(faults_of(oval)) == "");
    oval.supports = {{"", Pad{{1710 - 35, 680 - 35 + 0.1}, 70, 70, false, {}}}};
    CHECK(faults_of(oval).size() == 1);
}

TEST_CASE("a load lies on the top", "[solver][piece]") {
    const auto only = [](auto kind) {
        return [=](Piece& p) { p.loads = {{"it", Duration::short_term, kind}}; };
    };
    check_each(
        plain_table,
        {
            {only(AreaLoad{not_a_number, {}}),
             "loads[0].pressure: nan is not an amount; give a finite number"},
            {only(AreaLoad{0.001, Rectangle{1900, 2000, 0, 850}}),
             "loads[0].over: lies off the top; give a part of the top"},
            {only(AreaLoad{0.001, Rectangle{100, 100, 0, 850}}),
             "loads[0].over.x: from 100 mm to 100 mm there is no length; give the smaller number first, then "
             "the larger"},
            {only(PatchLoad{800, {1901, 60}, 200, 200, false, {}}),
             "loads[0].at: x 1901, y 60 lies outside the outline; give a point on the top"},
            {only(PatchLoad{800, {950, 60}, -1, 200, false, {}}),
             "loads[0].size: -1 x 200 mm is no size; give two lengths of 0 mm or more"},
            {only(PatchLoad{not_a_number, {950, 60}, 0, 0, false, {}}),
             "loads[0].force: nan is not an amount; give a finite number"},
            {only(LineLoad{300, {600, 0}, {600, 0}, false, {}}),
             "loads[0].to: is the same point as \"from\"; give a line with a length"},
            {only(LineLoad{300, {600, 0}, {1300, -10}, false, {}}),
             "loads[0]: reaches 10 mm past the outline at x 1300, y -10; keep the whole line on the top"},
        });
    Piece edge = plain_table();
    only(PatchLoad{800, {950, 0}, 200, 200, false, {}})(edge);
    CHECK(text_of(faults_of(edge)) == "");
}

TEST_CASE("a line that leaves the top and comes back is off the top", "[solver][piece]") {
    Piece piece = plain_table();
    piece.top.outline = PolygonShape{
        {{0, 0}, {1900, 0}, {1900, 850}, {1000, 850}, {1000, 400}, {900, 400}, {900, 850}, {0, 850}}, 0};
    piece.supports.clear();
    piece.loads = {{"", Duration::short_term, LineLoad{300, {100, 600}, {1800, 600}, false, {}}}};
    CHECK(text_of(faults_of(piece)) ==
          "loads[0]: reaches 50 mm past the outline at x 950, y 600; keep the whole line on the top\n");
}

TEST_CASE("a stiffener lies on one level, within the top, with screws that fit", "[solver][piece]") {
    const auto make = [] {
        Piece piece = table();
        piece.stiffeners = {angle()};
        return piece;
    };
    check_each(
        make,
        {
            {[](Piece& p) {
                 p.stiffeners[0].to = {1850, 200};
             },
             "stiffeners[0]: crosses from 18 mm of wood to 42 mm at x 1780, y 200; end it there, or keep it "
             "on one level"},
            {[](Piece& p) {
                 p.recesses[0].lands = {{"", RectangleShape{{900, 1000, 150, 300}, 0}}};
             },
             "stiffeners[0]: crosses from 18 mm of wood to 42 mm at x 900, y 200; end it there, or keep it "
             "on one level"},
            {[](Piece& p) { p.stiffeners[0].from = p.stiffeners[0].to; },
             "stiffeners[0].to: is the same point as \"from\"; give a line with a length"},
            {[](Piece& p) {
                 p.supports.clear(); // it would run through the legs as well
                 p.stiffeners[0].from = {-10, 50};
                 p.stiffeners[0].to = {1800, 50};
             },
             "stiffeners[0]: reaches 10 mm past the outline at x -10, y 50; keep the whole line on the top"},
            {[](Piece& p) {
                 p.stiffeners[0].from = {100, 5};
                 p.stiffeners[0].to = {1800, 5};
             },
             "stiffeners[0]: reaches 10 mm past the outline at x 100, y -10; keep all that lies against the "
             "wood on the top"},
            {[](Piece& p) { p.stiffeners[0].metal.clear(); },
             "stiffeners[0]: does not say what it is made of; give \"metal\", \"wood\" or \"elastic\""},
            {[](Piece& p) { p.stiffeners[0].wood = "black_cherry"; },
             "stiffeners[0]: is made of more than one thing; give only one of \"metal\", \"wood\", "
             "\"elastic\""},
            {[](Piece& p) { p.stiffeners[0].screws.length = 21; },
             "stiffeners[0].screws.length: 21 mm comes out of the top: 3 mm of the section and 18 mm of wood "
             "are there; "
             "give less than 21 mm"},
            {[](Piece& p) { p.stiffeners[0].screws.spacing = 1601; },
             "stiffeners[0].screws.spacing: 1601 mm is longer than the stiffener (1600 mm); "
             "give less, or the places in \"at\""},
            {[](Piece& p) { p.stiffeners[0].screws.spacing = 0; },
             "stiffeners[0].screws.spacing: 0 mm is not a spacing; give more than 0 mm"},
            {[](Piece& p) {
                 p.stiffeners[0].screws.at = {80, 1700};
             },
             "stiffeners[0].screws.at[1]: 1700 mm lies beyond the stiffener (1600 mm); give 0 mm to 1600 mm "
             "from its start"},
            {[](Piece& p) { p.stiffeners[0].screws.diameter = 0; },
             "stiffeners[0].screws.diameter: 0 mm is not a screw; give more than 0 mm"},
        });
    Piece under_the_rim = make();
    under_the_rim.stiffeners[0].from = {150, 50};
    under_the_rim.stiffeners[0].to = {1750, 50};
    under_the_rim.stiffeners[0].screws.length = 40;
    CHECK(text_of(faults_of(under_the_rim)) == "");
}

TEST_CASE("nothing runs through anything else", "[solver][piece]") {
    const auto make = [] { // the angle hangs 6 mm below the rim
        Piece piece = table();
        piece.stiffeners = {angle()};
        return piece;
    };
    const auto second = [](Piece& p, Point from, Point to, const char* section) {
        Stiffener other = angle();
        other.name = "across";
        other.section = section;
        other.from = from;
        other.to = to;
        p.stiffeners.push_back(other);
    };
    const auto bearer = [](Piece& p, double width, bool packed = false, std::optional<double> height = {}) {
        p.supports.push_back(
            {"trestle",
             Bearer{
                 .from = {950, 120}, .to = {950, 280}, .width = width, .packed = packed, .height = height}});
    };
    check_each(make, {
                         {[&](Piece& p) {
                              second(p, {950, 130}, {950, 700}, "flat 40x5");
                          },
                          "stiffeners[1]: runs through \"front\" at x 950, y 200; move one of them, or end "
                          "one at the other"},
                         {[&](Piece& p) { bearer(p, 40); },
                          "stiffeners[0]: hangs 6 mm below the rim and runs through \"trestle\" at x 950, y "
                          "200; end it before that support, or take a "
                          "section that stays above the rim's underside"},
                         {[&](Piece& p) { bearer(p, 0, false, 60); }, // a blade with a body
                          "stiffeners[0]: hangs 6 mm below the rim and runs through \"trestle\" at x 950, y "
                          "200; end it before that support, or take a "
                          "section that stays above the rim's underside"},
                         {[](Piece& p) {
                              p.supports.push_back({"rail", Rail{.from = {950, 50},
                                                                 .to = {950, 800},
                                                                 .section = "bar 22x90",
                                                                 .metal = {},
                                                                 .wood = "black_cherry",
                                                                 .elastic = {}}});
                          },
                          "stiffeners[0]: hangs 6 mm below the rim and runs through \"rail\" at x 950, y "
                          "200; end it before that support, or take a "
                          "section that stays above the rim's underside"},
                         {[&](Piece& p) {
                              p.stiffeners[0].section = "flat 40x5";
                              bearer(p, 40, true);
                          },
                          "stiffeners[0]: runs through the packing of \"trestle\" at x 950, y 200; end it "
                          "there, or leave the packing out"},
                         {[&](Piece& p) { bearer(p, 40, false, 0); },
                          "supports[4].height: 0 mm is not a height; give more than 0 mm\n"
                          "stiffeners[0]: hangs 6 mm below the rim and runs through \"trestle\" at x 950, y "
                          "200; end it before that support, or take a "
                          "section that stays above the rim's underside"},
                     });
    Piece sound = make();
    sound.stiffeners[0].section = "flat 40x5"; // stays in the recess: over the bearer freely
    bearer(sound, 40);
    second(sound, {150, 240}, {1750, 240}, "flat 40x5"); // side by side
    CHECK(text_of(faults_of(sound)) == "");
    Piece drawn = make(); // a knife edge is a line of a textbook
    bearer(drawn, 0);
    CHECK(text_of(faults_of(drawn)) == "");
}

TEST_CASE("what hangs below the rim is known", "[solver][piece]") {
    Piece piece = table();
    piece.stiffeners = {angle(), angle()};
    piece.stiffeners[1].name = "under the rim";
    piece.stiffeners[1].from = {150, 50};
    piece.stiffeners[1].to = {1750, 50};
    const std::vector<Hanging> hanging = hanging_stiffeners(piece);
    REQUIRE(hanging.size() == 2);
    CHECK((hanging[0].name == "front" && hanging[0].by == 6 && hanging[0].in_recess)); // 30 in a recess of 24
    CHECK((hanging[1].by == 30 && !hanging[1].in_recess));
    piece.stiffeners = {angle()};
    piece.stiffeners[0].section = "angle 20x20x3";
    CHECK(hanging_stiffeners(piece).empty());
}

TEST_CASE("a clamp grips the top where nothing else is", "[solver][piece]") {
    const auto make = [] {
        Piece piece = table();
        piece.loads = {{"arm", Duration::long_term,
                        ClampLoad{.force = 80,
                                  .at = {950, 40},
                                  .hangs_at = {950, -300},
                                  .above_x = 60,
                                  .above_y = 60,
                                  .below_x = 40,
                                  .below_y = 40}}};
        return piece;
    };
    const auto clamp = [](Piece& p) -> ClampLoad& { return std::get<ClampLoad>(p.loads[0].kind); };
    check_each(
        make,
        {
            {[&](Piece& p) { clamp(p).force = 0; },
             "loads[0].force: 0 N is not a weight that hangs; give more than 0 N"},
            {[&](Piece& p) { clamp(p).below_y = 0; },
             "loads[0].below: 40 x 0 mm is no area to press on; give two lengths above 0 mm"},
            {[&](Piece& p) { clamp(p).above_y = 100; },
             "loads[0].above: reaches 10 mm past the outline at x 920, y -10; keep the whole pad on the top"},
            {[&](Piece& p) {
                 p.recesses[0].shape = RectangleShape{{120, 1780, 50, 740}, 10};
             },
             "loads[0].below: lies half under the recess \"well\"; move the clamp, or make the pad smaller"},
            {[&](Piece& p) {
                 clamp(p).at = {110, 90}, clamp(p).below_x = clamp(p).below_y = 30;
             },
             "loads[0].below: is where \"pad\" is, at x 110, y 90; move the clamp"},
        });
}

TEST_CASE("limits, strengths, climate and probes that mean nothing are faults", "[solver][piece]") {
    check_each(
        table,
        {
            {[](Piece& p) { p.limits.sag.divisor = 0; },
             "limits.sag: span/0 is not a limit; give \"span/N\" with N above 0"},
            {[](Piece& p) { p.limits.sag_years = {.length = -2}; },
             "limits.sag_years: -2 mm is not a limit; give more than 0 mm"},
            {[](Piece& p) { p.limits.dish = {.length = 0, .is_stated = true}; },
             "limits.dish: 0 mm is not a limit; give more than 0 mm"},
            {[](Piece& p) { p.limits.flatness = 0; },
             "limits.flatness: 0 mm is not a limit; give more than 0 mm"},
            {[](Piece& p) { p.limits.flatness_years = -1; },
             "limits.flatness_years: -1 mm is not a limit; give more than 0 mm"},
            {[](Piece& p) { p.limits.frequency_Hz = 0; },
             "limits.frequency: 0 Hz is not a limit; give more than 0 Hz"},
            {[](Piece& p) { p.allowables.grade_ratio = 1.2; },
             "allowables.grade_ratio: 1.2 is not a share of the strength; give more than 0 and at most 1"},
            {[](Piece& p) { p.allowables.service_class = 4; },
             "allowables.service_class: 4 is not a service class; give 1, 2 or 3"},
            {[](Piece& p) {
                 p.allowables.basis = AllowablesBasis::strength_class;
                 p.allowables.strength_class = "D31";
             },
             "allowables.class: no strength class \"D31\" in EN 338; did you mean \"D30\" or "
             "\"D35\"?"},
            {[](Piece& p) {
                 p.climate = Climate{.low = Air{20, 110}, .high = {}, .years = 10};
             },
             "climate.low.humidity: 110 % is not a relative humidity; give 0 to 100"},
            {[](Piece& p) {
                 p.climate = Climate{.low = {}, .high = Air{80, 50}, .years = 10};
             },
             "climate.high.temperature: 80 C is not the air of a room or a shed; give -40 C to 60 C"},
            {[](Piece& p) { p.climate = Climate{.low = {}, .high = {}, .years = -1}; },
             "climate.years: -1 is not a number of years; give 0 or more"},
            {[](Piece& p) {
                 p.probes = {{950, 425}, {950, 850.5}};
             },
             "probe[1]: x 950, y 850.5 lies outside the outline; give a point on the top"},
        });
}

TEST_CASE("independent faults are told together, in the order of the file", "[solver][piece]") {
    Piece piece = table();
    piece.top.wood.clear();
    piece.recesses[0].depth = 50;
    std::get<Pad>(piece.supports[1].kind).at.x = 1900;
    piece.probes = {{-1, 0}};
    CHECK(
        text_of(faults_of(piece)) ==
        "top: says neither which wood it is nor how stiff; give \"wood\", \"sheet\" or \"elastic\"\n"
        "recesses[0].depth: 50 mm is deeper than the top (42 mm); give less than 42 mm, or \"skin\" instead\n"
        "supports[1]: reaches 35 mm past the outline at x 1935, y 55; keep the whole pad on the top\n"
        "probe[0]: x -1, y 0 lies outside the outline; give a point on the top\n");
}

TEST_CASE("no support at all is no fault of the drawing", "[solver][piece]") {
    Piece piece = table();
    piece.supports.clear();
    CHECK(faults_of(piece).empty());
}

TEST_CASE("only what passes may be judged for strength or stability alone", "[solver][piece]") {
    Piece piece = table();
    Load test{"a test's force", Duration::minutes, PatchLoad{1000, {950, 400}, 89, 89, false, {}},
              LoadFor::strength};
    piece.loads = {test};
    CHECK(text_of(faults_of(piece)) == "");
    test.judged_for = LoadFor::stability;
    piece.loads = {test};
    CHECK(text_of(faults_of(piece)) == "");
    for (const auto& [duration, word] : {std::pair{Duration::permanent, "permanent"},
                                         {Duration::long_term, "long"},
                                         {Duration::medium, "medium"}}) {
        test.duration = duration;
        piece.loads = {test};
        CHECK(
            text_of(faults_of(piece)) ==
            "loads[0].for: a load of duration \"" + std::string(word) +
                "\" is judged for everything; leave \"for\" out, or give a duration of \"short\" or less\n");
    }
}

TEST_CASE("what is not computed yet is said item by item", "[solver][piece]") {
    CHECK(not_computed(table()).empty());
    Piece piece = table();
    piece.stiffeners = {angle()};
    piece.supports.push_back(
        {"rail 1", Rail{{90, 90}, {1810, 90}, "bar 22x90", "", "black_cherry", {}, false}});
    piece.loads.push_back({"aquarium", Duration::long_term, PatchLoad{800, {}, 200, 200, true, {}}});
    piece.loads.push_back({"leaning", Duration::short_term, LineLoad{300, {0, 0}, {600, 0}, true, {}}});
    piece.use = "dining";
    CHECK(text_of(faults_of(piece)) == "");
    CHECK(text_of(not_computed(piece)) == "loads[1].at: the worst place of a load that stays is not searched "
                                          "for; give the place; try several\n");
}
