// SPDX-License-Identifier: MIT
#include "solver/shell/leaves.hpp"

#include "solver/numeric/quadrature.hpp"
#include "solver/numeric/symmetric_eigen.hpp"
#include "solver/section/wall_along.hpp"
#include "solver/section/wall_submodel.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace hollowtop {
namespace {

/// Which nodes of leaves are one: union-find over (node of the grid, leaf).
class OneNode {
  public:
    int number_of(int node, int leaf) {
        const auto [found, is_new] = number_.try_emplace({node, leaf}, static_cast<int>(parent_.size()));
        if (is_new) parent_.push_back(found->second);
        return found->second;
    }
    int root_of(int k) {
        while (parent_[static_cast<size_t>(k)] != k) k = parent_[static_cast<size_t>(k)];
        return k;
    }
    void join(int node, int a, int b) {
        const int i = root_of(number_of(node, a)), j = root_of(number_of(node, b));
        parent_[static_cast<size_t>(std::max(i, j))] = std::min(i, j);
    }
    /// By node, then by leaf.
    const std::map<std::pair<int, int>, int>& all() const { return number_; }

  private:
    std::map<std::pair<int, int>, int> number_{};
    std::vector<int> parent_{};
};

bool holds(const std::vector<int>& leaves, int leaf) {
    return std::binary_search(leaves.begin(), leaves.end(), leaf);
}

/// Shows `see` the leaves on the low and the high side of each stretch of a mesh line between two cells that no seam
/// crosses.
template <class See> void each_stretch(const ThicknessField& field, bool along_x, double at, double from,
                                       double to, const See& see) {
    std::vector<double> breaks{from, to};
    const Rectangle box = along_x ? Rectangle{from, to, at, at} : Rectangle{at, at, from, to};
    any_near(field.seams_by_place, box, [&](int k) {
        const EdgePiece& piece = field.seams[static_cast<size_t>(k)].piece;
        if (const auto v = along_x ? x_at(piece, at) : y_at(piece, at); v && *v > from && *v < to)
            breaks.push_back(*v);
        for (const Point end : {piece.a, piece.b})
            if (const double v = along_x ? end.x : end.y; v > from && v < to) breaks.push_back(v);
        return false;
    });
    std::sort(breaks.begin(), breaks.end());
    const double least = 1e-6 * (to - from);
    for (size_t b = 0; b + 1 < breaks.size(); ++b) {
        if (breaks[b + 1] - breaks[b] < least) continue;
        const double middle = (breaks[b] + breaks[b + 1]) / 2, step = 0.1 * least;
        const auto leaf = [&](double side) {
            return leaf_at(field,
                           along_x ? Point{middle, at + side * step} : Point{at + side * step, middle});
        };
        see(leaf(-1), leaf(1));
    }
}

} // namespace

