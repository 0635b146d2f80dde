// SPDX-License-Identifier: MIT
#include "solver/model/model.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/wood.hpp"
#include "solver/model/connection_compliance.hpp"
#include "solver/numeric/symmetric_eigen.hpp"
#include "solver/section/top_material.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

namespace hollowtop {
namespace {

using Matrix6d = Eigen::Matrix<double, 6, 6>;
using Vector6d = Eigen::Matrix<double, 6, 1>;

/// The six rigid motions at a dof of a node, rotations about the top's centre and scaled by its size.
struct RigidMotions {
    const Shell& shell;
    Point centre{};
    double size = 1;

    explicit RigidMotions(const Shell& s) : shell(s) {
        const Mesh& mesh = s.mesh;
        centre = {(mesh.xs.front() + mesh.xs.back()) / 2, (mesh.ys.front() + mesh.ys.back()) / 2};
        size = std::max(mesh.xs.back() - mesh.xs.front(), mesh.ys.back() - mesh.ys.front()) / 2;
    }
    /// Rows u v w bx by at a point, for dofs of the reference surface.
    Eigen::Matrix<double, 5, 6> rows(Point p) const {
        const double x = (p.x - centre.x) / size, y = (p.y - centre.y) / size;
        Eigen::Matrix<double, 5, 6> r = Eigen::Matrix<double, 5, 6>::Zero();
        r(0, 0) = 1; // along x
        r(1, 1) = 1; // along y
        r(2, 2) = 1; // up
        r(2, 3) = y; // about x: w = y, v = -z
        r(4, 3) = -1 / size;
        r(2, 4) = x; // about y: w = x, u = -z
        r(3, 4) = -1 / size;
        r(0, 5) = -y; // about z
        r(1, 5) = x;
        return r;
    }
    Eigen::Matrix<double, 5, 6> node_rows(int node) const {
        Eigen::Matrix<double, 5, 6> r = rows(shell.node_point(node));
        const auto level = shell.levels.find(node);
        if (level != shell.levels.end()) {
            r.row(0) += level->second.zu * r.row(3);
            r.row(1) += level->second.zv * r.row(4);
        }
        return r;
    }
};

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
        model.bonded = {.connections = bare, .n_bars = n_bars, .between = {}};
        add(bars.bonded_connections, model.bonded.connections);
    }
    model.connections = {.connections = std::move(bare), .n_bars = n_bars, .between = {}};
    add(bars.connections, model.connections.connections);
}

/// Nodes of cells that lie wholly on the top: a pin elsewhere could hang in the void.
std::vector<int> sound_nodes(const Shell& shell) {
    std::vector<int> nodes;
    const Mesh& mesh = shell.mesh;
    for (const bool accept_cut : {false, true}) {
        for (int j = 0; j < mesh.ny(); ++j)
            for (int i = 0; i < mesh.nx(); ++i) {
                const Cell& cell = mesh.cell(i, j);
                if (!cell.active || (cell.cut && !accept_cut)) continue;
                for (const int b : {0, shell.order})
                    for (const int a : {0, shell.order})
                        nodes.push_back(shell.node(i * shell.order + a, j * shell.order + b));
            }
        if (!nodes.empty()) break;
    }
    std::sort(nodes.begin(), nodes.end());
    nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
    return nodes;
}

} // namespace

double through_thickness_modulus(const Piece& piece) {
    if (const std::optional<Elastic> stated = stated_elastic(piece.top))
        return stated->E3.value_or(stated->E2);
    const materials::PlaneConstants plane = materials::turned_by_rings(
        materials::wood_constants(materials::find_wood(piece.top.wood), piece.top.moisture_percent,
                                  piece.top.measured.E_along, piece.top.measured.density_kg_m3),
        piece.top.ring_angle_deg);
    return plane.E3 > 0 ? plane.E3 : plane.E2;
}

