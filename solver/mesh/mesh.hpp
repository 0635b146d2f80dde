// SPDX-License-Identifier: MIT
#pragma once
/// \file  The tensor mesh: lines that snap to straight edges and grow finer towards steps, and cells that
/// know what they cover.
/// A cell that an edge crosses is a cut cell: it is integrated over its true parts, never "mostly in, mostly
/// out".

#include "solver/mesh/thickness_field.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

struct MeshSize {
    double largest = 120;  ///< largest cell, mm
    double at_walls = 16;  ///< cell beside a wall, mm
    double at_edges = 60;  ///< cell beside the outline or a held line, mm
    double growth = 0.6;   ///< growth of the cell size with the distance from walls, edges and attractors
    int across_round = 12; ///< least number of cells across a top with round or slanting edges
    bool operator==(const MeshSize&) const = default;
};

/// A coordinate and the cell size wanted there: a mesh line, or a place that wants finer cells without a line
/// of its own.
struct Attractor {
    double at = 0;
    double size = 0;
    bool operator==(const Attractor&) const = default;
};

/// What the mesh must know besides the thickness field: lines that must be mesh lines (held lines, knife
/// edges) and pads.
struct MeshWishes {
    std::vector<double> lines_x, lines_y;
    std::vector<double> steep_x{}, steep_y{}; ///< mesh lines that a skin bends sharply over
    std::vector<Attractor> attractors_x, attractors_y;
    bool operator==(const MeshWishes&) const = default;
};

struct Cell {
    double x0 = 0, x1 = 0, y0 = 0, y1 = 0;
    bool active = false;   ///< some of it is on the top
    bool cut = false;      ///< an edge crosses it
    bool uneven = false;   ///< not cut, and its skin is not everywhere alike
    SectionRegion place{}; ///< where it is not cut
};

struct Mesh {
    std::vector<double> xs, ys;
    std::vector<Cell> cells; ///< index j * nx + i
    /// The leaves that each cell holds, ascending; empty where the field has no seams.
    std::vector<std::vector<int>> leaves{};

    int nx() const { return static_cast<int>(xs.size()) - 1; }
    int ny() const { return static_cast<int>(ys.size()) - 1; }
    const Cell& cell(int i, int j) const { return cells[static_cast<size_t>(j * nx() + i)]; }
};

/// Do seams part the cell into several leaves?
inline bool is_split_by_seams(const Mesh& mesh, int cell) {
    return !mesh.leaves.empty() && mesh.leaves[static_cast<size_t>(cell)].size() > 1;
}

/// Lines at the `hard` coordinates and between them, each cell as large as its surroundings want,
/// `size.largest` at most.
/// The lines move smoothly when a hard coordinate moves, but where their number changes.
std::vector<double> graded_lines(std::vector<Attractor> hard, const std::vector<Attractor>& attractors,
                                 const MeshSize& size);

/// The lines of a mesh without its cells: how many unknowns a size gives, at little cost.
struct MeshLines {
    std::vector<double> xs, ys;
    bool operator==(const MeshLines&) const = default;
};
MeshLines mesh_lines(const ThicknessField& field, const MeshSize& size, const MeshWishes& wishes);

Mesh make_mesh(const ThicknessField& field, const MeshSize& size, const MeshWishes& wishes);

/// Index of the interval of `lines` that holds x (the last where x is at or past the end).
int interval_of(const std::vector<double>& lines, double x);

struct QuadraturePoint {
    double x = 0, y = 0, weight = 0;
    SectionRegion place{};
};

/// What the points of a cut cell tell apart: the fewer edges count, the fewer points.
enum class Apart {
    walls,   ///< regions, and the sub-cells beside walls
    regions, ///< no sub-cells: weights
    top      ///< the top from what lies outside it; all of it is called full thickness: loads
};

/// Points that integrate polynomials of degree 2 n - 1 over the cell, cut along every edge that crosses it.
/// Points outside the outline come too, with place.region == outside.
std::vector<QuadraturePoint> cell_points(const ThicknessField& field, const Cell& cell, int n,
                                         Apart apart = Apart::walls);

/// The same over the part of the cell inside `box`.
std::vector<QuadraturePoint> cell_points_in(const ThicknessField& field, const Cell& cell,
                                            const Rectangle& box, int n, Apart apart = Apart::walls);

/// Gauss points of an uneven cell, n each way in each of so many panels that none is wider than two steps of the
/// skin's grid, four each way at most.
std::vector<QuadraturePoint> uneven_points(const ThicknessField& field, const Cell& cell, int n);

/// The place that all of the box is, where no edge that counts passes through it; empty too beside a curved
/// wall, where directions differ.
std::optional<SectionRegion> region_throughout(const ThicknessField& field, const Rectangle& box,
                                               Apart apart);

} // namespace hollowtop