void number_leaves(Shell& shell) {
    const Mesh& mesh = shell.mesh;
    if (mesh.leaves.empty()) return;
    const int p = shell.order, nx = mesh.nx(), ny = mesh.ny();
    CellGrid& grid = shell.stiffness.grid;
    const auto leaves_of = [&](int i, int j) -> const std::vector<int>& {
        return mesh.leaves[static_cast<size_t>(j * nx + i)];
    };
    OneNode nodes;
    for (int j = 0; j < ny; ++j)
        for (int i = 0; i < nx; ++i)
            for (const int leaf : leaves_of(i, j))
                for (int b = 0; b <= p; ++b)
                    for (int a = 0; a <= p; ++a) nodes.number_of(shell.node(i * p + a, j * p + b), leaf);
    const auto join_along = [&](int i, int j, bool along_x) { // the mesh line above or to the right of a cell
        const int i2 = along_x ? i : i + 1, j2 = along_x ? j + 1 : j;
        if (i2 >= nx || j2 >= ny) return;
        const std::vector<int>&low = leaves_of(i, j), &high = leaves_of(i2, j2);
        if (low.empty() || high.empty() || (low == high && low.size() == 1)) return;
        const Cell& cell = mesh.cell(i, j);
        const auto join = [&](int a, int b) {
            if (a == b || !holds(low, a) || !holds(high, b)) return;
            for (int k = 0; k <= p; ++k)
                nodes.join(along_x ? shell.node(i * p + k, j2 * p) : shell.node(i2 * p, j * p + k), a, b);
        };
        if (low.size() == 1 && high.size() == 1)
            join(low.front(), high.front());
        else if (along_x)
            each_stretch(shell.field, true, cell.y1, cell.x0, cell.x1, join);
        else
            each_stretch(shell.field, false, cell.x1, cell.y0, cell.y1, join);
    };
    for (int j = 0; j < ny; ++j)
        for (int i = 0; i < nx; ++i)
            for (const bool along_x : {true, false}) join_along(i, j, along_x);

    // of the nodes at one place, that of the leaf which the place lies in is the grid's
    std::map<int, int> node_of_root;
    std::vector<int> root_at(static_cast<size_t>(grid.n_grid_nodes()), -1);
    for (const auto& [key, number] : nodes.all()) {
        int& root = root_at[static_cast<size_t>(key.first)];
        if (root < 0 || leaf_at(shell.field, shell.node_point(key.first)) == key.second)
            root = nodes.root_of(number);
    }
    for (const auto& [key, number] : nodes.all()) {
        const int root = nodes.root_of(number);
        if (node_of_root.contains(root)) continue;
        if (root_at[static_cast<size_t>(key.first)] == root) {
            node_of_root.emplace(root, key.first);
        } else {
            node_of_root.emplace(root, grid.n_nodes());
            grid.more_nodes.push_back(key.first);
        }
    }
    shell.leaves.resize(mesh.cells.size());
    grid.cell_nodes.resize(mesh.cells.size());
    for (int j = 0; j < ny; ++j)
        for (int i = 0; i < nx; ++i) {
            const std::vector<int>& leaves = leaves_of(i, j);
            std::vector<CellLeaf> of_cell;
            std::vector<int> list;
            bool is_plain = leaves.size() == 1;
            for (const int leaf : leaves) {
                CellLeaf own{.leaf = leaf, .nodes = {}, .local = {}};
                for (int b = 0; b <= p; ++b)
                    for (int a = 0; a <= p; ++a) {
                        const int place = shell.node(i * p + a, j * p + b),
                                  node = node_of_root.at(nodes.root_of(nodes.number_of(place, leaf)));
                        is_plain = is_plain && node == place;
                        const auto found = std::find(list.begin(), list.end(), node);
                        own.nodes.push_back(node);
                        own.local.push_back(static_cast<int>(found - list.begin()));
                        if (found == list.end()) list.push_back(node);
                    }
                of_cell.push_back(std::move(own));
            }
            if (is_plain || leaves.empty()) continue;
            const auto c = static_cast<size_t>(j * nx + i);
            shell.leaves[c] = std::move(of_cell);
            grid.cell_nodes[c] = std::move(list);
        }
}

namespace {

/// A symmetric matrix of compliances, each times the two scales of its row and column, with no eigenvalue under `least`;
/// inverted.
template <int n> Eigen::Matrix<double, n, n> stiffness_of(const Eigen::Matrix<double, n, n>& compliance,
                                                          const Eigen::Matrix<double, n, 1>& scale,
                                                          double least) {
    const Eigen::Matrix<double, n, n> scaled = scale.asDiagonal() * compliance * scale.asDiagonal();
    const SymmetricEigen eigen = symmetric_eigen({scaled.data(), static_cast<size_t>(n) * n}, n);
    Eigen::Matrix<double, n, n> inverse = Eigen::Matrix<double, n, n>::Zero();
    for (int k = 0; k < n; ++k) {
        const Eigen::Map<const Eigen::Matrix<double, n, 1>> vector(eigen.vectors.data() + k * n);
        inverse += vector * vector.transpose() / std::max(eigen.values[static_cast<size_t>(k)], least);
    }
    return scale.asDiagonal() * inverse * scale.asDiagonal();
}

} // namespace

