// SPDX-License-Identifier: MIT
#include "cli/report/drawing/contours.hpp"

#include "materials/assert.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

namespace hollowtop::cli {
namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

std::vector<double> distinct(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    values.erase(std::unique(values.begin(), values.end()), values.end());
    return values;
}

std::size_t index_of(const std::vector<double>& sorted, double value) {
    return static_cast<std::size_t>(std::lower_bound(sorted.begin(), sorted.end(), value) - sorted.begin());
}

/// Spreads values into the places that have none, a ring at a time.
void fill_up(ValueGrid& grid) {
    const std::size_t nx = grid.x.size(), ny = grid.y.size();
    for (bool any_left = true; any_left;) {
        any_left = false;
        bool changed = false;
        std::vector<double> next = grid.value;
        for (std::size_t j = 0; j < ny; ++j)
            for (std::size_t i = 0; i < nx; ++i) {
                if (!std::isnan(grid.at(i, j))) continue;
                double sum = 0;
                int n = 0;
                const auto take = [&](std::size_t a, std::size_t b) {
                    if (const double v = grid.at(a, b); !std::isnan(v)) sum += v, ++n;
                };
                if (i > 0) take(i - 1, j);
                if (i + 1 < nx) take(i + 1, j);
                if (j > 0) take(i, j - 1);
                if (j + 1 < ny) take(i, j + 1);
                if (n > 0)
                    next[j * nx + i] = sum / n, changed = true;
                else
                    any_left = true;
            }
        grid.value = std::move(next);
        if (!changed) break;
    }
}

/// The grid with a frame of "below everything" around it, lying on its edge: every region closes.
struct Framed {
    const ValueGrid* grid;
    std::size_t nx, ny; ///< with the frame
    double x(std::size_t i) const { return grid->x[std::clamp<std::size_t>(i, 1, nx - 2) - 1]; }
    double y(std::size_t j) const { return grid->y[std::clamp<std::size_t>(j, 1, ny - 2) - 1]; }
    bool is_frame(std::size_t i, std::size_t j) const {
        return i == 0 || j == 0 || i == nx - 1 || j == ny - 1;
    }
    double value(std::size_t i, std::size_t j) const {
        return is_frame(i, j) ? nothing : grid->at(i - 1, j - 1);
    }
    bool above(std::size_t i, std::size_t j, double level) const {
        const double v = value(i, j);
        return !std::isnan(v) && v >= level;
    }
};

/// Where a side between two grid points, one above and one below the level, meets it.
Point crossing(const Framed& f, std::size_t i0, std::size_t j0, std::size_t i1, std::size_t j1,
               double level) {
    const double a = f.value(i0, j0), b = f.value(i1, j1);
    double share = 0.5;
    if (std::isnan(a))
        share = 1;
    else if (std::isnan(b))
        share = 0;
    else if (a != b)
        share = (level - a) / (b - a);
    return {f.x(i0) + share * (f.x(i1) - f.x(i0)), f.y(j0) + share * (f.y(j1) - f.y(j0))};
}

// Sides of squares are numbered so that two squares share the number of their common side.
using Side = std::size_t;

} // namespace

ValueGrid grid_of(const std::vector<Point>& points, const std::vector<double>& values) {
    HOLLOWTOP_ASSERT(points.size() == values.size());
    ValueGrid grid;
    for (const Point& p : points) {
        grid.x.push_back(p.x);
        grid.y.push_back(p.y);
    }
    grid.x = distinct(std::move(grid.x));
    grid.y = distinct(std::move(grid.y));
    grid.value.assign(grid.x.size() * grid.y.size(), nothing);
    for (std::size_t k = 0; k < points.size(); ++k)
        grid.value[index_of(grid.y, points[k].y) * grid.x.size() + index_of(grid.x, points[k].x)] = values[k];
    fill_up(grid);
    return grid;
}

