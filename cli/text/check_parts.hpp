// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the short answer of `check` and its whole text share.

#include "cli/text/page.hpp"
#include "solver/result/result.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// What was found and what is allowed. A frequency, and the wood about a screw, has to be at least its limit,
/// so there the two change places.
struct Compared {
    std::string found, allowed;
};

struct SupportRange {
    std::string name;
    double most = 0, least = 0;
    std::string most_in;
    std::vector<std::string> lifts_in;
};

/// The row of each check that comes nearest to its limit, in the order of the checks.
std::vector<const CheckResult*> worst_of_each(const Result& result);

const CheckResult* governing(const Result& result);

Compared compared(const CheckResult& check, Units units);

/// Of a top given by its elastic constants alone no strength is known: nothing may be said of it.
bool strength_was_judged(const Result& result);

void put_verdict(Page& page, const Result& result);

void put_weight(Page& page, const Mass& mass, Units units);

/// The situation that comes nearest to its sag limit among those wanted.
const SituationResult* deepest(const Result& result,
                               const std::function<bool(const SituationResult&)>& wanted);

std::string sag_sentence(const SituationResult& s, Units units);

std::vector<SupportRange> ranges_of(const Result& result);

/// "0.2 % in sag and 1.7 % in bending, to 6 % in "rolling shear"": the last is the check whose worst row errs most,
/// where that is more, and more than is wanted, of those that use at least `least_used` of their limit.
std::string computed_to(const Result& result, double least_used);
std::string accuracy_sentence(const Result& result);

} // namespace hollowtop::cli
