// SPDX-License-Identifier: MIT
#include "solver/uncertainty/surface.hpp"

#include "materials/error.hpp"
#include "solver/numeric/threads.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <mutex>
#include <numeric>

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

/// The pairs of inputs of which one more solve is worth its time: of the four inputs that move the numbers
/// that count most.
std::vector<std::pair<std::size_t, std::size_t>> worth_pairs(const Surface& surface, const Inputs& inputs,
                                                             const std::vector<double>& counts) {
    const std::size_t n = surface.n_inputs;
    std::vector<double> weight(n, 0);
    for (std::size_t k = 0; k < surface.slope.size(); ++k)
        for (std::size_t i = 0; i < n && surface.known[k]; ++i)
            weight[i] += counts[k] * std::pow(surface.slope[k][i] * inputs.inputs[i].step, 2);
    std::vector<std::size_t> order(n);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return weight[a] > weight[b]; });
    std::vector<std::pair<std::size_t, std::size_t>> pairs;
    constexpr std::size_t most = 4;
    // the whole stiffness multiplies the rest, but where metal carries a share
    const bool whole_is_apart = inputs.base.stiffeners.empty();
    if (whole_is_apart)
        std::erase_if(order, [&](std::size_t i) { return inputs.inputs[i].kind == InputKind::whole; });
    const std::size_t count = std::min(most, order.size());
    for (std::size_t a = 0; a < count; ++a)
        for (std::size_t b = a + 1; b < count; ++b)
            pairs.emplace_back(std::min(order[a], order[b]), std::max(order[a], order[b]));
    return pairs;
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
    constexpr int n_pairs = 6;
    int done = 0;
    const auto tell = [&] {
        ++done;
        if (options.progress)
            options.progress(std::min(1.0, done / (1.0 + 2 * static_cast<double>(n) + n_pairs)));
    };
    std::vector<std::vector<double>> places(1, std::vector<double>(n, 0));
    for (std::size_t i = 0; i < n; ++i)
        for (const double sign : {1.0, -1.0}) {
            places.emplace_back(n, 0);
            places.back()[i] = sign * inputs.inputs[i].step;
        }
    const std::vector<Numbers> star = solve_all(inputs, numbers_of, places, options.threads, tell);
    const std::size_t n_numbers = star.front()->size();
    surface.at_nought = *star.front();
    surface.slope.assign(n_numbers, std::vector<double>(n, 0));
    surface.curvature.assign(n_numbers, std::vector<double>(n * n, 0));
    surface.known.assign(n_numbers, true);
    for (const Numbers& numbers : star)
        for (std::size_t k = 0; k < n_numbers; ++k)
            if (!((*numbers)[k] > 0)) surface.known[k] = false;
    const auto log_at = [&](const Numbers& numbers, std::size_t k) {
        return std::log((*numbers)[k] / surface.at_nought[k]);
    };
    for (std::size_t k = 0; k < n_numbers; ++k) {
        if (!surface.known[k]) continue;
        for (std::size_t i = 0; i < n; ++i) {
            const double h = inputs.inputs[i].step, up = log_at(star[1 + 2 * i], k),
                         down = log_at(star[2 + 2 * i], k);
            surface.slope[k][i] = (up - down) / (2 * h);
            surface.curvature[k][i * n + i] = (up + down) / (h * h);
        }
        if (!options.is_movement[k]) continue;
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j)
                if (i != j && inputs.inputs[i].kind == InputKind::boards &&
                    inputs.inputs[j].kind == InputKind::boards)
                    surface.curvature[k][i * n + j] = surface.slope[k][i] * surface.slope[k][j];
    }
    const auto pairs = worth_pairs(surface, inputs, options.counts);
    places.clear();
    for (const auto& [a, b] : pairs) {
        places.emplace_back(n, 0);
        places.back()[a] = inputs.inputs[a].step;
        places.back()[b] = inputs.inputs[b].step;
    }
    const std::vector<Numbers> both = solve_all(inputs, numbers_of, places, options.threads, tell);
    for (std::size_t p = 0; p < pairs.size(); ++p) {
        const auto [a, b] = pairs[p];
        for (std::size_t k = 0; k < n_numbers; ++k) {
            if (!((*both[p])[k] > 0)) surface.known[k] = false;
            if (!surface.known[k]) continue;
            const double value =
                (log_at(both[p], k) - log_at(star[1 + 2 * a], k) - log_at(star[1 + 2 * b], k)) /
                (inputs.inputs[a].step * inputs.inputs[b].step);
            surface.curvature[k][a * n + b] = surface.curvature[k][b * n + a] = value;
        }
    }
    surface.n_solves = static_cast<int>(star.size() + pairs.size());
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
