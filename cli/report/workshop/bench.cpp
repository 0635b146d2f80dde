// SPDX-License-Identifier: MIT
#include "cli/report/workshop/bench.hpp"

#include "cli/words/quantity.hpp"
#include "cli/words/said.hpp"
#include "materials/metal.hpp"
#include "materials/screw.hpp"
#include "materials/section.hpp"
#include "materials/wood.hpp"
#include "solver/piece/screw_holes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop::cli {
namespace {

int people_by_guide(double kg) { return std::max(1, static_cast<int>(std::ceil(kg / lift_weak_kg - 1e-9))); }

std::string material_of(const Stiffener& stiffener) {
    if (!stiffener.metal.empty()) return materials::find_metal(stiffener.metal).name;
    if (!stiffener.wood.empty()) return materials::find_wood(stiffener.wood).common_name;
    return "of stated constants";
}

StiffenerWork work_of(const Stiffener& stiffener, const Plan& plan, const StiffenerMovement* movement,
                      double grain_deg, double mass_kg, double pilot_share) {
    const materials::Section section = materials::parse_section(stiffener.section);
    StiffenerWork work{.name = stiffener.name,
                       .section = stiffener.section,
                       .material = material_of(stiffener),
                       .length =
                           std::hypot(stiffener.to.x - stiffener.from.x, stiffener.to.y - stiffener.from.y),
                       .mass_kg = mass_kg,
                       .screw_diameter = stiffener.screws.diameter,
                       .screw_length = stiffener.screws.length,
                       .holes = stiffener.screws.holes,
                       .slots_are_stated = stiffener.screws.holes == Holes::slotted &&
                                           stiffener.screws.slot_length.has_value()};
    if (work.screw_diameter > 0) {
        const materials::Sourced root = materials::root_diameter(work.screw_diameter);
        work.pilot = pilot_share * root.value;
        work.root_source = in_own_units(root.source);
        work.hole =
            work.screw_diameter + (work.holes == Holes::oversize ? 2 * oversize_hole_play : slot_clearance);
    }
    const double along = std::atan2(stiffener.to.y - stiffener.from.y, stiffener.to.x - stiffener.from.x) *
                         180 / std::numbers::pi;
    work.slot_to_length_deg = std::abs(std::remainder(grain_deg + 90 - along, 180.0));
    for (const ScrewPlace& place : drilled_places(stiffener)) {
        ScrewWork screw{.from_start = place.from_start, .at = place.at, .wood = thickness_at(plan, place.at)};
        screw.thread = work.screw_length - section.grip;
        screw.left = screw.wood - screw.thread;
        if (work.slots_are_stated) screw.slot_length = *stiffener.screws.slot_length;
        if (movement != nullptr)
            for (const ScrewTravel& travel : movement->screws)
                if (std::abs(travel.at - place.from_start) < 1e-6) {
                    screw.fixed = travel.is_fixed;
                    screw.slot_length = travel.is_fixed
                                            ? 0
                                            : stiffener.screws.slot_length.value_or(std::max(
                                                  travel.slot_length, slot_diameters * work.screw_diameter));
                }
        work.screws.push_back(screw);
    }
    return work;
}

class GaugeList {
  public:
    GaugeList(const Plan& plan, std::vector<Gauge>& out) : plan_(plan), out_(out) {}
    /// Not where another lies near, nor at a wall, where a gauge has no foot.
    void add(Point at, double thickness, std::string why, double apart = 45) {
        constexpr double foot = 8;
        for (const Gauge& other : out_)
            if (std::hypot(other.at.x - at.x, other.at.y - at.y) < apart) return;
        for (const auto& [dx, dy] :
             {std::pair{0.0, 0.0}, {foot, 0.0}, {-foot, 0.0}, {0.0, foot}, {0.0, -foot}})
            if (std::abs(thickness_at(plan_, {at.x + dx, at.y + dy}) - thickness) > 1e-6) return;
        out_.push_back({.label = "G" + std::to_string(out_.size() + 1),
                        .why = std::move(why),
                        .at = at,
                        .thickness = thickness});
    }

