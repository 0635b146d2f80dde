// SPDX-License-Identifier: MIT
#include "solver/variants/trials.hpp"

#include "materials/error.hpp"
#include "solver/checks/checks.hpp"
#include "solver/uncertainty/uncertainty.hpp"
#include "solver/variants/judge_each.hpp"
#include "solver/variants/proof_band.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

/// Of each check of the table: can it fail the piece?
std::vector<bool> checks_that_count(const Result& result) {
    std::vector<bool> counts;
    for (const Check& check : table_of_checks())
        counts.push_back(std::any_of(result.checks.begin(), result.checks.end(), [&](const CheckResult& row) {
            return row.check == check.name && !row.advice;
        }));
    return counts;
}

std::optional<SagBand> band_of(const Trials& trials) {
    SagBand band{.low_mm = 0, .drawn_mm = trials.base.sag_mm, .high_mm = 0, .share = share_step};
    const double error = trials.base.sag_error_percent / 100;
    bool has_low = false, has_high = false;
    for (const ChangeRow& change : trials.changes) {
        if (!change.row) continue;
        if (change.kind == Changed::stiffer) band.low_mm = change.row->sag_mm * (1 - error), has_low = true;
        if (change.kind == Changed::softer) band.high_mm = change.row->sag_mm * (1 + error), has_high = true;
    }
    return has_low && has_high ? std::optional(band) : std::nullopt;
}

/// The row of a changed piece, from that as drawn and from both on the mesh for differences; empty where that does
/// not tell enough.
std::optional<StudyRow> row_by_differences(const StudyRow& drawn, const StudyRow& rough,
                                           const StudyRow& changed, const std::vector<bool>& counts) {
    StudyRow row = drawn;
    const auto& table = table_of_checks();
    row.utilisation = 0;
    row.passes = true;
    for (std::size_t k = 0; k < drawn.uses.size(); ++k) {
        if (drawn.uses[k] < 0 && changed.uses[k] < 0) continue;
        if (!counts[k]) continue;
        if ((drawn.uses[k] < 0) != (changed.uses[k] < 0)) return std::nullopt; // a check comes or goes
        double& use = row.uses[k];
        if (rough.uses[k] > 0) {
            const double ratio = changed.uses[k] / rough.uses[k];
            use *= ratio;
            const bool is_great = !(ratio < great_ratio && ratio > 1 / great_ratio);
            if (is_great && std::max({drawn.uses[k], changed.uses[k], use}) > worth_a_look)
                return std::nullopt;
        } else if (changed.uses[k] > worth_a_look || drawn.uses[k] > worth_a_look) {
            return std::nullopt;
        }
        if (std::abs(use - 1) < near_limit) return std::nullopt;
        row.passes = row.passes && use <= 1;
        if (use <= row.utilisation) continue;
        row.utilisation = use;
        row.governing_check = table[k].name;
    }
    if (!(rough.sag_mm > 0)) return std::nullopt;
    row.sag_mm = drawn.sag_mm * changed.sag_mm / rough.sag_mm;
    row.sag_limit_mm = changed.sag_limit_mm;
    const auto carry = [](std::optional<double>& value, const std::optional<double>& before,
                          const std::optional<double>& after) {
        value =
            value && before && after && *before > 0 ? std::optional(*value * *after / *before) : std::nullopt;
    };
    carry(row.sag_years_mm, rough.sag_years_mm, changed.sag_years_mm);
    carry(row.dish_mm, rough.dish_mm, changed.dish_mm);
    row.frequency_Hz = {};
    row.mass_kg += changed.mass_kg - rough.mass_kg;
    row.stiffeners_kg += changed.stiffeners_kg - rough.stiffeners_kg;
    row.governing_situation = changed.governing_check == row.governing_check ? changed.governing_situation
                                                                             : drawn.governing_situation;
    return row;
}

ChangeRow row_of_change(const Change& change) {
    return {.kind = change.kind,
            .step = change.step,
            .part = change.part,
            .at = change.at,
            .row = {},
            .problem = {},
            .steps_to_limit = {}};
}

} // namespace

Trials trials_of(const CheckOutcome& outcome, const CheckOptions& options, bool wants_proof) {
    Trials trials{.base = row_of(outcome.placed, outcome.result, {})};
    const std::vector<bool> counts = checks_that_count(outcome.result);
    const std::vector<Change> changes = changes_of(outcome.placed, outcome.result);
    std::optional<ProofPlan> plan;
    if (wants_proof) plan = plan_proof_test(outcome.placed, outcome.result);
    for (const Change& change : changes) trials.changes.push_back(row_of_change(change));

    JudgeEachOptions roughly;
    roughly.check = options_of(Solve::differences, outcome);
    roughly.check.threads = options.threads;
    StudyRow rough;
    std::vector<std::size_t> in_full;
    judge_each(
        changes.size() + 1,
        [&](std::size_t k) {
            return piece_for(Solve::differences, k == 0 ? outcome.placed : changes[k - 1].piece);
        },
        roughly,
        [&](const Judged& judged) { // the first is the piece as drawn
            if (judged.index == 0) {
                if (judged.result) rough = row_of(outcome.placed, *judged.result, {});
                return;
            }
            const std::size_t k = judged.index - 1;
            std::optional<StudyRow>& row = trials.changes[k].row;
            if (judged.result && !rough.uses.empty())
                row = row_by_differences(trials.base, rough, row_of(changes[k].piece, *judged.result, {}),
                                         counts);
            if (!row) in_full.push_back(k);
        });

    JudgeEachOptions judging;
    judging.check = options;
    judging.check.mesh_of_another = outcome.result.mesh;
    judging.check.no_advice = true;
    judge_each(
        in_full.size() + (plan ? 1 : 0),
        [&](std::size_t k) { return k < in_full.size() ? changes[in_full[k]].piece : plan->piece; }, judging,
        [&](const Judged& judged) {
            if (judged.index == in_full.size()) {
                if (judged.result) trials.proof = read_proof_test(*plan, *judged.result);
                return;
            }
            ChangeRow& row = trials.changes[in_full[judged.index]];
            row.in_full = true;
            row.problem = judged.problem;
            if (judged.result) row.row = row_of(changes[in_full[judged.index]].piece, *judged.result, {});
        });
    for (ChangeRow& row : trials.changes)
        if (row.row) row.steps_to_limit = steps_to_limit(trials.base, *row.row, counts);
    trials.band = band_of(trials);
    if (trials.proof) {
        try {
            trials.proof_bands = predict_proof(outcome, *plan, *trials.proof, {.check = options}).bands;
        } catch (const Error& error) { // a top that a little more load tips
            if (error.kind() == ErrorKind::input) throw;
        }
    }
    return trials;
}

} // namespace hollowtop
