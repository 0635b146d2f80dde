// SPDX-License-Identifier: MIT
#include "solver/check/kept_models.hpp"

#include <algorithm>
#include <cstddef>
#include <numeric>

namespace hollowtop {
namespace {

constexpr std::size_t most_of_a_piece = 8, // two orders, of four meshes
    most_of_pieces = 4;                    // where they differ in more than stiffeners: they seldom come back
constexpr std::size_t most_means = 30'000; // some tens of megabytes

/// All that the mesh, the factor and the loads depend on, and more: what differs needlessly only costs a
/// factor.
Piece without_stiffeners(const Piece& piece) {
    Piece bare = piece;
    bare.stiffeners.clear();
    return bare;
}

} // namespace

const Readings& ModelUse::readings() const {
    if (!*kept_readings) *kept_readings = readings_of(model->shell, model->line_ends);
    return **kept_readings;
}

const ModelPlan& KeptModels::plan_of(const Piece& piece, bool with_wall_compliance, bool bonded) {
    if (!planned_ || planned_->with_wall_compliance != with_wall_compliance || planned_->bonded != bonded ||
        !(planned_->piece == piece))
        planned_ = Planned{.piece = piece,
                           .with_wall_compliance = with_wall_compliance,
                           .bonded = bonded,
                           .plan = plan_model(piece, with_wall_compliance, bonded)};
    return planned_->plan;
}

ModelUse KeptModels::use(const Piece& piece, const ModelOptions& options) {
    Piece bare = without_stiffeners(piece);
    const auto alike = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& one) {
        return one.options == options.shell && one.bare == bare;
    });
    const auto given = [](Kept& kept) {
        ModelUse use = kept.use;
        use.turn = std::make_shared<int>();
        kept.turn = use.turn;
        return use;
    };
    if (alike != kept_.end() && alike->turn.expired()) {
        const ModelPlan& plan = plan_of(piece, options.shell.with_wall_compliance, options.bonded);
        if (plan.supports.wishes == alike->wishes) {
            change_stiffeners(*alike->use.model, piece, plan, options);
            if (alike->use.means_at->asked() > most_means) alike->use.means_at = std::make_shared<MeansAt>();
            kept_.splice(kept_.begin(), kept_, alike);
            return given(*alike);
        }
    }
    const auto dofs_kept = [&] {
        return std::accumulate(kept_.begin(), kept_.end(), 0, [](int sum, const Kept& one) {
            return sum + one.use.model->factor->n_dofs();
        });
    };
    for (auto oldest = kept_.end(); kept_.size() >= most_of_pieces && oldest != kept_.begin();) {
        --oldest;
        if (!(oldest->bare == bare)) oldest = kept_.erase(oldest);
    }
    while (kept_.size() >= most_of_a_piece || dofs_kept() > most_dofs_) kept_.pop_back();
    auto model = std::make_shared<Model>(make_model(piece, options));
    kept_.push_front({.bare = std::move(bare),
                      .options = options.shell,
                      .wishes = model->supports.wishes,
                      .use = {.model = std::move(model),
                              .kept_readings = std::make_shared<std::optional<Readings>>(),
                              .output_points = std::make_shared<OutputReader>(),
                              .means_at = std::make_shared<MeansAt>(),
                              .pressing = std::make_shared<std::vector<std::vector<char>>>(),
                              .modes = std::make_shared<std::optional<TopModes>>()},
                      .turn = {}});
    return given(kept_.front());
}

} // namespace hollowtop
