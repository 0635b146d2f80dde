// SPDX-License-Identifier: MIT
#include "solver/survey/kriging.hpp"

#include "materials/assert.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace hollowtop {
namespace {

/// A depth stop that slips or a sled that tilts: 3 mm from side to side would be much (common practice: +/- 0.2 to 0.5 mm
/// of the stop, 0.3 to 1 mm of the sled).
constexpr double slope_sd = 1.5;
/// Bumps as routers leave them are about so high, within a factor of e or so; the readings outweigh it.
constexpr double usual_sill = 0.4;

double square(double x) { return x * x; }

struct Part {
    double weight, mean, sd;
};
/// Half the width of the band about `middle` that holds nine in ten of a mixture of normals, over that of a normal of
/// deviation 1: parts that differ make long tails, which a deviation would count too much. By Newton's steps.
double sd_of_band(std::span<const Part> parts, double middle, double first) {
    constexpr double nine_in_ten = 0.9, of_normal = 1.6448536269514722, close = 1e-12;
    if (parts.size() == 1 || !(first > 0)) return first;
    double low = 0, high = 4 * of_normal * first, half = of_normal * first;
    constexpr int most = 60;
    for (int i = 0; i < most; ++i) {
        double held = 0, slope = 0;
        for (const Part& part : parts) {
            const double sd = std::max(part.sd, close), up = (middle + half - part.mean) / sd,
                         down = (middle - half - part.mean) / sd;
            held += part.weight * (std::erf(up / std::sqrt(2.0)) - std::erf(down / std::sqrt(2.0))) / 2;
            slope += part.weight * (std::exp(-up * up / 2) + std::exp(-down * down / 2)) /
                     (sd * std::sqrt(2 * std::acos(-1.0)));
        }
        (held < nine_in_ten ? low : high) = half;
        double next = half + (nine_in_ten - held) / slope;
        if (!(next > low && next < high)) next = (low + high) / 2;
        const bool is_close = std::abs(next - half) <= close * half;
        half = next;
        if (is_close) break;
    }
    return half / of_normal;
}

/// Of a mixture.
Estimate estimate_of(std::span<const Part> parts) {
    const double near = parts.front().mean; // of numbers near each other: differences keep their digits
    double mean = 0, second = 0;
    for (const Part& part : parts) {
        mean += part.weight * (part.mean - near);
        second += part.weight * (square(part.sd) + square(part.mean - near));
    }
    return {near + mean, sd_of_band(parts, near + mean, std::sqrt(std::max(0.0, second - square(mean))))};
}

} // namespace

struct Kriging::Model {
    std::vector<Observed> observed{};
    Rectangle box{};
    Bumps bumps{};
    Eigen::MatrixXd L{};            // of the covariance of the readings
    Eigen::VectorXd ones{}, rest{}; // L^-1 1; L^-1 (readings - level)
    double level = 0, weight_of_level = 0;
    double log_likelihood = 0;

