// SPDX-License-Identifier: MIT
#include "solver/interface/connections.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/screw.hpp"
#include "solver/interface/bar_tiles.hpp"
#include "solver/interface/bearing_parts.hpp"
#include "solver/interface/levels.hpp"
#include "solver/interface/screw_places.hpp"
#include "solver/piece/screw_holes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace hollowtop {
namespace {

constexpr double tight = 1e-7;   ///< mm/N, of a rail's end in its leg
constexpr double roll_arm = 100; ///< mm: turns a roll into forces of a size with the others

/// Columns of the tiles of one stretch: up on the left and the right half, along, across.
struct StretchColumns {
    int left = -1, right = -1, along = -1, across = -1;
};

struct StiffenerConnections {
    const BarTiles& tiles;
    const Stiffener& stiffener;
    int index;
    Point grain;
    double top_density_kg_m3;
    bool glued_too; ///< as of plan_connections; of a stiffener that is glued as drawn, true
    BarDivision division{};

    std::array<double, 3> along() const { return {tiles.beam().along.x, tiles.beam().along.y, 0}; }
    std::array<double, 3> across() const { return {-tiles.beam().along.y, tiles.beam().along.x, 0}; }
    double screw_y() const { return tiles.beam().section.screw_y - tiles.beam().y_line; }

    void add_bonds(const BarStretch& stretch, const StretchColumns& columns, double y,
                   std::vector<Connection>& connections) const {
        const double w = tiles.width(), area = 2 * stretch.half() * w;
        if (columns.left >= 0) {
            connections.push_back(tiles.bond(stretch, columns.left, w / 4, area / 2, {0, 0, -1}));
            connections.push_back(tiles.bond(stretch, columns.right, -w / 4, area / 2, {0, 0, -1}));
        } else {
            connections.push_back(tiles.bond(stretch, columns.right, 0, area, {0, 0, -1}));
        }
        if (!glued_too) return;
        connections.push_back(tiles.bond(stretch, columns.along, y, area, {-1, 0, 0}));
        if (columns.across >= 0)
            connections.push_back(tiles.bond(stretch, columns.across, y, area, {0, -1, 0}));
    }

    Connection turning_as_one(const BarStretch& stretch, int column) const {
        Connection connection = tiles.bond(stretch, column, 0, 2 * stretch.half() * tiles.width(), {0, 0, 0});
        for (BeamForce& force : connection.on_beam)
            force.f[4] = -roll_arm / static_cast<double>(connection.on_beam.size());
        return connection;
    }

    /// Glue grips the whole width, where that is more than the wood is thick. The bar's face stays straight
    /// under three lines of tiles: the outer two hold it, and what keeps the wood from bending across the bar
    /// between them, and from stretching across it, gives as two deep bodies do whose faces are pressed or
    /// sheared in a wave: amplitude 2 p / (E k), k = 2 pi / width for the bending, pi / width for the
    /// stretching (Timoshenko and Goodier,
    /// Theory of Elasticity, 1970, art. 24; E across bar or through the wood).
    void glue() const {
        const double length = tiles.beam().length, w = tiles.width(), reach = w / std::numbers::pi;
        std::vector<Connection>& connections = tiles.plan.connections;
        for (const BarStretch& stretch : cut_evenly(-length / 2, length / 2, std::max(length / 96, 12.0))) {
            const double area = 2 * stretch.half() * w, wood = tiles.thickness_at(stretch.middle());
            const size_t before = connections.size();
            const bool grips = w > wood; // how wood bends within less than its thickness a shell does not say
            const int lines = grips ? 3 : 2;
            for (int line = 0; line < lines; ++line) {
                const double y = w * ((2 * line + 1.0) / lines - 1) / 2;
                connections.push_back(tiles.bond(stretch,
                                                 tiles.add_column(stretch, y, w / 2 / lines, {0, 0, 1}), y,
                                                 area / lines, {0, 0, -1}));
                if (grips && line == 1)
                    connections.back().compliance =
                        2 * (reach / tiles.beam().E_across + std::min(reach, wood) / tiles.modulus) /
                        (area / lines);
            }
            connections.push_back(
                tiles.bond(stretch, tiles.add_column(stretch, 0, w / 2, along()), 0, area, {-1, 0, 0}));
            connections.push_back(
                tiles.bond(stretch, tiles.add_column(stretch, 0, w / 2, across()), 0, area, {0, -1, 0}));
            connections.push_back(turning_as_one(stretch, tiles.add_column(stretch, 0, w / 2, along())));
            tiles.plan.columns.back().turn = roll_arm;
            if (grips)
                connections.push_back(
                    stretching_across(stretch, 4 * reach / tiles.beam().E_across / (area / 2)));
            tiles.plan.bonded_connections.insert(tiles.plan.bonded_connections.end(),
                                                 connections.begin() + static_cast<std::ptrdiff_t>(before),
                                                 connections.end());
        }
    }

