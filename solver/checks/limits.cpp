// SPDX-License-Identifier: MIT
#include "solver/checks/limits.hpp"

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

bool lies_past(const std::optional<Rectangle>& box, const Point& p) {
    const double slack = 1; // mm: a sag on the line of the supports is not past them
    return box &&
           (p.x < box->x0 - slack || p.x > box->x1 + slack || p.y < box->y0 - slack || p.y > box->y1 + slack);
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

SagLimit sag_limit(const Piece& piece, const Response& response, const SituationResponse& situation) {
    const bool years = situation.stage == Stage::years;
    const MovementLimit& limit = years ? piece.limits.sag_years : piece.limits.sag;
    const char* key = years ? "limits.sag_years" : "limits.sag";
    if (!limit.is_share_of_span)
        return {limit.length, response.span.span_mm, false, "the length given as " + std::string(key)};
    const double by_span = response.span.span_mm / limit.divisor;
    const double by_overhang = 2 * response.span.overhang_mm / limit.divisor;
    if (!(by_span > 0) && !(by_overhang > 0))
        throw Error(
            ErrorKind::input,
            Fault{key, "the supports have no span that the limit could be a share of", "give a length"});
    const std::string source = limit.source.empty() ? " (" + std::string(key) +
                                                          "; the default is one of the usual limits of timber "
                                                          "beams, EN 1995-1-1 Table 7.2, from memory)"
                                                    : " (" + limit.source + ")";
    if (by_overhang > by_span && lies_past(box_of_supports(piece), situation.sag_at))
        return {by_overhang, 2 * response.span.overhang_mm, true,
                "overhang of " + digits(response.span.overhang_mm, 4) + " mm past the outermost supports / " +
                    digits(limit.divisor / 2) + source};
    return {by_span, response.span.span_mm, false,
            "span of " + digits(response.span.span_mm, 4) + " mm / " + digits(limit.divisor) + source};
}

double dish_limit_mm(const Piece& piece, const Response& response) {
    const MovementLimit& limit = piece.limits.dish;
    return limit.is_share_of_span ? response.span.span_mm / limit.divisor : limit.length;
}

} // namespace hollowtop
