// SPDX-License-Identifier: MIT
#include "solver/hand/hand_skin.hpp"

#include "materials/section.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

constexpr std::size_t n_terms = 7;
using Terms = std::array<double, n_terms>;
constexpr double pi = std::numbers::pi;

/// sin(m pi s), m = 1, 2, ...; 0 outside 0..1.
Terms waves(double s) {
    Terms terms{};
    if (s > 0 && s < 1)
        for (std::size_t m = 0; m < n_terms; ++m) terms[m] = std::sin(static_cast<double>(m + 1) * pi * s);
    return terms;
}

/// The mean of sin(m pi s) over from..to, counted as 0 outside 0..1.
Terms mean_waves(double from, double to) {
    if (to - from < 1e-9) return waves(from);
    const double a = std::clamp(from, 0.0, 1.0), b = std::clamp(to, 0.0, 1.0);
    Terms terms{};
    for (std::size_t m = 0; m < n_terms; ++m) {
        const double k = static_cast<double>(m + 1) * pi;
        terms[m] = (std::cos(k * a) - std::cos(k * b)) / k / (to - from);
    }
    return terms;
}

/// How far the strips of a skin, `span` long, are held by the rims beyond their walls, each `length` long.
double held_by(double D, double span, double length, double G, double thickness, std::array<double, 2> rims) {
    double held = 0;
    for (const double rim : rims) {
        if (rim < 0) { // it goes on past a bearer
            held += 0.25;
            continue;
        }
        const double k = rim > 0 ? G * materials::torsion_constant_of_rectangle(rim, thickness) * pi * pi /
                                       (length * length)
                                 : 0;
        held += 0.5 / (1 + 2 * D / std::max(k * span, 1e-30));
    }
    return held;
}

/// Recesses that stand in a row, ribs between them that are narrower than the rims: a rib as wide as they are
/// holds the skin as well as they do.
std::vector<Rectangle> rows_of(const Piece& piece) {
    std::vector<Rectangle> rows;
    for (const Recess& recess : piece.recesses)
        rows.push_back(recess_box(piece, recess).value_or(Rectangle{}));
    for (bool merged = true; merged;) {
        merged = false;
        for (std::size_t i = 0; i < rows.size() && !merged; ++i)
            for (std::size_t j = i + 1; j < rows.size() && !merged; ++j) {
                Rectangle &a = rows[i], &b = rows[j];
                const double slack = 0.1;
                const double rib_x = std::max(a.x0, b.x0) - std::min(a.x1, b.x1),
                             rib_y = std::max(a.y0, b.y0) - std::min(a.y1, b.y1),
                             rim_x = std::min(std::min(a.x0, b.x0), piece.top.length - std::max(a.x1, b.x1)),
                             rim_y = std::min(std::min(a.y0, b.y0), piece.top.width - std::max(a.y1, b.y1));
                const bool along = std::abs(a.y0 - b.y0) + std::abs(a.y1 - b.y1) < slack * (a.y1 - a.y0) &&
                                   rib_x < std::min(a.y1 - a.y0, rim_x);
                const bool above = std::abs(a.x0 - b.x0) + std::abs(a.x1 - b.x1) < slack * (a.x1 - a.x0) &&
                                   rib_y < std::min(a.x1 - a.x0, rim_y);
                if (!along && !above) continue;
                a = {std::min(a.x0, b.x0), std::max(a.x1, b.x1), std::min(a.y0, b.y0), std::max(a.y1, b.y1)};
                rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(j));
                merged = true;
            }
    }
    return rows;
}

/// h^3 / 12 of the box: strips along x and along y, each row of boxes in series along its strip, the rows
/// side by side.
std::array<double, 2> mean_inertia(const Boxes& boxes, const Rectangle& box) {
    std::array<double, 2> mean{};
    for (std::size_t strip = 0; strip < 2; ++strip) {
        const std::vector<double>&along = strip == 0 ? boxes.xs : boxes.ys,
              &across = strip == 0 ? boxes.ys : boxes.xs;
        const double along0 = strip == 0 ? box.x0 : box.y0, along1 = strip == 0 ? box.x1 : box.y1;
        const double across0 = strip == 0 ? box.y0 : box.x0, across1 = strip == 0 ? box.y1 : box.x1;
        for (std::size_t k = 0; k + 1 < across.size(); ++k) {
            const double width = std::min(across[k + 1], across1) - std::max(across[k], across0);
            if (width <= 0) continue;
            double compliance = 0;
            for (std::size_t i = 0; i + 1 < along.size(); ++i) {
                const double length = std::min(along[i + 1], along1) - std::max(along[i], along0);
                const double h = strip == 0 ? boxes.at(i, k) : boxes.at(k, i);
                if (length > 0) compliance += 12 * length / (h * h * h);
            }
            mean[strip] += width * (along1 - along0) / compliance / (across1 - across0);
        }
    }
    return mean;
}

