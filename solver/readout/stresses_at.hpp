// SPDX-License-Identifier: MIT
#pragma once
/// \file  Face stresses at any point of the top, in many situations at once: the searches for the worst
/// places climb the same hills, one check after the other, and one piece after the other that differs in its
/// stiffeners alone.

#include "solver/shell/recovery.hpp"
#include "solver/situations/respond.hpp"

#include <array>
#include <cstdint>
#include <deque>
#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace hollowtop {

/// Face stresses of a situation at a mean; after the years the wood's modulus is the reduced one.
StressSample stress_in(const Shell& shell, const SolvedSituation& situation, const StrainMean& mean);

/// The same at all of the means in several situations: a row for each situation.
std::vector<std::vector<StressSample>> stresses_in(const Shell& shell,
                                                   std::span<const SolvedSituation* const> situations,
                                                   std::span<const StrainMean> means);

/// What a mean takes besides its own size.
size_t bytes_of_parts(const StrainMean& mean);

/// Means at points asked for before, on one mesh: the searches ask for the same ones again and again.
class MeansAt {
  public:
    static constexpr size_t off_the_top = static_cast<size_t>(-1);
    MeansAt();
    /// The same number for the same point on the top, counted from 0; off_the_top for all others.
    size_t number_of(const Shell& shell, Point point);
    const StrainMean& mean(const Shell& shell, Point point, size_t number);
    /// Points on the top.
    size_t size() const { return means_.size(); }
    /// Points asked for, on the top and off it.
    size_t asked() const { return asked_; }
    size_t bytes() const {
        return slots_.size() * sizeof(Slot) + means_.size() * sizeof(StrainMean) + in_parts_;
    }

  private:
    struct Slot {
        Point at{};
        std::uint32_t number = empty;
    };
    static constexpr std::uint32_t empty = 0xFFFFFFFF, off = 0xFFFFFFFE;
    /// Where the point is, or where there is room for it.
    Slot& slot_of(Point point);

    std::vector<Slot> slots_; ///< a power of two, at most half of them taken
    size_t asked_ = 0;
    std::deque<std::optional<StrainMean>> means_; ///< by number, once asked for
    size_t in_parts_ = 0;                         ///< bytes of what the means point to
};

/// Stresses in the situations of one piece or of several on the same mesh.
class StressesAt {
  public:
    /// The model's shell alone is read. `means` are those of its mesh.
    StressesAt(std::shared_ptr<const Model> model, std::span<const SolvedSituation* const> situations,
               std::shared_ptr<MeansAt> means);
    /// At a point in one of the situations; null off the top. Stays where it is.
    const StressSample* at(Point point, size_t situation);
    /// At all of the means: a row for each situation.
    std::vector<std::vector<StressSample>> at_all(std::span<const StrainMean> means) const;

  private:
    using Samples = std::array<StressSample, FieldsAbreast::group_size>;
    std::shared_ptr<const Model> model_;
    std::shared_ptr<MeansAt> means_;
    FieldsAbreast fields_;
    std::vector<double> creep_factor_; ///< of each situation
    std::vector<std::uint32_t>
        place_; ///< of a point's samples in a group, counted from 1, by its number; 0: not known
    static constexpr size_t chunk = 64;
    std::vector<std::unique_ptr<Samples[]>> samples_; ///< in chunks, which stay where they are
    size_t n_samples_ = 0;
};

} // namespace hollowtop