std::vector<std::vector<double>> free_rigid_motions(const Shell& shell) {
    const RigidMotions motions(shell);
    Matrix6d gram = Matrix6d::Zero();
    for (const int dof : shell.stiffness.held) {
        Vector6d row = motions.node_rows(dof / dofs_per_node).row(dof % dofs_per_node).transpose();
        if (dof % dofs_per_node >= 3) row *= motions.size;
        gram += row * row.transpose();
    }
    for (const HeldPoint& point : shell.held_points) {
        const Eigen::Map<const Eigen::Matrix<double, 5, 1>> form(point.row.data());
        Vector6d row = motions.rows(point.at).transpose() * form;
        if (form.head<3>().norm() == 0) row *= motions.size;
        gram += row * row.transpose();
    }
    const SymmetricEigen eigen = symmetric_eigen({gram.data(), 36}, 6);
    const double greatest = eigen.values[5];
    std::vector<Vector6d> null_space;
    for (size_t k = 0; k < 6; ++k) {
        if (greatest > 0 && eigen.values[k] > 1e-10 * greatest) break;
        if (greatest > 0)
            null_space.push_back(Eigen::Map<const Vector6d>(eigen.vectors.data() + 6 * k));
        else
            null_space.push_back(Vector6d::Unit(static_cast<Eigen::Index>(k)));
        // rounding must not turn a movement in the plane into one that a vertical load would drive
        const double least = 1e-9 * null_space.back().cwiseAbs().maxCoeff();
        null_space.back() = (null_space.back().array().abs() < least).select(0, null_space.back());
    }
    const int n_nodes = shell.nodes_x() * shell.stiffness.grid.nodes_y();
    std::vector<std::vector<double>> rigid(
        null_space.size(), std::vector<double>(static_cast<size_t>(n_nodes * dofs_per_node), 0));
    for (int node = 0; node < n_nodes; ++node) {
        const Eigen::Matrix<double, 5, 6> rows = motions.node_rows(node);
        for (size_t k = 0; k < null_space.size(); ++k) {
            const Eigen::Matrix<double, 5, 1> values = rows * null_space[k];
            for (int c = 0; c < dofs_per_node; ++c)
                rigid[k][static_cast<size_t>(node * dofs_per_node + c)] = values[c];
        }
    }
    for (std::vector<double>& mode : rigid)
        for (const int dof : shell.stiffness.held) mode[static_cast<size_t>(dof)] = 0;
    return rigid;
}

std::vector<int> pins_for(const Shell& shell, const std::vector<std::vector<double>>& rigid) {
    const auto m = static_cast<Eigen::Index>(rigid.size());
    std::vector<int> pins;
    if (m == 0) return pins;
    std::vector<int> candidates;
    for (const int node : sound_nodes(shell))
        for (int c = 0; c < 3; ++c) {
            const int dof = node * dofs_per_node + c;
            if (!std::binary_search(shell.stiffness.held.begin(), shell.stiffness.held.end(), dof))
                candidates.push_back(dof);
        }
    Eigen::MatrixXd rows(static_cast<Eigen::Index>(candidates.size()), m);
    for (size_t i = 0; i < candidates.size(); ++i)
        for (Eigen::Index k = 0; k < m; ++k)
            rows(static_cast<Eigen::Index>(i), k) =
                rigid[static_cast<size_t>(k)][static_cast<size_t>(candidates[i])];
    for (Eigen::Index k = 0; k < m; ++k) {
        Eigen::Index best = 0;
        rows.rowwise().squaredNorm().maxCoeff(&best);
        if (rows.row(best).norm() < 1e-9)
            throw Error(ErrorKind::not_computable, {.place = "supports",
                                                    .what = "the top cannot be held in place",
                                                    .remedy = "check the held lines"});
        pins.push_back(candidates[static_cast<size_t>(best)]);
        const Eigen::RowVectorXd direction = rows.row(best).normalized();
        rows -= (rows * direction.transpose()) * direction;
    }
    std::sort(pins.begin(), pins.end());
    return pins;
}

std::vector<double> at_points(const SparseColumns& columns, const std::vector<double>& dofs) {
    std::vector<double> values(static_cast<size_t>(columns.count()), 0);
    for (size_t c = 0; c < values.size(); ++c)
        for (int k = columns.start[c]; k < columns.start[c + 1]; ++k)
            values[c] += columns.value[static_cast<size_t>(k)] *
                         dofs[static_cast<size_t>(columns.dof[static_cast<size_t>(k)])];
    return values;
}

ModelPlan plan_model(const Piece& piece, bool with_wall_compliance, bool glued_too, bool coarse_beds) {
    ModelPlan plan{.plane = plane_of(piece),
                   .field = {},
                   .through_thickness_modulus = through_thickness_modulus(piece),
                   .supports = {},
                   .bars = {}};
    plan.field = thickness_field(piece, plan.plane, with_wall_compliance);
    plan.supports = plan_supports(piece, plan.field, plan.plane, plan.through_thickness_modulus, coarse_beds);
    plan.bars = plan_connections(piece, plan.field, plan.through_thickness_modulus, plan.plane.density * 1e9,
                                 glued_too);
    MeshWishes& wishes = plan.supports.wishes;
    wishes.attractors_x.insert(wishes.attractors_x.end(), plan.bars.wishes.attractors_x.begin(),
                               plan.bars.wishes.attractors_x.end());
    wishes.attractors_y.insert(wishes.attractors_y.end(), plan.bars.wishes.attractors_y.begin(),
                               plan.bars.wishes.attractors_y.end());
    plan.supports.assumptions.insert(plan.supports.assumptions.end(), plan.bars.assumptions.begin(),
                                     plan.bars.assumptions.end());
    plan.supports.warnings.insert(plan.supports.warnings.end(), plan.bars.warnings.begin(),
                                  plan.bars.warnings.end());
    for (const Load& load : piece.loads) { // a line load bends the top to a kink: a mesh line lets it
        const auto* line = std::get_if<LineLoad>(&load.kind);
        if (line && std::abs(line->from.x - line->to.x) < 1e-7) wishes.lines_x.push_back(line->from.x);
        if (line && std::abs(line->from.y - line->to.y) < 1e-7) wishes.lines_y.push_back(line->from.y);
    }
    return plan;
}

