// SPDX-License-Identifier: MIT
#pragma once
/// \file  Models kept for the next piece: one that differs in its stiffeners alone, and asks for the same
/// mesh, needs no new factor.
/// What comes out is what a fresh model gives, to the last bit: the mesh, the factor and the columns are the
/// same numbers.

#include "solver/model/model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/readout/gather.hpp"
#include "solver/readout/output_points.hpp"
#include "solver/shell/recovery.hpp"
#include "solver/vibration/top_modes.hpp"

#include <list>
#include <memory>
#include <optional>
#include <vector>

namespace hollowtop {

/// A model, and what belongs to its mesh. While `turn` is held, nobody else gets the model; who takes the
/// underside out of it may give up the turn, and put it back when it is the only one at work again.
struct ModelUse {
    std::shared_ptr<void> turn{};
    std::shared_ptr<Model> model{};
    std::shared_ptr<std::optional<Readings>> kept_readings{}; ///< empty until asked for
    std::shared_ptr<OutputReader> output_points{};
    std::shared_ptr<MeansAt> means_at{};
    std::shared_ptr<std::vector<std::vector<char>>>
        pressing{};                                   ///< what pressed under the piece before (pressing_of)
    std::shared_ptr<std::optional<TopModes>> modes{}; ///< of the bare top; empty until asked for

    const Readings& readings() const;
};

class KeptModels {
  public:
    /// Models of so many dofs in all are kept at most; 300 000 take about a gigabyte.
    explicit KeptModels(int most_dofs = 450'000) : most_dofs_(most_dofs) {}

    /// The model of the piece. Throws as make_model.
    ModelUse use(const Piece& piece, const ModelOptions& options);

  private:
    struct Kept {
        Piece bare; ///< without its stiffeners
        ShellOptions options;
        MeshWishes wishes;
        ModelUse use; ///< without a turn
        std::weak_ptr<void> turn;
    };
    struct Planned {
        Piece piece;
        bool with_wall_compliance = true, bonded = true;
        ModelPlan plan;
    };
    /// Two orders in turn ask for the same.
    const ModelPlan& plan_of(const Piece& piece, bool with_wall_compliance, bool bonded);

    int most_dofs_;
    std::list<Kept> kept_; ///< the one used last is first
    std::optional<Planned> planned_;
};

} // namespace hollowtop
