// SPDX-License-Identifier: MIT
#include "solver/capacity/limits.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"

#include <algorithm>
#include <optional>
#include <variant>

namespace hollowtop {
namespace {

using materials::digits;

void take_in(std::optional<Rectangle>& box, const Point& p) {
    if (!box) box = Rectangle{p.x, p.x, p.y, p.y};
    box->x0 = std::min(box->x0, p.x);
    box->x1 = std::max(box->x1, p.x);
    box->y0 = std::min(box->y0, p.y);
    box->y1 = std::max(box->y1, p.y);
}

} // namespace

std::optional<Rectangle> box_of_supports(const Piece& piece) {
    std::optional<Rectangle> box;
    for (const Support& support : piece.supports)
        std::visit(
            [&](const auto& kind) {
                if constexpr (requires { kind.at; }) {
                    take_in(box, kind.at);
                } else {
                    take_in(box, kind.from);
                    take_in(box, kind.to);
                }
            },
            support.kind);
    return box;
}

SagLimit sag_limit(const Piece& piece, const SituationResponse& situation) {
    const bool years = situation.stage == Stage::years;
    const MovementLimit& limit = years ? piece.limits.sag_years : piece.limits.sag;
    const char* key = years ? "limits.sag_years" : "limits.sag";
    const auto& [span, overhang] = situation.span;
    if (!limit.is_share_of_span)
        return {limit.length, span, false, "the length given as " + std::string(key)};
    if (!(span > 0) && !(overhang > 0))
        throw Error(
            ErrorKind::input,
            Fault{key, "the supports have no span that the limit could be a share of", "give a length"});
    const Message source = limit.source.empty()
                               ? said(" ({}; the default is one of the usual limits of timber beams, EN "
                                      "1995-1-1 Table 7.2, from memory)",
                                      key)
                               : said(" ({})", limit.source);
    if (2 * overhang > span)
        return {2 * overhang / limit.divisor, 2 * overhang, true,
                said("overhang of {} past the supports / {}{}", amount(overhang, Unit::mm, significant(4)),
                     number(limit.divisor / 2), source)};
    return {span / limit.divisor, span, false,
            said("span of {} / {}{}", amount(span, Unit::mm, significant(4)), number(limit.divisor), source)};
}

std::optional<FlatnessLimit> flatness_limit(const Limits& limits, Stage stage) {
    const bool years = stage == Stage::years;
    const char* key = years ? "limits.flatness_years" : "limits.flatness";
    const std::optional<double>& stated = years ? limits.flatness_years : limits.flatness;
    constexpr double over_the_years = 2; // judgement, as in the defaults
    if (stated || (years && limits.flatness)) {
        const double limit = stated ? *stated : over_the_years * *limits.flatness;
        return FlatnessLimit{limit,
                             limits.flatness_source.empty()
                                 ? said("{}{}",
                                        stated ? "the length given as "
                                               : "twice the length given as limits.flatness, for want of ",
                                        key)
                                 : said("{} ({})", key, limits.flatness_source)};
    }
    if (limits.need_not_be_flat) return std::nullopt;
    if (years)
        return FlatnessLimit{flat_after_years_mm,
                             "limits.flatness_years (the default, twice that of a new top, is a judgement)"};
    constexpr double straightedge = 600, of_a_sheet = 0.9, in_a_foot = 305; // mm
    return FlatnessLimit{
        flat_at_once_mm,
        said("limits.flatness (the default of {} under a straightedge of {} is common practice "
             "for a new top; of a sheet top {} in {}: Architectural Woodwork Standards 2009, "
             "4.4.16.3)",
             amount(flat_at_once_mm, Unit::mm), amount(straightedge, Unit::mm), amount(of_a_sheet, Unit::mm),
             amount(in_a_foot, Unit::mm))};
}

} // namespace hollowtop
