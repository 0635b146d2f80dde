// SPDX-License-Identifier: MIT
#include "solver/variants/proof_band.hpp"

#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/readout/sag_in_time.hpp"
#include "solver/section/top_material.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

constexpr std::size_t full_step = 3; ///< of proof_shares: the whole load

double share_after(const Piece& piece, double hours) {
    constexpr double hours_a_year = 8766;
    return 1 + creep_of(piece).value * share_of_creep(hours / hours_a_year);
}

} // namespace

std::optional<ProofPrediction> predict_proof(const CheckOutcome& outcome, const UncertaintyOptions& options) {
    const std::optional<ProofPlan> plan = plan_proof_test(outcome.placed, outcome.result);
    if (!plan) return std::nullopt;
    std::optional<ProofTest> test =
        read_proof_test(*plan, check_piece(plan->piece, options_of(Solve::whole, outcome)).result);
    if (!test) return std::nullopt;
    return predict_proof(outcome, *plan, std::move(*test), options);
}

ProofPrediction predict_proof(const CheckOutcome& outcome, const ProofPlan& plan, ProofTest test,
                              const UncertaintyOptions& options) {
    ProofPrediction prediction;
    prediction.test = std::move(test);
    Tolerances tolerances = options.tolerances;
    tolerances.loads_known = true;
    prediction.inputs = inputs_of(plan.piece, tolerances);
    const CheckOptions check = options_of(Solve::differences, outcome);
    const NumbersOf readings = [&](const Piece& piece) -> std::optional<std::vector<double>> {
        Piece laden = piece_for(Solve::differences, piece); // with the whole load alone
        laden.loads = {piece.loads[full_step]};
        try {
            return readings_at(plan, check_piece(laden, check).result, proof_shares[full_step]);
        } catch (const Error& error) {
            if (error.kind() == ErrorKind::input) throw;
            return std::nullopt;
        }
    };
    const std::size_t n_gauges = prediction.test.gauges.size();
    prediction.surface = lay_surface(prediction.inputs, readings,
                                     {.threads = threads_for(options.check.threads),
                                      .is_movement = std::vector<bool>(n_gauges, true),
                                      .progress = options.check.progress});
    // every step alike: the whole load's reading scatters as its own, and so do the others
    std::vector<std::vector<double>> factor(n_gauges), noise(n_gauges);
    const std::size_t n_causes = prediction.inputs.causes.size();
    for (std::size_t s = 0; s < options.samples; ++s) {
        const std::vector<double> drawn = normals(options.seed, s, n_causes + 2 * n_gauges);
        const std::vector<double> x = inputs_from(prediction.inputs, std::span{drawn}.first(n_causes));
        for (std::size_t g = 0; g < n_gauges; ++g) {
            const double known = prediction.surface.known[g] ? prediction.surface.log_of(g, x) : 0;
            factor[g].push_back(std::exp(known + model_error * drawn[n_causes + 2 * g]));
            noise[g].push_back(gauge_error_mm * drawn[n_causes + 2 * g + 1]);
        }
    }
    for (const ProofStep& step : prediction.test.steps) {
        std::vector<Band> row;
        for (std::size_t g = 0; g < n_gauges; ++g) {
            std::vector<double> values(factor[g].size());
            for (std::size_t s = 0; s < values.size(); ++s)
                values[s] = step.readings_mm[g] * factor[g][s] + noise[g][s];
            row.push_back(band_of(std::move(values)));
        }
        prediction.bands.push_back(std::move(row));
    }
    prediction.after_hour = share_after(outcome.placed, an_hour);
    prediction.after_day = share_after(outcome.placed, a_day);
    return prediction;
}

