// SPDX-License-Identifier: MIT
#include "solver/interface/connections.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/screw.hpp"
#include "solver/interface/bed.hpp"
#include "solver/interface/screw_places.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

constexpr double glue_stiffness = 1e3; ///< times the wood's own compression: practically rigid
constexpr double tight = 1e-7;         ///< mm/N, of a rail's end in its leg
constexpr double roll_arm = 100;       ///< mm: turns a roll into forces of a size with the others

/// A stretch of a bar and how its contact with the wood is cut into tiles.
struct Stretch {
    double from = 0, to = 0; ///< from the middle of the bar
    int screw = -1;          ///< index into the bar's own screws
    double middle() const { return (from + to) / 2; }
    double half() const { return (to - from) / 2; }
};

std::vector<Stretch> cut_evenly(double from, double to, double longest) {
    std::vector<Stretch> stretches;
    const int n = std::max(1, static_cast<int>(std::ceil((to - from) / longest - 1e-9)));
    stretches.reserve(static_cast<std::size_t>(n));
    for (int k = 0; k < n; ++k)
        stretches.push_back({from + (to - from) * k / n, from + (to - from) * (k + 1) / n});
    return stretches;
}

/// A short stretch about each screw, and the rest in pieces of at most 100 mm.
std::vector<Stretch> cut_at_screws(double length, const std::vector<double>& screws) {
    constexpr double longest = 100, widest_seat = 20, least_seat = 3;
    std::vector<Stretch> stretches;
    double done = -length / 2;
    for (size_t k = 0; k < screws.size(); ++k) {
        const double s = screws[k];
        double half = widest_seat;
        if (k > 0) half = std::min(half, (s - screws[k - 1]) / 4);
        if (k + 1 < screws.size()) half = std::min(half, (screws[k + 1] - s) / 4);
        half = std::max(std::min({half, s + length / 2, length / 2 - s}), least_seat);
        const double from = std::max(s - half, -length / 2), to = std::min(s + half, length / 2);
        if (from - done > least_seat)
            for (const Stretch& piece : cut_evenly(done, from, longest)) stretches.push_back(piece);
        stretches.push_back({from, to, static_cast<int>(k)});
        done = to;
    }
    if (length / 2 - done > least_seat)
        for (const Stretch& piece : cut_evenly(done, length / 2, longest)) stretches.push_back(piece);
    return stretches;
}

struct ConnectionMaker {
    ConnectionPlan& plan;
    const ThicknessField& field;
    double modulus; ///< through the thickness
    int beam_index;

    const Beam& beam() const { return plan.beams[static_cast<size_t>(beam_index)]; }
    double width() const { return beam().section.contact_y1 - beam().section.contact_y0; }
    double thickness_at(double s) const {
        const double h = thickness_of(field, region_at(field, beam().at(s)));
        return h > 0 ? h : field.thickness;
    }
    int add_column(const Stretch& stretch, double y, double half_across,
                   std::array<double, 3> direction) const {
        plan.columns.push_back({.tile = {.at = beam().at(stretch.middle(), y),
                                         .area = 4 * stretch.half() * half_across,
                                         .axis = beam().along,
                                         .half_along = stretch.half(),
                                         .half_across = half_across},
                                .direction = direction,
                                .z = -thickness_at(stretch.middle())});
        return static_cast<int>(plan.columns.size()) - 1;
    }
    /// An even force over the stretch, as seen by the bar: two Gauss points.
    InlineVector<BeamForce, 2> spread(const Stretch& stretch, double y, std::array<double, 3> force) const {
        InlineVector<BeamForce, 2> forces;
        for (double& f : force) f /= 2;
        for (const double side : {-1.0, 1.0})
            forces.push_back(
                force_on(beam(), stretch.middle() + side * stretch.half() / std::sqrt(3.0), y, 0, force));
        return forces;
    }
    double give_of(const Stretch& stretch, double area) const {
        return thickness_at(stretch.middle()) / (modulus * area);
    }