std::array<double, 25> seam_stiffness(const Shell& shell, const Seam& seam, Point across, double skin) {
    using Matrix3d = Eigen::Matrix3d;
    using Matrix2d = Eigen::Matrix2d;
    const PlaneStiffness& plane = shell.plane;
    Matrix3d square = Matrix3d::Zero(); // pull, moment about the skin's axis, shear
    Matrix2d along = Matrix2d::Zero();  // shear flow, twist
    double least = 1e-4 * skin;
    if (seam.wall >= 0) {
        const Wall& wall = shell.field.walls[static_cast<size_t>(seam.wall)];
        const Matrix3 X =
            wall.straight
                ? wall_submodel(plane, wall.thick, wall.skin_along, wall.root_radius, across)->extra
                : curved_wall_compliance(plane, wall.thick, wall.skin_along, wall.root_radius, across);
        for (Eigen::Index i = 0; i < 3; ++i)
            for (Eigen::Index j = 0; j < 3; ++j) square(i, j) = X[static_cast<size_t>(3 * i + j)];
        constexpr double at_the_wall = 1e-3; // of the thickness: the zone that it would be spread over
        const AlongCompliance Y =
            wall_along(plane, wall.thick, wall.skin_along, across, at_the_wall * wall.thick);
        along << Y.NN, Y.NM, Y.NM, Y.MM;
        least = 0.01 * wall.thick;
    }
    const double E = modulus_along(plane, across), G = shear_modulus_along(plane, across);
    const auto [G_flow, G_through] = shear_along(plane, across);
    const double turn = skin * std::sqrt(skin / 12);
    const Matrix3d K = stiffness_of<3>(
        square, {std::sqrt(E * skin), std::sqrt(E) * turn, std::sqrt(5.0 / 6 * G * skin)}, least);
    const Matrix2d K_along =
        stiffness_of<2>(along, {std::sqrt(G_flow * skin), std::sqrt(G_flow) * turn}, least);
    // jumps of the skin's axis from those of the reference surface
    const double z = shell.reference_depth - skin / 2;
    const Point n = across, t{-across.y, across.x};
    Eigen::Matrix<double, 3, 5> to_square;
    to_square << n.x, n.y, 0, z * n.x, z * n.y, //
        0, 0, 0, n.x, n.y,                      //
        0, 0, 1, 0, 0;
    Eigen::Matrix<double, 2, 5> to_along;
    to_along << t.x, t.y, 0, z * t.x, z * t.y, //
        0, 0, 0, t.x, t.y;
    const Eigen::Matrix<double, 5, 5> total =
        to_square.transpose() * K * to_square + to_along.transpose() * K_along * to_along;
    std::array<double, 25> stiffness{};
    Eigen::Map<Eigen::Matrix<double, 5, 5>>(stiffness.data()) = (total + total.transpose()) / 2;
    return stiffness;
}

