// SPDX-License-Identifier: MIT
#include "solver/mesh/mesh.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double pi = std::numbers::pi;
/// Polynomials over straight-edged parts are integrated exactly: what is left is the rounding of some
/// thousand terms.
constexpr double rounding = 1e-11;
/// Along an arc the height of a strip is a square root; n + 6 Gauss points on a variable that flattens its
/// end leave less than this, the promise of the method.
constexpr double over_curves = 1e-8;

const Elastic wood{
    .E1 = 12000, .E2 = 700, .nu12 = 0.4, .G12 = 800, .G13 = 800, .G23 = 150, .density_kg_m3 = {}};

Piece piece_of(std::variant<RectangleShape, EllipseShape, PolygonShape> outline) {
    Piece piece;
    piece.top.thickness = 30;
    piece.top.outline = std::move(outline);
    return piece;
}

Recess recess(Rectangle box, double radius, std::vector<Land> lands = {}) {
    return {.name = "well",
            .shape = RectangleShape{.box = box, .corner_radius = radius},
            .depth = 18,
            .root_radius = 0,
            .lands = std::move(lands)};
}

ThicknessField field_of(const Piece& piece) { return thickness_field(piece, plane_stiffness(wood, 0)); }

MeshSize size_of(double largest) {
    return {.largest = largest, .at_walls = largest / 8, .at_edges = largest / 2, .growth = 0.6};
}

/// Integral over the parts of the mesh whose region is among those wanted.
double integral(const ThicknessField& field, const Mesh& mesh, int n, const std::function<double(Point)>& f,
                const std::function<bool(int)>& wanted) {
    double sum = 0;
    for (const Cell& cell : mesh.cells) {
        if (!cell.active) continue;
        for (const QuadraturePoint& q : cell_points(field, cell, n))
            if (wanted(q.place.region)) sum += q.weight * f({q.x, q.y});
    }
    return sum;
}
bool on_top(int region) { return region != outside; }

bool holds(const std::vector<double>& lines, double value) {
    return std::any_of(lines.begin(), lines.end(), [&](double v) { return std::abs(v - value) < 1e-9; });
}

} // namespace

TEST_CASE("mesh lines rise, hold every hard line, and stay within the size wanted", "[solver][mesh]") {
    const MeshSize size = size_of(90);
    const std::vector<Attractor> hard{{1000, 45}, {0, 45}, {137.5, 11}, {140, 11}, {701, 11}};
    const std::vector<double> lines = graded_lines(hard, {{420, 20}}, size);
    for (std::size_t k = 0; k + 1 < lines.size(); ++k) {
        CHECK(lines[k] < lines[k + 1]);
        CHECK(lines[k + 1] - lines[k] <=
              1.2 * size.largest + 1e-9); // a stretch of 1.2 sizes is still one cell
    }
    for (const Attractor& line : hard) CHECK(std::count(lines.begin(), lines.end(), line.at) == 1);
    // beside a wall and at an attractor the cells are about as small as wanted there
    const auto at = [&](double x) { return static_cast<std::size_t>(interval_of(lines, x)); };
    CHECK(lines[at(700) + 1] - lines[at(700)] < 1.6 * 11);
    CHECK(lines[at(420) + 1] - lines[at(420)] < 1.6 * 20);
}

