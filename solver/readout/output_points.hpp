// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a model says at single places without being solved whole.
///
/// A movement or a face stress at a place is a linear form r in the dofs u = creep factor K^-1 (loads +
/// connections) + R a, so that
///     r' u = creep factor (sum of r' K^-1 loads + connections' K^-1 r) + r' R a.
/// K^-1 r is found once a place (Betti: it is the movement under a unit load that works on what is read
/// there), and then answers for every situation, and for every stiffener under the same top, by the forces of
/// the connections alone. A top without bars is asked once: its situations are solved instead, and read.
/// Upward movement in mm, stresses in MPa.

#include "solver/model/model.hpp"
#include "solver/shell/recovery.hpp"
#include "solver/situations/respond.hpp"

#include <map>
#include <span>
#include <vector>

namespace hollowtop {

/// What is read, and where.
struct OutputPoint {
    enum class Kind { movement, top, bottom };
    Kind kind = Kind::movement;
    int axis = 0; ///< of a stress: along the grain, across it
    Point at{};
    bool operator<(const OutputPoint& other) const;
};

/// The same of situations that are solved.
std::vector<std::vector<double>> read_solved(const Model& model, std::span<const OutputPoint> output_points,
                                             std::span<const SolvedSituation> solved);

class OutputReader {
  public:
    /// One row an output point, one number a situation. The model is the one of every call before but for its
    /// stiffeners.
    std::vector<std::vector<double>> read(const Model& model, std::span<const OutputPoint> output_points,
                                          std::span<const ConnectedSituation> connected);
    /// Of the answers kept: at most 64 MB, and what they are seen at.
    std::size_t bytes() const;

  private:
    struct Form {
        std::vector<double> answer; ///< K^-1 r
        std::vector<double> loads;  ///< r' K^-1 of each load
        std::vector<double> rigid;  ///< r' R
        std::shared_ptr<const TopColumns> seen_at{};
        std::vector<double> at_columns{}; ///< r' K^-1 of each of these
    };
    void learn(const Model& model, std::span<const OutputPoint> output_points);
    std::map<OutputPoint, Form> forms_;
};

} // namespace hollowtop