  private:
    const Plan& plan_;
    std::vector<Gauge>& out_;
};

bool is_of_the_wood(const std::string& check) {
    return check.find("grain") != std::string::npos || check.find("shear") == 0 ||
           check.find("at the wall") != std::string::npos || check == "stresses together" ||
           check == "rolling shear";
}

std::vector<Gauge> gauges_of(const Plan& plan, const Result& result) {
    std::vector<Gauge> gauges;
    GaugeList list(plan, gauges);
    // of many recesses the middle and a corner or two each: else nobody reads the plan
    const bool few = plan.hollows.size() <= 4, some = plan.hollows.size() <= 8;
    for (const Hollow& hollow : plan.hollows) {
        const Rectangle b = bounds_of(hollow.loop);
        const double w = b.x1 - b.x0, h = b.y1 - b.y0;
        const double in_x = std::min(40.0, w / 4), in_y = std::min(40.0, h / 4);
        list.add({(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2}, hollow.skin, "middle of " + hollow.name);
        const std::string corner = "corner of " + hollow.name;
        list.add({b.x0 + in_x, b.y0 + in_y}, hollow.skin, corner);
        if (few) list.add({b.x1 - in_x, b.y0 + in_y}, hollow.skin, corner);
        if (some) list.add({b.x1 - in_x, b.y1 - in_y}, hollow.skin, corner);
        if (few) list.add({b.x0 + in_x, b.y1 - in_y}, hollow.skin, corner);
        if (few)
            for (const auto& [fx, fy] : {std::pair{0.25, 0.5}, {0.75, 0.5}})
                list.add({b.x0 + fx * w, b.y0 + fy * h}, hollow.skin, "floor of " + hollow.name);
        std::vector<CheckResult> hardest = result.checks;
        std::stable_sort(hardest.begin(), hardest.end(),
                         [](const auto& a, const auto& c) { return a.utilisation > c.utilisation; });
        for (const CheckResult& check : hardest) {
            if (!check.at || !is_of_the_wood(check.check) || check.utilisation < 0.3) continue;
            // where the wood is stressed most, a little way off the wall if it lies at one
            const Point middle{(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2};
            const double away = std::hypot(middle.x - check.at->x, middle.y - check.at->y);
            if (away < 1) continue;
            const double step = 12 / away;
            list.add({check.at->x + step * (middle.x - check.at->x),
                      check.at->y + step * (middle.y - check.at->y)},
                     hollow.skin, "near the greatest " + check.check, 80);
        }
    }
    return gauges;
}

} // namespace

PassRule pass_rule(Units units) {
    if (units == Units::mm) return {};
    const double sixteenth = Length::from_inches(1.0 / 16).mm();
    return {.deepest = 2 * sixteenth, .finishing = 2 * sixteenth, .last = sixteenth};
}

std::vector<Pass> passes_of(double depth, double thickness, double cutter, const PassRule& rule) {
    const double step = std::min(rule.deepest, cutter / 2);
    std::vector<Pass> passes;
    const auto go_to = [&](double target, bool rest) {
        constexpr double noise = 1e-9;
        for (double at = passes.empty() ? 0 : passes.back().depth; target > at + noise; rest = false) {
            at = target < at + step + noise ? target : at + step;
            passes.push_back({.depth = at, .left = thickness - at, .rest_before = rest, .last = false});
        }
    };
    const bool roughed = depth > rule.finishing + 1e-9;
    if (roughed) go_to(depth - rule.finishing, false);
    go_to(depth - rule.last, roughed);
    go_to(depth, false);
    if (!passes.empty()) passes.back().last = true;
    return passes;
}

Bench bench_of(const Piece& piece, const Plan& plan, const Result& result,
               const std::optional<Seasons>& seasons, double cutter, Units units) {
    Bench bench{.cutter = cutter};
    constexpr double litre = 1e6; // mm3
    for (const Hollow& hollow : plan.hollows) {
        RecessWork work{.name = hollow.name,
                        .box = bounds_of(hollow.loop),
                        .depth = hollow.depth,
                        .skin = hollow.skin,
                        .root_radius = hollow.root_radius,
                        .volume_l = hollow.area() * hollow.depth / litre,
                        .passes = passes_of(hollow.depth, plan.thickness, cutter, pass_rule(units))};
        bench.volume_l += work.volume_l;
        bench.recesses.push_back(std::move(work));
    }
    bench.people_by_guide = people_by_guide(result.mass.total_kg);
    bench.people = std::max(2, bench.people_by_guide);
    bench.each_kg = result.mass.total_kg / bench.people;
    bench.wood_known = !piece.top.wood.empty();
    bench.softwood = bench.wood_known && materials::find_wood(piece.top.wood).softwood;
    for (std::size_t i = 0; i < piece.stiffeners.size(); ++i) {
        const StiffenerMovement* movement =
            seasons && i < seasons->stiffeners.size() ? &seasons->stiffeners[i] : nullptr;
        const double mass = i < result.stiffeners.size() ? result.stiffeners[i].mass_kg : 0;
        bench.stiffeners.push_back(work_of(piece.stiffeners[i], plan, movement, piece.top.grain_deg, mass,
                                           bench.softwood ? 0.7 : 0.9));
    }
    bench.gauges = gauges_of(plan, result);
    return bench;
}

} // namespace hollowtop::cli