TEST_CASE("a thousand lines are graded as the size wanted at each place says, asked of all of them",
          "[solver][mesh]") {
    // the number of cells between two lines is the integral of one over the size, to a fifth
    const MeshSize size{.largest = 90, .at_walls = 6, .at_edges = 20, .growth = 0.4, .across_round = 12};
    std::vector<Attractor> hard, attractors{{7.3, 2}, {1234.5, 0.7}, {1235, 40}, {2990, 1}};
    for (int k = 0; k <= 60; ++k) hard.push_back({50.0 * k, k % 7 == 0 ? 4.0 : 30.0});
    const std::vector<double> lines = graded_lines(hard, attractors, size);
    const auto wanted = [&](double x) {
        double least = size.largest;
        for (const auto* list : {&hard, &attractors})
            for (const Attractor& one : *list)
                least = std::min(least, one.size + size.growth * std::abs(x - one.at));
        return least;
    };
    for (std::size_t k = 0; k + 1 < hard.size(); ++k) {
        const auto from = std::find(lines.begin(), lines.end(), hard[k].at),
                   to = std::find(lines.begin(), lines.end(), hard[k + 1].at);
        REQUIRE(to != lines.end());
        double integral = 0;
        constexpr int n = 4000;
        for (int i = 0; i < n; ++i) integral += 50.0 / n / wanted(hard[k].at + 50 * (i + 0.5) / n);
        const double cells = std::max(1.0, std::ceil(integral - 0.2));
        CHECK_THAT(static_cast<double>(to - from), WithinAbs(cells, 1e-9));
    }
}

TEST_CASE("a mirrored row of hard lines gives the mirrored mesh", "[solver][mesh]") {
    const MeshSize size = size_of(90);
    const std::vector<Attractor> hard{{0, 45}, {137.5, 11}, {701, 11}, {1000, 45}}, pads{{60, 20}};
    std::vector<Attractor> mirrored, mirrored_pads{{940, 20}};
    for (const Attractor& line : hard) mirrored.push_back({1000 - line.at, line.size});
    const std::vector<double> one = graded_lines(hard, pads, size),
                              other = graded_lines(mirrored, mirrored_pads, size);
    REQUIRE(one.size() == other.size());
    for (std::size_t k = 0; k < one.size(); ++k)
        CHECK_THAT(one[k] + other[one.size() - 1 - k], WithinAbs(1000, 1e-9)); // rounding of 1000 mm
}

TEST_CASE("mesh lines move no further than the edge that moves them", "[solver][mesh]") {
    const MeshSize size = size_of(90);
    std::vector<double> before = graded_lines({{0, 45}, {300, 11}, {1000, 45}}, {}, size);
    int same_number = 0;
    for (int k = 1; k <= 200; ++k) {
        const std::vector<double> lines = graded_lines({{0, 45}, {300 + 0.1 * k, 11}, {1000, 45}}, {}, size);
        if (lines.size() == before.size()) {
            ++same_number;
            // the step is one 200th of a stretch, so the count of cells is a piecewise straight function:
            // half as much again
            for (std::size_t i = 0; i < lines.size(); ++i) CHECK(std::abs(lines[i] - before[i]) < 0.15);
        }
        before = lines;
    }
    CHECK(same_number > 190);
}

TEST_CASE("a top whose one edge leans a little has as fine a mesh when it is turned by a quarter",
          "[solver][mesh][turn]") {
    const ThicknessField lying = field_of(
                             piece_of(PolygonShape{.points = {{0, 0}, {1000, 0}, {960, 600}, {0, 600}}})),
                         turned = field_of(
                             piece_of(PolygonShape{.points = {{600, 0}, {600, 1000}, {0, 960}, {0, 0}}}));
    for (const double largest : {250.0, 120.0, 45.0}) {
        const MeshLines one = mesh_lines(lying, size_of(largest), {}),
                        other = mesh_lines(turned, size_of(largest), {});
        REQUIRE(one.xs.size() == other.ys.size());
        REQUIRE(one.ys.size() == other.xs.size());
        for (std::size_t k = 0; k < one.xs.size(); ++k)
            CHECK_THAT(other.ys[k], WithinAbs(one.xs[k], 1e-9)); // rounding of 1000 mm
        const Mesh mesh = make_mesh(lying, size_of(largest), {});
        CHECK((mesh.xs == one.xs && mesh.ys == one.ys));
    }
}

