// SPDX-License-Identifier: MIT
#include "solver/analysis/kept_models.hpp"

#include <algorithm>
#include <cstddef>
#include <numeric>

namespace hollowtop {
namespace {

constexpr std::size_t most_kept = 4;       // two orders, of two meshes
constexpr int most_dofs_kept = 300'000;    // a gigabyte
constexpr std::size_t most_means = 30'000; // some tens of megabytes

/// All that the mesh, the factor and the loads depend on, and more: what differs needlessly only costs a factor.
Piece without_stiffeners(const Piece& piece) {
    Piece bare = piece;
    bare.stiffeners.clear();
    return bare;
}

} // namespace

const Readings& ModelUse::readings() const {
    if (!*kept_readings) *kept_readings = readings_of(model->shell);
    return **kept_readings;
}

ModelUse KeptModels::use(const Piece& piece, const ModelOptions& options) {
    Piece bare = without_stiffeners(piece);
    const auto alike = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& one) { return one.options == options.shell && one.bare == bare; });
    const auto given = [](Kept& kept) {
        ModelUse use = kept.use;
        use.turn = std::make_shared<int>();
        kept.turn = use.turn;
        return use;
    };
    if (alike != kept_.end() && alike->turn.expired()) {
        ModelPlan plan = plan_model(piece, options.shell.soften_walls);
        if (plan.supports.wishes == alike->wishes) {
            change_stiffeners(*alike->use.model, piece, std::move(plan), options);
            if (alike->use.means_at->size() > most_means) alike->use.means_at = std::make_shared<MeansAt>();
            kept_.splice(kept_.begin(), kept_, alike);
            return given(*alike);
        }
    }
    const auto dofs_kept = [&] {
        return std::accumulate(kept_.begin(), kept_.end(), 0, [](int sum, const Kept& one) { return sum + one.use.model->factor->n_dofs(); });
    };
    while (kept_.size() >= most_kept || dofs_kept() > most_dofs_kept) kept_.pop_back();
    auto model = std::make_shared<Model>(make_model(piece, options));
    kept_.push_front({.bare = std::move(bare), .options = options.shell, .wishes = model->supports.wishes,
                      .use = {.model = std::move(model), .kept_readings = std::make_shared<std::optional<Readings>>(),
                              .spots = std::make_shared<SpotReader>(),
                              .means_at = std::make_shared<MeansAt>(), .modes = std::make_shared<std::optional<TopModes>>()},
                      .turn = {}});
    return given(kept_.front());
}

} // namespace hollowtop
