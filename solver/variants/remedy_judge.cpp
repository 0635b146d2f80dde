// SPDX-License-Identifier: MIT
#include "solver/variants/remedy_judge.hpp"

#include "materials/error.hpp"
#include "solver/check/kept_work.hpp"
#include "solver/piece/sense.hpp"
#include "solver/variants/levers.hpp"

#include <algorithm>
#include <utility>

namespace hollowtop {
namespace {

/// So many cells along the top, and none refined beyond.
MeshReport mesh_of(const Piece& piece, double cells) {
    MeshReport mesh;
    mesh.size_mm = std::max(piece.top.length, piece.top.width) / cells;
    return mesh;
}
constexpr double cells_of_search = 10; ///< it says what to try

/// Are all its edges and walls lines of the mesh, so that the first mesh of a check errs by little?
bool is_straight(const Piece& piece) {
    return std::holds_alternative<RectangleShape>(piece.top.outline) &&
           std::none_of(piece.recesses.begin(), piece.recesses.end(), [](const Recess& recess) {
               return std::holds_alternative<PolygonShape>(recess.shape);
           });
}

/// `placed` becomes the piece as it was computed.
std::optional<RemedyVerdict> of_piece(const Piece& piece, const CheckOptions& options,
                                      Piece* placed = nullptr) {
    try {
        if (!faults_of(piece).empty()) return std::nullopt;
        CheckOutcome outcome = check_piece(piece, options);
        const Result& result = outcome.result;
        if (placed != nullptr) *placed = std::move(outcome.placed);
        return RemedyVerdict{.passes = result.passes,
                             .utilisation = result.governing_utilisation,
                             .mass_kg = result.mass.total_kg,
                             .governing_check = result.governing_check,
                             .used = used_of(result, !options.mesh_of_another)};
    } catch (const Error&) { // it tips, or cannot be made so
        return std::nullopt;
    }
}
std::optional<RemedyVerdict> of(Piece piece, const Lever& lever, int k, const CheckOptions& options,
                                Piece* placed = nullptr) {
    try {
        lever.step(piece, k);
    } catch (const Error&) { // it cannot be made so
        return std::nullopt;
    }
    return of_piece(piece, options, placed);
}

} // namespace

UsedByCheck used_of(const Result& result, bool at_most) {
    UsedByCheck used;
    for (const CheckResult& row : result.checks) {
        if (row.advice) continue;
        const double uses = row.utilisation * (1 + (at_most ? row.error_percent.value_or(0) / 100 : 0));
        const auto known = std::find_if(used.begin(), used.end(),
                                        [&](const auto& entry) { return entry.first == row.check; });
        if (known == used.end())
            used.emplace_back(row.check, uses);
        else
            known->second = std::max(known->second, uses);
    }
    return used;
}

double used_by(const UsedByCheck& used, const std::string& check) {
    for (const auto& [name, utilisation] : used)
        if (name == check) return utilisation;
    return 0;
}

void scale(RemedyVerdict& verdict, const UsedByCheck& times) {
    verdict.utilisation = 0;
    for (auto& [check, used] : verdict.used) {
        if (const double by = used_by(times, check); by > 0) used *= by;
        if (used > verdict.utilisation) {
            verdict.utilisation = used;
            verdict.governing_check = check;
        }
    }
    verdict.passes = verdict.utilisation <= 1;
}

RemedyJudge::RemedyJudge(const Piece& asked, const CheckOutcome& failing, CheckOptions options)
    : asked_(asked), resting_(failing.placed), mesh_(mesh_of(asked, cells_of_search)),
      options_(std::move(options)), is_straight_(is_straight(asked) && !options_.mesh_size),
      refined_(failing.result.mesh) {
    options_.threads = 1;
    options_.essentials = options_.no_advice = true;
    options_.want_fields = false;
    options_.progress = {};
    compare_with(used_of(failing.result));
}

std::optional<RemedyVerdict> RemedyJudge::quick(const Lever& lever, int k, KeptWork& kept) const {
    CheckOptions options = options_;
    options.mesh_of_another = mesh_;
    options.rough = true;
    options.kept = &kept;
    return judged_roughly(lever, of(resting_, lever, k, options));
}

std::optional<RemedyVerdict> RemedyJudge::full(const Lever& lever, int k, int threads) const {
    CheckOptions options = options_;
    options.threads = threads;
    options.mesh_of_another = mesh_;
    options.rough = true;
    Piece placed;
    const auto sought = judged_roughly(lever, of(asked_, lever, k, options, &placed));
    if (!sought || !sought->passes) return sought;
    options.rough = false;
    // its loads that travel are where they do most harm
    if (!is_straight_) {
        options.mesh_of_another = refined_;
        return left_over(of_piece(placed, options));
    }
    options.mesh_of_another.reset();
    options.unrefined = true;
    auto verdict = of_piece(placed, options);
    if (verdict) scale(*verdict, {}); // to what they use at most
    return verdict;
}

std::optional<RemedyVerdict> RemedyJudge::solid() const {
    CheckOptions options = options_;
    options.mesh_of_another = mesh_;
    options.rough = true;
    return of_piece(solid_of(resting_), options);
}

std::optional<RemedyVerdict> RemedyJudge::left_over(std::optional<RemedyVerdict> verdict) const {
    if (verdict && verdict->utilisation > 1 - spare_for_mesh) verdict->passes = false;
    return verdict;
}

/// What was computed on the mesh of the search, brought to what the check of the piece as drawn said.
std::optional<RemedyVerdict> RemedyJudge::judged_roughly(const Lever& lever,
                                                         std::optional<RemedyVerdict> verdict) const {
    const bool is_solid = lever.change.kind == "solid"; // what walls and skins taught does not speak of it
    if (verdict && !is_solid) scale(*verdict, more_in_full_);
    return left_over(std::move(verdict));
}

void RemedyJudge::compare_with(const UsedByCheck& drawn) {
    CheckOptions options = options_;
    options.mesh_of_another = mesh_;
    options.rough = true;
    const auto verdict = of_piece(resting_, options);
    if (!verdict) return;
    constexpr double most = 2; // beyond, the two do not speak of one thing
    for (const auto& [check, used] : verdict->used)
        if (const double in_full = used_by(drawn, check); used > 0 && in_full > 0)
            more_in_full_.emplace_back(check, std::clamp(in_full / used, 1 / most, most));
}

} // namespace hollowtop
