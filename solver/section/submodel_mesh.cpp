// SPDX-License-Identifier: MIT
#include "solver/section/submodel_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

constexpr double first_share =
    0.04; ///< smallest cell at a sharp corner, as a share of the lesser of skin and depth
constexpr double strong_zone = 0.2; ///< up to here the cells grow fast

/// Distances from the root: `first`, then growing to `length`; the last cell is never much smaller than the
/// one before.
std::vector<double> distances(double first, double strong_until, double length) {
    constexpr double strong = 7, gentle = 4; // towards a corner, where the field is smooth
    std::vector<double> d{0};
    double at = first;
    while (at < 0.72 * length) {
        d.push_back(at);
        at = std::max(at * (at < strong_until ? strong : gentle), at);
    }
    d.push_back(length);
    return d;
}

} // namespace

bool SubmodelMesh::is_plain(int column, int row) const {
    if (radius <= 0) return true;
    const auto c = static_cast<size_t>(column), r = static_cast<size_t>(row);
    if (row >= low_rows) return column >= skin_columns || xs[c + 1] <= -radius + 1e-9 * radius;
    return zs[r + 1] <= -skin - radius + 1e-9 * radius;
}

SubmodelMesh submodel_mesh(const SubmodelSection& section) {
    SubmodelMesh g;
    g.thick = section.thick;
    g.skin = section.skin;
    const double depth = section.thick - section.skin;
    g.radius = std::min(section.root_radius, 0.95 * depth);
    if (g.radius < 0.02 * std::min(section.skin, depth)) g.radius = 0; // as good as sharp
    const double r = g.radius, half = std::numbers::sqrt2 / 2;
    g.x_m = -r * (1 - half);
    g.z_m = -section.skin - r * (1 - half);
    // decay along skin and rim: sqrt(E/G) thicknesses; about the root lengths across and through go as the
    // fourth root of stiffness
    const double reach = std::max(1.0, std::sqrt(section.C[0] / section.C[8]));
    const double stretch = std::clamp(std::sqrt(std::sqrt(section.C[0] / section.C[4])), 0.5, 2.0);
    const double skin_length = std::max(section.skin * (1 + 1.5 * reach), 3 * r);
    const double small = std::min(section.skin, depth);
    const double low_height = section.thick + g.z_m;

    std::vector<double> left, right, up, down;
    if (r > 0) {
        const double first = 0.4 * r;
        left = {0};
        for (const double degrees : {67.5, 90.0})
            left.push_back(r * (std::cos(std::numbers::pi / 4) - std::cos(degrees * std::numbers::pi / 180)));
        const double arc_end = left.back();
        for (const double d : distances(0.8 * r, 0, skin_length - r))
            if (d > 0) left.push_back(arc_end + d);
        up = distances(std::min(first, 0.5 * section.skin), 0, -g.z_m);
        down = {0};
        for (const double degrees : {67.5, 90.0})
            down.push_back(r * (std::cos(std::numbers::pi / 4) - std::cos(degrees * std::numbers::pi / 180)));
        const double wall_end = down.back();
        for (const double d :
             distances(std::min(0.8 * r, 0.6 * (low_height - wall_end)), 0, low_height - wall_end))
            if (d > 0) down.push_back(wall_end + d);
    } else {
        const double first = first_share * small, strong_until = strong_zone * small;
        left = distances(first * stretch, strong_until * stretch, skin_length);
        up = distances(first, strong_until, section.skin);
        down = distances(first, strong_until, depth);
    }
    const double rim_reach = section.thick * (0.6 + 1.5 * reach);
    const double first = r > 0 ? 0.4 * r : first_share * small * stretch,
                 strong_until = r > 0 ? 0 : strong_zone * small * stretch;
    g.crack_tip = g.x_m;
    if (section.crack > 0) {
        // graded to the root, to the tip from both sides
        const double a = section.crack;
        g.crack_tip = g.x_m + a;
        const double tip_first = std::min(0.004 * small * stretch, 0.1 * a), tip_strong = 50 * tip_first;
        right = distances(std::min(first, 0.3 * a), std::min(strong_until, 0.1 * a), a / 2);
        std::vector<double> back = distances(tip_first, tip_strong, a / 2);
        for (size_t k = back.size() - 1; k-- > 0;) right.push_back(a - back[k]);
        g.crack_columns = static_cast<int>(right.size()) - 1;
        for (const double d : distances(tip_first, tip_strong, rim_reach))
            if (d > 0) right.push_back(a + d);
        // the tip also wants rows fine about its level
        up = distances(0.004 * small, strong_zone * small, -g.z_m);
        if (r <= 0)
            down = distances(0.004 * small, strong_zone * small, low_height);
        else if (first_share * small < down[1])
            down.insert(down.begin() + 1, {first_share * small, 7 * first_share * small < 0.7 * down[1]
                                                                    ? 7 * first_share * small
                                                                    : 0.5 * (down[1] + first_share * small)});
        std::sort(down.begin(), down.end());
    } else {
        right = distances(first, strong_until, rim_reach);
    }
    g.skin_end = g.x_m - left.back();
    for (size_t k = left.size(); k-- > 0;) g.xs.push_back(g.x_m - left[k]);
    g.skin_columns = static_cast<int>(left.size()) - 1;
    for (size_t k = 1; k < right.size(); ++k) g.xs.push_back(g.x_m + right[k]);
    g.rim_end = g.xs.back();
    for (size_t k = down.size(); k-- > 0;) g.zs.push_back(g.z_m - down[k]);
    g.zs.front() = -section.thick;
    g.low_rows = static_cast<int>(down.size()) - 1;
    for (size_t k = 1; k < up.size(); ++k) g.zs.push_back(g.z_m + up[k]);
    g.zs.back() = 0;
    return g;
}

SubmodelPoint place_in(const SubmodelMesh& g, int column, int row, double X, double Z) {
    SubmodelPoint p{.x = X, .z = Z};
    const double r = g.radius;
    if (r <= 0 || (row >= g.low_rows && column >= g.skin_columns)) return p;
    // height or width of the half arc, and its slope, at a distance s past its start; flat before it
    const auto arc = [r](double s) {
        struct Arc {
            double value, slope;
        };
        if (s <= 0) return Arc{r, 0};
        const double root = std::sqrt(std::max(r * r - s * s, 1e-300));
        return Arc{root, -s / root};
    };
    if (row >= g.low_rows) { // above the root: the skin's underside, then the arc
        const auto [value, slope] = arc(X + r);
        const double below = -g.skin - r + value, share = (Z - g.z_m) / -g.z_m;
        p.z = below * (1 - share);
        p.z_X = slope * (1 - share);
        p.z_Z = below / g.z_m;
        return p;
    }
    const auto [value, slope] = arc(Z + g.skin + r);
    const double left = -r + value, share = (X - g.x_m) / (g.rim_end - g.x_m);
    p.x = left + share * (g.rim_end - left);
    p.x_Z = slope * (1 - share);
    p.x_X = (g.rim_end - left) / (g.rim_end - g.x_m);
    return p;
}

} // namespace hollowtop
