// SPDX-License-Identifier: MIT
#include "solver/uncertainty/uncertainty.hpp"

#include "materials/error.hpp"
#include "materials/table.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/piece/boards.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace hollowtop {
namespace {

bool is_movement(const std::string& check) {
    return check.starts_with("sag") || check.starts_with("flatness") || check == "dish";
}

/// Coefficient of variation of the strength of wood that a check is held against; none where it is no such.
std::optional<materials::Sourced> scatter_of_strength(const std::string& check) {
    const auto has = [&](const char* word) { return check.find(word) != std::string::npos; };
    const char* rule = has("across the grain")                          ? "cov_tension_perp"
                       : has("bearing")                                 ? "cov_comp_perp"
                       : has("shear through")                           ? "cov_shear"
                       : has("bending along") || has("along the grain") ? "cov_mor"
                                                                        : nullptr;
    return rule ? std::optional(materials::rule("wood_rules", rule)) : std::nullopt;
}

struct Watched {
    std::vector<CheckResult> rows;
    std::size_t governing = 0;
    std::optional<std::size_t> sag;
};

Watched watch(const Result& result) {
    Watched watched;
    for (const CheckResult& row : result.checks) {
        if (row.advice || !(row.utilisation > 1e-9) || !std::isfinite(row.utilisation)) continue;
        const auto known = std::find_if(watched.rows.begin(), watched.rows.end(),
                                        [&](const CheckResult& r) { return r.check == row.check; });
        if (known == watched.rows.end())
            watched.rows.push_back(row);
        else if (row.utilisation > known->utilisation)
            *known = row;
    }
    for (std::size_t k = 0; k < watched.rows.size(); ++k) {
        if (watched.rows[k].utilisation > watched.rows[watched.governing].utilisation) watched.governing = k;
        if (watched.rows[k].check.starts_with("sag") &&
            (!watched.sag || watched.rows[k].utilisation > watched.rows[*watched.sag].utilisation))
            watched.sag = k;
    }
    return watched;
}

std::vector<double> numbers_in(const Watched& watched, const Result& result) {
    std::vector<double> numbers(watched.rows.size(), 0);
    for (const CheckResult& row : result.checks)
        for (std::size_t k = 0; k < watched.rows.size() && !row.advice; ++k)
            if (watched.rows[k].check == row.check) numbers[k] = std::max(numbers[k], row.utilisation);
    return numbers;
}

/// In another order, each board with what was measured on it.
Piece reordered(const Piece& piece, const std::vector<std::size_t>& order) {
    Piece other = piece;
    for (std::size_t i = 0; i < order.size(); ++i) other.top.each_board[i] = piece.top.each_board[order[i]];
    return other;
}

std::optional<BoardOrder> board_order(const CheckOutcome& outcome, const Inputs& inputs,
                                      const Surface& surface, const Watched& watched, std::size_t number,
                                      const NumbersOf& numbers_of) {
    std::vector<std::size_t> boards;
    for (std::size_t i = 0; i < inputs.inputs.size(); ++i)
        if (inputs.inputs[i].kind == InputKind::boards) boards.push_back(i);
    if (boards.size() < 2) return std::nullopt;
    BoardOrder told{.check = watched.rows[number].check};
    double sum = 0;
    for (const std::size_t i : boards) sum += std::abs(surface.slope[number][i]);
    for (const std::size_t i : boards)
        told.places.push_back({.weight = sum > 0 ? -surface.slope[number][i] / sum : 0});
    const std::vector<Board>& drawn = outcome.placed.top.each_board;
    const bool each_measured = drawn.size() == boards.size() &&
                               std::all_of(drawn.begin(), drawn.end(),
                                           [](const Board& b) { return b.measured.E_along.has_value(); });
    if (!each_measured) return told;
    // stiff boards where a millimetre of board counts most (the rearrangement inequality; one solve decides)
    std::vector<std::size_t> by_weight(drawn.size()), by_modulus(drawn.size()), order(drawn.size());
    std::iota(by_weight.begin(), by_weight.end(), std::size_t{0});
    by_modulus = by_weight;
    const auto weight = [&](std::size_t b) {
        return told.places[b].weight / (drawn[b].width * *drawn[b].measured.E_along);
    };
    std::stable_sort(by_weight.begin(), by_weight.end(),
                     [&](std::size_t a, std::size_t b) { return weight(a) > weight(b); });
    std::stable_sort(by_modulus.begin(), by_modulus.end(), [&](std::size_t a, std::size_t b) {
        return *drawn[a].measured.E_along > *drawn[b].measured.E_along;
    });
    for (std::size_t i = 0; i < order.size(); ++i) order[by_weight[i]] = by_modulus[i];
    Piece asked = inputs.base;
    const auto before = numbers_of(asked), after = numbers_of(reordered(asked, order));
    if (!before || !after) return told;
    const double to_demand = watched.rows[number].demand / (*before)[number];
    told.demand_before = watched.rows[number].demand;
    told.demand_after = to_demand * (*after)[number];
    constexpr double worth = 0.99; // less is not worth turning boards about
    if (told.demand_after < worth * told.demand_before) told.order = order;
    return told;
}

/// Samples of the logarithm of each number that is known, a row a number, `count` from the one numbered `first`;
/// `own` are further normals, one a number.
struct Drawn {
    Eigen::MatrixXd log, own;
};
Drawn draw(const Inputs& inputs, const Surface& surface, std::uint64_t seed, std::size_t first,
           std::size_t count) {
    const auto n = static_cast<Eigen::Index>(inputs.inputs.size()),
               m = static_cast<Eigen::Index>(inputs.causes.size()),
               rows = static_cast<Eigen::Index>(surface.slope.size()),
               columns = static_cast<Eigen::Index>(count);
    using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    Eigen::MatrixXd causes(m, columns);
    Drawn drawn{.log = Eigen::MatrixXd::Zero(rows, columns), .own = Eigen::MatrixXd(rows, columns)};
    for (Eigen::Index s = 0; s < columns; ++s) {
        const std::vector<double> values =
            normals(seed, first + static_cast<std::size_t>(s), static_cast<std::size_t>(m + rows));
        causes.col(s) = Eigen::Map<const Eigen::VectorXd>(values.data(), m);
        drawn.own.col(s) = Eigen::Map<const Eigen::VectorXd>(values.data() + m, rows);
    }
    const Eigen::Map<const RowMajor> mix(inputs.mix.data(), n, m);
    const Eigen::Map<const Eigen::VectorXd> shift(inputs.shift.data(), n);
    const Eigen::MatrixXd x = (mix * causes).colwise() + shift;
    for (std::size_t k = 0; k < surface.slope.size(); ++k) {
        if (!surface.known[k]) continue;
        const Eigen::Map<const Eigen::VectorXd> slope(surface.slope[k].data(), n);
        const Eigen::Map<const RowMajor> curvature(surface.curvature[k].data(), n, n);
        const Eigen::MatrixXd row = (curvature * x / 2).colwise() + slope;
        drawn.log.row(static_cast<Eigen::Index>(k)) = row.cwiseProduct(x).colwise().sum();
    }
    return drawn;
}

/// The causes that are 5 in a hundred likely at most to take that number so far or further, most likely so: where
/// the surface is tried.
std::vector<double> hard_end(const Inputs& inputs, const Surface& surface, std::size_t number) {
    constexpr double one_in_twenty = 1.645; // deviations
    std::vector<double> causes = in_causes(surface, inputs, number).slope;
    double square = 0;
    for (const double slope : causes) square += slope * slope;
    for (double& cause : causes) cause *= square > 0 ? one_in_twenty / std::sqrt(square) : 0;
    return inputs_from(inputs, causes);
}

} // namespace