std::vector<ContourLoop> region_at_or_above(const ValueGrid& grid, double level) {
    if (grid.x.size() < 2 || grid.y.size() < 2) return {};
    const Framed f{&grid, grid.x.size() + 2, grid.y.size() + 2};
    const auto flat_side = [&](std::size_t i, std::size_t j) {
        return Side{2 * (j * f.nx + i)};
    }; // to the right of (i, j)
    const auto upright_side = [&](std::size_t i, std::size_t j) {
        return Side{2 * (j * f.nx + i) + 1};
    }; // above (i, j)
    std::map<Side, Point> place;
    std::map<Side, std::pair<Side, bool>>
        next; // from each side to the one the boundary leaves by, the region on the left
    for (std::size_t j = 0; j + 1 < f.ny; ++j)
        for (std::size_t i = 0; i + 1 < f.nx; ++i) {
            // corners counter-clockwise, sides between them: bottom, right, top, left
            const std::array<std::array<std::size_t, 2>, 4> corner{
                {{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}}};
            const std::array<Side, 4> side{flat_side(i, j), upright_side(i + 1, j), flat_side(i, j + 1),
                                           upright_side(i, j)};
            std::array<bool, 4> in{};
            int n_in = 0;
            bool at_frame = false;
            double mean = 0;
            for (std::size_t k = 0; k < 4; ++k) {
                in[k] = f.above(corner[k][0], corner[k][1], level);
                n_in += in[k] ? 1 : 0;
                at_frame = at_frame || f.is_frame(corner[k][0], corner[k][1]);
                if (!at_frame) mean += f.value(corner[k][0], corner[k][1]) / 4;
            }
            if (n_in == 0 || n_in == 4) continue;
            std::vector<std::size_t> enters,
                leaves; // going round counter-clockwise: into the region, out of it
            for (std::size_t k = 0; k < 4; ++k) {
                const std::size_t after = (k + 1) % 4;
                if (in[k] == in[after]) continue;
                place[side[k]] =
                    crossing(f, corner[k][0], corner[k][1], corner[after][0], corner[after][1], level);
                (in[after] ? enters : leaves).push_back(k);
            }
            // The region's corners lie between an entering side and the leaving side after it. Its boundary,
            // with the region on the left, runs from the leaving side to the entering one; where two corners
            // opposite are in, the middle decides whether they are one region.
            for (const std::size_t from : leaves) {
                std::size_t to = enters.front();
                if (enters.size() == 2) {
                    const bool joined = !at_frame && mean >= level;
                    to = joined ? (from + 1) % 4 : (from + 3) % 4;
                }
                next[side[from]] = {side[to], at_frame};
            }
        }
    std::vector<ContourLoop> loops;
    while (!next.empty()) {
        ContourLoop loop;
        const Side start = next.begin()->first;
        Side at = start;
        do {
            const auto found = next.find(at);
            HOLLOWTOP_ASSERT(found != next.end());
            loop.points.push_back(place[at]);
            loop.on_edge.push_back(found->second.second ? 1 : 0);
            at = found->second.first;
            next.erase(found);
        } while (at != start);
        loops.push_back(std::move(loop));
    }
    return loops;
}

std::vector<Point> thinned(const std::vector<Point>& points, double tolerance) {
    if (points.size() < 3) return points;
    std::vector<char> keep(points.size(), 0);
    keep.front() = keep.back() = 1;
    std::vector<std::pair<std::size_t, std::size_t>> open{{0, points.size() - 1}};
    while (!open.empty()) {
        const auto [first, last] = open.back();
        open.pop_back();
        const Point a = points[first], b = points[last];
        const double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
        double furthest = tolerance;
        std::size_t at = 0;
        for (std::size_t k = first + 1; k < last; ++k) {
            const double px = points[k].x - a.x, py = points[k].y - a.y;
            const double share = length2 > 0 ? std::clamp((px * dx + py * dy) / length2, 0.0, 1.0) : 0;
            const double distance = std::hypot(px - share * dx, py - share * dy);
            if (distance > furthest) furthest = distance, at = k;
        }
        if (at == 0) continue;
        keep[at] = 1;
        open.push_back({first, at});
        open.push_back({at, last});
    }
    std::vector<Point> kept;
    for (std::size_t k = 0; k < points.size(); ++k)
        if (keep[k]) kept.push_back(points[k]);
    return kept;
}

std::vector<double> even_levels(double least, double most, int wanted) {
    if (!(most > least)) return {least, least + 1};
    const double rough = (most - least) / wanted;
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    double step = 10 * power;
    for (const double factor : {1.0, 2.0, 2.5, 5.0})
        if (rough <= factor * power * (1 + 1e-9)) {
            step = factor * power;
            break;
        }
    std::vector<double> levels;
    const double slack = 1e-9 * step;
    const auto first = static_cast<long>(std::floor((least + slack) / step));
    const auto last = static_cast<long>(std::ceil((most - slack) / step));
    for (long k = first; k <= last; ++k) levels.push_back(static_cast<double>(k) * step);
    return levels;
}

} // namespace hollowtop::cli
