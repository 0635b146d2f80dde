// SPDX-License-Identifier: MIT
#include "solver/seasons/held_shape.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/capacity/screw_borne.hpp"
#include "solver/interface/connections.hpp"
#include "solver/model/contact_system.hpp"
#include "solver/model/make_model.hpp"
#include "solver/piece/boards.hpp"
#include "solver/piece/ends.hpp"
#include "solver/seasons/cupping.hpp"
#include "solver/shell/strip_strain.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <string>
#include <utility>

namespace hollowtop {
namespace {

constexpr int section_digits = 12;

struct Stood {
    std::vector<double> dofs;
    ContactAnswer answer;
    std::vector<char> gives; ///< of the connections: a screw's that bears all it can
};

/// What each screw bears at most, and the compliances of the connections as screws that bear it are softened.
struct Screwed {
    std::vector<ScrewBorne> borne; ///< of each of ConnectionPlan::screws
    ConnectionSet set;
};

Screwed screwed(const Piece& piece, const Model& model) {
    Screwed screws{.borne = {}, .set = model.connections};
    for (const ScrewSeat& seat : model.bars.screws)
        screws.borne.push_back(
            borne_by_screw(piece, piece.stiffeners[static_cast<std::size_t>(seat.stiffener)], seat.thread));
    return screws;
}

bool is_shear(ConnectionKind kind) { return kind == ConnectionKind::shear || kind == ConnectionKind::stop; }

/// On each screw, N: sheared along and across its bar together, and pulled.
std::vector<ScrewBorne> forces_on_screws(const std::vector<Connection>& all, std::span<const double> force,
                                         std::size_t n_screws) {
    std::vector<Point> sheared(n_screws);
    std::vector<ScrewBorne> on(n_screws);
    for (std::size_t i = 0; i < force.size(); ++i) {
        if (all[i].screw < 0) continue;
        const auto screw = static_cast<std::size_t>(all[i].screw);
        if (is_shear(all[i].kind)) {
            sheared[screw].x += force[i] * all[i].way.x;
            sheared[screw].y += force[i] * all[i].way.y;
        } else if (all[i].kind == ConnectionKind::withdrawal) {
            on[screw].pulled_N = std::abs(force[i]);
        }
    }
    for (std::size_t screw = 0; screw < n_screws; ++screw)
        on[screw].shear_N = std::hypot(sheared[screw].x, sheared[screw].y);
    return on;
}

/// The answer in which no screw bears more than it can: one that would is softened until it bears just that
/// (its secant; the last of a slip that only grows).
ContactAnswer answer_of_screws(const Model& model, Screwed& screws, const std::vector<double>& at_columns,
                               const std::vector<double>& on_rigid, double weight) {
    const std::vector<Connection>& as_drawn = model.connections.all;
    screws.set.all = as_drawn;
    std::vector<double> shear(screws.borne.size(), 1), pull = shear; // times as soft
    constexpr int most = 60;
    constexpr double near_enough = 0.005;
    for (int pass = 0;; ++pass) {
        const ContactSystem contact(model, screws.set, static_cast<int>(as_drawn.size()), screws.set.n_bars,
                                    1);
        ContactAnswer answer = contact.answer_to(at_columns, on_rigid, weight);
        if (!answer.balanced || pass == most) return answer;
        const std::vector<ScrewBorne> on = forces_on_screws(as_drawn, answer.force, screws.borne.size());
        bool settled = true;
        const auto soften = [&](double& factor, double bears, double borne) {
            if (!(borne > 0)) return;
            const double now = std::max(1.0, factor * bears / borne);
            settled = settled && std::abs(now / factor - 1) <= near_enough;
            factor = now;
        };
        for (std::size_t i = 0; i < on.size(); ++i) {
            soften(shear[i], on[i].shear_N, screws.borne[i].shear_N);
            soften(pull[i], on[i].pulled_N, screws.borne[i].pulled_N);
        }
        if (settled) return answer;
        for (std::size_t i = 0; i < as_drawn.size(); ++i) {
            if (as_drawn[i].screw < 0) continue;
            const auto screw = static_cast<std::size_t>(as_drawn[i].screw);
            if (is_shear(as_drawn[i].kind))
                screws.set.all[i].compliance = as_drawn[i].compliance * shear[screw];
            else if (as_drawn[i].kind == ConnectionKind::withdrawal)
                screws.set.all[i].compliance = as_drawn[i].compliance * pull[screw];
        }
    }
}

double norm_of(const std::vector<double>& v) {
    double sum = 0;
    for (const double x : v) sum += x * x;
    return std::sqrt(sum);
}

/// Of the forces left unbalanced where nothing holds; `dofs` without rigid motions.
void expect_balance(const Model& model, const std::vector<double>& dofs, const std::vector<double>& forces) {
    std::vector<double> left(dofs.size(), 0);
    multiply(model.shell.stiffness, dofs, left);
    for (std::size_t i = 0; i < left.size(); ++i) left[i] -= forces[i];
    for (const auto& [dof, support] : model.shell.held_dof_support) left[static_cast<std::size_t>(dof)] = 0;
    const double size = norm_of(forces), share = size > 0 ? norm_of(left) / size : 0;
    constexpr double largest = 1e-6;
    if (share <= largest) return;
    throw Error(
        ErrorKind::not_computable,
        {.place = "top",
         .what = "the bow of the top on its supports could not be solved: the forces left unbalanced are " +
                 materials::digits(share) + " of the whole",
         .remedy = "please report the piece"});
}

/// Under `forces` on the top, of which `own` are its weight.
Stood stand(const Model& model, Screwed& screws, std::vector<double> forces, const std::vector<double>& own,
            double weight) {
    std::vector<double> moved = forces;
    model.factor->solve(moved, 1);
    // swelling is in balance with itself: its rounding must not pass for a load on the supports
    ContactAnswer answer = answer_of_screws(model, screws, at_points(model.columns->forces, moved),
                                            work_on_rigid(model, own), weight);
    if (!answer.balanced)
        throw Error(ErrorKind::not_computable, {.place = "supports",
                                                .what = "the top is not held by its supports",
                                                .remedy = "add pads, bearers or held lines"});
    std::vector<double> answered(forces.size(), 0);
    add_connection_forces(model, model.connections, answer.force, answered);
    for (std::size_t i = 0; i < forces.size(); ++i) forces[i] += answered[i];
    model.factor->solve(answered, 1);
    for (std::size_t i = 0; i < moved.size(); ++i) moved[i] += answered[i];
    expect_balance(model, moved, forces);
    for (std::size_t k = 0; k < model.rigid.size(); ++k)
        for (std::size_t i = 0; i < moved.size(); ++i) moved[i] += answer.rigid_motion[k] * model.rigid[k][i];
    to_reference_surface(model.shell, moved);
    Stood stood{.dofs = std::move(moved), .answer = std::move(answer), .gives = {}};
    for (std::size_t i = 0; i < screws.set.all.size(); ++i)
        stood.gives.push_back(screws.set.all[i].compliance > model.connections.all[i].compliance);
    return stood;
}

/// What a place wants that lies in a strip of the top, a board.
using StrainOfPlace = std::function<ZoneStrain(SectionRegion, int strip)>;

std::vector<double> swelling_forces(const Model& model, const StripAt& strip_at,
                                    const StrainOfPlace& strain_of) {
    const Shell& shell = model.shell;
    const Point across{-std::sin(shell.plane.grain_rad), std::cos(shell.plane.grain_rad)};
    return eigenstrain_forces_of_strips(shell, strip_at, [&](SectionRegion place, int strip) {
        const ZoneStrain strain = strain_of(place, strip);
        const double thickness = thickness_of(shell.field, place.region);
        return strain_in_direction(
            {.at_top = strain.mean + strain.difference / 2, .slope = strain.difference / thickness}, across,
            shell.reference_depth);
    });
}

std::vector<double> force_of_supports(const Model& model, const ContactAnswer& answer) {
    std::vector<double> force(model.supports.centres.size(), 0);
    for (std::size_t i = 0; i < static_cast<std::size_t>(model.n_bare); ++i) {
        const Connection& connection = model.connections.all[i];
        if (connection.support >= 0) force[static_cast<std::size_t>(connection.support)] += answer.force[i];
    }
    return force;
}

/// Mean over each stretch of 100 mm of a dovetail, or as long as it is: at its ends the force gathers in a point, which a
/// tail that fits as wood fits spreads.
void read_tails(const Model& model, const Stood& stood, HeldShape& held) {
    constexpr double window = 100;
    const std::vector<Connection>& all = model.connections.all;
    for (int bar = 0; bar < static_cast<int>(model.bars.beams.size()); ++bar) {
        const Beam& beam = model.bars.beams[static_cast<std::size_t>(bar)];
        std::vector<std::pair<double, double>> forces; // by their places along it
        for (std::size_t i = 0; i < stood.answer.force.size(); ++i)
            if (all[i].beam == bar && all[i].kind == ConnectionKind::contact && all[i].two_sided &&
                all[i].area > 0)
                forces.emplace_back(all[i].s, stood.answer.force[i]);
        std::sort(forces.begin(), forces.end());
        const double length = std::min(window, beam.length);
        double sum = 0;
        for (std::size_t from = 0, to = 0; to < forces.size(); ++to) {
            sum += forces[to].second;
            while (forces[to].first - forces[from].first > length) sum -= forces[from++].second;
            if (std::abs(sum) / length <= held.greatest_on_tail) continue;
            held.greatest_on_tail = std::abs(sum) / length;
            held.tail = beam.name;
        }
    }
}

void read_screws(const Model& model, const Screwed& screws, const Stood& stood, HeldShape& held) {
    const std::vector<Connection>& all = model.connections.all;
    const std::vector<ScrewBorne> on = forces_on_screws(all, stood.answer.force, screws.borne.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].screw < 0) continue;
        const auto screw = static_cast<std::size_t>(all[i].screw);
        const ScrewBorne &bears = on[screw], &borne = screws.borne[screw];
        if (is_shear(all[i].kind)) {
            held.yields = held.yields || stood.gives[i];
            if (bears.shear_N <= held.greatest_shear) continue;
            held.greatest_shear = bears.shear_N;
            held.shear_borne = borne.shear_N;
            held.sheared = bar_of(model, all[i]).name;
        } else if (all[i].kind == ConnectionKind::withdrawal) {
            held.is_drawn_out = held.is_drawn_out || stood.gives[i];
            if (bears.pulled_N <= held.greatest_pull) continue;
            held.greatest_pull = bears.pulled_N;
            held.pull_borne = borne.pulled_N;
            held.pulled = bar_of(model, all[i]).name;
            held.pulled_at = all[i].at;
        }
    }
    read_tails(model, stood, held);
    if (held.yields && held.shear_borne > 0)
        held.greatest_shear = std::min(held.greatest_shear, held.shear_borne);
    if (held.is_drawn_out && held.pull_borne > 0)
        held.greatest_pull = std::min(held.greatest_pull, held.pull_borne);
}

