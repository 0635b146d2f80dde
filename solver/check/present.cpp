// SPDX-License-Identifier: MIT
#include "solver/check/present.hpp"

#include "materials/digits.hpp"
#include "solver/capacity/in_recess.hpp"
#include "solver/check/fill_result.hpp"
#include "solver/checks/checks.hpp"
#include "solver/piece/plausible.hpp"
#include "solver/piece/use_loads.hpp"
#include "solver/piece/version.hpp"
#include "solver/readout/sag_in_time.hpp"

#include <string>
#include <utility>
#include <vector>

namespace hollowtop {
namespace {

template <class Sentences> void append(Sentences& sentences, Sentences more) {
    for (auto& sentence : more) sentences.push_back(std::move(sentence));
}

/// Sag under the standing loads over the years; past the life that creep was measured over nothing is told.
void fill_sag_in_time(const Piece& piece, const Response& response, Result& result) {
    const double asked_years = piece.climate ? piece.climate->years : Climate{}.years;
    result.sag_in_time = sag_in_time(response, asked_years);
    if (result.sag_in_time.empty()) return;
    result.sag_in_time_basis = sag_in_time_basis();
    if (asked_years > creep_life_years)
        result.warnings.push_back("Sag after " + materials::digits(asked_years) +
                                  " years is not told: of creep past " + materials::digits(creep_life_years) +
                                  " years nothing is known here.");
}

/// The theory is one of small movements; and what sags by more than its thickness was hardly meant.
void warn_of_great_sag(const Piece& piece, Result& result) {
    const SituationResult* most = nullptr;
    for (const SituationResult& s : result.situations)
        if (!most || s.sag_mm > most->sag_mm) most = &s;
    if (!most || !(most->sag_mm > piece.top.thickness)) return;
    result.warnings.push_back(
        said("Under \"{}\" the top sags by {}, more than it is thick ({}): the theory does not "
             "reach so far, and a size, a unit or a load may be other than meant.",
             most->name, amount(most->sag_mm, Unit::mm), amount(piece.top.thickness, Unit::mm)));
}

/// Of rows without an error of their own: that of sag or of bending on the whole mesh.
void fill_errors(Result& result) {
    for (CheckResult& row : result.checks) {
        if (row.error_percent || row.advice || is_of_geometry(row.check))
            continue; // found on meshes of their own, or on none
        if (row.unit == "mm")
            row.error_percent = result.mesh.sag_error_percent;
        else if (row.unit == "MPa" || row.unit == "1")
            row.error_percent = result.mesh.stress_error_percent;
    }
}

} // namespace

Result present(const Checked& checked, const MeshReport& mesh) {
    const Piece& piece = checked.piece;
    const Response& response = checked.response;
    Result result;
    result.version = program_version;
    result.title = piece.title;
    result.mesh = mesh;
    result.frequency_Hz = response.frequency_Hz;
    fill_mass(piece, checked.model, result);
    fill_situations(response, result);
    fill_load_positions(piece, checked.model, checked.solved, result);
    fill_sag_in_time(piece, response, result);
    fill_bars(piece, checked.model, checked.solved, response, checked.essentials, result);
    fill_assumptions(piece, checked.model, result);
    result.in_recesses = in_recesses(piece, response);
    append(result.assumptions, assumptions_in_recesses(piece));
    append(result.warnings, warnings_in_recesses(piece));
    append(result.assumptions, told_of_use(checked.asked));
    append(result.warnings, doubts_of(checked.asked));
    warn_of_great_sag(piece, result);
    tell_of_loads(piece, checked.model, result);
    tell_of_hanging(piece, result);
    warn_of_lifting(response, result);
    warn_of_tipping(response, result);
    return result;
}

void finish_result(const Checked& checked, Result& result) {
    if (!checked.essentials)
        fill_second_answers(checked.piece, checked.model, checked.solved, checked.threads, result);
    warn_of_mesh(checked.piece, result);
    fill_errors(result);
    find_band(checked.piece, result);
}

} // namespace hollowtop