namespace {

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
    model.columns = std::make_shared<const TopColumns>(
        TopColumns{.of = model.bars.columns, .forces = forces_on_columns(model)});
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

double greatest_movement(std::span<const double> dofs) {
    double most = 0;
    for (size_t i = 2; i < dofs.size(); i += dofs_per_node) most = std::max(most, std::abs(dofs[i]));
    return most;
}

std::vector<double> work_on_rigid(const Model& model, std::span<const double> nodal) {
    std::vector<double> works;
    for (const std::vector<double>& mode : model.rigid)
        works.push_back(std::inner_product(mode.begin(), mode.end(), nodal.begin(), 0.0));
    return works;
}

ConnectionMovement movement_from_columns(const Model& model, const ConnectionSet& set,
                                         const std::vector<double>& at, double weight) {
    ConnectionMovement movement;
    for (const Connection& connection : set.connections) {
        double top = 0, bar = 0;
        for (const ConnectionShare& share : connection.top)
            top += share.share * at[static_cast<size_t>(share.column)];
        if (weight != 0 && connection.beam >= 0)
            bar = weight * moved_by_weight(bar_of(model, connection), connection.on_beam);
        const bool creeps = connection.beam >= 0 && bar_of(model, connection).creeps;
        movement.soft.push_back(top + (creeps ? bar : 0));
        movement.stiff.push_back((creeps ? 0 : bar) + connection.clearance);
    }
    return movement;
}

std::vector<double> rigid_at_connections(const Model& model, const ConnectionSet& set) {
    std::vector<double> columns;
    for (const std::vector<double>& at : model.columns->rigid_at) {
        for (const Connection& connection : set.connections) {
            double top = 0;
            for (const ConnectionShare& share : connection.top)
                top += share.share * at[static_cast<size_t>(share.column)];
            columns.push_back(top);
        }
    }
    const size_t n = set.connections.size(), first = columns.size();
    columns.resize(first + 6 * static_cast<size_t>(set.n_bars) * n, 0);
    for (size_t i = 0; i < n; ++i) {
        if (set.connections[i].beam < 0) continue;
        const std::array<double, 6> work =
            rigid_work(bar_of(model, set.connections[i]), set.connections[i].on_beam);
        for (size_t k = 0; k < 6; ++k)
            columns[first + (6 * static_cast<size_t>(set.connections[i].beam) + k) * n + i] = work[k];
    }
    return columns;
}

Resultant weight_of_bars(const Model& model) {
    Resultant total;
    for (const Beam& bar : model.bars.beams) {
        const double weight = bar.weight * bar.length;
        const Point at = bar.at(0, bar.section.y_c - bar.y_line);
        total.force += weight;
        total.x_moment += weight * at.x;
        total.y_moment += weight * at.y;
    }
    return total;
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

} // namespace

Model make_model(const Piece& piece, const ModelOptions& options) {
    Model model = make_unfactored_model(piece, options);
    model.rigid = free_rigid_motions(model.shell);
    model.pins = pins_for(model.shell, model.rigid);
    std::vector<int>& held = model.shell.stiffness.held;
    held.insert(held.end(), model.pins.begin(), model.pins.end());
    std::sort(held.begin(), held.end());
    try {
        model.factor.emplace(model.shell.stiffness, options.threads);
        held.clear();
    } catch (const PivotFailure& failure) {
        const Point p = model.shell.node_point(failure.dof / dofs_per_node);
        throw Error(ErrorKind::not_computable,
                    {.place = "top",
                     .what = "the stiffness is not positive near x " + materials::digits(p.x) + " mm, y " +
                             materials::digits(p.y) + " mm",
                     .remedy = "check thicknesses and elastic constants there"});
    }
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
        model.loads.push_back({.name = piece.loads[i].name,
                               .duration = piece.loads[i].duration,
                               .forces = std::move(forces),
                               .is_own_weight = false,
                               .judged_for = piece.loads[i].judged_for,
                               .points = std::move(points),
                               .resultant = {},
                               .pressed = std::move(pressed)});
    }
    move_by_loads(model);
    model.volume = volume_of(model.shell.field, model.shell.mesh);
    if (piece.self_weight) model.hollowed = hollowed_weight(model.shell);
    answer_columns(model);
    fill_compliance(model, model.connections);
    if (options.bonded) fill_compliance(model, model.bonded);
    return model;
}

} // namespace hollowtop
