// SPDX-License-Identifier: MIT
#pragma once
/// \file  Where a load that travels ("at": "worst") does most harm.
///
/// The load is set down on an even grid (LoadPositionSolver) on a coarse mesh, over and beside the supports
/// and against the walls of recesses; in each place every row of the table of checks is judged, and how far a
/// support is left. About the worst places for each the grid is halved, down to 5 mm. The places found become
/// loads like any other, each with its own situation, computed and judged as finely as those.
/// Limits: buckling of a skin is not searched for; a peak narrower than the grid can be missed; what takes up
/// less than a fifth of what is allowed is climbed from one
/// place of the grid only, less than a tenth not at all. Against every place of a 10 mm grid:
/// tests/benchmark/worst_place.cpp.

#include "solver/capacity/allowables.hpp"
#include "solver/model/model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/response.hpp"
#include "solver/result/result.hpp"

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace hollowtop {

/// The piece with its standing loads alone, on a coarse mesh.
struct CoarseTop;
/// `has_stability`: the piece has loads for stability, so that those for strength do not count for tipping.
std::shared_ptr<const CoarseTop> coarse_top(const Piece& standing, int threads, bool has_stability = false);

/// One load on it.
class PositionSearch {
  public:
    /// Throws Error(input) where the load fits nowhere; `place` names it. `kept` may be missing.
    PositionSearch(std::shared_ptr<const CoarseTop> top, const Load& load, const std::string& place,
                   KeptAllowables* kept = nullptr);
    ~PositionSearch();
    PositionSearch(PositionSearch&&) noexcept;
    PositionSearch& operator=(PositionSearch&&) noexcept;

    /// Grid, then refinement.
    void run();
    /// Utilisation of each row of the table of checks there, lift-off in mm after them; empty where the load
    /// does not lie on the top. Where the top tips all but tipping is 0.
    std::vector<std::vector<double>> used_at(const std::vector<Point>& places);

    Travel result() const;
    /// The distinct worst places that are worth a situation of their own.
    std::vector<Point> worth_a_situation() const;
    /// The place in which the top tips first, if it does.
    std::optional<TippedPosition> tipped() const;
    Rectangle range() const;

  private:
    struct Body;
    std::unique_ptr<Body> body_;
};

struct WorstPositions {
    Piece piece; ///< each travelling load replaced by loads at its worst places; their names say where
    std::vector<Travel> travels;
    std::vector<TippedPosition> tipped;
};

/// Throws Error(input) where a load fits nowhere. `kept`, of the pieces before, may be missing.
WorstPositions with_worst_positions(const Piece& piece, int threads, KeptAllowables* kept = nullptr);

/// Words for a place, in the units of the piece: "at x 950, y 40 mm".
std::string place_words(Point at, Units units);

} // namespace hollowtop