    /// A dovetail in its groove: flanks and bottom press on the wood both ways all along, as a tight fit does, and
    /// nothing holds it lengthwise but a peg in its middle.
    void slide() const {
        const double length = tiles.beam().length, w = tiles.width();
        const std::vector<BarStretch> stretches =
            cut_evenly(-length / 2, length / 2, std::max(length / 96, 12.0));
        const double nearest =
            std::abs(std::min_element(stretches.begin(), stretches.end(),
                                      [](const BarStretch& a, const BarStretch& b) {
                                          return std::abs(a.middle()) < std::abs(b.middle());
                                      })
                         ->middle());
        bool pegged = false;
        for (const BarStretch& stretch : stretches) {
            const double area = 2 * stretch.half() * w;
            StretchColumns columns{.left = tiles.add_column(stretch, w / 4, w / 4, {0, 0, 1}),
                                   .right = tiles.add_column(stretch, -w / 4, w / 4, {0, 0, 1}),
                                   .along = -1,
                                   .across = tiles.add_column(stretch, 0, w / 2, across())};
            const bool peg = !pegged && std::abs(stretch.middle()) <= nearest + 1e-9;
            pegged = pegged || peg;
            if (peg || glued_too) columns.along = tiles.add_column(stretch, 0, w / 2, along());
            for (const auto& [column, y] : {std::pair{columns.left, w / 4}, {columns.right, -w / 4}}) {
                Connection holds = tiles.contact(stretch, column, y, area / 2);
                holds.two_sided = true;
                tiles.plan.connections.push_back(holds);
            }
            const auto sideways = [&](int column, std::array<double, 3> on_bar) {
                Connection holds = tiles.contact(stretch, column, 0, 0);
                holds.on_beam = tiles.spread(stretch, 0, on_bar);
                holds.compliance = tiles.compliance_of(stretch, area);
                holds.two_sided = true;
                tiles.plan.connections.push_back(holds);
            };
            sideways(columns.across, {0, -1, 0});
            if (peg) sideways(columns.along, {-1, 0, 0});
            add_bonds(stretch, columns, 0, tiles.plan.bonded_connections);
        }
    }

    /// Holds the halves of the width together; the bar as a beam takes no part in it.
    Connection stretching_across(const BarStretch& stretch, double compliance) const {
        const double w = tiles.width();
        const int left = tiles.add_column(stretch, w / 4, w / 4, across()),
                  right = tiles.add_column(stretch, -w / 4, w / 4, across());
        return {.kind = ConnectionKind::bond,
                .beam = tiles.beam_index,
                .top = {{left, 1}, {right, -1}},
                .compliance = compliance,
                .creep = 1,
                .two_sided = true,
                .at = tiles.beam().at(stretch.middle()),
                .s = stretch.middle()};
    }

