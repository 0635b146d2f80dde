// SPDX-License-Identifier: MIT
#pragma once
/// \file  How thick the top is at each place, and what kind of place that is.
/// Outline, recesses and lands all end in this one field; nothing else knows about geometry. A kind of place
/// is a region (outside, full thickness, or one recess's skin) and, in full thickness beside a wall, the wall
/// whose zone it lies in.

#include "solver/piece/box_grid.hpp"
#include "solver/piece/loop.hpp"
#include "solver/piece/piece.hpp"
#include "solver/section/section_stiffness.hpp"
#include "solver/section/top_material.hpp"

#include <compare>
#include <cstddef>
#include <optional>
#include <vector>

namespace hollowtop {

inline constexpr int outside = -1;
inline constexpr int full_thickness = 0;

/// region: outside, full_thickness, or recess index + 1. wall: index into ThicknessField::walls, or -1.
/// turn: beside a curved wall, the direction across it in steps of a thirty-second of a full turn.
/// board: which kind of board it is (BoardShares::kind); 0 where all are alike.
struct SectionRegion {
    int region = outside;
    int wall = -1;
    int turn = 0;
    int board = 0;
    auto operator<=>(const SectionRegion&) const = default;
};

/// One piece of the step between two thicknesses. The zone of reduced rim lies on its thick side.
struct Wall {
    EdgePiece piece;
    int thin_region = 0;    ///< the recess on the thin side
    double skin = 0;        ///< thickness on the thin side; of an uneven skin its mean
    double skin_along = 0;  ///< the same beside this wall alone
    double thick = 0;       ///< thickness on the other; of an uneven board its mean beside this wall
    double root_radius = 0; ///< the cutter's corner radius at the recess floor
    double zone = 0;        ///< width of the zone, mm; 0 where the wall is a seam
    bool thick_is_outward =
        true; ///< the thick side lies outside the loop the piece belongs to (a recess), or inside (a land)
    bool straight = true;
    Point across{}; ///< unit normal of a straight wall
};

/// A piece of a wall, or of an edge between two recesses, that no mesh line follows. The cells that it crosses hold a
/// field on each side of it, so that strains may jump there as they do, and what plate theory leaves out at a wall
/// yields between the two.
struct Seam {
    EdgePiece piece;
    int wall = -1; ///< index into ThicknessField::walls, -1 where there is none
};

struct RecessPlan {
    Loop loop;
    std::vector<Loop> lands;
    int leaf = 0;                   ///< as in leaf_at()
    std::vector<int> land_leaves{}; ///< of each land
    double skin = 0;
    double root_radius = 0;
    LoopRows rows{};                  ///< of the loop
    std::optional<SkinGrid> uneven{}; ///< then `skin` is its mean
};

struct ThicknessField {
    double thickness = 0;
    std::optional<SkinGrid> uneven{}; ///< of the full thickness; then `thickness` is its mean
    Loop outline;
    std::vector<RecessPlan> recesses;
    std::vector<Wall> walls;
    std::vector<Seam> seams{};
    std::vector<EdgePiece> cuts; ///< every line where the section may jump: outline, walls, edges of zones
    size_t n_region_cuts = 0; ///< of those, outline and walls: they come first, the outline before the walls
    BoardShares boards{};
    std::vector<EdgePiece> glue_lines{}; ///< of boards that lie askew: among `cuts` too, as its last
    LoopRows outline_rows{};             ///< of the outline
    BoxGrid recesses_by_place{};         ///< of their loops' boxes
    BoxGrid walls_by_place{};            ///< of the boxes about walls with their zones
    BoxGrid seams_by_place{};            ///< of their boxes
    BoxGrid cuts_by_place{};             ///< made anew by whoever changes `cuts` (note_cuts)
};

/// Makes cuts_by_place for the cuts that the field has now.
void note_cuts(ThicknessField& field);

/// Makes seams and leaves for the loops of the recesses and lands that the field has now.
void note_leaves(ThicknessField& field);

/// Throws Error(input) where a rim leaves nothing. `with_wall_compliance` false leaves the bare shell
/// (tests).
ThicknessField thickness_field(const Piece& piece, const PlaneStiffness& plane,
                               bool with_wall_compliance = true);

/// Does a mesh line follow the piece? Long straight ones along x or y have one.
bool has_mesh_line(const EdgePiece& piece);

/// Which leaf of the top a point belongs to: 0, or of a recess or land that seams bound a number of its own. Points
/// off the top have one too.
int leaf_at(const ThicknessField& field, Point point);

int region_at(const ThicknessField& field, Point point);
SectionRegion section_region_at(const ThicknessField& field, Point point);

/// The walls, as indices, whose zones reach into the box; and the place at a point of that box, found among
/// them at less cost.
std::vector<int> walls_near(const ThicknessField& field, const Rectangle& box);
/// Is the point within the outline?
bool is_on_top(const ThicknessField& field, Point point);
SectionRegion section_region_at(const ThicknessField& field, Point point,
                                const std::vector<int>& walls_nearby);
/// A place beside a curved wall with the direction across it that holds at another point of the same zone.
SectionRegion turned_at(const ThicknessField& field, SectionRegion place, Point point);
/// Of a region; of an uneven skin the mean.
double thickness_of(const ThicknessField& field, int region);
/// Of a region at a place in it.
double local_thickness(const ThicknessField& field, int region, Point at);
bool is_uneven(const ThicknessField& field, int region);
/// The grid of an uneven region, null where it is even.
const SkinGrid* grid_of(const ThicknessField& field, int region);
/// The thinnest of a recess's skin.
double thinnest_of(const RecessPlan& recess);
/// The kind of board at a point, and how stiff the wood of a place is against the mean of all boards.
int board_at(const ThicknessField& field, Point point);
inline double stiffness_share(const ThicknessField& field, const SectionRegion& place) {
    return field.boards.share.empty() ? 1 : field.boards.share[static_cast<size_t>(place.board)];
}

/// Unit normal of a wall, out of its loop; `turn` as in SectionRegion.
Point wall_direction(const Wall& wall, int turn);

/// Of the mean thickness of its region, or of another with the same wall beside it.
Section section_at(const ThicknessField& field, const PlaneStiffness& plane, SectionRegion place,
                   double reference_depth);
Section section_at(const ThicknessField& field, const PlaneStiffness& plane, SectionRegion place,
                   double thickness, double reference_depth);

} // namespace hollowtop
