// SPDX-License-Identifier: MIT
// Screws against each other and against the edges of the wood that they go into: EN 1995-1-1 tables 8.2, 8.4
// and 8.6.
//
// Distances along and across the grain are asked for apart; between the two ways an ellipse is (judgement):
//     needed / given = 1 / sqrt((along / needed along)^2 + (across / needed across)^2).
// A screw goes up into the wood from below, so one in the rim has the recess's wall for an edge, and one in
// the skin has wood beyond it.
#include "materials/digits.hpp"
#include "materials/screw.hpp"
#include "solver/capacity/screw_strength.hpp"
#include "solver/checks/judges.hpp"
#include "solver/interface/beam.hpp"
#include "solver/mesh/thickness_field.hpp"

#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

using materials::Distances;

/// A screw that takes less than this share of what it may counts as unloaded that way (judgement).
constexpr double idle = 0.05;

/// A place from a screw, along and across the grain.
struct Way {
    double along = 0, across = 0;
};

/// What one screw asks of the wood around it, in shear and where it is pulled.
struct Asks {
    Distances shear, pulled;
    Way force{}; ///< of the screw on the wood; nought where it is idle
    bool is_pulled = false;
};

struct Crowding {
    double ratio = 0; ///< needed over given
    double given = 0, needed = 0;
    const char* table = "";
};

double size_of(Way way) { return std::hypot(way.along, way.across); }

Crowding crowding_of(Way way, double a_along, double a_across, const char* table) {
    const double given = size_of(way), share = std::hypot(way.along / a_along, way.across / a_across);
    constexpr double touching = 1e-3;
    return {.ratio = 1 / std::max(share, touching),
            .given = given,
            .needed = given / std::max(share, touching),
            .table = table};
}

Crowding to_edge(Way way, const Asks& asks) {
    const Distances& s = asks.shear;
    const double a3 = way.along * asks.force.along > 0 ? s.a3_loaded : s.a3_free,
                 a4 = way.across * asks.force.across > 0 ? s.a4_loaded : s.a4_free;
    Crowding worst = crowding_of(way, a3, a4, s.table);
    if (asks.is_pulled) {
        const Crowding pulled = crowding_of(way, asks.pulled.a3_free, asks.pulled.a4_free, asks.pulled.table);
        if (pulled.ratio > worst.ratio) worst = pulled;
    }
    return worst;
}

Crowding between(Way way, const Asks& a, const Asks& b) {
    Crowding worst;
    for (const Asks* asks : {&a, &b}) {
        const Crowding sheared = crowding_of(way, asks->shear.a1, asks->shear.a2, asks->shear.table);
        if (sheared.ratio > worst.ratio) worst = sheared;
        if (!asks->is_pulled) continue;
        const Crowding pulled = crowding_of(way, asks->pulled.a1, asks->pulled.a2, asks->pulled.table);
        if (pulled.ratio > worst.ratio) worst = pulled;
    }
    return worst;
}

/// The place of a straight line that crowds a screw most. What is asked changes where the line crosses the
/// screw's own axes.
template <class See> void walk_chord(Way from, Way to, const Asks& asks, See see) {
    std::vector<double> cuts{0, 1};
    const double d_along = to.along - from.along, d_across = to.across - from.across;
    for (const double t : {-from.along / d_along, -from.across / d_across})
        if (std::isfinite(t) && t > 0 && t < 1) cuts.push_back(t);
    std::sort(cuts.begin(), cuts.end());
    const auto at = [&](double t) { return Way{from.along + t * d_along, from.across + t * d_across}; };
    for (const double t : cuts) see(to_edge(at(t), asks));
    for (std::size_t i = 1; i < cuts.size(); ++i) {
        const Way middle = at((cuts[i - 1] + cuts[i]) / 2);
        const Distances& s = asks.shear;
        const double a3 = middle.along * asks.force.along > 0 ? s.a3_loaded : s.a3_free,
                     a4 = middle.across * asks.force.across > 0 ? s.a4_loaded : s.a4_free;
        for (const auto& [x, y] : {std::pair{a3, a4}, std::pair{asks.pulled.a3_free, asks.pulled.a4_free}}) {
            const double u = d_along / x, v = d_across / y,
                         least = -(u * from.along / x + v * from.across / y) / (u * u + v * v);
            if (least > cuts[i - 1] && least < cuts[i]) see(to_edge(at(least), asks));
        }
    }
}

class Surroundings {
  public:
    explicit Surroundings(const CheckInput& input)
        : field_(thickness_field(input.piece, input.plane, false)),
          grain_(input.piece.top.grain_deg * std::numbers::pi / 180) {}

