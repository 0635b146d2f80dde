// SPDX-License-Identifier: MIT
// Bending of the top's wood along its grain and across it. The thin skin of a hollowed top usually ends across
// the grain.
#include "materials/digits.hpp"
#include "materials/weakest_link.hpp"
#include "solver/checks/judges.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {

/// Face stress along the grain, of either sign, against the bending strength.
std::optional<CheckResult> judge_bending_along(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    const auto along = [](const std::array<double, 3>& face) { return std::abs(face[0]); };
    const Worst worst = worst_of(input.situation.stress,
                                 [&](const StressSample& sample) { return greater_face(sample, along); });
    return row_of_stress(
        worst, input.allowables->bending_along,
        said("{}; {}", face_word(worst.sample, along), input.allowables->bending_along.basis),
        "leave the skin thicker there, add a stiffener along the grain, or move the supports closer");
}

namespace {

const char* remedy_for(const Piece& piece) {
    if (piece.recesses.empty())
        return "make the top thicker, bring its supports closer together across the grain, or add a "
               "stiffener across the grain in slotted holes";
    return "leave the skin thicker, make the recess narrower across the grain, leave a land, or add a "
           "stiffener across the grain in slotted holes";
}

/// Tension, summed up over the whole top as a weakest link sees it, against the tension that its volume bears.
std::optional<CheckResult> pulled(const CheckInput& input) {
    const std::optional<TensionAcross>& tension = input.situation.tension_across;
    if (!tension) return std::nullopt;
    CheckResult row;
    row.demand = effective_tension_across(*tension, *input.allowables);
    row.capacity = input.allowables->tension_across.value;
    row.unit = "MPa";
    if (tension->norm > 0) row.at = tension->at;
    row.remedy = remedy_for(input.piece);
    if (input.briefly) return row;
    row.basis =
        said("tension governs: the even tension that is as hard on the volume of the strength as this "
             "situation is on the whole top (Weibull 1939, {}); at the place named a face bears {}; {}",
             materials::weakest_link().exponent_said, amount(tension->peak, Unit::MPa),
             input.allowables->tension_across.basis);
    return row;
}

/// At each place the greatest compression on a face against compression.
std::optional<CheckResult> pressed(const CheckInput& input) {
    const auto pressure = [](const std::array<double, 3>& face) { return std::max(0.0, -face[1]); };
    const Worst worst = worst_of(input.situation.stress,
                                 [&](const StressSample& sample) { return greater_face(sample, pressure); });
    CheckResult row;
    row.demand = worst.value;
    row.capacity = input.allowables->compression_across.value;
    row.unit = "MPa";
    row.at = worst.sample.at;
    row.remedy = remedy_for(input.piece);
    if (input.briefly) return row;
    row.basis = said("compression governs, {}; {}", face_word(worst.sample, pressure),
                     input.allowables->compression_across.basis);
    return row;
}

} // namespace

/// The harder used of the two.
std::optional<CheckResult> judge_bending_across(const CheckInput& input) {
    if (!input.allowables) return std::nullopt;
    std::optional<CheckResult> tension = pulled(input), compression = pressed(input);
    const auto share = [](const CheckResult& row) { return row.demand / row.capacity; };
    return tension && share(*tension) >= share(*compression) ? tension : compression;
}

} // namespace hollowtop
