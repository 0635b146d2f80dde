// SPDX-License-Identifier: MIT
// The pictures of docs/walls.md: the wall submodel with its grid, and the stress in it, drawn from the section
// that the program solves.
// HOLLOWTOP_UPDATE_DOCS=1 draws them anew into docs/pictures.
#include "cli/report/drawing/colours.hpp"
#include "cli/report/drawing/contours.hpp"
#include "cli/report/drawing/svg.hpp"
#include "solver/section/submodel_element.hpp"
#include "solver/section/submodel_loads.hpp"
#include "solver/section/submodel_solver.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

using namespace hollowtop;
using namespace hollowtop::cli;

namespace {

/// An invented hardwood, wall along the grain; moduli as in the tests of the section.
const SubmodelSection shown{
    .thick = 40, .skin = 18, .root_radius = 5, .C = {1100, 420, 0, 420, 1700, 0, 0, 0, 270}};
const std::string said = "Skin of 18 mm, top of 40 mm, root radius 5 mm, an invented hardwood.";

/// A window of the section on the paper.
struct Paper {
    double x0, x1, scale, margin = 14;
    double width() const { return (x1 - x0) * scale + 2 * margin; }
    double height() const { return shown.thick * scale + 2 * margin; }
    Point at(double x, double z) const { return {margin + (x - x0) * scale, margin - z * scale}; }
};

/// The column or row in which a logical coordinate lies, the one that ends there if `before`.
int interval(const std::vector<double>& lines, double value, bool before) {
    const auto place = before ? std::lower_bound(lines.begin(), lines.end(), value)
                              : std::upper_bound(lines.begin(), lines.end(), value);
    return std::clamp(static_cast<int>(place - lines.begin()) - 1, 0, static_cast<int>(lines.size()) - 2);
}

SubmodelPoint place_of(const SubmodelMesh& grid, double X, double Z, bool lower, bool left) {
    return place_in(grid, interval(grid.xs, X, left), interval(grid.zs, Z, lower), X, Z);
}

/// A line of the grid of the upper block (skin and rim above the root) or the lower one (rim below it), as it
/// lies.
void draw_line(Svg& svg, const Paper& paper, const SubmodelMesh& grid, bool upper, bool upright, double value,
               double from, double to, const Look& look) {
    std::vector<Point> points;
    constexpr int steps = 48;
    for (int k = 0; k <= steps; ++k) {
        const double along = from + (to - from) * k / steps, X = upright ? value : along,
                     Z = upright ? along : value;
        const SubmodelPoint p = place_of(grid, X, Z, !upper, false);
        points.push_back(paper.at(p.x, p.z));
    }
    svg.polyline(thinned(points, 0.05), look);
}

void draw_outline(SvgPath& path, const Paper& paper, double root) {
    const double skin = shown.skin, thick = shown.thick;
    path.move(paper.at(paper.x0, 0))
        .line(paper.at(paper.x1, 0))
        .line(paper.at(paper.x1, -thick))
        .line(paper.at(0, -thick));
    path.line(paper.at(0, -skin - root))
        .arc(paper.at(-root, -skin), root * paper.scale, root * paper.scale, false)
        .line(paper.at(paper.x0, -skin))
        .close();
}

Svg picture_of_grid() {
    const SubmodelMesh grid = submodel_mesh(shown);
    const Paper paper{grid.skin_end, grid.rim_end, 700 / (grid.rim_end - grid.skin_end)};
    Svg svg("wall-cell", paper.width(), paper.height() + 16, "The wall submodel",
            said + " The whole section, from the skin through the wall into the rim, in " +
                std::to_string(grid.columns()) + " columns and " + std::to_string(grid.rows()) +
                " rows of cells, drawn together about the root.");
    SvgPath outline;
    draw_outline(outline, paper, grid.radius);
    svg.path(outline, {.fill = ink::wood, .stroke = ink::line, .width = 1.4});
    const double middle = grid.zs[static_cast<size_t>(grid.low_rows)],
                 wall = grid.xs[static_cast<size_t>(grid.skin_columns)];
    const Look thin{.stroke = ink::line, .width = 0.7};
    for (const double X : grid.xs) {
        draw_line(svg, paper, grid, true, true, X, middle, 0, thin);
        if (X >= wall) draw_line(svg, paper, grid, false, true, X, -shown.thick, middle, thin);
    }
    for (const double Z : grid.zs) {
        if (Z >= middle)
            draw_line(svg, paper, grid, true, false, Z, grid.skin_end, grid.rim_end, thin);
        else
            draw_line(svg, paper, grid, false, false, Z, wall, grid.rim_end, thin);
    }
    svg.text({paper.margin, paper.height() - 40}, "recess", {.fill = ink::soft});
    svg.text({paper.margin, paper.height() + 10}, "skin's end: pull, moment, shear come in",
             {.fill = ink::soft});
    svg.text({paper.width() - paper.margin, paper.height() + 10}, "rim's end: what balances them",
             {.fill = ink::soft, .anchor = Anchor::end});
    return svg;
}

/// Values of one block on its logical lines, each cell sampled; where two cells meet the left or lower one
/// speaks.
struct Block {
    bool upper;
    ValueGrid values;
};
std::vector<double> sampled(const std::vector<double>& lines, double from, double to) {
    std::vector<double> places;
    for (size_t k = 0; k + 1 < lines.size(); ++k) {
        const int samples = std::max(8, static_cast<int>(std::ceil((lines[k + 1] - lines[k]) / 1.5))); // mm
        for (int s = 0; s <= samples; ++s) {
            const double place = lines[k] + (lines[k + 1] - lines[k]) * s / samples;
            if (place >= from - 1e-9 && place <= to + 1e-9 &&
                (places.empty() || place > places.back() + 1e-9))
                places.push_back(place);
        }
    }
    return places;
}

constexpr double bending = 6.0; // stress of a moment m at the faces of a plain skin: 6 m / skin^2

/// Stress across the wall under a sagging moment of the skin, over that of the plain skin's faces.
double stress_share(const SubmodelMesh& grid, const SubmodelSolution& solution, int column, int row, double X,
                    double Z) {
    const auto local = [](const std::vector<double>& lines, int k, double value) {
        const double low = lines[static_cast<size_t>(k)], high = lines[static_cast<size_t>(k) + 1];
        return std::clamp(2 * (value - low) / (high - low) - 1, -1.0, 1.0);
    };
    const auto stress = stress_at(grid, shown.C, solution.movements(column, row), column, row,
                                  local(grid.xs, column, X), local(grid.zs, row, Z));
    return -stress[0][1] * shown.skin * shown.skin /
           bending; // the unit moment stretches the top face: sagging is its opposite
}

Block block_of(const SubmodelMesh& grid, const SubmodelSolution& solution, bool upper, double from,
               double to) {
    const double middle = grid.zs[static_cast<size_t>(grid.low_rows)],
                 wall = grid.xs[static_cast<size_t>(grid.skin_columns)];
    Block block{upper, {}};
    block.values.x = sampled(grid.xs, upper ? from : wall, to);
    block.values.y = sampled(grid.zs, upper ? middle : -shown.thick, upper ? 0 : middle);
    for (const double Z : block.values.y)
        for (const double X : block.values.x) {
            const int column = std::max(interval(grid.xs, X, true), upper ? 0 : grid.skin_columns);
            const int row = std::max(interval(grid.zs, Z, true), upper ? grid.low_rows : 0);
            block.values.value.push_back(stress_share(grid, solution, column, row, X, Z));
        }
    return block;
}

struct FieldPicture {
    Svg svg;
    double peak = 0;
};
FieldPicture picture_of_stress() {
    const SubmodelMesh grid = submodel_mesh(shown);
    const SubmodelSolution solution = solve_on(grid, shown, submodel_loads(grid, shown));
    const Paper paper{-1.6 * shown.skin, 1.2 * shown.thick, 9};
    const std::vector<Block> blocks{block_of(grid, solution, true, paper.x0 - 3, paper.x1 + 8),
                                    block_of(grid, solution, false, paper.x0 - 3, paper.x1 + 8)};
    double least = 0, most = 0;
    for (const Block& block : blocks)
        for (const double value : block.values.value) {
            least = std::min(least, value);
            most = std::max(most, value);
        }
    const auto two = [](double v) { return coordinate(std::round(100 * v) / 100); };
    Svg svg("wall-stress", paper.width(), paper.height() + 46,
            "Stress across the wall under a sagging moment",
            said +
                " Stress across the wall over that at the faces of the plain skin: 1 at its underside, -1 at "
                "its top face, " +
                two(most) + " at the root, nothing in the rim's lower corner.");
    const std::vector<double> levels{-1, -0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75, 1, 1.25, 1.5};
    const auto colour = [&](size_t band) {
        return to_hex(scale_colour(static_cast<double>(band) / static_cast<double>(levels.size())));
    };
    SvgPath outline;
    draw_outline(outline, paper, grid.radius);
    svg.open({svg.clip(outline)});
    svg.path(outline, {.fill = colour(0)});
    std::vector<std::vector<Point>>
        zero; // where tension turns to compression, without the edges of the blocks
    for (size_t k = 0; k < levels.size(); ++k)
        for (const Block& block : blocks) {
            SvgPath region;
            for (const ContourLoop& loop : region_at_or_above(block.values, levels[k])) {
                std::vector<Point> points;
                for (const Point& p : loop.points) {
                    const SubmodelPoint place = place_of(grid, p.x, p.y, !block.upper, false);
                    points.push_back(paper.at(place.x, place.z));
                }
                region.polygon(thinned(points, 0.15));
                if (levels[k] != 0) continue;
                zero.emplace_back();
                for (size_t n = 0; n < points.size(); ++n) {
                    zero.back().push_back(points[n]);
                    if (loop.on_edge[n]) zero.emplace_back();
                }
            }
            if (!region.empty()) svg.path(region, {.fill = colour(k + 1)});
        }
    for (const std::vector<Point>& line : zero)
        if (line.size() > 2) svg.polyline(thinned(line, 0.15), {.stroke = ink::text, .width = 0.8});
    svg.close();
    svg.path(outline, {.stroke = ink::line, .width = 1.2});
    const double step = 44, left = paper.margin, y = paper.height() + 6;
    for (size_t k = 0; k <= levels.size(); ++k) {
        svg.rectangle({left + step * static_cast<double>(k), y}, step, 12,
                      {.fill = colour(k), .stroke = ink::line, .width = 0.5});
        if (k < levels.size())
            svg.text({left + step * static_cast<double>(k + 1), y + 26}, coordinate(levels[k]),
                     {.size = 11, .fill = ink::soft, .anchor = Anchor::middle});
    }
    return {std::move(svg), most};
}

std::string content(const std::string& file) {
    std::ifstream in(file);
    REQUIRE(in);
    return {std::istreambuf_iterator<char>(in), {}};
}

void compare_or_keep(const std::string& name, const Svg& svg, bool whole) {
    const std::string file = std::string(HOLLOWTOP_SOURCE_DIR) + "/docs/pictures/" + name + ".svg";
    if (std::getenv("HOLLOWTOP_UPDATE_DOCS") != nullptr) std::ofstream(file) << svg.file();
    const auto words = [](const std::string& text) {
        return text.substr(text.find("<title"), text.find("</desc>") - text.find("<title"));
    };
    const std::string kept = content(file), drawn = svg.file();
    if (whole)
        CHECK(kept == drawn);
    else
        CHECK(words(kept) == words(drawn)); // contours may differ in their last digits between machines
}

} // namespace

TEST_CASE("the pictures of a wall submodel are drawn from the section that is solved", "[docs]") {
    compare_or_keep("wall_cell", picture_of_grid(), true);
    const FieldPicture stress = picture_of_stress();
    compare_or_keep("wall_stress", stress.svg, false);
    CHECK(stress.peak > 1); // the root's peak: more than the plain skin's face
    CHECK(stress.peak < 3);
}
