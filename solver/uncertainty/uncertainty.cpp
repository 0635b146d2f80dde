// SPDX-License-Identifier: MIT
#include "solver/uncertainty/uncertainty.hpp"

#include "materials/error.hpp"
#include "materials/table.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/numeric/threads.hpp"
#include "solver/piece/boards.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace hollowtop {
namespace {

bool is_movement(const std::string& check) {
    return check.starts_with("sag") || check.starts_with("flatness") || check == "dish";
}

/// Coefficient of variation of the strength that a check is held against; nought where it is none of wood.
double cov_of_strength(const std::string& check) {
    const auto has = [&](const char* word) { return check.find(word) != std::string::npos; };
    const char* rule = has("across the grain")                          ? "cov_tension_perp"
                       : has("bearing")                                 ? "cov_comp_perp"
                       : has("shear through")                           ? "cov_shear"
                       : has("bending along") || has("along the grain") ? "cov_mor"
                                                                        : nullptr;
    return rule ? materials::rule("wood_rules", rule).value / 100 : 0;
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
                                      const NumbersOf& whole) {
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
    const auto before = whole(asked), after = whole(reordered(asked, order));
    if (!before || !after) return told;
    const double to_demand = watched.rows[number].demand / (*before)[number];
    told.demand_before = watched.rows[number].demand;
    told.demand_after = to_demand * (*after)[number];
    constexpr double worth = 0.99; // less is not worth turning boards about
    if (told.demand_after < worth * told.demand_before) told.order = order;
    return told;
}

} // namespace

CheckOptions options_of_solves(const CheckOutcome& outcome, bool rough) {
    CheckOptions check;
    check.threads = 1;
    check.essentials = check.no_advice = true;
    check.mesh_of_another = outcome.result.mesh;
    check.rough = rough;
    return check;
}

