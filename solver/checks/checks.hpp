// SPDX-License-Identifier: MIT
#pragma once
/// \file  The table of checks: demand against capacity, one file a check, one row a check.
/// A new check is one file with one function and one row in checks.cpp.

#include "materials/strength.hpp"
#include "solver/capacity/allowables.hpp"
#include "solver/piece/piece.hpp"
#include "solver/readout/worst_stress.hpp"
#include "solver/result/response.hpp"
#include "solver/result/result.hpp"
#include "solver/section/section_stiffness.hpp"

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop {

class ScrewUses;

/// What every check is handed. `allowables` is empty for a top of stated elastic constants: no strength is
/// known then.
struct CheckInput {
    const Piece& piece;
    const Response& response;
    const SituationResponse& situation; ///< on a strength class, for checks of strength, a design situation
    PlaneStiffness plane;               ///< of the piece
    std::optional<materials::AllowableStresses> allowables; ///< for this situation's duration and purpose
    bool briefly = false;                                   ///< what costs time and is only told is left out
    ScrewUses* screw_uses = nullptr; ///< of the piece, kept from check to check; may be missing
};

/// For which loads a check judges, and on which.
enum class JudgedOn {
    strength, ///< loads of every day and of tests of strength; on a strength class the design loads
    movement, ///< loads of every day, as they are
    reach, ///< loads of every day and of tests of strength, as they are: does the theory hold, do the screws fit?
    tipping, ///< all loads: the factors are its own
    uplift,  ///< all loads; on a strength class the design loads
    top,     ///< belongs to the top, not to a load
};

struct Check {
    const char* name;   ///< in the maker's words: "bending across the grain"
    const char* demand; ///< one line for the docs: what is compared
    const char* capacity;
    const char* governs; ///< when it usually governs
    const char* source;  ///< of the capacity, in one line; a row's basis says it in full
    /// Empty where the check does not apply to the situation.
    std::optional<CheckResult> (*judge)(const CheckInput&);
    JudgedOn judged = JudgedOn::strength;
    bool is_told_of_tests = false; ///< against the forces of a test it is told and fails nothing
};

/// All checks, in the order of the report.
std::span<const Check> table_of_checks();

/// Does the check compare what is drawn with a rule (screws, room), rather than what loads do with what is
/// borne? No mesh errs in it.
bool is_of_geometry(std::string_view check);

/// Does the check judge this situation?
bool applies(const Check& check, const SituationResponse& situation);

/// Runs the table over every situation; for each check keeps every situation's row. Fills checks, verdict and
/// governing of `result`. `kept`, of the pieces before, may be missing. Adds a warning where strengths are not known, where dish exceeds half the skin.
void judge(const Piece& piece, const Response& response, Result& result, bool briefly = false,
           KeptAllowables* kept = nullptr);

/// How far the stiffness of a wood is from its table's, as a share: about the scatter of clear wood (Wood
/// Handbook table 5-6, 22 %).
inline constexpr double stiffness_spread = 0.2;

/// The band of what governs, and whether it leaves something to spare: the demand's computing error
/// (CheckResult::error_percent), and for sag, flatness and dish how far the wood's stiffness is from its
/// table's. Strengths already are those of the weakest.
void find_band(const Piece& piece, Result& result);

} // namespace hollowtop