TEST_CASE("a side that rounded corners leave is the outline's own, and no line beside a wall",
          "[solver][mesh]") {
    // the bounds of the arcs round now up and now down
    for (double radius = 40; radius < 360; radius += 1.37) {
        const ThicknessField field =
            field_of(piece_of(RectangleShape{.box = {0, 793, 0, 742}, .corner_radius = radius}));
        const MeshLines lines = mesh_lines(field, size_of(60), {});
        for (const auto& row : {lines.xs, lines.ys}) {
            INFO("radius " << radius << ", first cell " << row[1] - row[0] << ", last "
                           << row.back() - row[row.size() - 2]);
            for (size_t k = 0; k < row.size(); ++k)
                CHECK_THAT(row[k], WithinAbs(row.back() - row[row.size() - 1 - k], 1e-9));
        }
    }
}

TEST_CASE("of two walls that meet in a wedge each has the wood that is nearer to it", "[solver][mesh]") {
    Piece piece = piece_of(RectangleShape{.box = {0, 600, 0, 400}, .corner_radius = 0});
    piece.recesses = {
        recess({100, 500, 80, 320}, 0,
               {{.name = "wedge", .shape = PolygonShape{{{275, 150}, {325, 150}, {300, 205}}, 0}}})};
    const ThicknessField field = field_of(piece);
    const Cell cell{.x0 = 281, .x1 = 324, .y0 = 170, .y1 = 215, .active = true, .cut = true};
    double left = 0, right = 0;
    for (const QuadraturePoint& q : cell_points(field, cell, 4)) {
        if (q.place.wall < 0) continue;
        const double from_axis = q.x - 300;
        CHECK(section_region_at(field, {q.x, q.y}).wall == q.place.wall);
        (from_axis < 0 ? left : right) += q.weight;
    }
    // both flanks about the tip lie in the cell, at most as far from it as their zones reach
    CHECK(left > 100);
    CHECK_THAT(left, WithinRel(right, 1e-9));
}

TEST_CASE("the corner of a land belongs half to either of its walls", "[solver][mesh]") {
    Piece piece = piece_of(RectangleShape{.box = {0, 600, 0, 400}, .corner_radius = 0});
    piece.recesses = {
        recess({100, 500, 80, 320}, 0, {{.name = "land", .shape = RectangleShape{{240, 360, 150, 250}, 0}}})};
    const ThicknessField field = field_of(piece);
    const Mesh mesh = make_mesh(field, size_of(60), {});
    std::map<int, double> area; // of the zone of each wall, over the land
    for (const Cell& cell : mesh.cells)
        for (const QuadraturePoint& q : cell_points(field, cell, 4))
            if (q.place.wall >= 0 && q.x > 240 && q.x < 360 && q.y > 150 && q.y < 250)
                area[q.place.wall] += q.weight;
    REQUIRE(area.size() == 4);
    const auto runs_along_x = [](const Wall& wall) {
        const Rectangle box = bounds_of(wall.piece);
        return box.y1 - box.y0 < 1e-9;
    };
    // along x one zone's width a, along y the other's, b: of the corner a b where they overlap each has what is nearer
    // to it, the narrower half a square
    const auto zone_of = [&](bool along_x) {
        const auto found = std::find_if(area.begin(), area.end(), [&](const auto& one) {
            return runs_along_x(field.walls[static_cast<std::size_t>(one.first)]) == along_x;
        });
        return field.walls[static_cast<std::size_t>(found->first)].zone;
    };
    const double a = zone_of(true), b = zone_of(false), narrow = std::min(a, b);
    CHECK(std::abs(a - b) > 0.5); // else the corner is too easy
    for (const auto& [wall, found] : area) {
        const bool along_x = runs_along_x(field.walls[static_cast<std::size_t>(wall)]);
        const double zone = along_x ? a : b, length = along_x ? 120 : 100;
        const double lost = zone > narrow ? narrow * zone - narrow * narrow / 2 : narrow * narrow / 2;
        CHECK_THAT(found, WithinRel(zone * length - 2 * lost, 1e-9));
    }
}