    void screw_down() const {
        const Beam& beam = tiles.beam();
        const double w = tiles.width(), y = screw_y(), seat_half = std::max(w / 2 - std::abs(y), 1.0);
        std::vector<double> places = screw_places(stiffener);
        for (double& s : places) s -= beam.length / 2;
        std::sort(places.begin(), places.end());
        size_t fixing = 0;
        for (size_t k = 0; k < places.size(); ++k)
            if (std::abs(places[k]) < std::abs(places[fixing]) - 1e-9) fixing = k;
        for (const BarStretch& stretch :
             cut_at_screws(beam.length, places, division.longest, division.widest_seat)) {
            if (stretch.screw < 0) {
                const StretchColumns columns{.right = tiles.add_column(stretch, 0, w / 2, {0, 0, 1}),
                                             .along = glued_too ? tiles.add_column(stretch, 0, w / 2, along())
                                                                : -1};
                tiles.plan.connections.push_back(
                    tiles.contact(stretch, columns.right, 0, 2 * stretch.half() * w));
                add_bonds(stretch, columns, 0, tiles.plan.bonded_connections);
                continue;
            }
            const StretchColumns columns{.left = tiles.add_column(stretch, w / 4, w / 4, {0, 0, 1}),
                                         .right = tiles.add_column(stretch, -w / 4, w / 4, {0, 0, 1}),
                                         .along = tiles.add_column(stretch, y, seat_half, along()),
                                         .across = tiles.add_column(stretch, y, seat_half, across())};
            const double area = stretch.half() * w;
            tiles.plan.connections.push_back(tiles.contact(stretch, columns.left, w / 4, area));
            tiles.plan.connections.push_back(tiles.contact(stretch, columns.right, -w / 4, area));
            add_screw(stretch, columns,
                      stiffener.screws.holes == Holes::slotted &&
                          static_cast<size_t>(stretch.screw) == fixing);
            add_bonds(stretch, columns, y, tiles.plan.bonded_connections);
        }
    }

    void add_screw(const BarStretch& stretch, const StretchColumns& columns, bool fixes) const {
        const Beam& beam = tiles.beam();
        const Screws& screws = stiffener.screws;
        const double y = screw_y(), s = stretch.middle(), w = tiles.width();
        const double wood = tiles.thickness_at(s), thread = std::min(screws.length - beam.section.grip, wood);
        const auto seat = static_cast<int>(tiles.plan.screws.size());
        tiles.plan.screws.push_back({.stiffener = index,
                                     .at = beam.at(s, y),
                                     .s = s,
                                     .wood = wood,
                                     .thread = thread,
                                     .fixes = fixes});
        const int creep =
            beam.creeps ? 2 : 1; // wood to wood: k_def doubled, EN 1995-1-1 2.3.2.2(3), from memory
        // pulled out: 25 d l_ef N/mm, as technical approvals of wood screws state it, from memory
        const double pull = 25 * screws.diameter * std::max(thread, screws.diameter);
        const double share_left = 0.5 + 2 * y / w;
        tiles.plan.connections.push_back(
            {.kind = ConnectionKind::withdrawal,
             .beam = tiles.beam_index,
             .screw = seat,
             .top = {{columns.left, -share_left}, {columns.right, share_left - 1}},
             .on_beam = spread_screw(s, {0, 0, 1}),
             .compliance = 1 / pull,
             .creep = 1,
             .two_sided = false,
             .at = beam.at(s, y),
             .s = s});
        const double slip = screws.stiffness ? *screws.stiffness : slip_stiffness();
        const auto shear = [&](Point way, double sign, ConnectionKind kind, double clearance) {
            const double t = sign * (way.x * beam.along.x + way.y * beam.along.y),
                         n = sign * (way.y * beam.along.x - way.x * beam.along.y);
            Connection connection{.kind = kind,
                                  .beam = tiles.beam_index,
                                  .screw = seat,
                                  .on_beam = spread_screw(s, {-t, -n, 0}),
                                  .compliance = 1 / slip,
                                  .creep = creep,
                                  .clearance = clearance,
                                  .two_sided = kind == ConnectionKind::shear,
                                  .at = beam.at(s, y),
                                  .s = s,
                                  .way = {sign * way.x, sign * way.y}};
            if (std::abs(t) > 1e-12) connection.top.push_back({columns.along, t});
            if (std::abs(n) > 1e-12) connection.top.push_back({columns.across, n});
            tiles.plan.connections.push_back(connection);
        };
        const Point across_grain{-grain.y, grain.x};
        const double clearance = screw_play(screws);
        for (const Point way : {grain, across_grain}) {
            const bool is_free = screws.holes == Holes::oversize ||
                                 (screws.holes == Holes::slotted && !fixes && way == across_grain);
            if (!is_free) {
                shear(way, 1, ConnectionKind::shear, 0);
                continue;
            }
            shear(way, 1, ConnectionKind::stop, clearance);
            shear(way, -1, ConnectionKind::stop, clearance);
        }
    }