Uncertainty uncertainty_of(const CheckOutcome& outcome, const UncertaintyOptions& options) {
    const Inputs inputs = inputs_of(outcome.placed, options.tolerances);
    const Watched watched = watch(outcome.result);
    Uncertainty told{.samples = options.samples, .causes = inputs.causes};
    if (watched.rows.empty() || inputs.inputs.empty()) return told;
    const std::size_t n_rows = watched.rows.size();
    const auto numbers_with = [&](const CheckOptions& check) -> NumbersOf {
        return [&watched, check](const Piece& piece) -> std::optional<std::vector<double>> {
            try {
                return numbers_in(watched, check_piece(piece, check).result);
            } catch (const Error& error) {
                if (error.kind() == ErrorKind::input) throw;
                return std::nullopt;
            }
        };
    };
    SurfaceOptions laying{.threads = threads_for(options.check.threads), .progress = options.check.progress};
    for (std::size_t k = 0; k < n_rows; ++k) {
        laying.is_movement.push_back(is_movement(watched.rows[k].check));
        laying.counts.push_back(k == watched.governing || watched.sag == k ? 1 : 0);
    }
    const NumbersOf whole = numbers_with(options_of_solves(outcome, false));
    const Surface surface = lay_surface(inputs, numbers_with(options_of_solves(outcome, true)), laying);
    told.n_solves = surface.n_solves;

    // the same places on the mesh of the check itself, drawn as the samples are: how far the surface is off
    constexpr std::size_t n_proofs = 4;
    constexpr std::uint64_t another_seed = 0x5eed;
    std::vector<std::optional<std::vector<double>>> proofs(n_proofs + 1);
    std::vector<std::vector<double>> proof_places{std::vector<double>(inputs.inputs.size(), 0)};
    for (std::size_t p = 0; p < n_proofs; ++p)
        proof_places.push_back(
            inputs_from(inputs, normals(options.seed ^ another_seed, p, inputs.causes.size())));
    share_out(static_cast<int>(proofs.size()), laying.threads, [&](int p, int) {
        const auto index = static_cast<std::size_t>(p);
        proofs[index] = whole(piece_at(inputs, proof_places[index]));
    });
    told.n_solves += static_cast<int>(proofs.size());
    std::vector<double> furthest(n_rows, 0);
    for (std::size_t p = 1; p < proofs.size(); ++p)
        for (std::size_t k = 0; k < n_rows && proofs[p] && proofs[0]; ++k)
            if (surface.known[k])
                furthest[k] = std::max(furthest[k], std::abs(std::exp(surface.log_of(k, proof_places[p])) *
                                                                 (*proofs[0])[k] / (*proofs[p])[k] -
                                                             1));

    // strengths have causes of their own, after those of the surface
    const std::size_t n_causes = inputs.causes.size();
    std::vector<std::vector<double>> utilisation(n_rows);
    std::vector<std::size_t> exceeds(n_rows, 0), breaks(n_rows, 0);
    std::vector<double> strength_deviation(n_rows);
    for (std::size_t k = 0; k < n_rows; ++k)
        strength_deviation[k] = log_deviation(cov_of_strength(watched.rows[k].check));
    std::size_t any = 0;
    for (std::size_t s = 0; s < options.samples; ++s) {
        const std::vector<double> drawn = normals(options.seed, s, n_causes + n_rows);
        const std::vector<double> x = inputs_from(inputs, std::span{drawn}.first(n_causes));
        bool one = false;
        for (std::size_t k = 0; k < n_rows; ++k) {
            if (!surface.known[k]) continue;
            const double u = watched.rows[k].utilisation * std::exp(surface.log_of(k, x));
            utilisation[k].push_back(u);
            if (u > 1) ++exceeds[k], one = true;
            constexpr double weakest_of_twenty = 1.645; // deviations below the mean
            if (strength_deviation[k] > 0 &&
                u > std::exp(strength_deviation[k] * (drawn[n_causes + k] + weakest_of_twenty)))
                ++breaks[k];
        }
        any += one ? 1 : 0;
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
                         .error_percent = 100 * furthest[k]};
        const double to_demand = row.demand / row.utilisation;
        one.mean = mean * to_demand;
        one.demand = {one.utilisation.low * to_demand, one.utilisation.middle * to_demand,
                      one.utilisation.high * to_demand};
        if (strength_deviation[k] > 0) one.breaks = chance_of(breaks[k], options.samples);
        if (k == watched.governing) told.error_percent = one.error_percent;
        told.rows.push_back(std::move(one));
    }
    told.any_exceeds = chance_of(any, options.samples);
    told.governing = watched.rows[watched.governing].check;
    const auto shares_of = [&](std::optional<std::size_t> k) {
        return k && surface.known[*k] ? first_order_shares(in_causes(surface, inputs, *k))
                                      : std::vector<double>(n_causes, 0);
    };
    const std::vector<double> of_governing = shares_of(watched.governing), of_sag = shares_of(watched.sag);
    for (std::size_t c = 0; c < n_causes; ++c)
        told.shares.push_back({.cause = c, .of_governing = of_governing[c], .of_sag = of_sag[c]});
    std::stable_sort(told.shares.begin(), told.shares.end(), [](const CauseShare& a, const CauseShare& b) {
        return a.of_governing > b.of_governing;
    });
    const std::size_t for_boards =
        is_movement(told.governing) ? watched.governing : watched.sag.value_or(watched.governing);
    if (is_movement(watched.rows[for_boards].check) && surface.known[for_boards])
        told.boards = board_order(outcome, inputs, surface, watched, for_boards, whole);
    return told;
}

const UncertainRow* find_row(const Uncertainty& uncertainty, const std::string& check) {
    const auto found = std::find_if(uncertainty.rows.begin(), uncertainty.rows.end(),
                                    [&](const UncertainRow& row) { return row.check == check; });
    return found == uncertainty.rows.end() ? nullptr : &*found;
}

} // namespace hollowtop
