// SPDX-License-Identifier: MIT
#pragma once
/// \file  How far the top comes down on what a recess keeps.
///
///          rim            skin            rim
///       ---####________________________####---     straight between the rims beside the thing ...
///              `--._______________.--'             ... and the skin below that line: this much room is lost
///
/// A thing on runners, or hung rigidly under the skin, is a stiff body between the two walls beside it: the
/// room that it loses is read against the surface that is straight between the four ends of its runners'
/// lines. A thing on the base stays where it is while the top comes down on it: against the plane of the
/// supports.

#include "solver/readout/movement.hpp"

#include <vector>

namespace hollowtop {

/// Greatest over each footprint, mm, at least 0; recess by recess, in the order of their `holds`.
std::vector<double> kept_sinks(const Piece& piece, const Model& model, const SolvedSituation& situation,
                               const SupportPlane& plane);

} // namespace hollowtop