    InlineVector<BeamForce, 2> spread_screw(double s, std::array<double, 3> force) const {
        return {force_on(tiles.beam(), s, screw_y(), 0, force)};
    }

    double slip_stiffness() const {
        const Beam& beam = tiles.beam();
        // two woods: the geometric mean of their densities, EN 1995-1-1 7.1(2)
        const bool two_woods = beam.creeps && beam.density_kg_m3 > 0;
        const double density =
            two_woods ? std::sqrt(top_density_kg_m3 * beam.density_kg_m3) : top_density_kg_m3;
        if (!(density > 0))
            throw Error(ErrorKind::input,
                        {.place = "stiffeners[" + std::to_string(index) + "].screws",
                         .what = "how far a screw gives depends on the density of the top, and none is given",
                         .remedy = "give \"stiffness\" (N/mm a screw), or a density in \"top.elastic\""});
        return materials::slip_stiffness(stiffener.screws.diameter, density, !beam.creeps).value;
    }
};

void add_rail(const Rail& rail, const BarTiles& tiles, int support) {
    const Beam& beam = tiles.beam();
    const double length = beam.length, w = tiles.width();
    const int pieces = std::clamp(static_cast<int>(std::ceil(length / 60)), 4, 40);
    double open = 0;
    for (const LevelStretch& level : levels_along(tiles.field, beam.middle, beam.along, length / 2))
        for (const BarStretch& stretch : cut_evenly(level.from, level.to, length / pieces))
            for (const double side : {-1.0, 1.0}) {
                const double y = side * w / 4, area = stretch.half() * w;
                Connection connection =
                    tiles.contact(stretch, tiles.add_column(stretch, y, w / 4, {0, 0, 1}), y, area);
                connection.creep = 0; // as of pads and bearers
                connection.clearance =
                    tiles.field.thickness -
                    tiles.thickness_at(stretch.middle()); // over a recess it touches nothing
                connection.two_sided = rail.hold_down && connection.clearance <= 0;
                if (connection.clearance > 0) open += area;
                tiles.plan.rail_connections.push_back(connection);
            }
    if (open > 0)
        tiles.plan.warnings.push_back(
            beam.name + " lies under a recess: " + materials::digits(100 * (1 - open / (length * w)), 2) +
            " % of what lies against the wood bears, the rest touches nothing.");
    const auto hold = [&](double s, BeamForce force, double compliance, int whose) {
        tiles.plan.rail_connections.push_back({.kind = ConnectionKind::rail_end,
                                               .beam = tiles.beam_index,
                                               .support = whose,
                                               .on_beam = {force},
                                               .compliance = compliance,
                                               .two_sided = true,
                                               .at = beam.at(s),
                                               .s = s});
    };
    for (const double s : {-length / 2, length / 2}) {
        hold(s, force_on(beam, s, 0, 0, {0, 0, 1}), tight, support);
        hold(s, force_on(beam, s, 0, 0, {0, 1, 0}), tight, -1);
        hold(s, {.s = s, .f = {0, 0, 0, roll_arm, 0, 0}}, tight, -1);
    }
    hold(-length / 2, force_on(beam, -length / 2, 0, 0, {1, 0, 0}), tight, -1);
}

/// Stiffeners wish for none: so one mesh serves all that may be screwed under a top.
void wish_for_bar(MeshWishes& wishes, Point from, Point to, double width) {
    const double size = std::max(width * 1.5, 80.0);
    if (std::abs(from.y - to.y) < 1e-7) wishes.attractors_y.push_back({from.y, size});
    if (std::abs(from.x - to.x) < 1e-7) wishes.attractors_x.push_back({from.x, size});
}

} // namespace