    Connection contact(const Stretch& stretch, int column, double y, double area) const {
        return {.kind = ConnectionKind::contact,
                .beam = beam_index,
                .top = {{column, 1}},
                .on_beam = spread(stretch, y, {0, 0, -1}),
                .compliance = give_of(stretch, area),
                .creep = 1,
                .two_sided = false,
                .at = beam().at(stretch.middle(), y),
                .s = stretch.middle(),
                .area = area};
    }
    Connection bond(const Stretch& stretch, int column, double y, double area,
                    std::array<double, 3> on_bar) const {
        return {.kind = ConnectionKind::bond,
                .beam = beam_index,
                .top = {{column, 1}},
                .on_beam = spread(stretch, y, on_bar),
                .compliance = give_of(stretch, area) / glue_stiffness,
                .creep = 1,
                .two_sided = true,
                .at = beam().at(stretch.middle(), y),
                .s = stretch.middle(),
                .area = area};
    }
};

/// Columns of the tiles of one stretch: up on the left and the right half, along, across.
struct StretchColumns {
    int left = -1, right = -1, along = -1, across = -1;
};

struct StiffenerConnections {
    const ConnectionMaker& maker;
    const Stiffener& stiffener;
    int index;
    Point grain;
    double top_density_kg_m3;
    bool glued_too; ///< as of plan_connections; of a stiffener that is glued as drawn, true

    std::array<double, 3> along() const { return {maker.beam().along.x, maker.beam().along.y, 0}; }
    std::array<double, 3> across() const { return {-maker.beam().along.y, maker.beam().along.x, 0}; }
    double screw_y() const { return maker.beam().section.screw_y - maker.beam().y_line; }

    void add_bonds(const Stretch& stretch, const StretchColumns& columns, double y,
                   std::vector<Connection>& connections) const {
        const double w = maker.width(), area = 2 * stretch.half() * w;
        if (columns.left >= 0) {
            connections.push_back(maker.bond(stretch, columns.left, w / 4, area / 2, {0, 0, -1}));
            connections.push_back(maker.bond(stretch, columns.right, -w / 4, area / 2, {0, 0, -1}));
        } else {
            connections.push_back(maker.bond(stretch, columns.right, 0, area, {0, 0, -1}));
        }
        if (!glued_too) return;
        connections.push_back(maker.bond(stretch, columns.along, y, area, {-1, 0, 0}));
        if (columns.across >= 0)
            connections.push_back(maker.bond(stretch, columns.across, y, area, {0, -1, 0}));
    }

    Connection turning_as_one(const Stretch& stretch, int column) const {
        Connection connection = maker.bond(stretch, column, 0, 2 * stretch.half() * maker.width(), {0, 0, 0});
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
        const double length = maker.beam().length, w = maker.width(), reach = w / std::numbers::pi;
        std::vector<Connection>& connections = maker.plan.connections;
        for (const Stretch& stretch : cut_evenly(-length / 2, length / 2, std::max(length / 96, 12.0))) {
            const double area = 2 * stretch.half() * w, wood = maker.thickness_at(stretch.middle());
            const size_t before = connections.size();
            const bool grips = w > wood; // how wood bends within less than its thickness a shell does not say
            const int lines = grips ? 3 : 2;
            for (int line = 0; line < lines; ++line) {
                const double y = w * ((2 * line + 1.0) / lines - 1) / 2;
                connections.push_back(maker.bond(stretch,
                                                 maker.add_column(stretch, y, w / 2 / lines, {0, 0, 1}), y,
                                                 area / lines, {0, 0, -1}));
                if (grips && line == 1)
                    connections.back().compliance =
                        2 * (reach / maker.beam().E_across + std::min(reach, wood) / maker.modulus) /
                        (area / lines);
            }
            connections.push_back(
                maker.bond(stretch, maker.add_column(stretch, 0, w / 2, along()), 0, area, {-1, 0, 0}));
            connections.push_back(
                maker.bond(stretch, maker.add_column(stretch, 0, w / 2, across()), 0, area, {0, -1, 0}));
            connections.push_back(turning_as_one(stretch, maker.add_column(stretch, 0, w / 2, along())));
            maker.plan.columns.back().turn = roll_arm;
            if (grips)
                connections.push_back(
                    stretching_across(stretch, 4 * reach / maker.beam().E_across / (area / 2)));
            maker.plan.bonded_connections.insert(maker.plan.bonded_connections.end(),
                                                 connections.begin() + static_cast<std::ptrdiff_t>(before),
                                                 connections.end());
        }
    }

