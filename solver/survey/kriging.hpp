// SPDX-License-Identifier: MIT
#pragma once
/// \file  A smooth field through scattered readings, and how sure it is at every place (kriging).
///
///     reading = level + slope_x x + slope_y y + bump(x, y) + error of the reading
///
/// The level may be anything; the slopes are held to be within `slope_sd` a half side, which the readings soon outweigh;
/// the bumps are a Gaussian process with Matern's covariance of order 3/2, sill^2 (1 + a) exp(-a) with
/// a = sqrt(3) distance / range, or 1/2, sill^2 exp(-distance / range): swells, or steps.
/// Sill, range and order are weighed by the restricted likelihood of the readings on a grid of all three and what is
/// likely is averaged over, so that six readings do not pass for sixty.
/// Sources, all from memory: Matheron 1963 (kriging); Patterson and Thompson 1971 (restricted likelihood); Rasmussen and
/// Williams, Gaussian Processes for Machine Learning, 2006, ch. 2, 4 and 5. The tests hold the formulas to their
/// consequences. Units: mm.

#include "solver/piece/piece.hpp"

#include <memory>
#include <span>
#include <vector>

namespace hollowtop {

/// A reading, or the mean of several that lie close: its error's standard deviation is known.
struct Observed {
    Point at;
    double value = 0, sd = 0;
};

struct Bumps {
    double sill = 0, range = 0; ///< standard deviation and reach of the bumps
    bool has_steps = false;     ///< Matern's order 1/2, else 3/2
};

struct Estimate {
    double mean = 0,
           sd = 0; ///< of the field itself, without the error of a further reading; 1.645 sd hold nine in ten
};

/// Of a weighted sum of the field over places.
struct Weighed {
    Point at;
    double weight = 0;
};

class Kriging {
  public:
    /// `box` bounds the field; at least one reading, each with an sd above 0. With `given` nothing is weighed.
    Kriging(std::span<const Observed> observed, const Rectangle& box, const Bumps* given = nullptr);
    ~Kriging();
    Kriging(Kriging&&) noexcept;
    Kriging& operator=(Kriging&&) noexcept;

    Estimate at(Point place) const;
    std::vector<Estimate> at(std::span<const Point> places) const;
    /// Sure of the field at one place, less sure at the other: posterior covariance, of the likeliest bumps. mm2
    double covariance(Point a, Point b) const;
    /// The sum of the field over places, and how sure it is: as `at`, with what goes for neighbours alike.
    Estimate sum(std::span<const Weighed> places) const;
    /// What one more reading at each of `further`, with an error of that sd, would take of the variance of a sum,
    /// and that variance; of the likeliest bumps.
    struct Removal {
        double variance = 0;
        std::vector<double> removed{};
    };
    Removal removal(std::span<const Weighed> places, std::span<const Point> further, double sd) const;
    /// The likeliest.
    Bumps bumps() const;

    /// Each reading against what all the others foretell of it, with the likeliest bumps: difference and its sd.
    struct LeftOut {
        double difference = 0, sd = 0;
    };
    std::vector<LeftOut> leave_one_out() const;

  private:
    struct Model;
    std::vector<Model> models_; ///< the likeliest first
    std::vector<double> weights_;
};

/// So many readings at most: where there are more, the means of those in each cell of an even grid over `box`.
std::vector<Observed> thinned_to(std::span<const Observed> observed, const Rectangle& box, std::size_t most);

} // namespace hollowtop
