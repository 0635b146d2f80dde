// SPDX-License-Identifier: MIT
#pragma once
/// \file  Invented pieces, their mirror images and turns, random ones, and a short way to the whole answer.

#include "solver/model/make_model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/readout/gather.hpp"
#include "solver/readout/mesh_error.hpp"

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

namespace hollowtop {

// ---- parts
// ----------------------------------------------------------------------------------------------------

Recess recess_of(std::variant<RectangleShape, PolygonShape, RimShape> shape, double depth,
                 std::vector<Land> lands = {});
Support pad_at(Point at, bool hold_down = false, double size = 60);
Support knife_edge(Point from, Point to, bool hold_down);
Load area_load(double pressure, Duration duration = Duration::short_term);
Load patch_load(double force, Point at, double size_x, double size_y);

/// 1000 x 600 x 30 in an elastic wood of 650 kg/m3, grain along x, on nothing, under nothing but its weight.
Piece bare_top();

/// Nothing symmetrical: a hollowed top with a land, its grain aslant, on four pads of which one holds down,
/// under three loads.
Piece crooked_top();

// ---- the same piece seen otherwise
// ----------------------------------------------------------------------------

Piece mirrored_in_x(const Piece& piece); ///< x -> length - x
Piece mirrored_in_y(const Piece& piece); ///< y -> width - y
Piece turned(const Piece& piece);        ///< a quarter turn counter-clockwise: (x, y) -> (width - y, x)
/// Every length times `by`; line and point forces times by^2, so that pressures stay.
Piece scaled(const Piece& piece, double by);

// ---- the whole answer on one mesh
// -----------------------------------------------------------------------------

struct Answer {
    std::shared_ptr<const Model> model;
    std::vector<SolvedSituation> solved;
    Response response;
    std::vector<double> frequency_Hz;
};

/// A coarse mesh that is right to some per cent: enough where two answers of the same mesh are compared.
ModelOptions coarse_mesh(const Piece& piece, int order = 3);

Answer answer_of(const Piece& piece, const ModelOptions& options, int n_frequencies = 0);
/// The mesh error that two orders of one mesh tell of the higher one.
MeshError error_between(const Piece& piece, const Answer& low, const Answer& high);

inline Answer answer_of(const Piece& piece, int n_frequencies = 0) {
    return answer_of(piece, coarse_mesh(piece), n_frequencies);
}

/// Greatest |stress| of a probe, and all of a probe's numbers in a row.
std::vector<double> numbers_of(const ProbeReading& probe);

/// A sensible random piece: any outline, recesses and lands, grain and rings, supports and loads of every
/// computed kind. The same seed gives the same piece. Most are held and stay on their supports; some tip.
Piece random_piece(std::uint32_t seed);

/// What it is, on one line.
std::string outline_of_random(const Piece& piece);

} // namespace hollowtop