    /// Holds the halves of the width together; the bar as a beam takes no part in it.
    Connection stretching_across(const Stretch& stretch, double compliance) const {
        const double w = maker.width();
        const int left = maker.add_column(stretch, w / 4, w / 4, across()),
                  right = maker.add_column(stretch, -w / 4, w / 4, across());
        return {.kind = ConnectionKind::bond,
                .beam = maker.beam_index,
                .top = {{left, 1}, {right, -1}},
                .compliance = compliance,
                .creep = 1,
                .two_sided = true,
                .at = maker.beam().at(stretch.middle()),
                .s = stretch.middle()};
    }

    void screw_down() const {
        const Beam& beam = maker.beam();
        const double w = maker.width(), y = screw_y(), seat_half = std::max(w / 2 - std::abs(y), 1.0);
        std::vector<double> places = screw_places(stiffener);
        for (double& s : places) s -= beam.length / 2;
        std::sort(places.begin(), places.end());
        size_t fixing = 0;
        for (size_t k = 0; k < places.size(); ++k)
            if (std::abs(places[k]) < std::abs(places[fixing]) - 1e-9) fixing = k;
        for (const Stretch& stretch : cut_at_screws(beam.length, places)) {
            if (stretch.screw < 0) {
                const StretchColumns columns{.right = maker.add_column(stretch, 0, w / 2, {0, 0, 1}),
                                             .along = glued_too ? maker.add_column(stretch, 0, w / 2, along())
                                                                : -1};
                maker.plan.connections.push_back(
                    maker.contact(stretch, columns.right, 0, 2 * stretch.half() * w));
                add_bonds(stretch, columns, 0, maker.plan.bonded_connections);
                continue;
            }
            const StretchColumns columns{.left = maker.add_column(stretch, w / 4, w / 4, {0, 0, 1}),
                                         .right = maker.add_column(stretch, -w / 4, w / 4, {0, 0, 1}),
                                         .along = maker.add_column(stretch, y, seat_half, along()),
                                         .across = maker.add_column(stretch, y, seat_half, across())};
            const double area = stretch.half() * w;
            maker.plan.connections.push_back(maker.contact(stretch, columns.left, w / 4, area));
            maker.plan.connections.push_back(maker.contact(stretch, columns.right, -w / 4, area));
            add_screw(stretch, columns,
                      stiffener.screws.holes == Holes::slotted &&
                          static_cast<size_t>(stretch.screw) == fixing);
            add_bonds(stretch, columns, y, maker.plan.bonded_connections);
        }
    }

