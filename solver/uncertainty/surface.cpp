// SPDX-License-Identifier: MIT
#include "solver/uncertainty/surface.hpp"

#include "materials/error.hpp"
#include "solver/numeric/threads.hpp"

#include <algorithm>
#include <cmath>
#include <mutex>

namespace hollowtop {
namespace {

using Numbers = std::optional<std::vector<double>>;

/// All of those places, each solved on a thread.
std::vector<Numbers> solve_all(const Inputs& inputs, const NumbersOf& numbers_of,
                               const std::vector<std::vector<double>>& places, int threads,
                               const std::function<void()>& done) {
    std::vector<Numbers> all(places.size());
    std::mutex mutex;
    share_out(static_cast<int>(places.size()), threads, [&](int k, int) {
        const auto index = static_cast<std::size_t>(k);
        all[index] = numbers_of(piece_at(inputs, places[index]));
        const std::lock_guard lock(mutex);
        if (done) done();
    });
    for (const Numbers& numbers : all)
        if (!numbers)
            throw Error(ErrorKind::not_computable,
                        {.place = "uncertainty",
                         .what = "a top a little different from this one cannot be computed",
                         .remedy = "see to what holds the top: a little more or less of load, thickness or "
                                   "stiffness lets it tip or lose its hold"});
    return all;
}

struct Along {
    double slope = 0, curvature = 0;
};

/// Of a share of a sum that is scaled by exp(x), from the logarithm of the number at a step.
Along along_share(double log_there, double step) {
    const double sign = log_there < 0 ? -1 : 1, share = std::expm1(std::abs(log_there)) / std::expm1(step);
    return {sign * share, sign * share * (1 - share)};
}

bool is_length(InputKind kind) { return kind == InputKind::thickness || kind == InputKind::depth; }

/// Curvature of a movement in two inputs of those slopes. `bent`: 1 where boards give way one after the other, as
/// springs in a row, -1 where they bear side by side, something between in a plate.
double crossing(const Input& a, const Input& b, double slope_a, double slope_b, double bent) {
    const auto is = [&](InputKind first, InputKind second) {
        return (a.kind == first && b.kind == second) || (a.kind == second && b.kind == first);
    };
    if (is(InputKind::boards, InputKind::boards)) return -bent * slope_a * slope_b;
    if (is(InputKind::load, InputKind::density)) return -slope_a * slope_b;
    // all wood together multiplies each part of it; what it does not move is metal's share
    const bool a_is_whole = a.kind == InputKind::whole;
    const Input& part = a_is_whole ? b : a;
    const bool is_part =
        part.kind == InputKind::boards || part.kind == InputKind::across || part.kind == InputKind::shear;
    if (is_part && (a_is_whole || b.kind == InputKind::whole))
        return a_is_whole ? slope_b * (1 + slope_a) : slope_a * (1 + slope_b);
    return 0;
}

/// Of a board, a share p of the movement: log = -p x + bent p (1 - p) x^2 / 2, from the logarithm at a step.
Along along_board(double log_there, double step, double bent) {
    double p = -log_there / step;
    constexpr int rounds = 8; // the square is a small part of it
    for (int round = 0; round < rounds; ++round) p = -log_there / step + bent * p * (1 - p) * step / 2;
    return {-p, bent * p * (1 - p)};
}

/// The board that moves the numbers that are movements most.
std::size_t heaviest_board(const Inputs& inputs, const std::vector<Numbers>& all,
                           const std::vector<bool>& is_movement) {
    std::size_t heaviest = inputs.inputs.size();
    double most = 0;
    for (std::size_t i = 0; i < inputs.inputs.size(); ++i) {
        if (inputs.inputs[i].kind != InputKind::boards) continue;
        double sum = 0;
        for (std::size_t k = 0; k < is_movement.size(); ++k)
            if (is_movement[k] && (*all[0])[k] > 0 && (*all[1 + i])[k] > 0)
                sum += std::abs(std::log((*all[1 + i])[k] / (*all[0])[k])) / inputs.inputs[i].step;
        if (sum > most) most = sum, heaviest = i;
    }
    return heaviest;
}

} // namespace

double Surface::log_of(std::size_t number, std::span<const double> x) const {
    const std::vector<double>&g = slope[number], &h = curvature[number];
    double sum = 0;
    for (std::size_t i = 0; i < n_inputs; ++i) {
        double row = g[i];
        for (std::size_t j = 0; j < n_inputs; ++j) row += h[i * n_inputs + j] * x[j] / 2;
        sum += row * x[i];
    }
    return sum;
}

Surface lay_surface(const Inputs& inputs, const NumbersOf& numbers_of, const SurfaceOptions& options) {
    const std::size_t n = inputs.inputs.size();
    Surface surface{.n_inputs = n};
    int done = 0;
    const auto tell = [&] {
        ++done;
        if (options.progress) options.progress(std::min(1.0, done / (3.0 + static_cast<double>(n))));
    };
    std::vector<std::vector<double>> places(1 + n, std::vector<double>(n, 0));
    for (std::size_t i = 0; i < n; ++i) places[1 + i][i] = inputs.inputs[i].step;
    std::vector<Numbers> all = solve_all(inputs, numbers_of, places, options.threads, tell);
    // back a step too: of the board that counts most, which tells how boards share the load, and of what the
    // grain does across
    const std::size_t heaviest = heaviest_board(inputs, all, options.is_movement);
    std::vector<std::size_t> both_ways;
    for (std::size_t i = 0; i < n; ++i)
        if (i == heaviest || inputs.inputs[i].kind == InputKind::across) both_ways.push_back(i);
    places.assign(both_ways.size(), std::vector<double>(n, 0));
    for (std::size_t b = 0; b < both_ways.size(); ++b)
        places[b][both_ways[b]] = -inputs.inputs[both_ways[b]].step;
    for (Numbers& back : solve_all(inputs, numbers_of, places, options.threads, tell))
        all.push_back(std::move(back));
    const std::size_t n_numbers = all.front()->size();
    surface.at_nought = *all.front();
    surface.slope.assign(n_numbers, std::vector<double>(n, 0));
    surface.curvature.assign(n_numbers, std::vector<double>(n * n, 0));
    surface.known.assign(n_numbers, true);
    surface.n_solves = static_cast<int>(all.size());
    for (std::size_t k = 0; k < n_numbers; ++k) {
        std::vector<double>&slope = surface.slope[k], &curvature = surface.curvature[k];
        surface.known[k] =
            std::all_of(all.begin(), all.end(), [&](const Numbers& numbers) { return (*numbers)[k] > 0; });
        if (!surface.known[k]) continue;
        const auto log_at = [&](std::size_t solve) {
            return std::log((*all[solve])[k] / surface.at_nought[k]);
        };
        double bent = -1;
        const auto put = [&](std::size_t i, Along along) {
            slope[i] = along.slope;
            curvature[i * n + i] = along.curvature;
        };
        for (std::size_t b = 0; b < both_ways.size(); ++b) {
            const std::size_t i = both_ways[b];
            const double h = inputs.inputs[i].step, up = log_at(1 + i), down = log_at(1 + n + b);
            put(i, {(up - down) / (2 * h), (up + down) / (h * h)});
            const double share = -slope[i];
            if (i == heaviest && share > 0 && share < 1)
                bent = std::clamp(curvature[i * n + i] / (share * (1 - share)), -1.0, 1.0);
        }
        for (std::size_t i = 0; i < n; ++i) {
            if (std::find(both_ways.begin(), both_ways.end(), i) != both_ways.end()) continue;
            const Input& input = inputs.inputs[i];
            const double there = log_at(1 + i);
            put(i, is_length(input.kind) ? Along{there / input.step, 0}
                   : input.kind == InputKind::boards && options.is_movement[k]
                       ? along_board(there, input.step, bent)
                       : along_share(there, input.step));
        }
        for (std::size_t i = 0; i < n && options.is_movement[k]; ++i)
            for (std::size_t j = 0; j < i; ++j)
                curvature[i * n + j] = curvature[j * n + i] =
                    crossing(inputs.inputs[i], inputs.inputs[j], slope[i], slope[j], bent);
    }
    return surface;
}

CauseForm in_causes(const Surface& surface, const Inputs& inputs, std::size_t number) {
    const std::size_t n = surface.n_inputs, m = inputs.causes.size();
    const std::vector<double>&g = surface.slope[number], &h = surface.curvature[number];
    CauseForm form{.constant = surface.log_of(number, inputs.shift),
                   .slope = std::vector<double>(m, 0),
                   .curvature = std::vector<double>(m * m, 0)};
    std::vector<double> at_shift = g, turned(n * m, 0);
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j) {
            at_shift[i] += h[i * n + j] * inputs.shift[j];
            for (std::size_t c = 0; c < m; ++c) turned[i * m + c] += h[i * n + j] * inputs.at(j, c);
        }
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t c = 0; c < m; ++c) {
            form.slope[c] += inputs.at(i, c) * at_shift[i];
            for (std::size_t d = 0; d < m; ++d)
                form.curvature[c * m + d] += inputs.at(i, c) * turned[i * m + d];
        }
    return form;
}

std::vector<double> first_order_shares(const CauseForm& form) {
    const std::size_t m = form.slope.size();
    std::vector<double> shares(m);
    double all = 0;
    for (std::size_t i = 0; i < m; ++i) {
        const double own = form.curvature[i * m + i];
        shares[i] = form.slope[i] * form.slope[i] + own * own / 2;
        all += form.slope[i] * form.slope[i];
        for (std::size_t j = 0; j < m; ++j) all += form.curvature[i * m + j] * form.curvature[i * m + j] / 2;
    }
    for (double& share : shares) share = all > 0 ? share / all : 0;
    return shares;
}

} // namespace hollowtop
