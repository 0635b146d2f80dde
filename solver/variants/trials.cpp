// SPDX-License-Identifier: MIT
#include "solver/variants/trials.hpp"

#include "materials/error.hpp"
#include "solver/checks/checks.hpp"
#include "solver/variants/judge_each.hpp"
#include "solver/variants/proof_band.hpp"

#include <algorithm>

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

} // namespace

Trials trials_of(const CheckOutcome& outcome, const CheckOptions& options) {
    Trials trials{.base = row_of(outcome.placed, outcome.result, {})};
    const std::vector<bool> counts = checks_that_count(outcome.result);
    const std::vector<Change> changes = changes_of(outcome.placed, outcome.result);
    const std::optional<ProofPlan> plan = plan_proof_test(outcome.placed, outcome.result);
    JudgeEachOptions judging;
    judging.check = options;
    judging.check.mesh_of_another = outcome.result.mesh;
    judging.check.no_advice = true;
    judge_each(
        changes.size() + (plan ? 1 : 0),
        [&](std::size_t k) { return k < changes.size() ? changes[k].piece : plan->piece; }, judging,
        [&](const Judged& judged) {
            if (judged.index == changes.size()) {
                if (judged.result) trials.proof = read_proof_test(*plan, *judged.result);
                return;
            }
            const Change& change = changes[judged.index];
            ChangeRow row{.kind = change.kind,
                          .step = change.step,
                          .part = change.part,
                          .at = change.at,
                          .row = {},
                          .problem = judged.problem,
                          .steps_to_limit = {}};
            if (judged.result) {
                row.row = row_of(change.piece, *judged.result, {});
                row.steps_to_limit = steps_to_limit(trials.base, *row.row, counts);
            }
            trials.changes.push_back(std::move(row));
        });
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