/// What bars under the skin add to strips along x, along y, spread over its width: each by itself, and
/// Newmark's share with the skin.
std::array<double, 2> stiffness_of_bars(const HandPlan& plan, const Rectangle& box, double skin) {
    std::array<double, 2> sum{};
    for (std::size_t strip = 0; strip < 2; ++strip) {
        const double from = strip == 0 ? box.x0 : box.y0, to = strip == 0 ? box.x1 : box.y1;
        const double side0 = strip == 0 ? box.y0 : box.x0, side1 = strip == 0 ? box.y1 : box.x1;
        for (const HandBar& bar : plan.strips[strip].bars) {
            const double length = bar.to - bar.from, under = std::min(bar.to, to) - std::max(bar.from, from);
            constexpr double most_of_it = 0.6;
            if (bar.at < side0 || bar.at > side1 || under < most_of_it * (to - from)) continue;
            const double EA = plan.strips[strip].E * skin * (side1 - side0),
                         both = EA * bar.EA / (EA + bar.EA), arm = skin / 2 + bar.depth;
            const double share = bar.slip < 0   ? 1
                                 : bar.slip > 0 ? 1 / (1 + pi * pi * both / (bar.slip * length * length))
                                                : 0;
            sum[strip] += (bar.EI + share * both * arm * arm) / (side1 - side0);
        }
    }
    return sum;
}

} // namespace

std::vector<double> dish_by_hand(const HandSkin& skin, const std::vector<LoadBox>& loads,
                                 const std::vector<double>& xs, const std::vector<double>& ys) {
    const Rectangle& box = skin.box;
    const double a = box.x1 - box.x0, b = box.y1 - box.y0;
    std::array<Terms, n_terms> work{}; // of all loads in each wave
    const auto add = [&](const Terms& x, const Terms& y, double force) {
        for (std::size_t n = 0; n < n_terms; ++n)
            for (std::size_t m = 0; m < n_terms; ++m) work[n][m] += force * x[m] * y[n];
    };
    const auto share = [&](Point p) { return Point{(p.x - box.x0) / a, (p.y - box.y0) / b}; };
    for (const LoadBox& load : loads) {
        const Point from = share(load.from), to = share(load.to);
        if (!load.is_line) {
            add(mean_waves(from.x, to.x), mean_waves(from.y, to.y), load.force);
            continue;
        }
        constexpr int n = 16;
        for (int i = 0; i < n; ++i) {
            const double s = (i + 0.5) / n;
            add(waves(from.x + s * (to.x - from.x)), waves(from.y + s * (to.y - from.y)), load.force / n);
        }
    }
    const double pi4 = pi * pi * pi * pi;
    for (std::size_t n = 0; n < n_terms; ++n)
        for (std::size_t m = 0; m < n_terms; ++m) {
            const double kx = static_cast<double>(m + 1) / a, ky = static_cast<double>(n + 1) / b;
            work[n][m] *= 4 / (a * b) / pi4 /
                          (skin.D[0] * kx * kx * kx * kx + skin.twist * kx * kx * ky * ky +
                           skin.D[1] * ky * ky * ky * ky);
        }
    std::vector<Terms> across;
    across.reserve(xs.size());
    for (const double x : xs) across.push_back(waves(share({x, 0}).x));
    std::vector<double> dish;
    for (const double y : ys) {
        const Terms wave = waves(share({0, y}).y);
        Terms row{};
        for (std::size_t n = 0; n < n_terms; ++n)
            for (std::size_t m = 0; m < n_terms; ++m) row[m] += wave[n] * work[n][m];
        for (const Terms& terms : across) {
            double sum = 0;
            for (std::size_t m = 0; m < n_terms; ++m) sum += row[m] * terms[m];
            dish.push_back(sum);
        }
    }
    return dish;
}

std::vector<HandSkin> skins_by_hand(const Piece& piece, const HandPlan& plan) {
    std::vector<HandSkin> skins;
    for (const Rectangle& whole : rows_of(piece)) {
        Rectangle box = whole;
        std::array<double, 2> ends{box.x0, piece.top.length - box.x1},
            sides{box.y0, piece.top.width - box.y1};
        if (!(plan.strips[0].spans && plan.strips[1].spans)) { // bearers that cross the recess part it
            const auto part = [](const BeamStrip& strip, double& low, double& high,
                                 std::array<double, 2>& rims) {
                if (strip.rows[0].at > low && strip.rows[0].at < high) low = strip.rows[0].at, rims[0] = -1;
                if (strip.rows[1].at < high && strip.rows[1].at > low) high = strip.rows[1].at, rims[1] = -1;
            };
            if (plan.strips[0].spans)
                part(plan.strips[0], box.x0, box.x1, ends);
            else
                part(plan.strips[1], box.y0, box.y1, sides);
        }
        const double a = box.x1 - box.x0, b = box.y1 - box.y0;
        if (!(a > 0) || !(b > 0)) continue;
        const std::array<double, 2> inertia = mean_inertia(plan.boxes, box);
        const double Dx = plan.strips[0].E * inertia[0], Dy = plan.strips[1].E * inertia[1],
                     h = piece.top.thickness;
        const double held_x = held_by(Dx, a, b, plan.G_plane, h, ends);
        const double held_y = held_by(Dy, b, a, plan.G_plane, h, sides);
        const auto raised = [](double held) { return 5 / (5 - 4 * held); };
        HandSkin skin;
        skin.box = box;
        const double thin = std::cbrt(12 * std::min(inertia[0], inertia[1]));
        const std::array<double, 2> bars = stiffness_of_bars(plan, box, thin);
        skin.D = {Dx * raised(held_x) + bars[0], Dy * raised(held_y) + bars[1]};
        skin.twist = 4 * plan.G_plane * std::min(inertia[0], inertia[1]) * (1 - held_x) *
                     (1 - held_y); // Poisson's part left out
        const double x = skin.D[0] / (a * a * a * a), y = skin.D[1] / (b * b * b * b),
                     all = x + y + skin.twist / (a * a * b * b);
        skin.share_across = y / all;
        skins.push_back(skin);
    }
    return skins;
}

} // namespace hollowtop
