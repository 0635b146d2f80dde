// SPDX-License-Identifier: MIT
#pragma once
/// \file  What readings of a thickness gauge say of a top: the skin of each recess as a field, with how sure it is.
///
/// Each recess has a field of its own, and so has the wood that was not hollowed: steps stay at the walls.
/// Readings that cannot be are named and left out; where one is out of line with its neighbours and thin it is named and
/// kept: it may be a gouge. Units: mm.

#include "solver/mesh/thickness_field.hpp"
#include "solver/piece/piece.hpp"
#include "solver/survey/kriging.hpp"
#include "solver/survey/reading.hpp"

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace hollowtop {

struct RecessSurvey {
    int recess = 0;
    std::size_t n_readings = 0; ///< that were used; none: it is taken as drawn
    double drawn = 0;           ///< skin
    SkinGrid mean{}, sd{};      ///< empty without readings
    double mean_skin = 0;       ///< over its area
    Estimate thinnest{};
    Point thinnest_at{};
    double mean_sd = 0; ///< of the field, over its area
    Bumps bumps{};
    std::vector<Observed> observed{};       ///< as the field took them
    std::shared_ptr<const Kriging> field{}; ///< none without readings
};

/// Of the wood that was not hollowed: rims, ribs and lands.
struct RimSurvey {
    std::size_t n_readings = 0;
    double drawn = 0, mean = 0; ///< the mean over its area
    double mean_sd = 0;         ///< of that mean
    Estimate thinnest{}, thickest{};
    Point thinnest_at{}, thickest_at{};
    double low = 0;                         ///< the mean over its area at the low bound
    SkinGrid found{}, found_sd{};           ///< over the outline's box
    std::vector<Observed> observed{};       ///< as the field took them
    std::shared_ptr<const Kriging> field{}; ///< always there
};

struct Survey {
    std::vector<RecessSurvey> recesses; ///< one a recess of the piece
    std::optional<RimSurvey> rim;       ///< where three readings or more lie there
    std::vector<NamedReading> named;
    std::size_t n_readings = 0, n_used = 0;
    bool averaged = false; ///< readings that lie close were averaged
    SurveyOptions options{};
};

/// Throws Error(input) where the readings as a whole cannot be of this piece (another unit, columns changed about), and
/// where none can be used.
Survey survey_of(const Piece& piece, std::span<const Reading> readings, const SurveyOptions& options);

/// The piece with the field as most likely, and with the thickness that the skin has everywhere with 95 % certainty at
/// each place: mean - 1.645 sd (one-sided, normal). Not under `least_skin`.
Piece as_routed(const Piece& piece, const Survey& survey);
Piece at_low_bound(const Piece& piece, const Survey& survey);
inline constexpr double low_factor = 1.645, least_skin = 0.5;

/// A hollow in the skin: a place thinner than all around it, and by how much under the drawing.
struct ThinPlace {
    int recess = 0;
    Point at;
    Estimate skin{};
    double under_drawn = 0;
    Rectangle extent{}; ///< along both axes, to where half of what it lies under its floor is made up
};
/// Those at least a third of a millimetre under the drawing and as much under the mean of their floor, and the thinnest of
/// all; the thinnest first, six at most.
std::vector<ThinPlace> thin_places(const Piece& piece, const Survey& survey);

/// How the logarithm of a number of the top, such as its sag, follows from the skins: what a millimetre more of skin
/// about each place does to it, 1/mm; of each recess of the survey, none where it has no readings. Of the board about
/// each place of the rim, the skins left as they are, where the rim was gauged.
struct SkinSlopes {
    std::vector<std::vector<Weighed>> of_recess{};
    std::vector<Weighed> of_rim{};
};

/// A board that is not alike all over: its thinnest and thickest place lie apart by more than what is left open of them
/// explains (1.645 standard deviations of the difference), and by half a millimetre or more.
bool wanders(const RimSurvey& rim);

/// Standard deviation of that logarithm, by what the readings leave open: of a straight line, as skins are known to
/// some parts in a hundred.
double log_scatter(const Survey& survey, const SkinSlopes& slopes);

/// The place whose reading would take most of the variance of that logarithm away, with the readings there are.
struct NextReading {
    int recess = 0; ///< -1: in the rim
    Point at;
    double removes = 0; ///< share of the variance
    double sd = 0;      ///< of the field at `at` now
};
/// None where that number does not follow from the skins.
std::optional<NextReading> next_reading(const Piece& piece, const Survey& survey, const SkinSlopes& slopes);

} // namespace hollowtop
