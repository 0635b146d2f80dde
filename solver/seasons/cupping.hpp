// SPDX-License-Identifier: MIT
#pragma once
/// \file  How far a top cups and bows by itself when its moisture is not even: free strain on the shell of
/// the check, lying free.
///
/// Each face takes its own moisture and the wood between runs straight from one to the other, in the rim as
/// in the skin; so the thinner skin has the steeper slope. No stiffener, no support and no weight hold it
/// flat.
/// Units: mm; strains as fractions. Limits: small movements; rings turning from bark to heart within one
/// board are not counted.

#include "solver/piece/piece.hpp"
#include "solver/seasons/free_top.hpp"

#include <span>
#include <vector>

namespace hollowtop {

/// How far the middle of a straight line on the top face stands above the chord between the line's two ends;
/// hollow -.
struct Rise {
    double value = 0;
    Point from{}, to{}; ///< the line
};

struct Cup {
    Rise across;              ///< greatest in size on lines across the grain
    Rise along;               ///< on lines along the grain
    double out_of_flat = 0;   ///< highest above lowest point of the top face, about the plane that fits best
    double error_percent = 0; ///< computing error of `across`: two orders of one mesh
    double residual = 0;      ///< forces left unbalanced, as a share
};

/// The shape that a field of dofs of the reference surface has; no computing error, no residual.
Cup cup_on(const Shell& shell, const std::vector<double>& dofs);

/// One answer a swelling, on one mesh. Throws Error(not_computable) where a residual is above 1e-6.
std::vector<Cup> cups_of(const Piece& piece, std::span<const SwellingOf> swellings, int threads);

/// Even strain through and through.
SwellingOf even_swelling(double strain);
/// Straight from the strain at the top face to that at the underside, whatever lies between.
SwellingOf face_to_face_swelling(double above, double below);

} // namespace hollowtop
