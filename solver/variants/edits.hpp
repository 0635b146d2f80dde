// SPDX-License-Identifier: MIT
#pragma once
/// \file  One thing of a piece changed, as a maker would change it: a recess deeper, a rim wider, the
/// stiffeners more or elsewhere.
/// `name` says which recess or stiffener; empty means all of them. Lengths in mm. Nothing here asks whether
/// the piece still makes sense: faults_of() does. Each throws Error(input), with the place, where there is
/// nothing to change or no such name.

#include "solver/piece/piece.hpp"

#include <optional>
#include <string>
#include <utility>

namespace hollowtop {

void set_depth(Piece& piece, const std::string& name, double depth);
void set_skin(Piece& piece, const std::string& name, double skin);

/// A rectangular recess, or one drawn by its rim, leaves this much rim all round; a polygon cannot be told
/// so.
void set_rim(Piece& piece, const std::string& name, double rim);

/// Every wall of a rectangular recess, or of one drawn by its rim, moves outwards.
void widen(Piece& piece, const std::string& name, double by);

/// So many stiffeners like the first one, which runs along x or y: they cut what it lies under (its recess,
/// or the top) into bays of one width. Beyond the middle they run the other way, so that unlike legs stand as
/// in a mirror.
void set_number(Piece& piece, int number);

/// One stiffener: its line lies this far from the top's edge (y = 0 where it runs along x, x = 0 along y).
/// Several: the outermost two this far from either edge, the others evenly between.
void set_place(Piece& piece, const std::string& name, double place);

/// The top so long, drawn out or shortened at the middle of its length: what lies beyond it moves with that end,
/// what lies across it grows or shrinks. A polygon's points, an ellipse's box, recesses, stiffeners, supports and
/// loads alike.
void set_length(Piece& piece, double length);

/// So many ribs of full thickness, 40 mm wide, from wall to wall across the shorter way of each recess (or of the
/// one named), cutting it into even bays, in place of the lands that are drawn. Of a polygon no.
void set_lands(Piece& piece, const std::string& name, int number);

/// Every pad, bearer and rail holds the top down, or none.
void set_hold_down(Piece& piece, bool holds);

void set_section(Piece& piece, const std::string& name, const std::string& section);
void set_metal(Piece& piece, const std::string& name, const std::string& metal);
void set_spacing(Piece& piece, const std::string& name, double spacing);
void set_holes(Piece& piece, const std::string& name, Holes holes);
void set_screw(Piece& piece, const std::string& name, double diameter, double length);

/// Of a recess drawn with "x" and "y", or with a rim: its rectangle; of a polygon none.
std::optional<Rectangle> straight_box_of(const Recess& recess, const Top& top);

/// The stiffener to begin with where none is drawn: an angle along the middle of the largest recess, screwed into
/// its skin, or of the top where nothing is hollowed; none where the wood is too thin for a screw or no room is.
std::optional<Stiffener> first_stiffener(const Piece& piece);

enum class Way { x, y, both };

/// The bar along x at that y (`way` x), or along y at that x: from end to end as given, else through what it lies
/// under, its recess or the top, up to 25 mm from the ends.
void put_bar(Stiffener& bar, const Piece& piece, Way way, double at,
             const std::optional<std::pair<double, double>>& ends = {});

/// Pads, and ends of bearers and rails, that lie in the outer thirds of the top: this far from the nearer
/// edge, along x, along y or both.
void set_supports(Piece& piece, Way way, double from_the_edge);

} // namespace hollowtop
