// SPDX-License-Identifier: MIT
#include "solver/check/kept_models.hpp"

#include "solver/check/kept_bytes.hpp"

#include <algorithm>
#include <iterator>

namespace hollowtop {
namespace {

constexpr std::size_t most_of_a_piece = 8, // two orders, of four meshes
    most_of_pieces = 4;                    // where they differ in more than stiffeners: they seldom come back
constexpr std::size_t most_means = 30'000; // some tens of megabytes

/// All that the mesh, the factor and the loads depend on, and more: what differs needlessly only costs a
/// factor. Stiffeners wish for no mesh lines (plan_connections).
Piece without_stiffeners(const Piece& piece) {
    Piece bare = piece;
    bare.stiffeners.clear();
    return bare;
}

/// Do the options ask for the same bare top?
bool ask_alike(const ModelOptions& a, const ModelOptions& b) {
    return a.shell == b.shell && a.finer_at == b.finer_at && a.coarse_beds == b.coarse_beds;
}

std::size_t bytes_of(const ModelUse& use) {
    std::size_t sum = bytes_of(*use.model) + use.output_points->bytes() + use.means_at->bytes();
    if (*use.kept_readings) sum += bytes_of(**use.kept_readings);
    if (*use.modes) sum += bytes_of(**use.modes);
    return sum;
}

} // namespace

const Readings& ModelUse::readings() const {
    if (!*kept_readings) *kept_readings = readings_of(model->shell, model->line_ends);
    return **kept_readings;
}

const ModelPlan& KeptModels::plan_of(const Piece& piece, const ModelOptions& options) {
    const bool with_wall_compliance = options.shell.with_wall_compliance; // order and size plan nothing
    const auto serves = [&](const Planned& one) {
        return one.options.shell.with_wall_compliance == with_wall_compliance &&
               one.options.bonded == options.bonded && one.options.coarse_beds == options.coarse_beds &&
               one.piece == piece;
    };
    if (!planned_ || !serves(*planned_))
        planned_ =
            Planned{.piece = piece,
                    .options = options,
                    .plan = plan_model(piece, with_wall_compliance, options.bonded, options.coarse_beds)};
    return planned_->plan;
}

ModelUse KeptModels::given(Kept& kept) {
    ModelUse use = kept.use;
    use.turn = std::make_shared<int>();
    kept.turn = use.turn;
    return use;
}

template <class MayGo> bool KeptModels::drop_oldest(const MayGo& may_go) {
    const auto oldest = std::find_if(kept_.rbegin(), kept_.rend(),
                                     [&](const Kept& one) { return !one.is_held() && may_go(one); });
    if (oldest == kept_.rend()) return false;
    kept_.erase(std::next(oldest).base());
    return true;
}

std::size_t KeptModels::bytes() const {
    std::size_t sum = 0;
    for (const Kept& one : kept_) sum += bytes_of(one.use);
    return sum;
}

void KeptModels::make_room(std::size_t more) {
    while (!kept_.empty() && bytes() + more > most_bytes_)
        if (!drop_oldest([](const Kept&) { return true; })) return;
}

ModelUse KeptModels::use(const Piece& piece, const ModelOptions& options) {
    Piece bare = without_stiffeners(piece);
    const auto alike = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& one) {
        return ask_alike(one.options, options) && one.bare == bare;
    });
    if (alike != kept_.end() && alike->turn.expired()) {
        change_stiffeners(*alike->use.model, piece, plan_of(piece, options), options);
        if (alike->use.means_at->asked() > most_means) alike->use.means_at = std::make_shared<MeansAt>();
        kept_.splice(kept_.begin(), kept_, alike);
        ModelUse use = given(*alike);
        make_room(0);
        return use;
    }
    const auto is_another = [&](const Kept& one) { return !(one.bare == bare); };
    while (kept_.size() >= most_of_pieces && drop_oldest(is_another)) {
    }
    while (kept_.size() >= most_of_a_piece && drop_oldest([](const Kept&) { return true; })) {
    }
    std::size_t largest = 0; // the new one is taken to be like it
    for (const Kept& one : kept_) largest = std::max(largest, bytes_of(one.use));
    make_room(largest);
    auto model = std::make_shared<Model>(make_model(piece, options));
    kept_.push_front({.bare = std::move(bare),
                      .options = options,
                      .use = ModelUse{.model = std::move(model),
                                      .kept_readings = std::make_shared<std::optional<Readings>>(),
                                      .output_points = std::make_shared<OutputReader>(),
                                      .means_at = std::make_shared<MeansAt>(),
                                      .pressing = std::make_shared<std::vector<std::vector<char>>>(),
                                      .modes = std::make_shared<std::optional<TopModes>>()},
                      .turn = {}});
    ModelUse use = given(kept_.front());
    make_room(0);
    return use;
}

} // namespace hollowtop
