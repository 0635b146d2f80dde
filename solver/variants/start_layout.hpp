// SPDX-License-Identifier: MIT
#pragma once
/// \file  What is wished of a first piece, and where it then has its outline, its supports and its recesses. Proposals of
/// ours, common practice where not said otherwise; mm.

#include "solver/piece/loop.hpp"
#include "solver/piece/piece.hpp"

#include <string>
#include <vector>

namespace hollowtop {

enum class Base { legs, trestles, pedestal, brackets, cabinet };
/// oval: an ellipse, round where it is as wide as long. slab: a board as it grew, its edges drawn by us. corner: an L,
/// its wings along the front and along the left.
enum class Plan { rectangle, oval, slab, corner };

struct Wish {
    double length = 0, width = 0, thickness = 0;
    std::string wood{}; ///< id
    std::string use{};  ///< id
    Base base = Base::legs;
    Plan plan = Plan::rectangle;
    double grain_deg = 0;
    double moisture_percent = 9; ///< of wood for a heated room: common practice
    Units units = Units::mm;
};

/// Does such a base go under such a top: a wall and a cabinet under rectangles alone, legs alone under a corner.
bool goes_under(Base base, Plan plan);
/// How deep the wings of a corner are.
double wing_of(const Wish& wish);

Outline outline_of(const Wish& wish);
std::vector<Support> supports_of(const Wish& wish);

/// The recesses that leave the supports and a rim alone, so deep; none where there is no room for one of 100
/// mm.
std::vector<Recess> recesses_of(const Wish& wish, double depth);

/// To what a rule shows of depths.
double depth_step(Units units);

} // namespace hollowtop
