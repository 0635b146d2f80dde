// SPDX-License-Identifier: MIT
#pragma once
/// \file  The table of checks: demand against capacity, one file a family of checks, one row a check.
/// A new check is one function, in a file of its own or beside its like, and one row in checks.cpp.

#include "solver/capacity/allowables.hpp"
#include "solver/checks/check_input.hpp"
#include "solver/piece/piece.hpp"
#include "solver/result/response.hpp"
#include "solver/result/result.hpp"

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop {

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

/// All checks, in the order of the report; those of the top are the last.
std::span<const Check> table_of_checks();

/// Does the check compare what is drawn with a rule (screws, room), rather than what loads do with what is
/// borne? No mesh errs in it.
bool is_of_geometry(std::string_view name);

/// Does the check judge this situation?
bool applies(const Check& check, const SituationResponse& situation);

/// Runs the table over every situation; for each check keeps every situation's row. Fills checks, verdict and
/// governing of `result`. `kept`, of the pieces before, may be missing. Adds a warning where strengths are not known, where dish exceeds half the skin.
/// `before_the_top` is called once all is judged that belongs to a load: what only the checks of the top read, the
/// frequencies and the pushes, may come into `response` as late as that.
void judge(const Piece& piece, const Response& response, Result& result, bool briefly = false,
           KeptAllowables* kept = nullptr, const std::function<void()>& before_the_top = {});

/// How far the stiffness of a wood is from its table's, as a share: about the scatter of clear wood (Wood
/// Handbook table 5-6, 22 %).
inline constexpr double stiffness_spread = 0.2;

/// The band of what governs, and whether it leaves something to spare: the demand's computing error
/// (CheckResult::error_percent), and for sag, flatness and dish how far the wood's stiffness is from its
/// table's. Strengths already are those of the weakest.
void find_band(const Piece& piece, Result& result);

} // namespace hollowtop