int rail_over(const ConnectionPlan& plan, const Pad& pad) {
    for (int r = 0; r < plan.n_rails; ++r) {
        const Beam& beam = plan.beams[static_cast<size_t>(r)];
        if (stands_under(pad, beam.at(-beam.length / 2), beam.at(beam.length / 2), beam.section.width))
            return r;
    }
    return -1;
}

ConnectionPlan plan_connections(const Piece& piece, const ThicknessField& field,
                                double through_thickness_modulus, double density_kg_m3, bool glued_too,
                                const BarDivision& division) {
    ConnectionPlan plan;
    for (size_t i = 0; i < piece.supports.size(); ++i) {
        const auto* rail = std::get_if<Rail>(&piece.supports[i].kind);
        if (!rail) continue;
        plan.beams.push_back(beam_of(*rail, piece.supports[i].name, piece.top.moisture_percent));
        plan.rail_support.push_back(static_cast<int>(i));
        add_rail(*rail, BarTiles{plan, field, through_thickness_modulus, plan.n_rails}, static_cast<int>(i));
        wish_for_bar(plan.wishes, rail->from, rail->to, plan.beams.back().section.width);
        ++plan.n_rails;
    }
    const double radians = piece.top.grain_deg * std::numbers::pi / 180;
    bool slots = false, stated_slots = false, oversize = false, screwed = false, wooden = false;
    std::vector<Message> tails;
    for (size_t i = 0; i < piece.stiffeners.size(); ++i) {
        const Stiffener& stiffener = piece.stiffeners[i];
        plan.beams.push_back(beam_of(stiffener, piece.top.moisture_percent));
        const BarTiles tiles{plan, field, through_thickness_modulus, static_cast<int>(plan.beams.size()) - 1};
        const StiffenerConnections connections{tiles,
                                               stiffener,
                                               static_cast<int>(i),
                                               {std::cos(radians), std::sin(radians)},
                                               density_kg_m3,
                                               glued_too || stiffener.screws.holes == Holes::bonded,
                                               division};
        wooden = wooden || plan.beams.back().creeps;
        if (stiffener.screws.holes == Holes::bonded) {
            connections.glue();
            continue;
        }
        if (stiffener.screws.holes == Holes::dovetail) {
            connections.slide();
            tails.emplace_back(stiffener.name);
            continue;
        }
        connections.screw_down();
        if (stiffener.screws.holes == Holes::slotted)
            (stiffener.screws.slot_length ? stated_slots : slots) = true;
        oversize = oversize || stiffener.screws.holes == Holes::oversize;
        screwed = screwed || !stiffener.screws.stiffness;
    }
    if (slots)
        plan.assumptions.push_back("Slots run across the grain of the top and are three screw diameters "
                                   "long; the screw nearest the middle of "
                                   "each slotted stiffener sits in a round hole (common practice).");
    if (stated_slots)
        plan.assumptions.push_back(
            "Slots of a stated length run across the grain of the top; the screw nearest "
            "the middle of each slotted stiffener sits in a round hole (common "
            "practice).");
    if (!tails.empty())
        plan.warnings.push_back(
            said("Not judged: how hard the dovetail of {} may be pulled before the wood beside its groove "
                 "splits. It is taken to fit tight, to hold the wood both ways all along, and to slide but "
                 "for a peg in its middle (common practice).",
                 joined(std::move(tails), ", ", " and ")));
    if (oversize)
        plan.assumptions.push_back(said(
            "Oversize holes are {} wider than their screw (common practice); friction is not counted on.",
            amount(2, Unit::mm)));
    if (screwed)
        plan.assumptions.push_back(
            "A screw gives in shear by K_ser = rho^1.5 d / 23 (EN 1995-1-1 table 7.1), steel on wood twice "
            "that, and "
            "pulled out by 25 d l N/mm (technical approvals of wood screws, from memory).");
    if (wooden) plan.assumptions.push_back("The grain of wooden stiffeners and rails runs along them.");
    if (plan.n_rails > 0)
        plan.assumptions.push_back("Rails are held at their two ends, against rolling too; a pad under the "
                                   "middle of a rail carries the rail.");
    return plan;
}

} // namespace hollowtop
