// SPDX-License-Identifier: MIT
#pragma once
/// \file  The table of checks: demand against capacity, one file a check, one row a check.
/// A new check is one file with one function and one row in checks.cpp.

#include "materials/strength.hpp"
#include "solver/analysis/response.hpp"
#include "solver/analysis/result.hpp"
#include "solver/piece/piece.hpp"
#include "solver/shell/section_stiffness.hpp"

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop {

class ScrewUses;

/// What every check is handed. `allowables` is empty for a top of stated elastic constants: no strength is known then.
struct CheckInput {
    const Piece& piece;
    const Response& response;
    const SituationResponse& situation; ///< on a strength class, for checks of strength, a design situation
    PlaneStiffness plane; ///< of the piece
    std::optional<materials::AllowableStresses> allowables; ///< for this situation's duration and purpose
    bool briefly = false; ///< what costs time and is only told is left out
    ScrewUses* screw_uses = nullptr; ///< of the piece, kept from check to check; may be missing
};

/// For which loads a check judges, and on which.
enum class JudgedOn {
    strength, ///< loads of every day and of tests of strength; on a strength class the design loads
    movement, ///< loads of every day, as they are
    reach,    ///< loads of every day and of tests of strength, as they are: does the theory hold, do the screws fit?
    tipping,  ///< all loads: the factors are its own
    uplift,   ///< all loads; on a strength class the design loads
    top,      ///< belongs to the top, not to a load
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

/// Does the check compare what is drawn with a rule (screws, room), rather than what loads do with what is borne? No mesh errs in it.
bool is_of_geometry(std::string_view check);

/// Allowable stresses of the piece's wood for a duration; empty where the top is given by elastic constants alone.
/// Against the force of a test, a strength load, by its own rule (materials::Against).
std::optional<materials::AllowableStresses> allowables_of(const Piece& piece, Duration duration, LoadFor judged_for = LoadFor::everyday);
inline materials::Against against(LoadFor judged_for) {
    return judged_for == LoadFor::everyday ? materials::Against::loads_of_use : materials::Against::test_force;
}

/// Does the check judge this situation?
bool applies(const Check& check, const SituationResponse& situation);

/// Runs the table over every situation; for each check keeps every situation's row. Fills checks, verdict and governing of
/// `result`. Adds a warning where strengths are not known, where dish exceeds half the skin.
void judge(const Piece& piece, const Response& response, Result& result, bool briefly = false);

/// The band of what governs, and whether it leaves something to spare: the demand's computing error (CheckResult::error_percent), and for
/// sag, flatness and dish how far the wood's stiffness is from its table's. Strengths already are those of the weakest.
void find_band(const Piece& piece, Result& result);

/// A number made of the stresses at one place, from any function of a sample.
class StressMetric {
  public:
    template <class Function>
    StressMetric(Function of) // NOLINT(google-explicit-constructor): a lambda is one
        : of_(of), of_all_([of](std::span<const StressSample> samples, std::span<double> values) {
              for (std::size_t i = 0; i < samples.size(); ++i) values[i] = of(samples[i]);
          }) {}
    double operator()(const StressSample& sample) const { return of_(sample); }
    /// Of each sample.
    void operator()(std::span<const StressSample> samples, std::span<double> values) const { of_all_(samples, values); }

  private:
    std::function<double(const StressSample&)> of_;
    std::function<void(std::span<const StressSample>, std::span<double>)> of_all_;
};

/// Where a metric of the stress is greatest: the best of the survey, then refined by a pattern search to about a millimetre.
/// A value that is not finite is given back at once. Throws Error(not_computable) where the survey is empty.
struct Worst {
    double value = 0;
    StressSample sample;
};
Worst worst_of(const StressField& field, const StressMetric& metric);

} // namespace hollowtop