/// Its breadboard ends as bars that slide: they weigh nothing, for the top's own weight counts them in.
Piece with_ends(Piece piece) {
    if (!piece.ends) return piece;
    const materials::WoodConstants wood =
        materials::wood_constants(materials::find_wood(piece.ends->wood), piece.top.moisture_percent);
    int number = 0;
    for (const EndBoard& board : end_boards(piece)) {
        Stiffener end{.name = "breadboard end " + std::to_string(++number),
                      .section = "bar " + materials::digits(piece.ends->width, section_digits) + "x" +
                                 materials::digits(piece.top.thickness, section_digits),
                      .metal = "",
                      .wood = "",
                      .elastic = BarElastic{.E = wood.E_L, .G = wood.G_LT, .density_kg_m3 = 0},
                      .from = board.from,
                      .to = board.to,
                      .screws = {}};
        end.screws.holes = Holes::dovetail;
        piece.stiffeners.push_back(std::move(end));
    }
    return piece;
}

/// The model of a check cuts a bar into stretches of up to 100 mm, with seats of up to 40 mm round its screws: good for sag,
/// but the pull of a screw by which a bar hangs errs by up to 15 %. Here stretches of 10 mm and seats of 6 mm, or as
/// many as are solved quickly; beside two beams with stations of 2.5 mm they err by 2 %.
Model standing_model(const Piece& piece, int threads) {
    const ModelOptions options{
        .shell = {.size = season_mesh(piece), .order = high_order}, .threads = threads, .bonded = false};
    if (piece.stiffeners.empty()) return make_model(piece, options);
    Piece bare = piece;
    bare.stiffeners.clear();
    Model model = make_model(bare, options);
    double length = 0;
    for (const Stiffener& bar : piece.stiffeners)
        length += std::hypot(bar.to.x - bar.from.x, bar.to.y - bar.from.y);
    constexpr double most_stretches = 250, shortest = 10, seat_share = 0.3, widest_seat = 20;
    const double longest = std::max(shortest, length / most_stretches);
    ModelPlan plan = plan_model(piece, options.shell.with_wall_compliance, options.bonded);
    plan.bars =
        plan_connections(piece, plan.field, plan.through_thickness_modulus, plan.plane.density * 1e9, false,
                         {.longest = longest, .widest_seat = std::min(widest_seat, seat_share * longest)});
    change_stiffeners(model, piece, std::move(plan), options);
    return model;
}