    void add_screw(const Stretch& stretch, const StretchColumns& columns, bool fixes) const {
        const Beam& beam = maker.beam();
        const Screws& screws = stiffener.screws;
        const double y = screw_y(), s = stretch.middle(), w = maker.width();
        const double wood = maker.thickness_at(s), thread = std::min(screws.length - beam.section.grip, wood);
        const auto seat = static_cast<int>(maker.plan.screws.size());
        maker.plan.screws.push_back({.stiffener = index,
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
        maker.plan.connections.push_back(
            {.kind = ConnectionKind::withdrawal,
             .beam = maker.beam_index,
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
                                  .beam = maker.beam_index,
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
            maker.plan.connections.push_back(connection);
        };
        const Point across_grain{-grain.y, grain.x};
        const double clearance = clearance_of(screws);
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
        return {force_on(maker.beam(), s, screw_y(), 0, force)};
    }

    double slip_stiffness() const {
        const Beam& beam = maker.beam();
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

void add_rail(const Rail& rail, const ConnectionMaker& maker, int support) {
    const Beam& beam = maker.beam();
    const double length = beam.length, w = maker.width();
    const int pieces = std::clamp(static_cast<int>(std::ceil(length / 60)), 4, 40);
    double open = 0;
    for (const LevelStretch& level : levels_along(maker.field, beam.middle, beam.along, length / 2))
        for (const Stretch& stretch : cut_evenly(level.from, level.to, length / pieces))
            for (const double side : {-1.0, 1.0}) {
                const double y = side * w / 4, area = stretch.half() * w;
                Connection connection =
                    maker.contact(stretch, maker.add_column(stretch, y, w / 4, {0, 0, 1}), y, area);
                connection.creep = 0; // as of pads and bearers
                connection.clearance =
                    maker.field.thickness -
                    maker.thickness_at(stretch.middle()); // over a recess it touches nothing
                connection.two_sided = rail.hold_down && connection.clearance <= 0;
                if (connection.clearance > 0) open += area;
                maker.plan.rail_connections.push_back(connection);
            }
    if (open > 0)
        maker.plan.warnings.push_back(
            beam.name + " lies under a recess: " + materials::digits(100 * (1 - open / (length * w)), 2) +
            " % of what lies against the wood bears, the rest touches nothing.");
    const auto hold = [&](double s, BeamForce force, double compliance, int whose) {
        maker.plan.rail_connections.push_back({.kind = ConnectionKind::rail_end,
                                               .beam = maker.beam_index,
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

double clearance_of(const Screws& screws) {
    constexpr double oversize = 1; // a hole 2 mm wider than the screw, common practice
    switch (screws.holes) {
    case Holes::slotted:
        return screws.diameter; // a slot three diameters long, common practice
    case Holes::oversize:
        return oversize;
    default:
        return 0;
    }
}

int rail_over(const ConnectionPlan& plan, const Pad& pad) {
    for (int r = 0; r < plan.n_rails; ++r) {
        const Beam& beam = plan.beams[static_cast<size_t>(r)];
        if (stands_under(pad, beam.at(-beam.length / 2), beam.at(beam.length / 2), beam.section.width))
            return r;
    }
    return -1;
}

ConnectionPlan plan_connections(const Piece& piece, const ThicknessField& field,
                                double through_thickness_modulus, double density_kg_m3, bool glued_too) {
    ConnectionPlan plan;
    for (size_t i = 0; i < piece.supports.size(); ++i) {
        const auto* rail = std::get_if<Rail>(&piece.supports[i].kind);
        if (!rail) continue;
        plan.beams.push_back(beam_of(*rail, piece.supports[i].name, piece.top.moisture_percent));
        plan.rail_support.push_back(static_cast<int>(i));
        add_rail(*rail, ConnectionMaker{plan, field, through_thickness_modulus, plan.n_rails},
                 static_cast<int>(i));
        wish_for_bar(plan.wishes, rail->from, rail->to, plan.beams.back().section.width);
        ++plan.n_rails;
    }
    const double radians = piece.top.grain_deg * std::numbers::pi / 180;
    bool slots = false, oversize = false, screwed = false, wooden = false;
    for (size_t i = 0; i < piece.stiffeners.size(); ++i) {
        const Stiffener& stiffener = piece.stiffeners[i];
        plan.beams.push_back(beam_of(stiffener, piece.top.moisture_percent));
        const ConnectionMaker maker{plan, field, through_thickness_modulus,
                                    static_cast<int>(plan.beams.size()) - 1};
        const StiffenerConnections connections{maker,
                                               stiffener,
                                               static_cast<int>(i),
                                               {std::cos(radians), std::sin(radians)},
                                               density_kg_m3,
                                               glued_too || stiffener.screws.holes == Holes::bonded};
        wooden = wooden || plan.beams.back().creeps;
        if (stiffener.screws.holes == Holes::bonded) {
            connections.glue();
            continue;
        }
        connections.screw_down();
        slots = slots || stiffener.screws.holes == Holes::slotted;
        oversize = oversize || stiffener.screws.holes == Holes::oversize;
        screwed = screwed || !stiffener.screws.stiffness;
    }
    if (slots)
        plan.assumptions.push_back("Slots run across the grain of the top and are three screw diameters "
                                   "long; the screw nearest the middle of "
                                   "each slotted stiffener sits in a round hole (common practice).");
    if (oversize)
        plan.assumptions.push_back(
            "Oversize holes are 2 mm wider than their screw (common practice); friction is not counted on.");
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