std::vector<GaugeFound> gauges_found(const ProofPrediction& prediction,
                                     std::span<const ProofReading> readings) {
    std::vector<GaugeFound> all;
    for (std::size_t g = 0; g < prediction.test.gauges.size(); ++g) {
        double force_reading = 0, force_square = 0;
        std::vector<ProofReading> own;
        for (const ProofReading& reading : readings)
            if (reading.gauge == g && reading.force_N > 0) own.push_back(reading);
        if (own.empty()) continue;
        std::stable_sort(own.begin(), own.end(),
                         [](const ProofReading& a, const ProofReading& b) { return a.force_N < b.force_N; });
        for (const ProofReading& reading : own) {
            force_reading += reading.force_N * reading.reading_mm;
            force_square += reading.force_N * reading.force_N;
        }
        const double slope = force_reading / force_square,
                     computed = prediction.test.steps[full_step].readings_mm[g] / prediction.test.force_N;
        if (!(computed > 0)) continue; // it lifts there: nothing to compare
        if (!(slope > 0))
            throw Error(ErrorKind::input,
                        Fault{"gauge " + std::string(1, static_cast<char>('A' + g)),
                              "its readings do not grow with the load",
                              "downward is +, from nought under no load; if the dial counts the other way, "
                              "turn the signs round"});
        double rest = 0;
        for (const ProofReading& reading : own)
            rest += std::pow(reading.reading_mm - slope * reading.force_N, 2);
        const double n = static_cast<double>(own.size());
        const double scatter = std::max(gauge_error_mm, n > 1 ? std::sqrt(rest / (n - 1)) : gauge_error_mm);
        GaugeFound found{.gauge = g,
                         .n_readings = static_cast<int>(own.size()),
                         .read_over_computed = slope / computed,
                         .computed_slope = computed,
                         .error = std::hypot(scatter / std::sqrt(force_square) / slope, model_error)};
        constexpr std::size_t enough = 4;
        if (own.size() >= enough) {
            const auto slope_between = [&](const ProofReading& a, const ProofReading& b) {
                return b.force_N > a.force_N ? (b.reading_mm - a.reading_mm) / (b.force_N - a.force_N) : 0.0;
            };
            const double first = own[1].reading_mm / own[1].force_N,
                         last = slope_between(own[own.size() - 2], own.back());
            if (first > 0) found.bend = last / first - 1;
        }
        all.push_back(found);
    }
    return all;
}

Learned learn(const ProofPrediction& prediction, std::vector<GaugeFound> found) {
    const Inputs& inputs = prediction.inputs;
    const auto m = static_cast<Eigen::Index>(inputs.causes.size());
    std::erase_if(found, [&](const GaugeFound& g) { return !prediction.surface.known[g.gauge]; });
    const auto n = static_cast<Eigen::Index>(found.size());
    Learned learned{.gauges = found};
    Eigen::VectorXd z = Eigen::VectorXd::Zero(m), log_read(n), log_before(n);
    Eigen::MatrixXd H(n, m), covariance = Eigen::MatrixXd::Identity(m, m), before;
    Eigen::VectorXd error(n);
    std::vector<CauseForm> forms;
    for (Eigen::Index i = 0; i < n; ++i) {
        const GaugeFound& one = found[static_cast<std::size_t>(i)];
        forms.push_back(in_causes(prediction.surface, inputs, one.gauge));
        log_read[i] = std::log(one.read_over_computed);
        error[i] = one.error * one.error;
        log_before[i] = forms.back().constant;
    }
    constexpr int rounds = 5; // it stays after two or three
    for (int round = 0; round < rounds && n > 0; ++round) {
        Eigen::VectorXd at(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            const CauseForm& form = forms[static_cast<std::size_t>(i)];
            const Eigen::Map<const Eigen::VectorXd> slope(form.slope.data(), m);
            const Eigen::Map<const Eigen::MatrixXd> curve(form.curvature.data(), m, m);
            H.row(i) = (slope + curve * z).transpose();
            at[i] = form.constant + slope.dot(z) + z.dot(curve * z) / 2;
        }
        Eigen::MatrixXd sum = H * H.transpose();
        sum.diagonal() += error;
        if (round == 0) before = sum;
        const Eigen::MatrixXd gain = sum.ldlt().solve(H).transpose();
        z = gain * (log_read - at + H * z);
        covariance = Eigen::MatrixXd::Identity(m, m) - gain * H;
    }
    if (n > 0) {
        const Eigen::VectorXd off = log_read - log_before;
        learned.surprise = std::sqrt(off.dot(before.ldlt().solve(off)) / static_cast<double>(n));
        for (Eigen::Index i = 0; i < n; ++i)
            learned.surprise = std::max(learned.surprise, std::abs(off[i]) / std::sqrt(before(i, i)));
    }
    learned.mean.assign(z.data(), z.data() + m);
    covariance = ((covariance + covariance.transpose()) / 2).eval();
    learned.covariance.assign(covariance.data(), covariance.data() + m * m);
    // of all boards together, by width
    std::vector<double> weight(inputs.inputs.size(), 0);
    double width = 0;
    for (std::size_t i = 0; i < inputs.inputs.size(); ++i) {
        const Input& input = inputs.inputs[i];
        if (input.kind == InputKind::whole) weight[i] = 1;
        if (input.kind != InputKind::boards) continue;
        weight[i] = 1;
        if (inputs.base.top.wood.empty() || inputs.base.top.elastic) continue;
        double own = 0;
        for (std::size_t b = input.first_board; b < input.end_board; ++b)
            own += inputs.base.top.each_board[b].width;
        weight[i] = own;
        width += own;
    }
    if (width > 0)
        for (std::size_t i = 0; i < weight.size(); ++i)
            if (inputs.inputs[i].kind == InputKind::boards) weight[i] /= width;
    Eigen::VectorXd form = Eigen::VectorXd::Zero(m);
    double middle = 0;
    for (std::size_t i = 0; i < weight.size(); ++i) {
        middle += weight[i] * inputs.shift[i];
        for (Eigen::Index c = 0; c < m; ++c) form[c] += weight[i] * inputs.at(i, static_cast<std::size_t>(c));
    }
    middle += form.dot(z);
    constexpr double ninety = 1.645;
    const double deviation = std::sqrt(std::max(0.0, form.dot(covariance * form)));
    learned.stiffness = {std::exp(middle - ninety * deviation), std::exp(middle),
                         std::exp(middle + ninety * deviation)};
    return learned;
}

