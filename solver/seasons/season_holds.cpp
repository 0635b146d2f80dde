// SPDX-License-Identifier: MIT
#include "solver/seasons/season_holds.hpp"

#include "materials/error.hpp"
#include "materials/section.hpp"
#include "solver/capacity/screw_strength.hpp"
#include "solver/piece/screw_holes.hpp"
#include "solver/seasons/stiffener_movement.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace hollowtop {
namespace {

constexpr double along_deg = 10; // nearer to the grain little is held back

/// The bar's row, once it was looked at; its checks are those from `first_check` on.
SeasonHold hold_of(const Ground& g, std::size_t i, const StiffenerMovement& row, std::size_t first_check) {
    const Stiffener& bar = g.piece.stiffeners[i];
    const Restraint& r = *row.restraint;
    SeasonHold hold{.stiffener = bar.name,
                    .at = {(bar.from.x + bar.to.x) / 2, (bar.from.y + bar.to.y) / 2},
                    .glued = row.holes == Holes::bonded};
    const SeasonCheck& tension = g.out.checks[first_check];
    hold.tension_MPa = r.tension.face > 0 ? tension.demand * r.tension_yielding.face / r.tension.face : 0;
    hold.tension_strength_MPa = tension.capacity;
    hold.tension_basis = tension.basis;
    if (!(r.screw_force > 0)) return hold;
    const double thread =
        std::min(bar.screws.length - materials::parse_section(bar.section).grip, r.strip_thickness);
    hold.screw_N = r.screw_force_yielding;
    const ScrewForce screw{.stiffener = static_cast<int>(i),
                           .at = {},
                           .thread = thread,
                           .wood = r.strip_thickness,
                           .slip_mm = 0,
                           .shear_N = hold.screw_N,
                           .withdrawal_N = 0};
    const ScrewUse use = use_of_screw(screw_strengths(g.piece, screw, Duration::long_term), screw);
    if (!use.shear) return hold;
    hold.screw_bears_N = use.shear_capacity_N;
    hold.screw_basis = hold.screw_N < r.screw_force
                           ? said("it yields there: were nothing to yield, it would be {}; {}",
                                  amount(r.screw_force, Unit::N), use.shear_basis)
                           : use.shear_basis;
    return hold;
}

/// All bars that hold in one sentence, by the one that pulls hardest.
Message told_of(const std::vector<SeasonHold>& holds) {
    std::vector<Message> names;
    const SeasonHold* worst = &holds.front();
    for (const SeasonHold& hold : holds) {
        names.emplace_back(hold.stiffener);
        if (hold.tension_MPa > worst->tension_MPa) worst = &hold;
    }
    const bool one = names.size() == 1;
    return said(
        "{} {} the top across the grain ({}): in the dry season the wood there is pulled by up to {} where "
        "{} is what it bears for long, and the top bows with it. Slots let it move: see \"movement\" and "
        "\"seasons\".",
        joined(std::move(names), ", ", " and "), one ? "holds" : "hold",
        worst->glued ? "glue" : "round holes", amount(worst->tension_MPa, Unit::MPa),
        amount(worst->tension_strength_MPa, Unit::MPa));
}

} // namespace

SeasonHolds season_holds(const Piece& piece) {
    SeasonHolds all;
    if (piece.stiffeners.empty() || !piece.top.sheet.empty() || piece.top.wood.empty()) return all;
    Seasons out;
    try {
        const Ground g = ground_of(piece, out);
        for (std::size_t i = 0; i < piece.stiffeners.size(); ++i) {
            const std::size_t first_check = out.checks.size();
            look_at_stiffener(g, piece.stiffeners[i]);
            const StiffenerMovement& row = out.stiffeners.back();
            if (row.to_the_grain_deg > along_deg && row.restraint && out.checks.size() > first_check)
                all.holds.push_back(hold_of(g, i, row, first_check));
            for (std::size_t k = first_check; k < out.checks.size(); ++k)
                if (out.checks[k].unit == "mm" && out.checks[k].utilisation() > 1)
                    all.warnings.push_back(said(
                        "Held across the grain: {} is {} each way, and the seasons move the wood {} there; "
                        "then it holds as a round hole does. See \"movement\".",
                        out.checks[k].what, amount(out.checks[k].capacity, Unit::mm),
                        amount(out.checks[k].demand, Unit::mm)));
        }
    } catch (const Error&) {
        return {}; // movement says what is not known
    }
    if (!all.holds.empty()) all.warnings.insert(all.warnings.begin(), told_of(all.holds));
    return all;
}

Message told_of_short_slots(const Piece& piece) {
    if (piece.stiffeners.empty() || !piece.top.sheet.empty() || piece.top.wood.empty()) return {};
    std::vector<Message> names;
    double worst = 0, way = 0, play = 0, length = 0; // of the bar whose wood goes furthest beyond its slots
    bool is_stated = false;
    Seasons out;
    try {
        const Ground g = ground_of(piece, out);
        for (const Stiffener& bar : piece.stiffeners) {
            if (bar.screws.holes != Holes::slotted) continue;
            look_at_stiffener(g, bar);
            const double lets = screw_play(bar.screws);
            double goes = 0, needs = 0;
            for (const ScrewTravel& screw : out.stiffeners.back().screws) {
                goes = std::max(goes, screw.along.greater());
                needs = std::max(needs, screw.slot_length);
            }
            if (goes <= lets) continue;
            names.emplace_back(bar.name);
            if (goes - lets <= worst) continue;
            worst = goes - lets;
            way = goes;
            play = lets;
            length = needs;
            is_stated = bar.screws.slot_length.has_value();
        }
    } catch (const Error&) {
        return {}; // movement says what is not known
    }
    if (names.empty()) return {};
    return said(
        "{}: slots{} let the wood go {} each way, and at the outermost screw it goes {}; then they hold "
        "it as round holes do. Cut them {} long at least: movement.",
        joined(std::move(names), ", ", " and "), is_stated ? "" : " three screw diameters long",
        amount(play, Unit::mm), amount(way, Unit::mm), amount(length, Unit::mm));
}

double slot_length_for(const Piece& piece, const Stiffener& stiffener) {
    double length = slot_diameters * stiffener.screws.diameter;
    if (piece.top.sheet.empty() && !piece.top.wood.empty()) {
        Seasons out;
        try {
            const Ground g = ground_of(piece, out);
            look_at_stiffener(g, stiffener);
            for (const ScrewTravel& screw : out.stiffeners.back().screws)
                length = std::max(length, screw.slot_length);
        } catch (const Error&) { // movement says what is not known
        }
    }
    constexpr double noise = 1e-9;
    return std::ceil(length - noise);
}

} // namespace hollowtop