/// A piece on its supports and bars, ready for what its wood wants.
class OnItsFeet {
  public:
    OnItsFeet(const Piece& piece, int threads)
        : piece_(with_ends(bare_of_loads(piece))), model_(standing_model(piece_, threads)),
          screws_(screwed(piece_, model_)),
          own_(static_cast<std::size_t>(model_.shell.stiffness.grid.n_dofs()), 0) {
        const bool weighs = !model_.loads.empty() && model_.loads.front().is_own_weight;
        if (weighs) own_ = model_.loads.front().forces;
        weight_ = weighs ? 1 : 0;
        alone_ = stand(model_, screws_, own_, own_, weight_);
        force_alone_ = force_of_supports(model_, alone_.answer);
    }
    const Model& model() const { return model_; }

    HeldShape under(const StripAt& strip_at, const StrainOfPlace& strain_of) {
        std::vector<double> forces = swelling_forces(model_, strip_at, strain_of);
        for (std::size_t i = 0; i < forces.size(); ++i) forces[i] += own_[i];
        Stood swollen = stand(model_, screws_, std::move(forces), own_, weight_);
        for (std::size_t i = 0; i < swollen.dofs.size(); ++i) swollen.dofs[i] -= alone_.dofs[i];
        HeldShape held;
        held.shape = cup_on(model_.shell, swollen.dofs);
        read_screws(model_, screws_, swollen, held);
        const std::vector<double> force = force_of_supports(model_, swollen.answer);
        for (std::size_t i = 0; i < force.size(); ++i)
            if (force_alone_[i] > 0 && !(force[i] > 1e-9 * force_alone_[i]))
                held.lets_go.push_back(piece_.supports[i].name);
        return held;
    }