    Way way(Point from, Point to) const {
        const double x = to.x - from.x, y = to.y - from.y, c = std::cos(grain_), s = std::sin(grain_);
        return {x * c + y * s, y * c - x * s};
    }

    /// Free edges near the screw: of the outline, and of walls whose recess is deeper than half the thread
    /// (judgement).
    template <class See> void edges(const ScrewForce& screw, const Asks& asks, See see) const {
        for (const EdgePiece& piece : field_.outline)
            edge(screw.at, piece, asks, [&](const Crowding& c) { see(c, "the edge of the top"); });
        if (region_at(field_, screw.at) != full_thickness) return;
        const auto walls = [&](const Loop& loop) {
            for (const EdgePiece& piece : loop)
                edge(screw.at, piece, asks, [&](const Crowding& c) { see(c, "the wall of a recess"); });
        };
        for (const RecessPlan& recess : field_.recesses) {
            if (field_.thickness - recess.skin <= screw.thread / 2) continue;
            walls(recess.loop);
            for (const Loop& land : recess.lands) walls(land);
        }
    }

  private:
    template <class See> void edge(Point at, const EdgePiece& piece, const Asks& asks, See see) const {
        const int chords = piece.is_arc ? 24 : 1;
        for (int k = 0; k < chords; ++k)
            walk_chord(way(at, point_on(piece, static_cast<double>(k) / chords)),
                       way(at, point_on(piece, static_cast<double>(k + 1) / chords)), asks, see);
    }

    ThicknessField field_;
    double grain_;
};

Asks asks_of(const CheckInput& input, ScrewUses& uses, const Surroundings& around, const ScrewForce& screw) {
    const Stiffener& stiffener = input.piece.stiffeners[static_cast<std::size_t>(screw.stiffener)];
    const ScrewUse use = uses.of(screw, input.situation.duration, input.situation.judged_for);
    Asks asks;
    double cosine = 1, sine = 0;
    if (screw.shear_N > 0 && use.shear.value_or(1) > idle) {
        asks.force = around.way({}, screw.pushes);
        cosine = std::abs(asks.force.along) / size_of(asks.force);
        sine = std::abs(asks.force.across) / size_of(asks.force);
        // what is aslant by rounding alone pushes towards no edge
        constexpr double straight = 1e-3;
        if (cosine < straight) asks.force.along = 0;
        if (sine < straight) asks.force.across = 0;
    }
    asks.shear = materials::shear_distances(stiffener.screws.diameter, cosine, sine, !is_of_wood(stiffener));
    asks.pulled = materials::withdrawal_distances(stiffener.screws.diameter);
    asks.is_pulled = screw.withdrawal_N > 0 && use.withdrawal.value_or(1) > idle;
    return asks;
}

} // namespace

std::optional<CheckResult> judge_screw_spacing(const CheckInput& input) {
    const std::vector<ScrewForce>& screws = input.situation.screws;
    if (screws.empty()) return std::nullopt;
    const Surroundings around(input);
    ScrewUses own(input.piece), &uses = input.screw_uses ? *input.screw_uses : own;
    std::vector<Asks> asks;
    asks.reserve(screws.size());
    for (const ScrewForce& screw : screws) asks.push_back(asks_of(input, uses, around, screw));
    const auto name = [&](const ScrewForce& screw) {
        return "\"" + input.piece.stiffeners[static_cast<std::size_t>(screw.stiffener)].name + "\"";
    };
    Crowding worst;
    std::size_t of = 0;
    std::string from;
    for (std::size_t i = 0; i < screws.size(); ++i) {
        around.edges(screws[i], asks[i], [&](const Crowding& found, const char* edge) {
            if (!is_more(found.ratio, worst.ratio)) return;
            worst = found;
            of = i;
            from = std::string("from ") + edge;
        });
        for (std::size_t k = i + 1; k < screws.size(); ++k) {
            const Crowding found = between(around.way(screws[i].at, screws[k].at), asks[i], asks[k]);
            if (!is_more(found.ratio, worst.ratio)) continue;
            worst = found;
            of = i;
            from = screws[i].stiffener == screws[k].stiffener ? "from the next"
                                                              : "from one of " + name(screws[k]);
        }
    }
    CheckResult row;
    row.demand = worst.ratio;
    row.capacity = 1;
    row.unit = "1";
    row.at = screws[of].at;
    row.basis = said("a screw of {} sits {} {}, and needs {} that way; {}, from memory", name(screws[of]),
                     amount(worst.given, Unit::mm), from, amount(worst.needed, Unit::mm), worst.table);
    row.remedy = said("set the screws at least {} {}, or take thinner ones",
                      amount(std::ceil(worst.needed), Unit::mm), from);
    return row;
}

} // namespace hollowtop
