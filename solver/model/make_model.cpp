// SPDX-License-Identifier: MIT
#include "solver/model/make_model.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "solver/interface/connections.hpp"
#include "solver/interface/knife_edges.hpp"
#include "solver/model/connection_compliance.hpp"
#include "solver/model/rigid_motions.hpp"
#include "solver/piece/wording.hpp"
#include "solver/shell/make_shell.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <utility>

namespace hollowtop {
namespace {

/// Connections of all that touches the top: supports first, then rails, then stiffeners.
void gather_connections(const Piece& piece, Model& model, bool with_bonded) {
    const ConnectionPlan& bars = model.bars;
    const auto n_points = static_cast<int>(model.points.size());
    std::vector<Connection> bare;
    for (int k = 0; k < n_points; ++k) {
        const ContactPoint& point = model.points[static_cast<size_t>(k)];
        Connection connection{.kind = ConnectionKind::support,
                              .support = point.support,
                              .top = {{k, 1}},
                              .on_beam = {},
                              .compliance = point.compliance,
                              .clearance = point.gap,
                              .two_sided = point.two_sided,
                              .at = point.at,
                              .area = point.area};
        const auto* pad = std::get_if<Pad>(&piece.supports[static_cast<size_t>(point.support)].kind);
        const int rail = pad ? rail_over(bars, *pad) : -1;
        if (rail >= 0) { // it carries the rail, not the top
            const Beam& bar = bars.beams[static_cast<size_t>(rail)];
            const Point d{point.at.x - bar.middle.x, point.at.y - bar.middle.y};
            connection.beam = rail;
            connection.top.clear();
            connection.on_beam = {force_on(bar, d.x * bar.along.x + d.y * bar.along.y,
                                           d.y * bar.along.x - d.x * bar.along.y, 0, {0, 0, 1})};
        }
        bare.push_back(connection);
    }
    const auto add = [&](const std::vector<Connection>& from, std::vector<Connection>& to) {
        for (Connection connection : from) {
            for (ConnectionShare& share : connection.top) share.column += n_points;
            to.push_back(connection);
        }
    };
    add(bars.rail_connections, bare);
    model.n_bare = static_cast<int>(bare.size());
    const auto n_bars = static_cast<int>(bars.beams.size());
    if (with_bonded && n_bars > bars.n_rails) {
        model.bonded = {.all = bare, .n_bars = n_bars, .between = {}};
        add(bars.bonded_connections, model.bonded.all);
    }
    model.connections = {.all = std::move(bare), .n_bars = n_bars, .between = {}};
    add(bars.connections, model.connections.all);
}

/// Ends of the lines that hold the top and of knife edges.
std::vector<Point> line_ends_of(const Piece& piece) {
    std::vector<Point> ends;
    for (const Support& support : piece.supports) {
        const auto add = [&](const auto& line) { ends.insert(ends.end(), {line.from, line.to}); };
        if (const auto* held = std::get_if<Held>(&support.kind)) add(*held);
        if (const auto* built_in = std::get_if<BuiltIn>(&support.kind)) add(*built_in);
        if (const auto* bearer = std::get_if<Bearer>(&support.kind); bearer && bearer->width <= 0)
            add(*bearer);
    }
    return ends;
}

} // namespace

Model make_unfactored_model(const Piece& piece, const ModelOptions& options) {
    ModelPlan plan =
        plan_model(piece, options.shell.with_wall_compliance, options.bonded, options.coarse_beds);
    MeshWishes& wishes = plan.supports.wishes;
    wishes.attractors_x.insert(wishes.attractors_x.end(), options.finer_at.attractors_x.begin(),
                               options.finer_at.attractors_x.end());
    wishes.attractors_y.insert(wishes.attractors_y.end(), options.finer_at.attractors_y.begin(),
                               options.finer_at.attractors_y.end());
    Model model{
        .shell = make_shell(plan.plane, plan.field, plan.supports.wishes, plan.supports.held, options.shell),
        .supports = {},
        .points = {},
        .rigid = {},
        .pins = {},
        .factor = {},
        .bars = {},
        .connections = {},
        .bonded = {},
        .n_bare = 0,
        .columns = {},
        .support_columns = {},
        .support_compliance = {},
        .known_columns = {},
        .known_connections = {},
        .loads = {},
        .work_on_rigid = {},
        .moved = {},
        .line_ends = line_ends_of(piece),
        .volume = 0,
        .hollowed = {},
        .solve_error = 1};
    model.supports = std::move(plan.supports);
    model.bars = std::move(plan.bars);
    model.points = model.supports.points;
    for (ContactPoint& point : knife_edge_points(piece, model.shell, plan.through_thickness_modulus))
        model.points.push_back(point);
    gather_connections(piece, model, options.bonded);
    TopColumns columns;
    columns.of = model.bars.columns;
    columns.forces = forces_on_columns(model);
    model.columns = std::make_shared<const TopColumns>(std::move(columns));
    return model;
}

Underside take_underside(Model& model) {
    return {.supports = std::move(model.supports),
            .bars = std::move(model.bars),
            .connections = std::move(model.connections),
            .bonded = std::move(model.bonded),
            .n_bare = model.n_bare,
            .columns = model.columns};
}

void put_underside(Model& model, Underside underside) {
    model.supports = std::move(underside.supports);
    model.bars = std::move(underside.bars);
    model.connections = std::move(underside.connections);
    model.bonded = std::move(underside.bonded);
    model.n_bare = underside.n_bare;
    model.columns = std::move(underside.columns);
}

void change_stiffeners(Model& model, const Piece& piece, ModelPlan plan, const ModelOptions& options) {
    model.supports = std::move(plan.supports); // the same but for what is said of the bars
    model.bars = std::move(plan.bars);
    model.bonded = {};
    gather_connections(piece, model, options.bonded);
    answer_columns(model);
    fill_compliance(model, model.connections);
    if (options.bonded) fill_compliance(model, model.bonded);
}

namespace {

/// Takes from nodal forces what they do on rigid motions.
void balance(const std::vector<std::vector<double>>& rigid, std::span<double> forces) {
    const auto m = static_cast<Eigen::Index>(rigid.size()), n = static_cast<Eigen::Index>(forces.size());
    if (m == 0) return;
    Eigen::MatrixXd modes(n, m);
    for (Eigen::Index k = 0; k < m; ++k)
        modes.col(k) = Eigen::Map<const Eigen::VectorXd>(rigid[static_cast<size_t>(k)].data(), n);
    Eigen::Map<Eigen::VectorXd> all(forces.data(), n);
    const Eigen::MatrixXd gram = modes.transpose() * modes;
    all -= modes * gram.ldlt().solve(modes.transpose() * all);
}

/// Answers of the pinned top to the loads, and how far off they are: as shown by all loads together, so
/// balanced that the pins carry nothing of them, like the loads and what holds them.
void move_by_loads(Model& model) {
    const auto n = static_cast<size_t>(model.factor->n_dofs()), n_loads = model.loads.size();
    if (n_loads == 0) return;
    std::vector<double> columns, all(n, 0);
    columns.reserve(n * (n_loads + 1));
    for (LoadColumn& load : model.loads) {
        load.resultant = resultant_of(model.shell, load.forces);
        model.work_on_rigid.push_back(work_on_rigid(model, load.forces));
        columns.insert(columns.end(), load.forces.begin(), load.forces.end());
        for (size_t i = 0; i < n; ++i) all[i] += load.forces[i];
    }
    balance(model.rigid, all);
    columns.insert(columns.end(), all.begin(), all.end());
    model.factor->solve(columns, static_cast<int>(n_loads + 1));
    for (size_t k = 0; k < n_loads; ++k)
        model.moved.emplace_back(columns.begin() + static_cast<std::ptrdiff_t>(k * n),
                                 columns.begin() + static_cast<std::ptrdiff_t>((k + 1) * n));
    const std::span<const double> moved{columns.data() + n_loads * n, n};
    std::vector<double> rest(n, 0);
    multiply(model.shell.stiffness, moved, rest);
    for (size_t i = 0; i < n; ++i) rest[i] = all[i] - rest[i];
    model.factor->solve(rest, 1);
    model.solve_error = greatest_movement(rest) / std::max(greatest_movement(moved), 1e-300);
}

/// Factors the stiffness with the pins held too; the stiffness itself then holds nothing.
void factor(Model& model, int threads) {
    std::vector<int>& held = model.shell.stiffness.held;
    held.insert(held.end(), model.pins.begin(), model.pins.end());
    std::sort(held.begin(), held.end());
    try {
        model.factor.emplace(model.shell.stiffness, threads);
        held.clear();
    } catch (const PivotFailure& failure) {
        const Point p = model.shell.node_point(failure.dof / dofs_per_node);
        throw Error(ErrorKind::not_computable,
                    {.place = "top",
                     .what = said("the stiffness is not positive near {}", place(p.x, p.y, significant(3))),
                     .remedy = "check thicknesses and elastic constants there"});
    }
}

void add_loads(Model& model, const Piece& piece) {
    if (piece.self_weight)
        model.loads.push_back({.name = "own weight",
                               .duration = Duration::permanent,
                               .forces = weight_forces(model.shell),
                               .is_own_weight = true,
                               .points = {}});
    for (size_t i = 0; i < piece.loads.size(); ++i) {
        std::vector<LoadPoint> points =
            load_points(model.shell, piece.loads[i], "loads[" + std::to_string(i) + "]");
        std::vector<double> forces = nodal_forces(model.shell, points);
        std::vector<Pressed> pressed = pressed_by(model.shell, piece.loads[i], points);
        model.loads.push_back({.name = name_of(piece.loads[i], piece.units),
                               .plain_name = piece.loads[i].name,
                               .duration = piece.loads[i].duration,
                               .forces = std::move(forces),
                               .is_own_weight = false,
                               .judged_for = piece.loads[i].judged_for,
                               .points = std::move(points),
                               .resultant = {},
                               .pressed = std::move(pressed)});
    }
}

} // namespace

Model make_model(const Piece& piece, const ModelOptions& options) {
    Model model = make_unfactored_model(piece, options);
    model.rigid = free_rigid_motions(model.shell);
    model.pins = pins_for(model.shell, model.rigid);
    factor(model, options.threads);
    add_loads(model, piece);
    move_by_loads(model);
    model.volume = volume_of(model.shell.field, model.shell.mesh);
    if (piece.self_weight) model.hollowed = hollowed_weight(model.shell);
    answer_columns(model);
    fill_compliance(model, model.connections);
    if (options.bonded) fill_compliance(model, model.bonded);
    return model;
}

void change_loads(Model& model, const Piece& piece) {
    model.loads.clear();
    model.moved.clear();
    model.work_on_rigid.clear();
    add_loads(model, piece);
    move_by_loads(model);
    TopColumns columns = *model.columns;
    columns.moved_at.clear();
    for (const std::vector<double>& field : model.moved)
        columns.moved_at.push_back(at_points(columns.forces, field));
    model.columns = std::make_shared<const TopColumns>(std::move(columns));
    model.known_columns = {model.columns};
    model.known_connections.clear(); // they are known by their columns
}

} // namespace hollowtop
