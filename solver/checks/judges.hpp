// SPDX-License-Identifier: MIT
#pragma once
/// \file  The judging function of each check, those of one family in one file; checks.cpp lists them in its table.
/// A judging function fills demand, capacity, unit, at, basis, advice and remedy; judge() adds the names, the
/// utilisation and the margin. It gives nothing where the check does not apply.

#include "materials/message.hpp"
#include "solver/capacity/tension_strength.hpp"
#include "solver/checks/check_input.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hollowtop {

std::optional<CheckResult> judge_sag(const CheckInput& input);
std::optional<CheckResult> judge_sag_years(const CheckInput& input);
std::optional<CheckResult> judge_flatness(const CheckInput& input);
std::optional<CheckResult> judge_flatness_years(const CheckInput& input);
std::optional<CheckResult> judge_dish(const CheckInput& input);
std::optional<CheckResult> judge_bending_along(const CheckInput& input);
std::optional<CheckResult> judge_bending_across(const CheckInput& input);
/// For a top of a sheet; empty for wood.
std::optional<CheckResult> judge_sheet_bending(const CheckInput& input);
std::optional<CheckResult> judge_shear_through(const CheckInput& input);
std::optional<CheckResult> judge_rolling_shear(const CheckInput& input);
std::optional<CheckResult> judge_shear_in_plane(const CheckInput& input);
std::optional<CheckResult> judge_combined(const CheckInput& input);
std::optional<CheckResult> judge_wall_stress(const CheckInput& input);
std::optional<CheckResult> judge_splitting(const CheckInput& input);
std::optional<CheckResult> judge_skin_buckling(const CheckInput& input);
std::optional<CheckResult> judge_bearing(const CheckInput& input);
std::optional<CheckResult> judge_load_bearing(const CheckInput& input);
std::optional<CheckResult> judge_screw_shear(const CheckInput& input);
std::optional<CheckResult> judge_screw_withdrawal(const CheckInput& input);
std::optional<CheckResult> judge_screw_both(const CheckInput& input);
std::optional<CheckResult> judge_screw_point(const CheckInput& input);
std::optional<CheckResult> judge_screw_thread(const CheckInput& input);
std::optional<CheckResult> judge_screw_wood(const CheckInput& input);
std::optional<CheckResult> judge_screw_spacing(const CheckInput& input);
std::optional<CheckResult> judge_glue_line(const CheckInput& input);
std::optional<CheckResult> judge_stiffener_shear(const CheckInput& input);
std::optional<CheckResult> judge_stiffener_stress(const CheckInput& input);
std::optional<CheckResult> judge_stiffener_bearing(const CheckInput& input);
std::optional<CheckResult> judge_tipping(const CheckInput& input);
std::optional<CheckResult> judge_uplift(const CheckInput& input);
std::optional<CheckResult> judge_push_dish(const CheckInput& input);
std::optional<CheckResult> judge_springy(const CheckInput& input);
std::optional<CheckResult> judge_push_strength(const CheckInput& input);
std::optional<CheckResult> judge_room(const CheckInput& input);
std::optional<CheckResult> judge_cover(const CheckInput& input);
std::optional<CheckResult> judge_bounce(const CheckInput& input);

/// A plate so large that the pressure under it falls by `utilisation`, of the same proportions, its sides
/// rounded up to 5 mm.
Message plate_under(double size_x, double size_y, double utilisation);

/// More than another by more than rounding: of mirror images, which differ by that alone, the first is told,
/// on whatever processor.
bool is_more(double value, double than);

/// Of each support that pulls and of which no strength is known, a sentence.
std::vector<Message> told_of_uplift(const Piece& piece, const Response& response);

/// The row of a place in which the top tips.
CheckResult tipped_row(const Piece& piece, const TippedPosition& place);

/// Fills strength_used and used_by, where the wood's strength is known and the theory of small movements
/// holds.
/// The dent that a heel leaves is not of the skin: a solid top takes it too.
void fill_strength_used(const Piece& piece, SkinPush& push);

/// Utilisation of the stresses on one face together (Norris), for judge_combined and its test;
/// `tension_across` is the strength there.
double norris_utilisation(const std::array<double, 3>& stress, const materials::AllowableStresses& allowables,
                          double tension_across);

/// The row of the worst stress against what is allowed of it, MPa.
inline CheckResult row_of_stress(const Worst& worst, const materials::Allowable& allowable, Message basis,
                                 Message remedy) {
    CheckResult row;
    row.demand = worst.value;
    row.capacity = allowable.value;
    row.unit = "MPa";
    row.at = worst.sample.at;
    row.basis = std::move(basis);
    row.remedy = std::move(remedy);
    return row;
}

/// A metric of both faces: the greater of the two.
template <class Metric> double greater_face(const StressSample& sample, const Metric& metric) {
    return std::max<double>(metric(sample.top), metric(sample.bottom));
}

/// "at the top face" or "at the underside", whichever has the greater metric.
template <class Metric> const char* face_word(const StressSample& sample, const Metric& metric) {
    return metric(sample.top) >= metric(sample.bottom) ? "at the top face" : "at the underside";
}

} // namespace hollowtop