std::vector<BoardLearned> boards_learned(const ProofPrediction& prediction, const Learned& learned) {
    const Inputs& inputs = prediction.inputs;
    std::vector<BoardLearned> all;
    if (inputs.base.top.wood.empty() || inputs.base.top.elastic) return all;
    const auto m = static_cast<Eigen::Index>(inputs.causes.size());
    const Eigen::Map<const Eigen::MatrixXd> covariance(learned.covariance.data(), m, m);
    for (std::size_t i = 0; i < inputs.inputs.size(); ++i) {
        const Input& input = inputs.inputs[i];
        if (input.kind != InputKind::boards) continue;
        Eigen::VectorXd form(m);
        double middle = inputs.shift[i];
        for (Eigen::Index c = 0; c < m; ++c) {
            form[c] = inputs.at(i, static_cast<std::size_t>(c));
            for (std::size_t w = 0; w < inputs.inputs.size(); ++w)
                if (inputs.inputs[w].kind == InputKind::whole)
                    form[c] += inputs.at(w, static_cast<std::size_t>(c));
            middle += form[c] * learned.mean[static_cast<std::size_t>(c)];
        }
        constexpr double ninety = 1.645;
        const double deviation = std::sqrt(std::max(0.0, form.dot(covariance * form)));
        const double before = *inputs.base.top.each_board[input.first_board].measured.E_along;
        all.push_back(
            {.first_board = input.first_board,
             .end_board = input.end_board,
             .before_MPa = before,
             .after_MPa = {before * std::exp(middle - ninety * deviation), before * std::exp(middle),
                           before * std::exp(middle + ninety * deviation)}});
    }
    return all;
}

Piece piece_learned(const Piece& placed, const ProofPrediction& prediction, const Learned& learned,
                    bool soft) {
    Inputs inputs = prediction.inputs;
    const std::vector<double> x = inputs_from(inputs, learned.mean);
    std::vector<double> wood(x.size(), 0);
    for (std::size_t i = 0; i < x.size(); ++i) {
        const InputKind kind = inputs.inputs[i].kind;
        if (kind == InputKind::whole || kind == InputKind::boards || kind == InputKind::across ||
            kind == InputKind::shear)
            wood[i] = x[i];
    }
    if (soft)
        for (std::size_t i = 0; i < x.size(); ++i) // every board alike
            if (inputs.inputs[i].kind == InputKind::boards)
                wood[i] += std::log(learned.stiffness.low / learned.stiffness.middle);
    Piece piece = placed;
    piece.top = piece_at(inputs, wood).top;
    piece.top.glue_lines_kept = false; // boards that are alike are one again
    piece.use.clear();
    return piece;
}

} // namespace hollowtop
