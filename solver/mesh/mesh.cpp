// SPDX-License-Identifier: MIT
#include "solver/mesh/mesh.hpp"

#include "solver/numeric/quadrature.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

namespace hollowtop {
namespace {

/// Does the monotone piece pass through the inside of the box (not merely along its edge)?
bool crosses(const EdgePiece& piece, const Rectangle& box, double tolerance) {
    const Rectangle b = bounds_of(piece);
    const Rectangle inner{box.x0 + tolerance, box.x1 - tolerance, box.y0 + tolerance, box.y1 - tolerance};
    if (b.x1 <= inner.x0 || b.x0 >= inner.x1 || b.y1 <= inner.y0 || b.y0 >= inner.y1) return false;
    const double left = std::max(b.x0, inner.x0), right = std::min(b.x1, inner.x1);
    const auto low = y_at(piece, left), high = y_at(piece, right);
    if (!low || !high) return true; // a vertical piece whose bounds overlap
    return std::max(*low, *high) > inner.y0 && std::min(*low, *high) < inner.y1;
}

void sort_and_merge(std::vector<double>& values, double tolerance) {
    std::sort(values.begin(), values.end());
    std::vector<double> kept;
    for (const double v : values)
        if (kept.empty() || v - kept.back() > tolerance) kept.push_back(v);
    values = std::move(kept);
}

/// Which way a cut cell is swept: sub-cells stand along y, one after another in x, or lie along x.
enum class Sweep { in_x, in_y };

std::optional<double> crossing_at(const EdgePiece& piece, Sweep sweep, double at) {
    return sweep == Sweep::in_x ? y_at(piece, at) : x_at(piece, at);
}

std::vector<const EdgePiece*> pieces_through(const ThicknessField& field, const Rectangle& box, Apart apart,
                                             double tolerance) {
    const size_t n_counted = apart == Apart::top       ? field.outline.size()
                             : apart == Apart::regions ? field.n_region_cuts
                                                       : field.cuts.size();
    std::vector<const EdgePiece*> pieces;
    any_near(field.cuts_by_place, box, [&](int k) {
        const auto i = static_cast<size_t>(k);
        if (i < n_counted && crosses(field.cuts[i], box, tolerance)) pieces.push_back(&field.cuts[i]);
        return i >= n_counted; // they are shown in order
    });
    return pieces;
}

std::vector<int> walls_that_count(const ThicknessField& field, const Rectangle& box, Apart apart) {
    return apart == Apart::walls ? walls_near(field, box) : std::vector<int>{};
}

SectionRegion region_apart(const ThicknessField& field, Point point, Apart apart,
                           const std::vector<int>& walls_nearby) {
    if (apart == Apart::top) return {.region = is_on_top(field, point) ? full_thickness : outside};
    return section_region_at(field, point, walls_nearby);
}

/// Where between two places across a sweep the wall that is nearest changes, of two whose zones overlap; nothing where it
/// does not. Both zones reach over the whole stretch.
template <class PlaceAt> std::optional<double> nearer_from(double low, double high, PlaceAt place_at) {
    const double inside = 1e-6 * (high - low);
    const int first = place_at(low + inside).wall, last = place_at(high - inside).wall;
    if (first < 0 || last < 0 || first == last) return std::nullopt;
    double from = low, to = high;
    for (int k = 0; k < 40; ++k) {
        const double middle = (from + to) / 2;
        (place_at(middle).wall == first ? from : to) = middle;
    }
    return (from + to) / 2;
}

/// Adds Gauss points of one sub-cell, u0 to u1 in the way of the sweep, v0 to v1 across it, cut at the
/// pieces; their weights times `share`.
void add_sub_cell(const ThicknessField& field, Apart apart, const std::vector<int>& walls_nearby,
                  const std::vector<const EdgePiece*>& pieces, Sweep sweep, double u0, double u1, double v0,
                  double v1, int n, double share, std::vector<QuadraturePoint>& points) {
    const double middle = (u0 + u1) / 2;
    const bool curved = std::any_of(pieces.begin(), pieces.end(), [&](const EdgePiece* piece) {
        return piece->is_arc && crossing_at(*piece, sweep, middle).has_value();
    });
    // s -> 3 s^2 - 2 s^3 flattens the square-root start of an arc at its tangent along the sub-cell
    const int more =
        n > 3 ? 6 : 3; // a stiffness wants all it can get; a mean beside a round moves by 0.1 %, seldom 0.4
    const Rule& rule = gauss_rule(curved ? n + more : n);
    const Rule& inner = gauss_rule(n);
    const auto point_at = [&](double u, double v) {
        return sweep == Sweep::in_x ? Point{u, v} : Point{v, u};
    };
    std::vector<double> breaks;
    for (size_t k = 0; k < rule.points.size(); ++k) {
        const double s = (1 + rule.points[k]) / 2;
        const double way = curved ? s * s * (3 - 2 * s) : s;
        const double slope = curved ? 6 * s * (1 - s) : 1;
        const double u = u0 + (u1 - u0) * way;
        const double weight = share * rule.weights[k] / 2 * slope * (u1 - u0);
        breaks.assign({v0, v1});
        for (const EdgePiece* piece : pieces) {
            const auto v = crossing_at(*piece, sweep, u);
            if (v && *v > v0 && *v < v1) breaks.push_back(*v);
        }
        sort_and_merge(breaks, 1e-12 * (v1 - v0));
        if (walls_nearby.size() > 1)
            for (size_t b = breaks.size() - 1; b-- > 0;)
                if (const auto change = nearer_from(breaks[b], breaks[b + 1], [&](double v) {
                        return region_apart(field, point_at(u, v), apart, walls_nearby);
                    }))
                    breaks.insert(breaks.begin() + static_cast<std::ptrdiff_t>(b) + 1, *change);
        for (size_t b = 0; b + 1 < breaks.size(); ++b) {
            const double low = breaks[b], high = breaks[b + 1];
            const SectionRegion common =
                region_apart(field, point_at(u, (low + high) / 2), apart, walls_nearby);
            // beside a curved wall the direction across it differs from point to point
            const bool turns = common.wall >= 0 && !field.walls[static_cast<size_t>(common.wall)].straight;
            for (size_t m = 0; m < inner.points.size(); ++m) {
                const Point p = point_at(u, low + (high - low) * (1 + inner.points[m]) / 2);
                points.push_back({.x = p.x,
                                  .y = p.y,
                                  .weight = weight * inner.weights[m] / 2 * (high - low),
                                  .place = turns ? turned_at(field, common, p) : common});
            }
        }
    }
}

/// Where the nearer of two walls changes along the way of a sweep: half-way between two that stand across it, and where
/// the line aslant between one of them and another leaves that one's zone.
std::vector<double> changes_between(const ThicknessField& field, const std::vector<int>& walls, Sweep sweep) {
    std::vector<double> standing, changes;
    for (const int i : walls) {
        const EdgePiece& piece = field.walls[static_cast<size_t>(i)].piece;
        const Rectangle box = bounds_of(piece);
        constexpr double straight = 1e-9;
        if (piece.is_arc) continue;
        if (sweep == Sweep::in_x ? box.x1 - box.x0 < straight : box.y1 - box.y0 < straight)
            standing.push_back(sweep == Sweep::in_x ? box.x0 : box.y0);
    }
    for (size_t i = 0; i < standing.size(); ++i) {
        for (size_t j = i + 1; j < standing.size(); ++j) changes.push_back((standing[i] + standing[j]) / 2);
        for (const int wall : walls) {
            const double zone = field.walls[static_cast<size_t>(wall)].zone;
            changes.push_back(standing[i] - zone);
            changes.push_back(standing[i] + zone);
        }
    }
    return changes;
}

/// Where the sub-cells of a sweep begin and end: at the pieces' ends, where they leave the part, and at `others`.
std::vector<double> breaks_of(const std::vector<const EdgePiece*>& pieces, const std::vector<double>& others,
                              const Rectangle& part, Sweep sweep, double tolerance) {
    const bool in_x = sweep == Sweep::in_x;
    const double u0 = in_x ? part.x0 : part.y0, u1 = in_x ? part.x1 : part.y1;
    std::vector<double> breaks{u0, u1};
    const auto add = [&](double u) {
        if (u > u0 && u < u1) breaks.push_back(u);
    };
    for (const EdgePiece* piece : pieces) {
        add(in_x ? piece->a.x : piece->a.y);
        add(in_x ? piece->b.x : piece->b.y);
        for (const double v : {in_x ? part.y0 : part.x0, in_x ? part.y1 : part.x1})
            if (const auto u = crossing_at(*piece, in_x ? Sweep::in_y : Sweep::in_x, v)) add(*u);
    }
    for (const double u : others) add(u);
    sort_and_merge(breaks, tolerance);
    return breaks;
}

} // namespace

int interval_of(const std::vector<double>& lines, double x) {
    const auto above = std::upper_bound(lines.begin(), lines.end(), x);
    const auto index = static_cast<int>(above - lines.begin()) - 1;
    return std::clamp(index, 0, static_cast<int>(lines.size()) - 2);
}

namespace {

/// The cell size wanted between lines that follow one another: all that lies beyond an interval's two lines is told by
/// the size it wants at that line, so that the work is in proportion to the lines.
class Wanted {
  public:
    Wanted(const std::vector<Attractor>& lines, std::vector<Attractor> attractors, const MeshSize& size)
        : lines_(lines), attractors_(std::move(attractors)), size_(size), below_(lines.size()),
          above_(lines.size()) {
        std::sort(attractors_.begin(), attractors_.end(),
                  [](const Attractor& a, const Attractor& b) { return a.at < b.at; });
        const size_t n = lines.size();
        double known = size.largest; // of all up to the line
        size_t next = 0;
        for (size_t k = 0; k < n; ++k) {
            if (k > 0) known += size.growth * (lines[k].at - lines[k - 1].at);
            for (; next < attractors_.size() && attractors_[next].at <= lines[k].at; ++next)
                known = std::min(known,
                                 attractors_[next].size + size.growth * (lines[k].at - attractors_[next].at));
            below_[k] = known = std::min(known, lines[k].size);
            first_.push_back(next);
        }
        known = size.largest;
        next = attractors_.size();
        for (size_t k = n; k-- > 0;) {
            if (k + 1 < n) known += size.growth * (lines[k + 1].at - lines[k].at);
            for (; next > 0 && attractors_[next - 1].at >= lines[k].at; --next)
                known = std::min(known, attractors_[next - 1].size +
                                            size.growth * (attractors_[next - 1].at - lines[k].at));
            above_[k] = known = std::min(known, lines[k].size);
        }
    }

