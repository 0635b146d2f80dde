// SPDX-License-Identifier: MIT
#pragma once
/// \file  A top checked as drawn, as it was routed and at the low bound of what was gauged; what mends it.

#include "solver/check/check_piece.hpp"
#include "solver/survey/survey.hpp"
#include "solver/uncertainty/sampling.hpp"
#include "solver/variants/row.hpp"

#include <functional>
#include <optional>
#include <vector>

namespace hollowtop {

/// What one of the pieces came to.
struct SurveyCheck {
    std::optional<Result> result; ///< absent where it could not be computed
    StudyRow row{};
    Message problem; ///< then
    bool passes() const { return result && result->passes; }
};

/// A change to the top as it was routed, and what it comes to by checks of its own.
struct Mend {
    enum class Kind { leave, patch, patches, level, bar_along, bar_across };
    Kind kind = Kind::leave;
    std::optional<ThinPlace> place{}; ///< of a patch and of a bar
    double skin = 0;                  ///< mm: that of a patch, or to which all is levelled
    double size_x = 0, size_y = 0;    ///< of a patch, mm
    std::optional<Stiffener> bar{};
    SurveyCheck routed, low; ///< of the likeliest field so changed, and of the low bound so changed
    bool passes() const { return routed.passes() && low.passes(); }
};
/// "leave", "patch", ...: the key in the JSON.
const char* key_of(Mend::Kind kind);

/// The top as it was routed, by what the readings leave open of its skins: nine of ten floors that fit them.
struct RoutedBand {
    Band sag_mm{};
    std::string check{}; ///< that governs
    Band utilisation{};
    int n_solves = 0;
};

struct SurveyAnswer {
    Survey survey;
    Piece routed_piece;
    SurveyCheck drawn, routed, low;
    std::vector<ThinPlace> places;
    std::vector<Mend> mends; ///< leaving it first; empty places: that alone
    std::optional<RoutedBand> band;
    std::optional<NextReading> next;
    std::string next_for; ///< the check that governs; "sag" where that does not follow from the skins
    std::optional<Fields> drawn_fields, routed_fields; ///< where CheckOptions::want_fields
    bool passes() const { return routed.passes() && low.passes(); }
};

/// Mends, each verified: every one of the first three thin places patched, all of them, the whole floor levelled down
/// to the thinnest that was found, a bar along and one across the thinnest place. A patch brings the wood back to the
/// drawn skin over the extent of its place and 20 mm more all round, glued over its whole face with its grain along the
/// top's. No patch where a place is a quarter of its recess or more: that is a thin floor.
/// Throws Error(input) where the readings make no sense; `progress` of `options` is told the share done.
SurveyAnswer survey_and_check(const Piece& piece, std::span<const Reading> readings, const SurveyOptions& how,
                              const CheckOptions& options);

} // namespace hollowtop