namespace {

/// The stretches of a piece inside a cell, as shares of its length (of an arc's turn).
std::vector<std::pair<double, double>> stretches_in(const EdgePiece& piece, const Cell& cell) {
    std::vector<double> breaks{0, 1};
    const double turn = piece.is_arc ? turn_of(piece) : 0;
    const auto share_of = [&](Point at) {
        if (!piece.is_arc) {
            const double dx = piece.b.x - piece.a.x, dy = piece.b.y - piece.a.y;
            return ((at.x - piece.a.x) * dx + (at.y - piece.a.y) * dy) / (dx * dx + dy * dy);
        }
        const auto angle = [&](Point q) {
            return std::atan2((q.y - piece.centre.y) / piece.ry, (q.x - piece.centre.x) / piece.rx);
        };
        return std::remainder(angle(at) - angle(piece.a), 2 * std::acos(-1.0)) / turn;
    };
    const auto add = [&](Point at) {
        if (const double s = share_of(at); s > 0 && s < 1) breaks.push_back(s);
    };
    for (const double x : {cell.x0, cell.x1})
        if (const auto y = y_at(piece, x)) add({x, *y});
    for (const double y : {cell.y0, cell.y1})
        if (const auto x = x_at(piece, y)) add({*x, y});
    std::sort(breaks.begin(), breaks.end());
    std::vector<std::pair<double, double>> stretches;
    for (size_t b = 0; b + 1 < breaks.size(); ++b) {
        if (breaks[b + 1] - breaks[b] < 1e-10) continue;
        const Point middle = point_on(piece, (breaks[b] + breaks[b + 1]) / 2);
        if (middle.x > cell.x0 && middle.x < cell.x1 && middle.y > cell.y0 && middle.y < cell.y1)
            stretches.emplace_back(breaks[b], breaks[b + 1]);
    }
    return stretches;
}

struct Joint {
    Point at, across; ///< across: from the thin side to the thick
    double weight = 0;
    const CellLeaf *thin = nullptr, *thick = nullptr;
    double skin = 0;
};

/// Does a wall yield at the point already? An edge that two recesses share may be listed twice.
bool has_wall_at(const ThicknessField& field, Point at) {
    constexpr double near = 1e-6; // mm
    return any_near(field.seams_by_place, {at.x - near, at.x + near, at.y - near, at.y + near}, [&](int k) {
        const Seam& seam = field.seams[static_cast<size_t>(k)];
        return seam.wall >= 0 && nearest_on(seam.piece, at).distance < near;
    });
}

/// Points along the seam in a cell, with the leaves on its two sides.
std::vector<Joint> joints_of(const Shell& shell, const Seam& seam, int index) {
    const Cell& cell = shell.mesh.cells[static_cast<size_t>(index)];
    const std::vector<CellLeaf>& leaves = shell.leaves[static_cast<size_t>(index)];
    const auto leaf_with = [&](int leaf) -> const CellLeaf* {
        for (const CellLeaf& one : leaves)
            if (one.leaf == leaf) return &one;
        return nullptr;
    };
    // a product of two polynomials has degree 4 p along a line aslant
    const Rule& rule = gauss_rule(2 * shell.order + 1);
    const double turn = seam.piece.is_arc ? turn_of(seam.piece) : 0;
    std::vector<Joint> joints;
    for (const auto& [from, to] : stretches_in(seam.piece, cell))
        for (size_t q = 0; q < rule.points.size(); ++q) {
            const double share = from + (to - from) * (1 + rule.points[q]) / 2;
            const Point at = point_on(seam.piece, share);
            double speed = std::hypot(seam.piece.b.x - seam.piece.a.x, seam.piece.b.y - seam.piece.a.y);
            if (seam.piece.is_arc) {
                const double cosine = (at.x - seam.piece.centre.x) / seam.piece.rx,
                             sine = (at.y - seam.piece.centre.y) / seam.piece.ry;
                speed = std::abs(turn) * std::hypot(seam.piece.rx * sine, seam.piece.ry * cosine);
            }
            const Point outward = nearest_on(seam.piece, at).outward;
            const double step = 1e-6 * shell.field.thickness;
            const Point out{at.x + step * outward.x, at.y + step * outward.y},
                in{at.x - step * outward.x, at.y - step * outward.y};
            const CellLeaf* const leaf_out = leaf_with(leaf_at(shell.field, out));
            const CellLeaf* const leaf_in = leaf_with(leaf_at(shell.field, in));
            const int region_out = region_at(shell.field, out), region_in = region_at(shell.field, in);
            if (leaf_out == nullptr || leaf_in == nullptr || leaf_out == leaf_in || region_out == outside ||
                region_in == outside || (seam.wall < 0 && has_wall_at(shell.field, at)))
                continue;
            const double h_out = local_thickness(shell.field, region_out, at),
                         h_in = local_thickness(shell.field, region_in, at);
            // what yields at a wall is of the board that it stands in
            const double share_of_board = stiffness_share(shell.field, {.board = board_at(shell.field, at)});
            const bool thick_is_out = h_out >= h_in;
            const double sense = thick_is_out ? 1 : -1;
            joints.push_back({.at = at,
                              .across = {sense * outward.x, sense * outward.y},
                              .weight = rule.weights[q] / 2 * (to - from) * speed * share_of_board,
                              .thin = thick_is_out ? leaf_in : leaf_out,
                              .thick = thick_is_out ? leaf_out : leaf_in,
                              .skin = std::min(h_out, h_in)});
        }
    return joints;
}

} // namespace

