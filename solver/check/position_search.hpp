// SPDX-License-Identifier: MIT
#pragma once
/// \file  Where one load that travels does most harm on a coarse top.
///
/// The load is set down on an even grid (LoadPositionSolver), over and beside the supports and against the walls
/// of recesses; in each place every row of the table of checks is judged (TriedPositions). About the worst
/// places for each row the grid is halved, down to 5 mm or until the peak is flat to a hundredth of itself.
/// Limits: buckling of a skin is not searched for; a peak narrower than the grid can be missed; what takes up
/// less than a half of what is allowed is climbed from one place of the grid only, less than a seventh not at
/// all. Against every place of a 10 mm grid:
/// tests/benchmark/worst_place.cpp.

#include "solver/check/coarse_top.hpp"
#include "solver/check/symmetry.hpp"
#include "solver/check/tried_positions.hpp"
#include "solver/result/result.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

class PositionSearch {
  public:
    /// Throws Error(input) where the load fits nowhere; `place` names it. `kept` may be missing.
    PositionSearch(std::shared_ptr<const CoarseTop> top, const Load& load, const std::string& place,
                   KeptAllowables* kept = nullptr);

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
    Rectangle range() const { return whole_; }

  private:
    struct Climb {
        size_t row = 0;
        Point at{};
    };
    /// Of the grid, row by row along x, as far as the load lies on the top: drawn in by at most `furthest`, mm.
    std::vector<Point> grid(double furthest) const;
    std::vector<Point> known_dangers() const;
    std::vector<Point> starts(size_t row) const;
    std::vector<Climb> climbs() const;
    std::vector<Point> about(Point from, double half) const;
    void climb_by(double half, std::vector<Climb>& climbs);
    void give_up(double half, std::vector<Climb>& climbs) const;
    void refine();
    Point middle() const { return {(whole_.x0 + whole_.x1) / 2, (whole_.y0 + whole_.y1) / 2}; }
    Point within(Point p) const;
    bool lies(Point at) const;
    std::optional<Point> drawn_in(Point p, double furthest) const;

    /// Where the half that is searched stands for the place.
    Point in_half(Point p) const;

    TriedPositions tried_;
    Symmetry symmetry_;
    Rectangle whole_; ///< over which the load travels
    Rectangle range_; ///< the half or quarter of it that is searched
    double step_;
    std::vector<double> xs_, ys_; ///< of the whole
};

} // namespace hollowtop