TEST_CASE("the interval of a coordinate is the one that holds it", "[solver][mesh]") {
    const std::vector<double> lines{0, 1, 3, 7};
    CHECK(interval_of(lines, 0) == 0);
    CHECK(interval_of(lines, 0.5) == 0);
    CHECK(interval_of(lines, 1) == 1);
    CHECK(interval_of(lines, 6.9) == 2);
    CHECK(interval_of(lines, 7) == 2);
    CHECK(interval_of(lines, -5) == 0);
    CHECK(interval_of(lines, 50) == 2);
}

TEST_CASE("straight edges of outline, recess and land are mesh lines", "[solver][mesh]") {
    Piece piece = piece_of(RectangleShape{.box = {0, 1200, 0, 700}});
    piece.recesses.push_back(
        recess({123.4, 1001.7, 99.9, 611.3}, 0,
               {{.name = "land", .shape = RectangleShape{.box = {500.5, 580, 300, 381.25}}}}));
    const Mesh mesh =
        make_mesh(field_of(piece), size_of(100),
                  {.lines_x = {1100.1}, .lines_y = {50.2}, .attractors_x = {}, .attractors_y = {}});
    for (const double x : {0.0, 123.4, 500.5, 580.0, 1001.7, 1100.1, 1200.0}) CHECK(holds(mesh.xs, x));
    for (const double y : {0.0, 50.2, 99.9, 300.0, 381.25, 611.3, 700.0}) CHECK(holds(mesh.ys, y));
}

TEST_CASE("cells tile the box, and no cell of a rectangular top is idle", "[solver][mesh]") {
    Piece piece = piece_of(RectangleShape{.box = {0, 1200, 0, 700}});
    piece.recesses.push_back(recess({120, 1000, 100, 600}, 0));
    const Mesh mesh = make_mesh(field_of(piece), size_of(100), {});
    double area = 0;
    for (const Cell& cell : mesh.cells) {
        CHECK(cell.active);
        area += (cell.x1 - cell.x0) * (cell.y1 - cell.y0);
    }
    CHECK_THAT(area, WithinRel(1200.0 * 700, rounding));
}

TEST_CASE("each cell knows its place, and cut cells are told from whole ones", "[solver][mesh]") {
    Piece piece = piece_of(EllipseShape{{0, 1200, 0, 700}});
    piece.recesses.push_back(recess({300, 900, 200, 500}, 20));
    const ThicknessField field = field_of(piece);
    const Mesh mesh = make_mesh(field, size_of(100), {});
    int whole = 0, cut = 0, idle = 0;
    for (const Cell& cell : mesh.cells) {
        if (!cell.active) {
            ++idle;
            // no corner of it is on the top, or the ellipse would cross it
            CHECK(region_at(field, {(cell.x0 + cell.x1) / 2, (cell.y0 + cell.y1) / 2}) == outside);
            continue;
        }
        ++(cell.cut ? cut : whole);
        if (cell.cut) continue;
        for (const double s : {0.03, 0.5, 0.97})
            for (const double t : {0.03, 0.5, 0.97})
                CHECK(region_at(field, {cell.x0 + s * (cell.x1 - cell.x0),
                                        cell.y0 + t * (cell.y1 - cell.y0)}) == cell.place.region);
    }
    CHECK(std::min({whole, cut, idle}) > 10);
}

TEST_CASE("cut cells integrate a polygon exactly", "[solver][mesh]") {
    // area and x^2 by Green's theorem, corner by corner. Over a part with slanting edges n points carry a
    // total degree of 2 n - 2, for the strip's height adds one in x.
    const std::vector<Point> corners{{0, 0}, {900, 60}, {1010, 520}, {430, 700}, {-40, 433}};
    double area = 0, second = 0;
    for (std::size_t k = 0; k < corners.size(); ++k) {
        const Point a = corners[k], b = corners[(k + 1) % corners.size()];
        const double cross = a.x * b.y - b.x * a.y;
        area += cross / 2;
        second += cross * (a.x * a.x + a.x * b.x + b.x * b.x) / 12;
    }
    const ThicknessField field = field_of(piece_of(PolygonShape{.points = corners, .corner_radius = 0}));
    for (const double largest : {170.0, 83.0, 40.0}) {
        const Mesh mesh = make_mesh(field, size_of(largest), {});
        INFO(largest);
        CHECK_THAT(integral(
                       field, mesh, 2, [](Point) { return 1.0; }, on_top),
                   WithinRel(area, rounding));
        CHECK_THAT(integral(
                       field, mesh, 2, [](Point p) { return p.x * p.x; }, on_top),
                   WithinRel(second, rounding));
    }
}

