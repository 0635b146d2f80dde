// SPDX-License-Identifier: MIT
#pragma once
/// \file  Does a piece make sense: do recesses, lands, pads and lines fit, is every thickness left above
/// zero?
/// Places are written as the piece file's paths, so that the reader of the file can show them as they are.

#include "materials/error.hpp"
#include "solver/piece/piece.hpp"

#include <string>
#include <vector>

namespace hollowtop {

/// Every fault of geometry and of material choice that the piece has, in the order of the file; empty where
/// it makes sense. Does not look at what is not computed yet (see not_computed()).
std::vector<Fault> faults_of(const Piece& piece);

/// What the piece asks for that this version cannot compute (each with a plain sentence); empty where all is
/// computed.
std::vector<Fault> not_computed(const Piece& piece);

/// A stiffener that reaches below the underside of the rim.
struct Hanging {
    std::string name;
    double by = 0; ///< mm
    bool in_recess = false;
};
std::vector<Hanging> hanging_stiffeners(const Piece& piece);

} // namespace hollowtop