    double prior(Point a, Point b) const {
        const double far =
            std::sqrt((bumps.has_steps ? 1.0 : 3.0) * (square(a.x - b.x) + square(a.y - b.y))) / bumps.range;
        const double hx = (box.x1 - box.x0) / 2, hy = (box.y1 - box.y0) / 2, mx = (box.x0 + box.x1) / 2,
                     my = (box.y0 + box.y1) / 2;
        const double slopes = (a.x - mx) * (b.x - mx) / (hx * hx) + (a.y - my) * (b.y - my) / (hy * hy);
        return square(bumps.sill) * (bumps.has_steps ? 1 : 1 + far) * std::exp(-far) +
               square(slope_sd) * slopes;
    }
    Eigen::VectorXd to_readings(Point place) const { // L^-1 k
        Eigen::VectorXd k(static_cast<Eigen::Index>(observed.size()));
        for (std::size_t i = 0; i < observed.size(); ++i)
            k[static_cast<Eigen::Index>(i)] = prior(observed[i].at, place);
        L.triangularView<Eigen::Lower>().solveInPlace(k);
        return k;
    }
    void fit() {
        const auto n = static_cast<Eigen::Index>(observed.size());
        Eigen::MatrixXd K(n, n);
        Eigen::VectorXd y(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            const Observed& a = observed[static_cast<std::size_t>(i)];
            y[i] = a.value;
            for (Eigen::Index j = 0; j <= i; ++j)
                K(i, j) = K(j, i) = prior(a.at, observed[static_cast<std::size_t>(j)].at);
            K(i, i) += square(a.sd);
        }
        const Eigen::LLT<Eigen::MatrixXd> factor(K);
        HOLLOWTOP_ASSERT(factor.info() == Eigen::Success);
        L = factor.matrixL();
        ones = L.triangularView<Eigen::Lower>().solve(Eigen::VectorXd::Ones(n));
        const Eigen::VectorXd scaled = L.triangularView<Eigen::Lower>().solve(y);
        weight_of_level = ones.squaredNorm();
        level = ones.dot(scaled) / weight_of_level;
        rest = scaled - level * ones;
        log_likelihood =
            -L.diagonal().array().log().sum() - std::log(weight_of_level) / 2 - rest.squaredNorm() / 2;
    }
    std::vector<Estimate> at(std::span<const Point> places) const {
        Eigen::MatrixXd v(static_cast<Eigen::Index>(observed.size()),
                          static_cast<Eigen::Index>(places.size()));
        for (std::size_t p = 0; p < places.size(); ++p)
            for (std::size_t i = 0; i < observed.size(); ++i)
                v(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(p)) =
                    prior(observed[i].at, places[p]);
        L.triangularView<Eigen::Lower>().solveInPlace(v);
        const Eigen::VectorXd missing = 1 - (v.transpose() * ones).array(), mean = v.transpose() * rest,
                              known = v.colwise().squaredNorm();
        std::vector<Estimate> all(places.size());
        for (std::size_t p = 0; p < places.size(); ++p) {
            const auto k = static_cast<Eigen::Index>(p);
            all[p] = {level + mean[k], std::sqrt(std::max(0.0, prior(places[p], places[p]) - known[k] +
                                                                   square(missing[k]) / weight_of_level))};
        }
        return all;
    }
    /// All weights at once: L^-1 of the sum's covariance with the readings, its own prior variance.
    struct Sum {
        Eigen::VectorXd to_readings{};
        double weight = 0, prior = 0;
    };
    Sum sum_of(std::span<const Weighed> places) const {
        Sum sum{.to_readings = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(observed.size()))};
        for (std::size_t p = 0; p < places.size(); ++p) {
            const Weighed& one = places[p];
            sum.weight += one.weight;
            for (std::size_t i = 0; i < observed.size(); ++i)
                sum.to_readings[static_cast<Eigen::Index>(i)] += one.weight * prior(observed[i].at, one.at);
            sum.prior += square(one.weight) * prior(one.at, one.at);
            for (std::size_t q = 0; q < p; ++q)
                sum.prior += 2 * one.weight * places[q].weight * prior(one.at, places[q].at);
        }
        L.triangularView<Eigen::Lower>().solveInPlace(sum.to_readings);
        return sum;
    }
    double mean_of(const Sum& sum) const { return level * sum.weight + sum.to_readings.dot(rest); }
    double missing(const Sum& sum) const { return sum.weight - sum.to_readings.dot(ones); }
    double variance_of(const Sum& sum) const {
        return std::max(0.0,
                        sum.prior - sum.to_readings.squaredNorm() + square(missing(sum)) / weight_of_level);
    }
};

Kriging::~Kriging() = default;
Kriging::Kriging(Kriging&&) noexcept = default;
Kriging& Kriging::operator=(Kriging&&) noexcept = default;

Kriging::Kriging(std::span<const Observed> observed, const Rectangle& box, const Bumps* given) {
    HOLLOWTOP_ASSERT(!observed.empty());
    Model model{.observed = {observed.begin(), observed.end()}, .box = box};
    if (given != nullptr) {
        model.bumps = *given;
        model.fit();
        models_.push_back(std::move(model));
        weights_ = {1};
        return;
    }
    constexpr double lowest = 0.05, highest = 4, shortest = 0.05, longest = 1.2; // mm; of the diagonal
    constexpr int sills = 10, ranges = 7;
    const double diagonal = std::hypot(box.x1 - box.x0, box.y1 - box.y0);
    struct Tried {
        Bumps bumps;
        double log_weight;
    };
    std::vector<Tried> tried;
    for (const bool has_steps : {false, true})
        for (int i = 0; i < sills; ++i)
            for (int j = 0; j < ranges; ++j) {
                model.bumps = {lowest * std::pow(highest / lowest, i / (sills - 1.0)),
                               diagonal * shortest * std::pow(longest / shortest, j / (ranges - 1.0)),
                               has_steps};
                model.fit();
                tried.push_back({model.bumps,
                                 model.log_likelihood - square(std::log(model.bumps.sill / usual_sill)) / 2});
            }
    std::stable_sort(tried.begin(), tried.end(),
                     [](const Tried& a, const Tried& b) { return a.log_weight > b.log_weight; });
    const auto weight_of = [&](const Tried& one) {
        return std::exp(one.log_weight - tried.front().log_weight);
    };
    double all = 0;
    for (const Tried& one : tried) all += weight_of(one);
    // what is left out would change no deviation that is told; of many readings few are likely, and each is dear
    constexpr double enough = 0.98;
    const std::size_t most = observed.size() > 100 ? 12 : tried.size();
    double sum = 0;
    for (const Tried& one : tried) {
        if (sum > enough * all || models_.size() == most) break;
        model.bumps = one.bumps;
        model.fit();
        models_.push_back(model);
        weights_.push_back(weight_of(one));
        sum += weights_.back();
    }
    for (double& weight : weights_) weight /= sum;
}