TEST_CASE("cut cells integrate an oval to the promise of the method", "[solver][mesh]") {
    const double a = 600, b = 350;
    const ThicknessField field = field_of(piece_of(EllipseShape{{-a, a, -b, b}}));
    for (const double largest : {170.0, 83.0, 40.0}) {
        const Mesh mesh = make_mesh(field, size_of(largest), {});
        INFO(largest);
        CHECK_THAT(integral(
                       field, mesh, 4, [](Point) { return 1.0; }, on_top),
                   WithinRel(pi * a * b, over_curves));
        CHECK_THAT(integral(
                       field, mesh, 4, [](Point p) { return p.x * p.x; }, on_top),
                   WithinRel(pi * a * a * a * b / 4, over_curves));
        CHECK_THAT(integral(
                       field, mesh, 4, [](Point p) { return p.y * p.y; }, on_top),
                   WithinRel(pi * a * b * b * b / 4, over_curves));
        CHECK_THAT(integral(
                       field, mesh, 4, [](Point p) { return p.x * p.x * p.y * p.y; }, on_top),
                   WithinRel(pi * a * a * a * b * b * b / 24, over_curves));
    }
}

TEST_CASE("cut cells integrate rounded rectangles to the promise of the method", "[solver][mesh]") {
    // less the four corners, each a square r by r less a quarter of a disc, at c from the middle
    const auto area = [](double a, double b, double r) { return a * b - (4 - pi) * r * r; };
    const auto second = [](double a, double b, double r) {
        const double c = a / 2 - r;
        const double square = c * c * r * r + c * r * r * r + std::pow(r, 4) / 3;
        const double quarter = c * c * pi * r * r / 4 + 2 * c * r * r * r / 3 + pi * std::pow(r, 4) / 16;
        return a * a * a * b / 12 - 4 * (square - quarter);
    };
    Piece piece = piece_of(RectangleShape{.box = {-600, 600, -350, 350}, .corner_radius = 95});
    piece.recesses.push_back(recess({-450, 450, -250, 250}, 33));
    const ThicknessField field = field_of(piece);
    for (const double largest : {170.0, 83.0, 40.0}) {
        const Mesh mesh = make_mesh(field, size_of(largest), {});
        const auto in_recess = [](int region) { return region == 1; };
        INFO(largest);
        CHECK_THAT(integral(
                       field, mesh, 4, [](Point) { return 1.0; }, on_top),
                   WithinRel(area(1200, 700, 95), over_curves));
        CHECK_THAT(integral(
                       field, mesh, 4, [](Point p) { return p.x * p.x; }, on_top),
                   WithinRel(second(1200, 700, 95), over_curves));
        CHECK_THAT(integral(
                       field, mesh, 4, [](Point) { return 1.0; }, in_recess),
                   WithinRel(area(900, 500, 33), over_curves));
        CHECK_THAT(integral(
                       field, mesh, 4, [](Point p) { return p.x * p.x; }, in_recess),
                   WithinRel(second(900, 500, 33), over_curves));
    }
}

TEST_CASE("a cell's points inside a box cover just the box", "[solver][mesh]") {
    const ThicknessField field = field_of(piece_of(EllipseShape{{0, 1200, 0, 700}}));
    const Mesh mesh = make_mesh(field, size_of(100), {});
    const Rectangle box{333, 512, 211, 402}; // wholly on the top, across many cells
    double area = 0, moment = 0;
    for (const Cell& cell : mesh.cells)
        for (const QuadraturePoint& q : cell_points_in(field, cell, box, 2)) {
            CHECK(q.weight > 0);
            area += q.weight;
            moment += q.weight * q.x;
        }
    CHECK_THAT(area, WithinRel(179.0 * 191, rounding));
    CHECK_THAT(moment, WithinRel(179.0 * 191 * 422.5, rounding));
}

