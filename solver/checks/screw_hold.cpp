// SPDX-License-Identifier: MIT
// The wood about each screw: thread in it, wood over the point, and a skin thick enough to take a screw at
// all.
#include "materials/digits.hpp"
#include "materials/screw.hpp"
#include "materials/table.hpp"
#include "solver/checks/judges.hpp"

#include <algorithm>
#include <functional>

namespace hollowtop {
namespace {

using materials::digits;

const Stiffener& stiffener_of(const CheckInput& input, const ScrewForce& screw) {
    return input.piece.stiffeners[static_cast<std::size_t>(screw.stiffener)];
}

std::string of_stiffener(const CheckInput& input, const ScrewForce& screw) {
    return "a screw of \"" + stiffener_of(input, screw).name + "\"; ";
}

/// The row of the screw that falls shortest; the demand is what it should have.
std::optional<CheckResult> shortest(const CheckInput& input,
                                    const std::function<double(const ScrewForce&)>& needed,
                                    const std::function<double(const ScrewForce&)>& given) {
    const ScrewForce* worst = nullptr;
    for (const ScrewForce& screw : input.situation.screws)
        if (!worst || is_more(needed(screw) * given(*worst), needed(*worst) * given(screw))) worst = &screw;
    if (!worst) return std::nullopt;
    CheckResult row;
    row.demand = needed(*worst);
    row.capacity = std::max(given(*worst), 0.0);
    row.unit = "mm";
    row.at = worst->at;
    row.basis = of_stiffener(input, *worst);
    return row;
}

} // namespace

std::optional<CheckResult> judge_screw_point(const CheckInput& input) {
    const materials::Sourced least = materials::rule("screw_rules", "point_least");
    constexpr double wished = 5; // mm, common practice
    auto row = shortest(
        input, [&](const ScrewForce&) { return least.value; },
        [](const ScrewForce& screw) { return screw.wood - screw.thread; });
    if (!row) return row;
    row->basis += said("wood left over its point against {}, where {} are wished (common practice)",
                       amount(least.value, Unit::mm), amount(wished, Unit::mm));
    row->remedy = said("take shorter screws: {} of wood over the point are wished", amount(wished, Unit::mm));
    return row;
}

std::optional<CheckResult> judge_screw_thread(const CheckInput& input) {
    const materials::Sourced least = materials::least_thread(), code = materials::code_thread();
    auto row = shortest(
        input,
        [&](const ScrewForce& screw) { return least.value * stiffener_of(input, screw).screws.diameter; },
        [](const ScrewForce& screw) { return screw.thread; });
    if (!row) return row;
    row->basis += said(
        "thread in the wood against {} d ({}); under {} d, of EN 1995-1-1 8.7.2, and {} d, of the Wood "
        "Handbook, it bears less in proportion",
        number(least.value), least.status, number(code.value), number(materials::handbook_thread().value));
    row->remedy = "take longer screws, or thinner ones";
    return row;
}

std::optional<CheckResult> judge_screw_wood(const CheckInput& input) {
    const materials::Sourced least = materials::rule("screw_rules", "skin_least");
    auto row = shortest(
        input, [&](const ScrewForce&) { return least.value; },
        [](const ScrewForce& screw) { return screw.wood; });
    if (!row) return row;
    row->basis += said("wood that it goes into against {} (common practice)", amount(least.value, Unit::mm));
    row->remedy = "leave a land of thicker wood there, or glue the stiffener";
    return row;
}

} // namespace hollowtop