    /// At x between lines k and k + 1.
    double at(size_t k, double x) const {
        double s = std::min({size_.largest, below_[k] + size_.growth * (x - lines_[k].at),
                             above_[k + 1] + size_.growth * (lines_[k + 1].at - x)});
        for (size_t i = first_[k]; i < first_[k + 1]; ++i)
            s = std::min(s, attractors_[i].size + size_.growth * std::abs(x - attractors_[i].at));
        return s;
    }

  private:
    const std::vector<Attractor>& lines_;
    std::vector<Attractor> attractors_;
    MeshSize size_;
    std::vector<double> below_, above_; ///< what is wanted at a line, by all up to it, and by all from it on
    std::vector<size_t> first_{};       ///< of each line, the first attractor past it
};

} // namespace

std::vector<double> graded_lines(std::vector<Attractor> hard, const std::vector<Attractor>& attractors,
                                 const MeshSize& size) {
    std::sort(hard.begin(), hard.end(), [](const Attractor& a, const Attractor& b) { return a.at < b.at; });
    std::vector<Attractor> merged;
    for (const Attractor& line : hard) {
        if (merged.empty() || line.at - merged.back().at > 1e-6)
            merged.push_back(line);
        else
            merged.back().size = std::min(merged.back().size, line.size);
    }
    const Wanted wanted(merged, attractors, size);
    std::vector<double> lines{merged.front().at};
    for (size_t k = 0; k + 1 < merged.size(); ++k) {
        const double a = merged[k].at, b = merged[k + 1].at;
        // number of cells = integral of 1/size, by the midpoint rule on a fine even grid, symmetric under
        // mirroring
        constexpr int n_steps = 200;
        std::vector<double> total(n_steps + 1, 0);
        const double step = (b - a) / n_steps;
        for (int i = 0; i < n_steps; ++i)
            total[static_cast<size_t>(i) + 1] =
                total[static_cast<size_t>(i)] + step / wanted.at(k, a + (i + 0.5) * step);
        const int cells = std::max(1, static_cast<int>(std::ceil(total.back() - 0.2)));
        for (int c = 1; c < cells; ++c) {
            const double target = total.back() * c / cells;
            const auto above = std::upper_bound(total.begin(), total.end(), target);
            const auto i = static_cast<size_t>(above - total.begin());
            const double share = (target - total[i - 1]) / (total[i] - total[i - 1]);
            lines.push_back(a + (static_cast<double>(i - 1) + share) * step);
        }
        lines.push_back(b);
    }
    return lines;
}

MeshLines mesh_lines(const ThicknessField& field, const MeshSize& size, const MeshWishes& wishes) {
    const Rectangle box = bounds_of(field.outline);
    std::vector<Attractor> hard_x{{box.x0, size.at_edges}, {box.x1, size.at_edges}};
    std::vector<Attractor> hard_y{{box.y0, size.at_edges}, {box.y1, size.at_edges}};
    std::vector<Attractor> attractors_x = wishes.attractors_x, attractors_y = wishes.attractors_y;
    const auto add = [](std::vector<Attractor>& hard, double value, double low, double high, double wanted) {
        // the outline's own sides are in already: a rounded one's may differ from its bounds by a last digit
        constexpr double apart = 1e-6;
        if (value > low + apart && value < high - apart) hard.push_back({value, wanted});
    };
    bool has_slanted_edges = false;
    for (const EdgePiece& piece : field.cuts) {
        const Rectangle b = bounds_of(piece);
        // ends of sub-cells only bound reduced rim; a mesh line for them would cross the whole top for
        // nothing
        if (has_mesh_line(piece) && b.x1 - b.x0 < b.y1 - b.y0)
            add(hard_x, b.x0, box.x0, box.x1, size.at_walls);
        else if (has_mesh_line(piece))
            add(hard_y, b.y0, box.y0, box.y1, size.at_walls);
        else if (std::max(b.x1 - b.x0, b.y1 - b.y0) > 60)
            has_slanted_edges = true;
    }
    for (const double at : field.boards.lines) { // the cells beside a glue line may be as large as any
        if (field.boards.across.x == 0) add(hard_y, at, box.y0, box.y1, size.largest);
        if (field.boards.across.y == 0) add(hard_x, at, box.x0, box.x1, size.largest);
    }
    for (const double x : wishes.lines_x) add(hard_x, x, box.x0, box.x1, size.at_edges);
    for (const double y : wishes.lines_y) add(hard_y, y, box.y0, box.y1, size.at_edges);
    for (const double x : wishes.steep_x) add(hard_x, x, box.x0, box.x1, size.at_walls / 2);
    for (const double y : wishes.steep_y) add(hard_y, y, box.y0, box.y1, size.at_walls / 2);
    MeshSize chosen = size;
    if (has_slanted_edges)
        chosen.largest =
            std::min(chosen.largest, std::min(box.x1 - box.x0, box.y1 - box.y0) / size.across_round);
    return {graded_lines(hard_x, attractors_x, chosen), graded_lines(hard_y, attractors_y, chosen)};
}

namespace {

/// Does the nearest of the walls whose zones cover the box change within it?
bool is_shared_by_walls(const ThicknessField& field, const Rectangle& box) {
    const std::vector<int> walls = walls_near(field, box);
    if (walls.size() < 2) return false;
    const double inside = 1e-3, x = inside * (box.x1 - box.x0), y = inside * (box.y1 - box.y0);
    const int first = section_region_at(field, {box.x0 + x, box.y0 + 2 * y}, walls).wall;
    return section_region_at(field, {box.x1 - x, box.y0 + 2 * y}, walls).wall != first ||
           section_region_at(field, {box.x0 + 2 * x, box.y1 - y}, walls).wall != first ||
           section_region_at(field, {box.x1 - 2 * x, box.y1 - y}, walls).wall != first;
}

} // namespace

Mesh make_mesh(const ThicknessField& field, const MeshSize& size, const MeshWishes& wishes) {
    MeshLines lines = mesh_lines(field, size, wishes);
    Mesh mesh{.xs = std::move(lines.xs), .ys = std::move(lines.ys), .cells = {}};
    const bool has_leaves = !field.seams.empty();
    for (int j = 0; j < mesh.ny(); ++j) {
        for (int i = 0; i < mesh.nx(); ++i) {
            const auto a = static_cast<size_t>(i), b = static_cast<size_t>(j);
            Cell cell{.x0 = mesh.xs[a], .x1 = mesh.xs[a + 1], .y0 = mesh.ys[b], .y1 = mesh.ys[b + 1]};
            const Rectangle r{cell.x0, cell.x1, cell.y0, cell.y1};
            const double tolerance = 1e-7 * std::min(cell.x1 - cell.x0, cell.y1 - cell.y0);
            cell.cut = any_near(field.cuts_by_place, r, [&](int k) {
                return crosses(field.cuts[static_cast<size_t>(k)], r, tolerance);
            });
            std::vector<int> leaves;
            if (cell.cut) {
                const auto points = cell_points(field, cell, 2);
                for (const QuadraturePoint& q : points) {
                    if (q.place.region == outside) continue;
                    cell.active = true;
                    if (has_leaves) leaves.push_back(leaf_at(field, {q.x, q.y}));
                }
            } else {
                cell.place = section_region_at(field, {(cell.x0 + cell.x1) / 2, (cell.y0 + cell.y1) / 2});
                cell.active = cell.place.region != outside;
                cell.cut = cell.place.wall >= 0 && is_shared_by_walls(field, r);
                cell.uneven = is_uneven(field, cell.place.region);
                if (has_leaves && cell.active)
                    leaves.push_back(leaf_at(field, {(cell.x0 + cell.x1) / 2, (cell.y0 + cell.y1) / 2}));
            }
            mesh.cells.push_back(cell);
            if (!has_leaves) continue;
            std::sort(leaves.begin(), leaves.end());
            leaves.erase(std::unique(leaves.begin(), leaves.end()), leaves.end());
            mesh.leaves.push_back(std::move(leaves));
        }
    }
    return mesh;
}

std::vector<QuadraturePoint> cell_points(const ThicknessField& field, const Cell& cell, int n, Apart apart) {
    return cell_points_in(field, cell, {cell.x0, cell.x1, cell.y0, cell.y1}, n, apart);
}

std::vector<QuadraturePoint> cell_points_in(const ThicknessField& field, const Cell& cell,
                                            const Rectangle& box, int n, Apart apart) {
    const Rectangle part{std::max(cell.x0, box.x0), std::min(cell.x1, box.x1), std::max(cell.y0, box.y0),
                         std::min(cell.y1, box.y1)};
    std::vector<QuadraturePoint> points;
    points.reserve(256); // a cut cell has hundreds
    if (part.x1 <= part.x0 || part.y1 <= part.y0) return points;
    if (!cell.cut) {
        const Rule& rule = gauss_rule(n);
        for (size_t b = 0; b < rule.points.size(); ++b)
            for (size_t a = 0; a < rule.points.size(); ++a)
                points.push_back({.x = part.x0 + (part.x1 - part.x0) * (1 + rule.points[a]) / 2,
                                  .y = part.y0 + (part.y1 - part.y0) * (1 + rule.points[b]) / 2,
                                  .weight = rule.weights[a] * rule.weights[b] / 4 * (part.x1 - part.x0) *
                                            (part.y1 - part.y0),
                                  .place = cell.place});
        return points;
    }
    const double tolerance = 1e-9 * std::min(part.x1 - part.x0, part.y1 - part.y0);
    const std::vector<const EdgePiece*> pieces = pieces_through(field, part, apart, tolerance);
    // along round and slanting edges neither sweep is exact: half of each, so that a quarter turn of the
    // piece changes nothing
    // nor where the zones of two walls part along a line aslant, as in the corner of a land
    const std::vector<int> nearby = walls_that_count(field, part, apart);
    const bool both =
        nearby.size() > 1 || std::any_of(pieces.begin(), pieces.end(),
                                         [](const EdgePiece* piece) { return !runs_along_x_or_y(*piece); });
    const auto sweep_all = [&](Sweep sweep, double share) {
        const std::vector<double> others =
            nearby.size() > 1 ? changes_between(field, nearby, sweep) : std::vector<double>{};
        const std::vector<double> breaks = breaks_of(pieces, others, part, sweep, tolerance);
        const bool in_x = sweep == Sweep::in_x;
        for (size_t k = 0; k + 1 < breaks.size(); ++k)
            add_sub_cell(field, apart, nearby, pieces, sweep, breaks[k], breaks[k + 1],
                         in_x ? part.y0 : part.x0, in_x ? part.y1 : part.x1, n, share, points);
    };
    sweep_all(Sweep::in_x, both ? 0.5 : 1);
    if (both) sweep_all(Sweep::in_y, 0.5);
    return points;
}

std::vector<QuadraturePoint> uneven_points(const ThicknessField& field, const Cell& cell, int n) {
    const SkinGrid& grid = *grid_of(field, cell.place.region);
    const auto panels = [](double length, double from, double to, int crossings) {
        constexpr int most = 4;
        return std::clamp(static_cast<int>(std::ceil(length * (crossings - 1) / (2 * (to - from)) - 1e-9)), 1,
                          most);
    };
    const int nx = panels(cell.x1 - cell.x0, grid.box.x0, grid.box.x1, grid.nx),
              ny = panels(cell.y1 - cell.y0, grid.box.y0, grid.box.y1, grid.ny);
    std::vector<QuadraturePoint> points;
    for (int j = 0; j < ny; ++j)
        for (int i = 0; i < nx; ++i) {
            const auto at = [](double a, double b, int k, int of) { return a + (b - a) * k / of; };
            const Rectangle panel{at(cell.x0, cell.x1, i, nx), at(cell.x0, cell.x1, i + 1, nx),
                                  at(cell.y0, cell.y1, j, ny), at(cell.y0, cell.y1, j + 1, ny)};
            const std::vector<QuadraturePoint> own = cell_points_in(field, cell, panel, n);
            points.insert(points.end(), own.begin(), own.end());
        }
    return points;
}

std::optional<SectionRegion> region_throughout(const ThicknessField& field, const Rectangle& box,
                                               Apart apart) {
    const double tolerance = 1e-9 * std::min(box.x1 - box.x0, box.y1 - box.y0);
    if (!pieces_through(field, box, apart, tolerance).empty()) return std::nullopt;
    const Point middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    const SectionRegion place = region_apart(field, middle, apart, walls_that_count(field, box, apart));
    if (place.wall >= 0 && !field.walls[static_cast<size_t>(place.wall)].straight) return std::nullopt;
    return place;
}

} // namespace hollowtop
