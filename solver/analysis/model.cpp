// SPDX-License-Identifier: MIT
#include "solver/analysis/model.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/wood.hpp"

#include <Eigen/Core>
#include <Eigen/Eigenvalues>

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
                    for (const int a : {0, shell.order}) nodes.push_back(shell.node(i * shell.order + a, j * shell.order + b));
            }
        if (!nodes.empty()) break;
    }
    std::sort(nodes.begin(), nodes.end());
    nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
    return nodes;
}

} // namespace

double through_thickness_modulus(const Piece& piece) {
    if (piece.top.elastic) return piece.top.elastic->E2;
    const materials::PlaneConstants plane = materials::turned_by_rings(
        materials::wood_constants(materials::find_wood(piece.top.wood), piece.top.moisture_percent, piece.top.measured.E_along,
                                  piece.top.measured.density_kg_m3),
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
    const Eigen::SelfAdjointEigenSolver<Matrix6d> eigen(gram);
    const double greatest = eigen.eigenvalues()[5];
    std::vector<Vector6d> null_space;
    for (int k = 0; k < 6; ++k) {
        if (greatest > 0 && eigen.eigenvalues()[k] > 1e-10 * greatest) break;
        if (greatest > 0) null_space.push_back(eigen.eigenvectors().col(k));
        else null_space.push_back(Vector6d::Unit(k));
        // rounding must not turn a movement in the plane into one that a vertical load would drive
        const double least = 1e-9 * null_space.back().cwiseAbs().maxCoeff();
        null_space.back() = (null_space.back().array().abs() < least).select(0, null_space.back());
    }
    const int n_nodes = shell.nodes_x() * shell.stiffness.grid.nodes_y();
    std::vector<std::vector<double>> rigid(null_space.size(), std::vector<double>(static_cast<size_t>(n_nodes * dofs_per_node), 0));
    for (int node = 0; node < n_nodes; ++node) {
        const Eigen::Matrix<double, 5, 6> rows = motions.node_rows(node);
        for (size_t k = 0; k < null_space.size(); ++k) {
            const Eigen::Matrix<double, 5, 1> values = rows * null_space[k];
            for (int c = 0; c < dofs_per_node; ++c) rigid[k][static_cast<size_t>(node * dofs_per_node + c)] = values[c];
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
            if (!std::binary_search(shell.stiffness.held.begin(), shell.stiffness.held.end(), dof)) candidates.push_back(dof);
        }
    Eigen::MatrixXd rows(static_cast<Eigen::Index>(candidates.size()), m);
    for (size_t i = 0; i < candidates.size(); ++i)
        for (Eigen::Index k = 0; k < m; ++k)
            rows(static_cast<Eigen::Index>(i), k) = rigid[static_cast<size_t>(k)][static_cast<size_t>(candidates[i])];
    for (Eigen::Index k = 0; k < m; ++k) {
        Eigen::Index best = 0;
        rows.rowwise().squaredNorm().maxCoeff(&best);
        if (rows.row(best).norm() < 1e-9)
            throw Error(ErrorKind::not_computable, {.place = "supports", .what = "the top cannot be held in place", .remedy = "check the held lines"});
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
            values[c] += columns.value[static_cast<size_t>(k)] * dofs[static_cast<size_t>(columns.dof[static_cast<size_t>(k)])];
    return values;
}

Model make_unfactored_model(const Piece& piece, const ModelOptions& options) {
    const PlaneStiffness plane = plane_stiffness(elastic_of(piece), piece.top.grain_deg);
    const ThicknessField field = thickness_field(piece, plane, options.shell.soften_walls);
    const double E3 = through_thickness_modulus(piece);
    SupportPlan supports = plan_supports(piece, field, E3);
    for (const Load& load : piece.loads) { // a line load bends the top to a kink: a mesh line lets it
        const auto* line = std::get_if<LineLoad>(&load.kind);
        if (line && std::abs(line->from.x - line->to.x) < 1e-7) supports.wishes.lines_x.push_back(line->from.x);
        if (line && std::abs(line->from.y - line->to.y) < 1e-7) supports.wishes.lines_y.push_back(line->from.y);
    }
    Model model{.shell = make_shell(plane, field, supports.wishes, supports.held, options.shell),
                .supports = {}, .points = {}, .rigid = {}, .pins = {}, .factor = {}, .point_columns = {}, .flexibility = {}, .loads = {}, .moved = {}};
    model.supports = std::move(supports);
    model.points = model.supports.points;
    for (ContactPoint& point : knife_edge_points(piece, model.shell, E3)) model.points.push_back(point);
    for (const ContactPoint& point : model.points) append_tile_force(model.shell, point, model.point_columns);
    return model;
}

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
        throw Error(ErrorKind::not_computable, {.place = "top",
                     .what = "the stiffness is not positive near x " + materials::digits(p.x) + " mm, y " + materials::digits(p.y) + " mm",
                     .remedy = "check thicknesses and elastic constants there"});
    }
    model.flexibility = model.factor->flexibility(model.point_columns);
    if (piece.self_weight)
        model.loads.push_back({.name = "own weight", .duration = Duration::permanent, .forces = weight_forces(model.shell), .points = {}});
    for (size_t i = 0; i < piece.loads.size(); ++i) {
        std::vector<LoadPoint> points = load_points(model.shell, piece.loads[i], "loads[" + std::to_string(i) + "]");
        std::vector<double> forces = nodal_forces(model.shell, points);
        model.loads.push_back({.name = piece.loads[i].name,
                               .duration = piece.loads[i].duration,
                               .forces = std::move(forces),
                               .points = std::move(points)});
    }
    const auto n = static_cast<size_t>(model.factor->n_dofs());
    std::vector<double> columns;
    columns.reserve(n * model.loads.size());
    for (const LoadColumn& load : model.loads) columns.insert(columns.end(), load.forces.begin(), load.forces.end());
    model.factor->solve(columns, static_cast<int>(model.loads.size()));
    for (size_t k = 0; k < model.loads.size(); ++k)
        model.moved.emplace_back(columns.begin() + static_cast<std::ptrdiff_t>(k * n), columns.begin() + static_cast<std::ptrdiff_t>((k + 1) * n));
    return model;
}

} // namespace hollowtop
