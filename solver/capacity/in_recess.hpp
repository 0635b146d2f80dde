// SPDX-License-Identifier: MIT
#pragma once
/// \file  Is there room for what a recess holds, and does its cover hold? The sums behind the checks "room in
/// the recess" and "cover".
///
///      needed                                        there
///      height: its own + working clearance           depth - cover - stiffeners and screw heads over it
///              + what the skin sinks after the years         - what the rim shrinks in the dry season
///      x, y:   its own + clearance on both sides     free between walls, lands and neighbours, in the dry season
///
/// Told for the standing loads after the years, where there are any; mm.

#include "materials/duration.hpp"
#include "materials/message.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/response.hpp"
#include "solver/result/result.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// Left free round what slides: common practice.
inline constexpr double working_clearance = 2;
/// Height of a screw's head that stands proud, over its diameter: common practice, from memory.
inline constexpr double head_per_diameter = 0.6;
/// A cover may sag by that share of what it bridges: judgement.
inline constexpr double cover_sag_divisor = 200;

/// The situation that they are told for: the standing loads after the years, else the first.
const SituationResponse* told_situation(const Response& response);

std::vector<InRecess> in_recesses(const Piece& piece, const Response& response);
/// The same, of how far the top sinks over each thing.
std::vector<InRecess> in_recesses(const Piece& piece, const std::vector<double>& sinks);

/// What was taken for granted of what the recesses hold, and what the maker must know.
std::vector<Message> assumptions_in_recesses(const Piece& piece);
std::vector<Message> warnings_in_recesses(const Piece& piece);
/// Runners that reach further from the wall turn the rim by what hangs on them: judgement.
inline constexpr double longest_reach = 50;

/// By how much a length in the plane (along x or y) or through the thickness shrinks in the dry season, as a
/// fraction; empty where how the material moves is not known.
struct Shrinking {
    double in_x = 0, in_y = 0, through = 0, across = 0, swells_across = 0;
    Message basis;
};
std::optional<Shrinking> shrinking_of(const Piece& piece);

} // namespace hollowtop
