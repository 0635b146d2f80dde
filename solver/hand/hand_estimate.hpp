// SPDX-License-Identifier: MIT
#pragma once
/// \file  The sag by hand: two stepped strips with the effective section of rim and skin, one along the top
/// and one across it.
///
///     w(x, y) = f(x) + g(y) + (y - middle) t(x) + d(x, y)       f  all loads on a strip as wide as the top, between the rows of supports
///                                                      g  all loads on a strip as long as the top, between the rows the other way
///                                                      t  the turning of an uneven load, a half wave between the supports
///
/// Another theory than the shell's: sections stay plane over the whole width, and no plate is solved. f and g
/// are exact for these (stepped_strip.hpp); t is Ritz's first term with the section's uneven bending and St
/// Venant's torsion (Timoshenko and
/// Woinowsky-Krieger, Theory of Plates and Shells, 1959, art. 80 for the ends, from memory). Stiffeners join
/// the section of their strip by
/// Newmark's share of composite action (Newmark, Siess, Viest 1951; EN 1995-1-1 annex B), between side by
/// side and glued.
/// N, mm, MPa. How far it strays from the shell, and on what that was found: docs/method.md, "By hand".

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// What acts: indices into the piece's loads, its own weight, and how much softer wood is than at once (1 +
/// k_def).
struct HandLoads {
    std::vector<int> loads;
    bool own_weight = false;
    double creep_factor = 1;
};

struct HandSag {
    double sag_mm = 0;
    Point at;
    double along_mm = 0, across_mm = 0, turning_mm = 0,
           dish_mm = 0; ///< f, g, and the shares of t and d there
};

/// Why no estimate is made of such a piece, in a word or two; empty where one is.
Message why_not_by_hand(const Piece& piece);

struct HandAnswer {
    std::optional<HandSag> sag;
    Message why_not; ///< where there is none, in a word or two
};

/// Expects a piece of which why_not_by_hand() says nothing. No estimate where a support would have to pull
/// that can only press, or where a load lies past the supports.
HandAnswer sag_by_hand(const Piece& piece, const HandLoads& loads);

} // namespace hollowtop
