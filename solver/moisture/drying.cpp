// SPDX-License-Identifier: MIT
#include "solver/moisture/drying.hpp"

#include "materials/assert.hpp"
#include "materials/error.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <numeric>
#include <utility>

namespace hollowtop {
namespace {

/// Between each two cells and at both faces, mm/s: flow = conductance x difference.
void conductances(const DryingLine& line, const std::vector<double>& width, const std::vector<double>& u,
                  std::vector<double>& g) {
    const std::size_t n = u.size();
    double before = line.S_above > 0 ? 1 / line.S_above : 0; // resistance so far
    for (std::size_t i = 0; i < n; ++i) {
        const double half = width[i] / 2 / line.D(u[i]);
        g[i] = i == 0 && !(line.S_above > 0) ? 0 : 1 / (before + half);
        before = half;
    }
    g[n] = line.S_below > 0 ? 1 / (before + 1 / line.S_below) : 0;
}

/// Solves (1 - tau A) u = known, A the exchange of the cells by `g`, in place of u.
void solve(const std::vector<double>& width, const std::vector<double>& g, double tau, Faces rest,
           const std::vector<double>& known, std::vector<double>& u) {
    const std::size_t n = known.size();
    static thread_local std::vector<double> above; // the row's coefficient of the cell that follows
    above.resize(n);
    for (std::size_t i = 0; i < n; ++i) {
        const double a = tau * g[i] / width[i], c = tau * g[i + 1] / width[i];
        const bool first = i == 0, last = i + 1 == n;
        double diagonal = 1 + a + c,
               right = known[i] + (first ? a * rest.above : 0) + (last ? c * rest.below : 0);
        if (!first) {
            diagonal -= a * above[i - 1];
            right += a * u[i - 1];
        }
        above[i] = last ? 0 : c / diagonal;
        u[i] = right / diagonal;
    }
    for (std::size_t i = n - 1; i-- > 0;) u[i] += above[i] * u[i + 1];
}

/// du/dt of each cell, and what flows in through the faces.
Faces rates(const std::vector<double>& width, const std::vector<double>& g, Faces rest,
            const std::vector<double>& u, std::vector<double>& k) {
    const std::size_t n = u.size();
    double in = g[0] * (rest.above - u[0]);
    const Faces through{.above = in, .below = g[n] * (rest.below - u[n - 1])};
    for (std::size_t i = 0; i < n; ++i) {
        const double out = i + 1 == n ? -through.below : g[i + 1] * (u[i] - u[i + 1]);
        k[i] = (in - out) / width[i];
        in = out;
    }
    return through;
}

/// The stage u = known + tau A(u) u, by D of the last guess until it settles.
void settle(const DryingLine& line, const std::vector<double>& width, double tau, Faces rest,
            const std::vector<double>& known, std::vector<double>& u, std::vector<double>& g) {
    constexpr int most = 200;
    constexpr double settled = 1e-11; // percent
    std::vector<double> next = u;
    for (int pass = 0; pass < most; ++pass) {
        conductances(line, width, u, g);
        solve(width, g, tau, rest, known, next);
        double change = 0;
        for (std::size_t i = 0; i < u.size(); ++i) change = std::max(change, std::abs(next[i] - u[i]));
        u.swap(next);
        if (change <= settled || line.D_growth_per_percent == 0) return;
    }
    throw Error(ErrorKind::not_computable, {.place = "climate",
                                            .what = "the moisture through the thickness does not settle",
                                            .remedy = "please report the piece"});
}

} // namespace

double DryingLine::D(double percent) const {
    if (D_growth_per_percent == 0) return D_at_12;
    return D_at_12 * std::exp(D_growth_per_percent * (percent - 12));
}

MoistureProfile even_profile(double thickness, double percent, int cells) {
    HOLLOWTOP_ASSERT(cells >= 2 && cells % 2 == 0 && thickness > 0);
    const auto n = static_cast<std::size_t>(cells);
    // each cell towards the middle so much wider that the middle ones are six times those at the faces
    const double growth = std::pow(6.0, 2.0 / cells);
    MoistureProfile profile{.width = std::vector<double>(n), .percent = std::vector<double>(n, percent)};
    for (std::size_t i = 0; i < n / 2; ++i)
        profile.width[i] = profile.width[n - 1 - i] = std::pow(growth, static_cast<double>(i));
    const double sum = std::accumulate(profile.width.begin(), profile.width.end(), 0.0);
    for (double& width : profile.width) width *= thickness / sum;
    return profile;
}

RestMoisture air_over_both(std::function<double(double)> rest) {
    return [rest = std::move(rest)](double time) {
        const double percent = rest(time);
        return Faces{percent, percent};
    };
}

Faces dry(const DryingLine& line, MoistureProfile& profile, const RestMoisture& rest, double from,
          double step) {
    constexpr double gamma = 1 - std::numbers::sqrt2 / 2;
    std::vector<double>& u = profile.percent;
    const std::size_t n = u.size();
    std::vector<double> g(n + 1), k(n), stage = u, known = u;
    const double tau = gamma * step;
    const Faces early = rest(from + tau), late = rest(from + step);
    settle(line, profile.width, tau, early, known, stage, g);
    const Faces first = rates(profile.width, g, early, stage, k);
    for (std::size_t i = 0; i < n; ++i) known[i] = u[i] + (1 - gamma) * step * k[i];
    settle(line, profile.width, tau, late, known, stage, g);
    const Faces second = rates(profile.width, g, late, stage, k);
    for (std::size_t i = 0; i < n; ++i) u[i] = known[i] + tau * k[i];
    return {.above = (step - tau) * first.above + tau * second.above,
            .below = (step - tau) * first.below + tau * second.below};
}

Faces face_moisture(const DryingLine& line, const MoistureProfile& profile, Faces rest) {
    const auto at = [&](double S, double width, double u, double rests_at) {
        if (!(S > 0)) return u;
        const double half = width / 2 / line.D(u);
        return rests_at - (rests_at - u) / (1 + S * half);
    };
    return {.above = at(line.S_above, profile.width.front(), profile.percent.front(), rest.above),
            .below = at(line.S_below, profile.width.back(), profile.percent.back(), rest.below)};
}

StraightPart straight_part(const MoistureProfile& profile) {
    const double thickness = std::accumulate(profile.width.begin(), profile.width.end(), 0.0);
    double mean = 0;
    for (std::size_t i = 0; i < profile.width.size(); ++i) mean += profile.width[i] * profile.percent[i];
    mean /= thickness;
    double depth = 0, moment = 0, square = 0;
    for (std::size_t i = 0; i < profile.width.size(); ++i) {
        const double above_middle = thickness / 2 - depth - profile.width[i] / 2;
        moment += profile.width[i] * (profile.percent[i] - mean) * above_middle;
        square += profile.width[i] * above_middle * above_middle;
        depth += profile.width[i];
    }
    return {.mean = mean, .difference = moment / square * thickness};
}

} // namespace hollowtop