void add_seams(const Shell& shell, int index, std::vector<double>& matrix) {
    const Cell& cell = shell.mesh.cells[static_cast<size_t>(index)];
    const auto size = static_cast<size_t>(shell.stiffness.grid.element_size(index));
    const auto nodes = static_cast<Eigen::Index>((shell.order + 1) * (shell.order + 1));
    Eigen::Map<Eigen::MatrixXd> K(matrix.data(), static_cast<Eigen::Index>(size),
                                  static_cast<Eigen::Index>(size));
    BasisAt basis;
    any_near(shell.field.seams_by_place, {cell.x0, cell.x1, cell.y0, cell.y1}, [&](int k) {
        const Seam& seam = shell.field.seams[static_cast<size_t>(k)];
        const std::vector<Joint> joints = joints_of(shell, seam, index);
        // a straight wall resists alike all along: one sum for all that stand between the same leaves
        const bool alike = !seam.piece.is_arc && seam.wall >= 0 && !is_uneven(shell.field, full_thickness);
        for (size_t first = 0, next = 0; first < joints.size(); first = next) {
            const Joint& joint = joints[first];
            next = first + 1;
            while (alike && next < joints.size() && joints[next].thin == joint.thin &&
                   joints[next].thick == joint.thick)
                ++next;
            Eigen::MatrixXd values(nodes, static_cast<Eigen::Index>(next - first));
            Eigen::VectorXd weights(values.cols());
            for (size_t q = first; q < next; ++q) {
                const auto column = static_cast<Eigen::Index>(q - first);
                basis_at(cell, shell.order, joints[q].at.x, joints[q].at.y, basis);
                values.col(column) = Eigen::Map<const Eigen::VectorXd>(basis.value.data(), nodes);
                weights[column] = joints[q].weight;
            }
            const Eigen::MatrixXd products = values * weights.asDiagonal() * values.transpose();
            const double skin =
                seam.wall >= 0 ? shell.field.walls[static_cast<size_t>(seam.wall)].skin_along : joint.skin;
            const std::array<double, 25> stiffness = seam_stiffness(shell, seam, joint.across, skin);
            const Eigen::Map<const Eigen::Matrix<double, dofs_per_node, dofs_per_node>> of_jumps(
                stiffness.data());
            // jump = thick - thin
            const std::array<std::pair<const CellLeaf*, double>, 2> sides{
                {{joint.thick, 1.0}, {joint.thin, -1.0}}};
            for (const auto& [leaf_j, sign_j] : sides)
                for (const auto& [leaf_i, sign_i] : sides)
                    for (Eigen::Index b = 0; b < nodes; ++b)
                        for (Eigen::Index a = 0; a < nodes; ++a)
                            K.block<dofs_per_node, dofs_per_node>(
                                leaf_i->local[static_cast<size_t>(a)] * dofs_per_node,
                                leaf_j->local[static_cast<size_t>(b)] * dofs_per_node) +=
                                (sign_i * sign_j * products(a, b)) * of_jumps;
        }
        return false;
    });
}

} // namespace hollowtop
