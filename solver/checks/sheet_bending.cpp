// SPDX-License-Identifier: MIT
// Bending of a top of a sheet: the sheet's own strengths, along and across its face grain; alike in its
// plane, the greatest in any direction.
#include "materials/panel.hpp"
#include "solver/checks/judges.hpp"

#include <cmath>

namespace hollowtop {
namespace {

/// The principal stress that is greater in size.
double greatest_principal(const std::array<double, 3>& face) {
    const double middle = (face[0] + face[1]) / 2;
    return std::abs(middle) + std::hypot((face[0] - face[1]) / 2, face[2]);
}

} // namespace

std::optional<CheckResult> judge_sheet_bending(const CheckInput& input) {
    const Piece& piece = input.piece;
    // what a recess leaves of a sheet is weaker than its table says: a warning says so
    if (piece.top.sheet.empty() || !piece.recesses.empty()) return std::nullopt;
    const materials::Sheet& sheet = materials::find_sheet(piece.top.sheet);
    const materials::PanelBending strength = materials::panel_bending(
        sheet, {.by_class = piece.allowables.basis == AllowablesBasis::strength_class,
                .service_class = piece.allowables.service_class,
                .duration = input.situation.duration,
                .is_test = input.situation.judged_for == LoadFor::strength});
    const bool alike = sheet.kind != "plywood";
    const auto share_along = [&](const std::array<double, 3>& face) {
        return (alike ? greatest_principal(face) : std::abs(face[0])) / strength.along.value;
    };
    const auto share_across = [&](const std::array<double, 3>& face) {
        return alike ? 0 : std::abs(face[1]) / strength.across.value;
    };
    const auto share = [&](const std::array<double, 3>& face) {
        return std::max(share_along(face), share_across(face));
    };
    const Worst worst = worst_of(input.situation.stress,
                                 [&](const StressSample& sample) { return greater_face(sample, share); });
    const std::array<double, 3>& face =
        share(worst.sample.top) >= share(worst.sample.bottom) ? worst.sample.top : worst.sample.bottom;
    const materials::Allowable& allowable =
        share_along(face) >= share_across(face) ? strength.along : strength.across;
    CheckResult row;
    row.demand = worst.value * allowable.value;
    row.capacity = allowable.value;
    row.unit = "MPa";
    row.at = worst.sample.at;
    row.basis = said("{}; {}", face_word(worst.sample, share), allowable.basis);
    row.remedy = "take a thicker sheet, add a stiffener, or move the supports closer";
    return row;
}

} // namespace hollowtop