std::vector<Estimate> Kriging::at(std::span<const Point> places) const {
    std::vector<std::vector<Estimate>> of_models;
    for (const Model& model : models_) of_models.push_back(model.at(places));
    std::vector<Estimate> all(places.size());
    std::vector<Part> parts(models_.size());
    for (std::size_t p = 0; p < places.size(); ++p) {
        for (std::size_t k = 0; k < parts.size(); ++k)
            parts[k] = {weights_[k], of_models[k][p].mean, of_models[k][p].sd};
        all[p] = estimate_of(parts);
    }
    return all;
}

Estimate Kriging::at(Point place) const { return at(std::span(&place, 1)).front(); }

double Kriging::covariance(Point a, Point b) const {
    const Model& model = models_.front();
    const Eigen::VectorXd va = model.to_readings(a), vb = model.to_readings(b);
    return model.prior(a, b) - va.dot(vb) +
           (1 - va.dot(model.ones)) * (1 - vb.dot(model.ones)) / model.weight_of_level;
}

Estimate Kriging::sum(std::span<const Weighed> places) const {
    std::vector<Part> parts;
    for (std::size_t k = 0; k < models_.size(); ++k) {
        const Model::Sum sum = models_[k].sum_of(places);
        parts.push_back({weights_[k], models_[k].mean_of(sum), std::sqrt(models_[k].variance_of(sum))});
    }
    return estimate_of(parts);
}

Kriging::Removal Kriging::removal(std::span<const Weighed> places, std::span<const Point> further,
                                  double sd) const {
    const Model& model = models_.front();
    const Model::Sum sum = model.sum_of(places);
    Removal removal{.variance = model.variance_of(sum)};
    for (const Point& at : further) {
        const Eigen::VectorXd v = model.to_readings(at);
        const double missing = 1 - v.dot(model.ones);
        double with = -sum.to_readings.dot(v) + model.missing(sum) * missing / model.weight_of_level;
        for (const Weighed& one : places) with += one.weight * model.prior(one.at, at);
        const double own = model.prior(at, at) - v.squaredNorm() + square(missing) / model.weight_of_level;
        removal.removed.push_back(square(with) / (own + square(sd)));
    }
    return removal;
}

Bumps Kriging::bumps() const { return models_.front().bumps; }

std::vector<Kriging::LeftOut> Kriging::leave_one_out() const {
    const Model& model = models_.front();
    const auto n = static_cast<Eigen::Index>(model.observed.size());
    if (n < 2) return std::vector<LeftOut>(model.observed.size(), {0, model.observed.front().sd});
    Eigen::MatrixXd inverse = Eigen::MatrixXd::Identity(n, n);
    model.L.triangularView<Eigen::Lower>().solveInPlace(inverse);
    const Eigen::VectorXd level = inverse.transpose() * model.ones,
                          weighted = inverse.transpose() * model.rest;
    std::vector<LeftOut> left;
    for (Eigen::Index i = 0; i < n; ++i) {
        const double own = inverse.col(i).squaredNorm() - square(level[i]) / model.weight_of_level;
        left.push_back({weighted[i] / own, std::sqrt(1 / own)});
    }
    return left;
}

std::vector<Observed> thinned_to(std::span<const Observed> observed, const Rectangle& box, std::size_t most) {
    if (observed.size() <= most) return {observed.begin(), observed.end()};
    const double side = std::sqrt((box.x1 - box.x0) * (box.y1 - box.y0) / static_cast<double>(most));
    const int nx = std::max(1, static_cast<int>((box.x1 - box.x0) / side)),
              ny = std::max(1, static_cast<int>(most) / nx);
    const auto cell = [](double at, double from, double to, int n) {
        return std::clamp(static_cast<int>((at - from) / (to - from) * n), 0, n - 1);
    };
    std::map<int, std::vector<Observed>> cells;
    for (const Observed& one : observed)
        cells[cell(one.at.y, box.y0, box.y1, ny) * nx + cell(one.at.x, box.x0, box.x1, nx)].push_back(one);
    std::vector<Observed> means;
    for (const auto& [index, all] : cells) {
        const auto n = static_cast<double>(all.size());
        Observed mean{};
        double errors = 0, spread = 0;
        for (const Observed& one : all) {
            mean.at.x += one.at.x / n, mean.at.y += one.at.y / n, mean.value += one.value / n;
            errors += square(one.sd);
        }
        for (const Observed& one : all) spread += square(one.value - mean.value);
        // their own errors, or what they are seen to differ by where that is more
        mean.sd = std::sqrt(std::max(errors / n, n > 1 ? spread / (n - 1) : 0.0) / n);
        means.push_back(mean);
    }
    return means;
}

} // namespace hollowtop