CheckOptions options_of(Solve solve, const CheckOutcome& outcome) {
    CheckOptions check;
    check.threads = 1;
    check.essentials = check.no_advice = true;
    check.mesh_of_another = outcome.result.mesh;
    if (solve == Solve::whole) return check;
    // what one mesh says of two tops that differ a little errs alike in both
    constexpr double cells = 8; // along the longer side
    check.rough = true;
    check.mesh_of_another->order = 2;
    check.mesh_of_another->size_mm = std::max(
        outcome.result.mesh.size_mm, std::max(outcome.placed.top.length, outcome.placed.top.width) / cells);
    return check;
}

Piece piece_for(Solve solve, Piece piece) {
    if (solve == Solve::whole) return piece;
    constexpr double round = 0.2; // of the shorter side: such a corner is a shape of its own
    for (Recess& recess : piece.recesses)
        if (auto* shape = std::get_if<RectangleShape>(&recess.shape))
            if (shape->corner_radius <
                round * std::min(shape->box.x1 - shape->box.x0, shape->box.y1 - shape->box.y0))
                shape->corner_radius = 0;
    return piece;
}

Uncertainty uncertainty_of(const CheckOutcome& outcome, const UncertaintyOptions& options) {
    const Inputs inputs = inputs_of(outcome.placed, options.tolerances);
    const Watched watched = watch(outcome.result);
    Uncertainty told{.samples = options.samples, .causes = inputs.causes};
    if (watched.rows.empty() || inputs.inputs.empty()) return told;
    const std::size_t n_rows = watched.rows.size(), governing = watched.governing;
    const auto numbers_by = [&](Solve solve, int threads) -> NumbersOf {
        CheckOptions check = options_of(solve, outcome);
        check.threads = threads;
        return [&watched, solve, check](const Piece& piece) -> std::optional<std::vector<double>> {
            try {
                return numbers_in(watched, check_piece(piece_for(solve, piece), check).result);
            } catch (const Error& error) {
                if (error.kind() == ErrorKind::input) throw;
                return std::nullopt;
            }
        };
    };
    SurfaceOptions laying{.threads = threads_for(options.check.threads), .progress = options.check.progress};
    for (const CheckResult& row : watched.rows) laying.is_movement.push_back(is_movement(row.check));
    const NumbersOf differences = numbers_by(Solve::differences, 1);
    const Surface surface = lay_surface(inputs, differences, laying);
    told.n_solves = surface.n_solves;

    std::vector<std::optional<double>> off(n_rows);
    if (surface.known[governing] && options.tries_whole) {
        const std::vector<double> there = hard_end(inputs, surface, governing);
        const auto tried = numbers_by(Solve::whole, laying.threads)(piece_at(inputs, there));
        ++told.n_solves;
        for (std::size_t k = 0; k < n_rows && tried; ++k)
            if (surface.known[k] && (*tried)[k] > 0)
                off[k] = 100 * std::abs(std::exp(surface.log_of(k, there)) * watched.rows[k].utilisation /
                                            (*tried)[k] -
                                        1);
    }

    // strengths have causes of their own, after those of the surface
    std::vector<std::optional<materials::Sourced>> scatter(n_rows);
    std::vector<double> deviation(n_rows, 0);
    for (std::size_t k = 0; k < n_rows; ++k)
        if ((scatter[k] = scatter_of_strength(watched.rows[k].check)))
            deviation[k] = log_deviation(scatter[k]->value / 100);
    std::vector<std::vector<double>> utilisation(n_rows), of_strength(n_rows);
    std::vector<std::size_t> exceeds(n_rows, 0), breaks(n_rows, 0);
    std::size_t any = 0;
    constexpr std::size_t at_a_time = 200;
    for (std::size_t first = 0; first < options.samples; first += at_a_time) {
        const std::size_t count = std::min(at_a_time, options.samples - first);
        const Drawn drawn = draw(inputs, surface, options.seed, first, count);
        std::vector<char> one(count, 0);
        for (std::size_t k = 0; k < n_rows; ++k) {
            if (!surface.known[k]) continue;
            const auto row = static_cast<Eigen::Index>(k);
            for (std::size_t s = 0; s < count; ++s) {
                const auto column = static_cast<Eigen::Index>(s);
                const double u = watched.rows[k].utilisation * std::exp(drawn.log(row, column));
                utilisation[k].push_back(u);
                if (u > 1) ++exceeds[k], one[s] = 1;
                if (!scatter[k]) continue;
                constexpr double weakest_of_twenty = 1.645; // deviations below the mean
                of_strength[k].push_back(
                    u * std::exp(-deviation[k] * (drawn.own(row, column) + weakest_of_twenty)));
                breaks[k] += of_strength[k].back() > 1 ? 1 : 0;
            }
        }
        any += static_cast<std::size_t>(std::count(one.begin(), one.end(), 1));
    }
    for (std::size_t k = 0; k < n_rows; ++k) {
        const CheckResult& row = watched.rows[k];
        if (!surface.known[k]) {
            told.notes.push_back("no band of \"" + row.check + "\": it comes and goes with small changes");
            continue;
        }
        const double mean = std::accumulate(utilisation[k].begin(), utilisation[k].end(), 0.0) /
                            static_cast<double>(options.samples);
        UncertainRow one{.check = row.check,
                         .situation = row.situation,
                         .unit = row.unit,
                         .drawn = row.demand,
                         .limit = row.capacity,
                         .utilisation = band_of(std::move(utilisation[k])),
                         .exceeds = chance_of(exceeds[k], options.samples),
                         .error_percent = off[k]};
        const double to_demand = row.demand / row.utilisation;
        one.mean = mean * to_demand;
        one.demand = {one.utilisation.low * to_demand, one.utilisation.middle * to_demand,
                      one.utilisation.high * to_demand};
        if (scatter[k])
            one.strength = UncertainRow::Strength{.coefficient_of_variation = scatter[k]->value / 100,
                                                  .source = scatter[k]->source,
                                                  .used = band_of(std::move(of_strength[k])),
                                                  .breaks = chance_of(breaks[k], options.samples)};
        if (k == governing) told.error_percent = one.error_percent;
        told.rows.push_back(std::move(one));
    }
    told.any_exceeds = chance_of(any, options.samples);
    told.governing = watched.rows[governing].check;
    const auto shares_of = [&](std::optional<std::size_t> k) {
        return k && surface.known[*k] ? first_order_shares(in_causes(surface, inputs, *k))
                                      : std::vector<double>(inputs.causes.size(), 0);
    };
    const std::vector<double> of_governing = shares_of(governing), of_sag = shares_of(watched.sag);
    for (std::size_t c = 0; c < inputs.causes.size(); ++c)
        told.shares.push_back({.cause = c, .of_governing = of_governing[c], .of_sag = of_sag[c]});
    std::stable_sort(told.shares.begin(), told.shares.end(), [](const CauseShare& a, const CauseShare& b) {
        return a.of_governing > b.of_governing;
    });
    const std::size_t for_boards = is_movement(told.governing) ? governing : watched.sag.value_or(governing);
    if (is_movement(watched.rows[for_boards].check) && surface.known[for_boards])
        told.boards = board_order(outcome, inputs, surface, watched, for_boards, differences);
    return told;
}

const UncertainRow* find_row(const Uncertainty& uncertainty, const std::string& check) {
    const auto found = std::find_if(uncertainty.rows.begin(), uncertainty.rows.end(),
                                    [&](const UncertainRow& row) { return row.check == check; });
    return found == uncertainty.rows.end() ? nullptr : &*found;
}

} // namespace hollowtop
