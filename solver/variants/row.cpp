// SPDX-License-Identifier: MIT
#include "solver/variants/row.hpp"

#include "solver/check/season_told.hpp"
#include "solver/checks/checks.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

double cost_of(const Piece& piece, const Result& result, const Prices& prices) {
    constexpr double m_per_mm = 1e-3;
    double metres = 0;
    for (const Stiffener& bar : piece.stiffeners)
        metres += m_per_mm * std::hypot(bar.to.x - bar.from.x, bar.to.y - bar.from.y);
    return prices.a_metre.value_or(0) * metres + prices.a_kilo.value_or(0) * result.mass.stiffeners_kg +
           prices.a_screw.value_or(0) * static_cast<double>(result.screws.size());
}

void raise(std::optional<double>& greatest, double value) {
    greatest = greatest ? std::max(*greatest, value) : value;
}

} // namespace

StudyRow row_of(const Piece& piece, const Result& result, const Prices& prices) {
    StudyRow row{.passes = result.passes,
                 .governing_check = result.governing_check,
                 .governing_situation = result.governing_situation,
                 .utilisation = result.governing_utilisation,
                 .mass_kg = result.mass.total_kg,
                 .stiffeners_kg = result.mass.stiffeners_kg,
                 .sag_mm = 0,
                 .sag_years_mm = {},
                 .dish_mm = {},
                 .frequency_Hz = {},
                 .cost = {},
                 .sag_limit_mm = 0,
                 .uses = std::vector<double>(table_of_checks().size(), -1),
                 .season_uses = season_uses(piece),
                 .sag_error_percent = result.mesh.sag_error_percent,
                 .stress_error_percent = result.mesh.stress_error_percent};
    for (const SituationResult& situation : result.situations) {
        if (situation.judged_for != LoadFor::everyday || situation.set_down)
            continue; // told, and not limited
        if (situation.dish_mm) raise(row.dish_mm, *situation.dish_mm);
        if (situation.stage == Stage::years) {
            raise(row.sag_years_mm, situation.sag_mm);
        } else if (situation.sag_mm >= row.sag_mm) {
            row.sag_mm = situation.sag_mm;
            row.sag_limit_mm = situation.sag_limit_mm;
        }
    }
    if (!result.frequency_Hz.empty()) row.frequency_Hz = result.frequency_Hz.front();
    if (prices.any()) row.cost = cost_of(piece, result, prices);
    const auto table = table_of_checks();
    for (const CheckResult& check : result.checks)
        for (std::size_t i = 0; i < table.size(); ++i)
            if (check.check == table[i].name) row.uses[i] = std::max(row.uses[i], check.utilisation);
    return row;
}

} // namespace hollowtop
