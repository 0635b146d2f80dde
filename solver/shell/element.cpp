// SPDX-License-Identifier: MIT
#include "solver/shell/element.hpp"

#include "solver/numeric/quadrature.hpp"

#include <Eigen/Core>

#include <map>

namespace hollowtop {
namespace {

/// Which displacement enters which strain, by which derivative.
/// Strains: e_x e_y e_xy k_x k_y k_xy gamma_xz gamma_yz; displacements u v w bx by.
struct Term {
    int strain, component, kind;
};
constexpr int by_x = 0, by_y = 1, by_value = 2;
constexpr Term terms[] = {
    {0, 0, by_x}, {1, 1, by_y},     {2, 0, by_y}, {2, 1, by_x},    // stretching
    {3, 3, by_x}, {4, 4, by_y},     {5, 3, by_y}, {5, 4, by_x},    // bending
    {6, 2, by_x}, {6, 3, by_value}, {7, 2, by_y}, {7, 4, by_value} // transverse shear
};

double coefficient(const Section& section, int i, int j) {
    if (i < 6 && j < 6) return section.C[static_cast<size_t>(6 * i + j)];
    if (i >= 6 && j >= 6) return section.S[static_cast<size_t>(2 * (i - 6) + j - 6)];
    return i < 6 ? section.cross[static_cast<size_t>(2 * i + j - 6)]
                 : section.cross[static_cast<size_t>(2 * j + i - 6)];
}

/// One-dimensional integrals on a line of length `length`: value-value, slope-value, slope-slope.
struct LineIntegrals {
    std::vector<double> vv, sv, ss; // (p+1)^2, [i * n + j]
};
LineIntegrals line_integrals(int order, double length) {
    const auto n = static_cast<size_t>(order + 1);
    LineIntegrals m{std::vector<double>(n * n), std::vector<double>(n * n), std::vector<double>(n * n)};
    const Rule& rule = gauss_rule(order + 1);
    for (size_t q = 0; q < rule.points.size(); ++q) {
        const Basis1d b = lagrange_basis(order, rule.points[q]);
        const double w = rule.weights[q];
        for (size_t i = 0; i < n; ++i) {
            for (size_t j = 0; j < n; ++j) {
                m.vv[i * n + j] += w * b.value[i] * b.value[j] * length / 2;
                m.sv[i * n + j] += w * b.slope[i] * b.value[j];
                m.ss[i * n + j] += w * b.slope[i] * b.slope[j] * 2 / length;
            }
        }
    }
    return m;
}

} // namespace

ScalarMatrices scalar_matrices(const Cell& cell, int order) {
    const auto n = static_cast<size_t>(order + 1), size = n * n;
    const LineIntegrals x = line_integrals(order, cell.x1 - cell.x0),
                        y = line_integrals(order, cell.y1 - cell.y0);
    ScalarMatrices m;
    for (auto& row : m.of)
        for (auto& matrix : row) matrix.assign(size * size, 0);
    for (size_t bj = 0; bj < n; ++bj)
        for (size_t aj = 0; aj < n; ++aj)
            for (size_t bi = 0; bi < n; ++bi)
                for (size_t ai = 0; ai < n; ++ai) {
                    const size_t at = (bj * n + aj) * size + bi * n + ai;
                    const size_t ax = ai * n + aj, tx = aj * n + ai, ay = bi * n + bj, ty = bj * n + bi;
                    m.of[0][0][at] = x.ss[ax] * y.vv[ay];
                    m.of[1][1][at] = x.vv[ax] * y.ss[ay];
                    m.of[2][2][at] = x.vv[ax] * y.vv[ay];
                    m.of[0][1][at] = x.sv[ax] * y.sv[ty];
                    m.of[1][0][at] = x.sv[tx] * y.sv[ay];
                    m.of[0][2][at] = x.sv[ax] * y.vv[ay];
                    m.of[2][0][at] = x.sv[tx] * y.vv[ay];
                    m.of[1][2][at] = x.vv[ax] * y.sv[ay];
                    m.of[2][1][at] = x.vv[ax] * y.sv[ty];
                }
    return m;
}

namespace {

/// Point by point: what costs least for a few.
ScalarMatrices sums_over(const Cell& cell, int order, std::span<const QuadraturePoint> points) {
    const int size = (order + 1) * (order + 1);
    Eigen::MatrixXd rows[3];
    for (auto& r : rows) r.resize(size, static_cast<Eigen::Index>(points.size()));
    Eigen::VectorXd weights(static_cast<Eigen::Index>(points.size()));
    BasisAt basis;
    for (size_t q = 0; q < points.size(); ++q) {
        basis_at(cell, order, points[q].x, points[q].y, basis);
        const auto column = static_cast<Eigen::Index>(q);
        rows[0].col(column) = Eigen::Map<const Eigen::VectorXd>(basis.dx.data(), size);
        rows[1].col(column) = Eigen::Map<const Eigen::VectorXd>(basis.dy.data(), size);
        rows[2].col(column) = Eigen::Map<const Eigen::VectorXd>(basis.value.data(), size);
        weights[column] = points[q].weight;
    }
    ScalarMatrices m;
    for (int i = 0; i < 3; ++i) {
        const Eigen::MatrixXd weighted = rows[i] * weights.asDiagonal();
        for (int j = i; j < 3; ++j) {
            m.of[i][j].resize(static_cast<size_t>(size * size));
            Eigen::Map<Eigen::MatrixXd> upper(m.of[i][j].data(), size, size);
            upper.noalias() = weighted * rows[j].transpose();
            if (i == j) continue;
            m.of[j][i].resize(static_cast<size_t>(size * size));
            Eigen::Map<Eigen::MatrixXd>(m.of[j][i].data(), size, size) = upper.transpose();
        }
    }
    return m;
}

/// The places of a line that tell a product of two of its polynomials, of degree 2 `order`, by its values there.
const std::vector<double>& telling_places(int order) { return lobatto_rule(2 * order + 1).points; }

/// 1 over the product of the distances from each place to the others.
std::vector<double> scales_of(const std::vector<double>& places) {
    std::vector<double> scales;
    for (size_t k = 0; k < places.size(); ++k) {
        double product = 1;
        for (size_t m = 0; m < places.size(); ++m)
            if (m != k) product *= places[k] - places[m];
        scales.push_back(1 / product);
    }
    return scales;
}

/// The polynomials that are one at one of the places and nought at the others, at xi.
void fill_at(const std::vector<double>& places, const std::vector<double>& scales, double xi,
             Eigen::VectorXd& values) {
    double before = 1;
    for (size_t k = 0; k < places.size(); ++k) {
        values[static_cast<Eigen::Index>(k)] = before * scales[k];
        before *= xi - places[k];
    }
    double after = 1;
    for (size_t k = places.size(); k-- > 0;) {
        values[static_cast<Eigen::Index>(k)] *= after;
        after *= xi - places[k];
    }
}

/// Weights at the pairs of places, x down and y across, that integrate whatever has degree 2 `order` in x and in y as
/// the points do: of each the sum of the polynomial that is one there (Lagrange's interpolation is exact for such).
Eigen::MatrixXd weights_at_places(const Cell& cell, int order, std::span<const QuadraturePoint> points) {
    const std::vector<double>& places = telling_places(order);
    const std::vector<double> scales = scales_of(places);
    const auto n = static_cast<Eigen::Index>(places.size());
    const double to_xi = 2 / (cell.x1 - cell.x0), to_eta = 2 / (cell.y1 - cell.y0);
    Eigen::MatrixXd weights = Eigen::MatrixXd::Zero(n, n);
    Eigen::VectorXd on_x(n), on_y(n), sum(n);
    for (size_t first = 0, next = 0; first < points.size(); first = next) {
        // points follow one another along the lines of a sweep: one sum for those with the same x, or the same y
        next = first + 1;
        const auto is_on = [&](bool along_y) {
            return next < points.size() &&
                   (along_y ? points[next].x == points[first].x : points[next].y == points[first].y);
        };
        const bool along_y = is_on(true);
        while (is_on(along_y)) ++next;
        sum.setZero();
        for (size_t q = first; q < next; ++q) {
            if (along_y)
                fill_at(places, scales, (points[q].y - cell.y0) * to_eta - 1, on_y);
            else
                fill_at(places, scales, (points[q].x - cell.x0) * to_xi - 1, on_x);
            sum += points[q].weight * (along_y ? on_y : on_x);
        }
        if (along_y) {
            fill_at(places, scales, (points[first].x - cell.x0) * to_xi - 1, on_x);
            weights.noalias() += on_x * sum.transpose();
        } else {
            fill_at(places, scales, (points[first].y - cell.y0) * to_eta - 1, on_y);
            weights.noalias() += sum * on_y.transpose();
        }
    }
    return weights;
}

/// Products of two polynomials of a line of that length at its telling places, a row for each pair (i, j), i first:
/// value-value, slope-value, value-slope, slope-slope.
struct LineProducts {
    Eigen::MatrixXd vv, sv, vs, ss;
};
LineProducts line_products(int order, double length) {
    const std::vector<double>& places = telling_places(order);
    const auto n = static_cast<Eigen::Index>(order + 1), count = static_cast<Eigen::Index>(places.size());
    LineProducts at{.vv = Eigen::MatrixXd(n * n, count),
                    .sv = Eigen::MatrixXd(n * n, count),
                    .vs = Eigen::MatrixXd(n * n, count),
                    .ss = Eigen::MatrixXd(n * n, count)};
    for (Eigen::Index k = 0; k < count; ++k) {
        const Basis1d basis = lagrange_basis(order, places[static_cast<size_t>(k)]);
        const Eigen::Map<const Eigen::VectorXd> value(basis.value.data(), n);
        const Eigen::VectorXd slope = Eigen::Map<const Eigen::VectorXd>(basis.slope.data(), n) * (2 / length);
        for (Eigen::Index j = 0; j < n; ++j) {
            at.vv.col(k).segment(j * n, n) = value * value[j];
            at.sv.col(k).segment(j * n, n) = slope * value[j];
            at.vs.col(k).segment(j * n, n) = value * slope[j];
            at.ss.col(k).segment(j * n, n) = slope * slope[j];
        }
    }
    return at;
}

/// The same integrals from weights_at_places: the sums over x and over y one after the other.
ScalarMatrices sums_at_places(const Cell& cell, int order, const Eigen::MatrixXd& weights) {
    const auto n = static_cast<size_t>(order + 1), size = n * n;
    const LineProducts x = line_products(order, cell.x1 - cell.x0),
                       y = line_products(order, cell.y1 - cell.y0);
    ScalarMatrices m;
    const auto fill = [&](int i, int j, const Eigen::MatrixXd& along_x, const Eigen::MatrixXd& along_y) {
        const Eigen::MatrixXd sums =
            along_x * (weights * along_y.transpose()); // pairs in x against pairs in y
        std::vector<double>& to = m.of[i][j];
        to.resize(size * size);
        for (size_t bj = 0; bj < n; ++bj)
            for (size_t aj = 0; aj < n; ++aj)
                for (size_t bi = 0; bi < n; ++bi)
                    for (size_t ai = 0; ai < n; ++ai)
                        to[(bj * n + aj) * size + bi * n + ai] = sums(static_cast<Eigen::Index>(aj * n + ai),
                                                                      static_cast<Eigen::Index>(bj * n + bi));
        if (i == j) return;
        m.of[j][i].resize(size * size);
        const auto side = static_cast<Eigen::Index>(size);
        Eigen::Map<Eigen::MatrixXd>(m.of[j][i].data(), side, side) =
            Eigen::Map<const Eigen::MatrixXd>(to.data(), side, side).transpose();
    };
    fill(by_x, by_x, x.ss, y.vv);
    fill(by_y, by_y, x.vv, y.ss);
    fill(by_value, by_value, x.vv, y.vv);
    fill(by_x, by_y, x.sv, y.vs);
    fill(by_x, by_value, x.sv, y.vv);
    fill(by_y, by_value, x.vv, y.sv);
    return m;
}

} // namespace

ScalarMatrices scalar_matrices(const Cell& cell, int order, std::span<const QuadraturePoint> points) {
    constexpr size_t few = 24;
    if (points.size() <= few) return sums_over(cell, order, points);
    return sums_at_places(cell, order, weights_at_places(cell, order, points));
}

void add_stiffness(const ScalarMatrices& integrals, const Section& section, double share, int order,
                   std::vector<double>& matrix) {
    const auto nodes = static_cast<size_t>((order + 1) * (order + 1)), size = nodes * dofs_per_node;
    // coefficients of each pair of components, by the kinds of derivative
    double c[dofs_per_node][dofs_per_node][3][3] = {};
    for (const Term& s : terms)
        for (const Term& t : terms)
            c[s.component][t.component][s.kind][t.kind] += share * coefficient(section, s.strain, t.strain);
    for (size_t i = 0; i < dofs_per_node; ++i) {
        for (size_t j = 0; j < dofs_per_node; ++j) {
            for (size_t k = 0; k < 3; ++k) {
                for (size_t l = 0; l < 3; ++l) {
                    const double factor = c[i][j][k][l];
                    if (factor == 0) continue;
                    const double* scalar = integrals.of[k][l].data();
                    for (size_t nj = 0; nj < nodes; ++nj) {
                        double* column = matrix.data() + (nj * dofs_per_node + j) * size + i;
                        const double* from = scalar + nj * nodes;
                        for (size_t ni = 0; ni < nodes; ++ni) column[ni * dofs_per_node] += factor * from[ni];
                    }
                }
            }
        }
    }
}

namespace {
std::map<SectionRegion, std::vector<QuadraturePoint>> by_place(std::span<const QuadraturePoint> points) {
    std::map<SectionRegion, std::vector<QuadraturePoint>> groups;
    for (const QuadraturePoint& q : points) groups[q.place].push_back(q);
    return groups;
}
} // namespace

std::array<double, 3> shares_at(double thickness, double middle) {
    const double r = thickness / middle; // Lagrange through 0, 0.5, 1, 1.5, without that of 0
    return {4 * r * (r - 1) * (r - 1.5), -4 * r * (r - 0.5) * (r - 1.5), 4 * r * (r - 0.5) * (r - 1) / 3};
}

std::array<double, 3> parabola_shares_at(double thickness, double middle, double spread) {
    const double s = (thickness / middle - 1) / spread;
    return {s * (s - 1) / 2, (1 - s) * (1 + s), s * (s + 1) / 2};
}

namespace {
/// Shows `see` the points of an uneven skin with weights for each of its three sections, which it names.
template <class See>
void each_section(const UnevenSkin& skin, std::vector<QuadraturePoint> points, const See& see) {
    std::vector<double> weights;
    std::vector<std::array<double, 3>> shares;
    for (const QuadraturePoint& q : points) {
        weights.push_back(q.weight);
        const double h = skin.thickness({q.x, q.y});
        shares.push_back(skin.beside_wall ? parabola_shares_at(h, skin.middle, skin.spread)
                                          : shares_at(h, skin.middle));
    }
    for (size_t k = 0; k < skin.sections.size(); ++k) {
        for (size_t q = 0; q < points.size(); ++q) points[q].weight = weights[q] * shares[q][k];
        see(skin.sections[k], points);
    }
}
} // namespace

std::vector<double> element_stiffness(const Cell& cell, int order, std::span<const QuadraturePoint> points,
                                      const SectionOf& section_of, const Section& stand_in,
                                      const UnevenOf& uneven_of) {
    const auto size = static_cast<size_t>((order + 1) * (order + 1) * dofs_per_node);
    std::vector<double> matrix(size * size, 0);
    if (!cell.cut && !cell.uneven) {
        add_stiffness(scalar_matrices(cell, order), section_of(cell.place), 1, order, matrix);
    } else {
        for (const auto& [place, group] : by_place(points)) {
            if (const UnevenSkin* skin = uneven_of ? uneven_of(place) : nullptr) {
                each_section(
                    *skin, group, [&](const Section& section, const std::vector<QuadraturePoint>& weighted) {
                        add_stiffness(scalar_matrices(cell, order, weighted), section, 1, order, matrix);
                    });
                continue;
            }
            const ScalarMatrices integrals = scalar_matrices(cell, order, group);
            if (place.region == outside)
                add_stiffness(integrals, stand_in, void_share, order, matrix);
            else
                add_stiffness(integrals, section_of(place), 1, order, matrix);
        }
    }
    for (size_t j = 0; j < size; ++j)
        for (size_t i = 0; i < j; ++i)
            matrix[j * size + i] = matrix[i * size + j] = (matrix[j * size + i] + matrix[i * size + j]) / 2;
    return matrix;
}

ElementMass element_mass(const Cell& cell, int order, std::span<const QuadraturePoint> points,
                         const SectionOf& section_of, const UnevenOf& uneven_of) {
    ElementMass element;
    if (!cell.cut && !cell.uneven) {
        element.value_integrals.push_back(std::move(scalar_matrices(cell, order).of[2][2]));
        element.mass.push_back(section_of(cell.place).mass);
        return element;
    }
    const auto add = [&](const Section& section, const std::vector<QuadraturePoint>& group) {
        element.value_integrals.push_back(std::move(scalar_matrices(cell, order, group).of[2][2]));
        element.mass.push_back(section.mass);
    };
    for (const auto& [place, group] : by_place(points)) {
        if (place.region == outside) continue;
        if (const UnevenSkin* skin = uneven_of ? uneven_of(place) : nullptr)
            each_section(*skin, group, add);
        else
            add(section_of(place), group);
    }
    return element;
}

void apply_mass(const ElementMass& element, int order, int count, std::span<const double> x,
                std::span<double> y) {
    const Eigen::Index nodes = (order + 1) * (order + 1);
    using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    const Eigen::Map<const Rows> in(x.data(), nodes, count * dofs_per_node);
    for (size_t k = 0; k < element.mass.size(); ++k) {
        const Eigen::Map<const Eigen::MatrixXd> values(element.value_integrals[k].data(), nodes, nodes);
        const Rows weighted = values * in;
        const auto& [m0, m1, m2] = element.mass[k];
        const double* from = weighted.data();
        double* to = y.data();
        for (Eigen::Index i = 0; i < nodes * count; ++i, from += dofs_per_node, to += dofs_per_node) {
            to[0] += m0 * from[0] + m1 * from[3];
            to[1] += m0 * from[1] + m1 * from[4];
            to[2] += m0 * from[2];
            to[3] += m1 * from[0] + m2 * from[3];
            to[4] += m1 * from[1] + m2 * from[4];
        }
    }
}

void basis_at(const Cell& cell, int order, double x, double y, BasisAt& basis) {
    const double hx = cell.x1 - cell.x0, hy = cell.y1 - cell.y0;
    const Basis1d bx = lagrange_basis(order, 2 * (x - cell.x0) / hx - 1),
                  by = lagrange_basis(order, 2 * (y - cell.y0) / hy - 1);
    const auto n = static_cast<size_t>(order + 1);
    basis.value.resize(n * n);
    basis.dx.resize(n * n);
    basis.dy.resize(n * n);
    for (size_t b = 0; b < n; ++b) {
        const double value = by.value[b], dx = value * (2 / hx), dy = by.slope[b] * (2 / hy);
        for (size_t a = 0; a < n; ++a) {
            basis.value[b * n + a] = bx.value[a] * value;
            basis.dx[b * n + a] = bx.slope[a] * dx;
            basis.dy[b * n + a] = bx.value[a] * dy;
        }
    }
}

} // namespace hollowtop
