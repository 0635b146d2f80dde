// SPDX-License-Identifier: MIT
#pragma once
/// \file  Models kept for the next piece: one that differs in its stiffeners alone, and asks for the same
/// mesh, needs no new factor.
/// What comes out is what a fresh model gives, to the last bit: the mesh, the factor and the columns are the
/// same numbers.

#include "solver/model/make_model.hpp"
#include "solver/model/model.hpp"
#include "solver/piece/piece.hpp"
#include "solver/readout/gather.hpp"
#include "solver/readout/output_points.hpp"
#include "solver/shell/recovery.hpp"
#include "solver/vibration/top_modes.hpp"

#include <cstddef>
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
        pressing{}; ///< active contacts under the piece before (pressing_of)
    std::shared_ptr<std::optional<TopModes>> modes{}; ///< of the bare top; empty until asked for

    const Readings& readings() const;
};

class KeptModels {
  public:
    /// Keeps models of at most so many bytes, counted when one is asked for. A model that somebody still holds
    /// stays whatever it takes: to drop it would free nothing.
    explicit KeptModels(std::size_t most_bytes) : most_bytes_(most_bytes) {}

    /// The model of the piece. Throws as make_model.
    ModelUse use(const Piece& piece, const ModelOptions& options);

    std::size_t size() const { return kept_.size(); }
    /// Of all models, with what was read of them.
    std::size_t bytes() const;

  private:
    struct Kept {
        Piece bare;           ///< without its stiffeners
        ModelOptions options; ///< threads and bonded change nothing that is kept
        ModelUse use;         ///< without a turn
        std::weak_ptr<void> turn;

        bool is_held() const { return !turn.expired() || use.model.use_count() > 1; }
    };
    struct Planned {
        Piece piece;
        ModelOptions options;
        ModelPlan plan;
    };
    /// Two orders in turn ask for the same.
    const ModelPlan& plan_of(const Piece& piece, const ModelOptions& options);
    static ModelUse given(Kept& kept);
    /// Drops the one used longest ago that nobody holds and that `may_go`. False where there is none.
    template <class MayGo> bool drop_oldest(const MayGo& may_go);
    /// Drops until `more` bytes have room beside the rest, as far as it can.
    void make_room(std::size_t more);

    std::size_t most_bytes_;
    std::list<Kept> kept_; ///< the one used last is first
    std::optional<Planned> planned_;
};

} // namespace hollowtop
