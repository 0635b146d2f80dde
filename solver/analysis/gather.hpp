// SPDX-License-Identifier: MIT
#pragma once
/// \file  From solved situations to what the checks read.

#include "solver/analysis/movement.hpp"
#include "solver/analysis/response.hpp"
#include "solver/analysis/skin_buckling.hpp"
#include "solver/analysis/walls.hpp"
#include "solver/analysis/respond.hpp"
#include "solver/shell/recovery.hpp"

#include <bit>
#include <cstdint>
#include <deque>
#include <memory>
#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

namespace hollowtop {

/// Means at points asked for before, on one mesh: the search for the worst place asks for the same ones again and again.
class MeansAt {
  public:
    /// The same number for the same point, counted from 0.
    size_t number_of(const Shell& shell, Point point);
    /// Is that point inside the outline?
    bool on_top(size_t number) const { return known_[number].on_top; }
    const StrainMean& mean(const Shell& shell, Point point, size_t number);
    size_t size() const { return known_.size(); }

  private:
    struct Hash { // + 0.0: nought has two signs
        size_t operator()(const Point& p) const {
            const std::uint64_t bits = (std::bit_cast<std::uint64_t>(p.x + 0.0) * 0x9E3779B97F4A7C15u) ^ std::bit_cast<std::uint64_t>(p.y + 0.0);
            return static_cast<size_t>((bits * 0xD1B54A32D192ED03u) >> 16);
        }
    };
    struct Known {
        bool on_top = false;
        std::optional<StrainMean> mean{}; ///< once asked for
    };
    std::unordered_map<Point, size_t, Hash> number_;
    std::deque<Known> known_; ///< by number
};

/// All but probes, the buckling factor and stresses elsewhere than in the survey. `survey` are the stresses at its means (stresses_in).
SituationResponse situation_response(const Piece& piece, const Model& model, const SolvedSituation& solved, const DishGrid& dish,
                                     std::span<const WallPoint> walls, std::vector<StressSample> survey);

/// Where a model is read: the same for every situation, and for every stiffener under the same top.
struct Readings {
    std::vector<StrainMean> survey{};
    DishGrid dish{};
    std::vector<WallPoint> walls{};
    std::vector<SkinPoints> skins{};
};
Readings readings_of(const Shell& shell);

/// Stresses at the readings' survey, a row a situation, and the movements that they were read from.
struct Surveys {
    std::vector<std::vector<StressSample>> rows{};
    std::shared_ptr<const FieldsAbreast> fields{};
};
Surveys surveys_of(const Model& model, const std::vector<SolvedSituation>& solved, const Readings& readings);

/// The model is shared: the response's stress fields keep it alive. `means_at` may be empty, or those of a response on the
/// same mesh.
Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model, const std::vector<SolvedSituation>& solved,
                         const Readings& readings, Surveys surveys, std::shared_ptr<MeansAt> means_at = nullptr);
Response gather_response(const Piece& piece, const std::shared_ptr<const Model>& model, const std::vector<SolvedSituation>& solved, const Readings& readings);

/// Face stresses of a situation at a mean; after the years the wood's modulus is the reduced one.
StressSample stress_in(const Shell& shell, const SolvedSituation& situation, const StrainMean& mean);

/// The same at all of the means in several situations: a row for each situation.
std::vector<std::vector<StressSample>> stresses_in(const Shell& shell, std::span<const SolvedSituation* const> situations,
                                                   const std::vector<StrainMean>& means);

} // namespace hollowtop
