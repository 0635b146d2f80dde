// SPDX-License-Identifier: MIT
// A thumb, a sanding pad, a heel and a hand that leans on the skins of the recesses. They belong to the
// skins, not to a load, and no limit is published: one row of advice each for what sinks, for what feels
// springy and for what breaks.
#include "materials/digits.hpp"
#include "solver/capacity/allowables.hpp"
#include "solver/checks/judges.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

bool is_first(const CheckInput& input) { return &input.situation == input.response.situations.data(); }

std::string words_for(const SkinPush& push) { return push.push + " on " + push.recess; }
Message size_words(const SkinPush& push) {
    return said("{} on a square of {}, skin of {}", amount(push.force_N, Unit::N),
                amount(push.size_mm, Unit::mm), amount(push.skin_mm, Unit::mm));
}

} // namespace

void fill_strength_used(const Piece& piece, SkinPush& push) {
    const auto allowables = allowables_of(piece, push.duration);
    if (!allowables) return;
    const auto take = [&](double used, const char* by) {
        if (push.strength_used && *push.strength_used >= used) return;
        push.strength_used = used;
        push.used_by = by;
    };
    const double across = tension_strength_at_a_place(push.tension_across, *allowables);
    take(std::max(norris_utilisation(push.stress_top_MPa, *allowables, across),
                  norris_utilisation(push.stress_bottom_MPa, *allowables, across)),
         "bending of the skin");
    take(push.shear_MPa[0] / allowables->shear.value, "shear through the thickness");
    take(push.shear_MPa[1] / allowables->rolling_shear.value, "rolling shear");
    // a skin that sinks by more than half its thickness is past this theory: a share that passes is not to be
    // told
    if (push.dish_mm > push.skin_mm / 2 && *push.strength_used <= 1) push.strength_used.reset();
}

namespace {

/// The push that comes nearest to its limit of dish among those whose limit is a share of the skin's clear width,
/// or among the others; its row has neither basis nor remedy yet.
const SkinPush* nearest_to_its_limit(const CheckInput& input, bool by_width, CheckResult& row) {
    if (!is_first(input)) return nullptr;
    const SkinPush* worst = nullptr;
    for (const SkinPush& push : input.response.pushes)
        if (push.dish_limit_mm && push.clear_width_mm.has_value() == by_width &&
            (!worst || push.dish_mm / *push.dish_limit_mm > worst->dish_mm / *worst->dish_limit_mm))
            worst = &push;
    if (!worst) return nullptr;
    row.situation = words_for(*worst);
    row.demand = worst->dish_mm;
    row.capacity = *worst->dish_limit_mm;
    row.unit = "mm";
    row.at = worst->at;
    row.advice = true;
    return worst;
}

} // namespace

std::optional<CheckResult> judge_push_dish(const CheckInput& input) {
    CheckResult row;
    const SkinPush* worst = nearest_to_its_limit(input, false, row);
    if (!worst) return std::nullopt;
    row.basis = said("{}; {}", size_words(*worst), worst->source);
    row.remedy = "leave the skin thicker, or leave a land in the recess";
    return row;
}

std::optional<CheckResult> judge_springy(const CheckInput& input) {
    CheckResult row;
    const SkinPush* worst = nearest_to_its_limit(input, true, row);
    if (!worst) return std::nullopt;
    row.basis =
        said("clear width of {} / {}; {}; {}", amount(*worst->clear_width_mm, Unit::mm, significant(4)),
             number(*worst->clear_width_mm / *worst->dish_limit_mm), size_words(*worst), worst->source);
    row.remedy = "leave the skin thicker, make the recess narrower, or set a stiffener across it";
    return row;
}

std::optional<CheckResult> judge_push_strength(const CheckInput& input) {
    if (!is_first(input)) return std::nullopt;
    std::optional<SkinPush> worst;
    for (SkinPush push : input.response.pushes) {
        if (push.dish_limit_mm) continue; // what sinks too far is told above
        fill_strength_used(input.piece, push);
        if (push.strength_used && (!worst || *push.strength_used > *worst->strength_used))
            worst = std::move(push);
    }
    if (!worst) return std::nullopt;
    CheckResult row;
    row.situation = words_for(*worst);
    row.demand = *worst->strength_used;
    row.capacity = 1;
    row.unit = "1";
    row.at = worst->at;
    row.advice = true;
    row.basis = said("{} takes most of the allowable stresses of the checks above; {}; {}", worst->used_by,
                     size_words(*worst), worst->source);
    row.remedy = "leave the skin thicker, or leave a land in the recess";
    return row;
}

} // namespace hollowtop
