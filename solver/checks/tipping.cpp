// SPDX-License-Identifier: MIT
// Does a top that only lies on its supports stay on them? The multiple of the passing load that it has to
// stand against the one that tips it; where nothing passes, what holds it against what pulls it over.
#include "materials/digits.hpp"
#include "solver/checks/judges.hpp"

namespace hollowtop {
namespace {

std::string reserve_words(const Piece& piece, LoadFor judged_for) {
    if (judged_for != LoadFor::everyday) return "the force of a test is an extreme itself: no reserve";
    return piece.allowables.basis == AllowablesBasis::strength_class
               ? "1.5 Q"
               : "reserve of 1.5 for loads of every day, judgement";
}

std::string counted_words(const Piece& piece) {
    return piece.allowables.basis == AllowablesBasis::strength_class
               ? "0.9 of what is permanent where it holds, 1.1 where it harms, 1.5 psi_0 of what else harms "
                 "(EN 1990 table A1.2(A), from memory)"
               : "each load as it is";
}

constexpr const char* remedy = "move the supports outwards, or screw the top to them";

} // namespace

std::optional<CheckResult> judge_tipping(const CheckInput& input) {
    if (!input.situation.tipping) return std::nullopt;
    const TippingReserve& reserve = *input.situation.tipping;
    CheckResult row;
    row.demand = reserve.needed;
    row.capacity = reserve.reached;
    row.unit = "1";
    if (reserve.stands) {
        row.basis =
            "what holds the top against what stays past the supports and pulls it over, moments about the "
            "lines round the supports; " +
            counted_words(input.piece) +
            (input.piece.allowables.basis == AllowablesBasis::handbook ? "; reserve of 1.5, judgement" : "");
    } else {
        row.basis = "moments about the lines round the supports, without what helps and may be away; " +
                    counted_words(input.piece) + "; " +
                    reserve_words(input.piece, input.situation.judged_for);
        if (const auto& solid = input.situation.tipping_factor_solid, &own = input.situation.tipping_factor;
            solid && own && *solid > *own * 1.005)
            row.basis += said("; the top tips at {} times the load, a solid one, being heavier, at {} times",
                              number(*own), number(*solid));
    }
    row.remedy = remedy;
    return row;
}

CheckResult tipped_row(const Piece& piece, const TippedPosition& place) {
    CheckResult row;
    row.situation = place.situation;
    row.demand = place.needed;
    row.capacity = place.factor;
    row.unit = "1";
    row.at = place.at;
    row.basis = "moments about the lines round the supports; " + counted_words(piece) +
                "; the load lies where the top tips first";
    row.remedy = remedy;
    return row;
}

} // namespace hollowtop
