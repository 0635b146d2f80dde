// SPDX-License-Identifier: MIT
#pragma once
/// \file  A top that is thin here and thick there as several leaves, each with polynomials of its own.
///
/// Strains jump where the thickness does. Along a mesh line they may; a wall aslant or round (a seam) runs through
/// cells, and one polynomial over both sides would err with the first power of the cell, whatever its order. So a cell
/// that a seam crosses holds one field for each leaf in it, integrated over that leaf's part alone:
///
///      +----o----+         x  a node of the thick leaf alone
///      | thin  / |         o  a node of the thin leaf alone
///      o     /  *|         *  both leaves have a node here: the one whose side it lies on is the grid's, the
///      |   /     x            other stands past the grid's own
///      +-*-------+
///
/// Fields of one leaf are continuous from cell to cell, for they share nodes; where a mesh line follows the wall the
/// leaves on its two sides share theirs. Between the two sides of a seam acts what plate theory leaves out at a wall,
/// as a joint that yields: tractions = stiffness x jumps (docs/walls.md).
/// Source: Hansbo and Hansbo, An unfitted finite element method, based on Nitsche's method, for elliptic interface
/// problems, Computer Methods in Applied Mechanics and Engineering 191 (2002), 5537-5552 (two fields in a cell; from
/// memory); here the joint is that of the wall, so no term of Nitsche's is needed.

#include "solver/shell/shell.hpp"

#include <array>
#include <vector>

namespace hollowtop {

/// Fills shell.leaves and the nodes of the grid that follow from it. The mesh and the grid are made.
void number_leaves(Shell& shell);

/// How a seam resists that its sides part: tractions for jumps, from the thin side to the thick, of u, v, w, bx, by of
/// the reference surface, where `across` is the unit normal that way; 5 x 5, N/mm^2 for u, v, w. The inverse of what
/// plate theory leaves out there, which is taken as a hundredth of the thickness of thin plate each way at least; of a
/// seam without a wall as far less, which only ties.
std::array<double, 25> seam_stiffness(const Shell& shell, const Seam& seam, Point across, double skin);

/// Adds the joints of the seams that cross the cell to its element matrix.
void add_seams(const Shell& shell, int cell, std::vector<double>& matrix);

} // namespace hollowtop
