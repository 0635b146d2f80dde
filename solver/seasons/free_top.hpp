// SPDX-License-Identifier: MIT
#pragma once
/// \file  The bare top lying free, with wood that wants to swell: nothing under it, nothing on it; its six rigid
/// motions are pinned, and the pins carry nothing. And lines over it along which its shape is read. mm; strains as
/// fractions.

#include "solver/model/model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/shell/eigenstrain.hpp"

#include <functional>
#include <span>
#include <vector>

namespace hollowtop {

/// Free strain across the grain that a region of that thickness takes (top face down).
using SwellingOf = std::function<std::vector<FreeLayer>(int region, double thickness)>;

/// How it moves under one free strain; `residual`: forces left unbalanced, as a share.
struct FreeAnswer {
    std::vector<double> dofs;
    double residual = 0;
};

struct FreeTop {
    Model model;
    std::vector<FreeAnswer> answers; ///< one a swelling
};

inline constexpr int low_order = 3, high_order = 4;
/// As a check's (solver/check/check_piece.cpp).
MeshSize season_mesh(const Piece& piece);

/// One factor, one answer a swelling. Throws Error(not_computable) where a residual is above 1e-6.
FreeTop free_top(const Piece& piece, int order, std::span<const SwellingOf> swellings, int threads);

struct TopLine {
    Point from, to; ///< both on the edge
    Point at(double share) const {
        return {from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)};
    }
};
/// `count` lines in the direction, an odd number, side by side over the whole top; none where its middle is a hole.
std::vector<TopLine> lines_over(const Shell& shell, Point direction, int count);

bool is_on_top(const Shell& shell, Point p);

} // namespace hollowtop