  private:
    static Piece bare_of_loads(Piece piece) {
        piece.loads.clear();
        piece.use.clear();
        piece.probes.clear();
        return piece;
    }

    Piece piece_;
    Model model_;
    Screwed screws_;
    std::vector<double> own_, force_alone_{};
    double weight_ = 0;
    Stood alone_{};
};

} // namespace

std::vector<HeldShape> held_shapes(const Piece& piece, const std::vector<Zone>& zones,
                                   std::span<const std::vector<ZoneStrain>> strains, int threads) {
    OnItsFeet standing(piece, threads);
    const ThicknessField& field = standing.model().shell.field;
    std::vector<HeldShape> all;
    for (const std::vector<ZoneStrain>& set : strains)
        all.push_back(standing.under(
            {}, [&](SectionRegion place, int) { return set[zone_of(zones, field, place.region)]; }));
    return all;
}

std::vector<HeldShape> held_rings(const Piece& piece, std::span<const RingBoard> boards,
                                  std::span<const double> k, int threads) {
    Piece kept = piece;
    kept.top.glue_lines_kept = true;
    OnItsFeet standing(kept, threads);
    const ThicknessField& field = standing.model().shell.field;
    const double whole = piece.top.thickness;
    std::vector<HeldShape> all;
    const std::vector<BoardStrip> strips = board_strips(piece.top);
    const Point across = across_boards(piece.top);
    const auto board_at = [&](Point p) {
        const double s = p.x * across.x + p.y * across.y;
        int board = 0;
        while (board + 1 < static_cast<int>(boards.size()) && s > strips[static_cast<std::size_t>(board)].to)
            ++board;
        return board;
    };
    for (const double season : k)
        all.push_back(standing.under(board_at, [&](SectionRegion place, int strip) {
            const RingBoard& board = boards[static_cast<std::size_t>(strip)];
            const double thickness = thickness_of(field, place.region);
            // from the pith to the middle of what is left there, below the show face
            const double y = board.bark_up ? board.pith + whole - thickness / 2 : board.pith + thickness / 2;
            const double crown =
                (board.bark_up ? 2 : -2) * ring_edge_turn(season, board.width, y) / board.width;
            return ZoneStrain{.mean = 0, .difference = crown * thickness};
        }));
    return all;
}

} // namespace hollowtop