TEST_CASE("no weight is negative, whatever the cut", "[solver][mesh]") {
    // a negative weight could make a mass or a stiffness negative
    Piece piece = piece_of(PolygonShape{
        .points = {{0, 0}, {800, 0}, {800, 300}, {300, 300}, {300, 600}, {0, 600}}, .corner_radius = 40});
    piece.recesses.push_back(recess({60, 260, 60, 500}, 30));
    const ThicknessField field = field_of(piece);
    for (const double largest : {90.0, 37.0})
        for (const Cell& cell : make_mesh(field, size_of(largest), {}).cells)
            for (const QuadraturePoint& q : cell_points(field, cell, 5)) REQUIRE(q.weight > 0);
}

TEST_CASE("points that tell less apart are fewer, and integrate the same", "[solver][mesh]") {
    Piece piece = piece_of(EllipseShape{{0, 1200, 0, 700}});
    piece.recesses.push_back(recess({300, 900, 200, 500}, 60));
    const ThicknessField field = field_of(piece);
    const Mesh mesh = make_mesh(field, size_of(100), {});
    struct Sums {
        double area = 0, second = 0, volume = 0;
        size_t n = 0;
    };
    const auto sums = [&](Apart apart) {
        Sums s;
        for (const Cell& cell : mesh.cells)
            if (cell.active && cell.cut)
                for (const QuadraturePoint& q : cell_points(field, cell, 4, apart)) {
                    if (apart != Apart::walls) REQUIRE(q.place.wall == -1);
                    ++s.n;
                    if (q.place.region == outside) continue;
                    s.area += q.weight;
                    s.second += q.weight * q.x * q.y;
                    s.volume += q.weight * thickness_of(field, q.place.region);
                }
        return s;
    };
    const Sums walls = sums(Apart::walls), regions = sums(Apart::regions), top = sums(Apart::top);
    CHECK(top.n < regions.n);
    CHECK(regions.n < walls.n);
    CHECK_THAT(regions.area, WithinRel(walls.area, over_curves));
    CHECK_THAT(regions.volume, WithinRel(walls.volume, over_curves));
    CHECK_THAT(top.area, WithinRel(walls.area, over_curves));
    CHECK_THAT(top.second, WithinRel(walls.second, over_curves));
    CHECK_THAT(top.volume, WithinRel(30 * walls.area, over_curves));
}

TEST_CASE("a box is told to be one place only where it is", "[solver][mesh]") {
    Piece piece = piece_of(EllipseShape{{0, 1200, 0, 700}});
    piece.recesses.push_back(recess({300, 900, 200, 500}, 60));
    const ThicknessField field = field_of(piece);
    const Mesh mesh = make_mesh(field, size_of(150), {});
    for (const Apart apart : {Apart::walls, Apart::regions, Apart::top}) {
        int whole = 0, parted = 0;
        for (const Cell& cell : mesh.cells) {
            if (!cell.cut) continue;
            const double hx = (cell.x1 - cell.x0) / 4, hy = (cell.y1 - cell.y0) / 4;
            for (int k = 0; k < 16; ++k) {
                const Rectangle box{cell.x0 + k % 4 * hx, cell.x0 + (k % 4 + 1) * hx, cell.y0 + k / 4 * hy,
                                    cell.y0 + (k / 4 + 1) * hy};
                const auto points = cell_points_in(field, cell, box, 4, apart);
                const auto place = region_throughout(field, box, apart);
                const bool alike = std::all_of(points.begin(), points.end(), [&](const QuadraturePoint& q) {
                    return q.place == points.front().place;
                });
                REQUIRE((!place || (alike && *place == points.front().place)));
                ++(place ? whole : parted);
            }
        }
        CHECK(whole > 10);
        CHECK(parted > 10);
    }
}
