// SPDX-License-Identifier: MIT
#pragma once
/// \file  How sure the numbers of a checked top are: the band of sag, flatness and every check's demand, the
/// chance that a limit is exceeded, what of all that scatters matters, and where stiff boards belong.
/// Limits: it is of the demand against what is allowed. What is allowed already stands on the weakest wood of
/// twenty (solver/capacity), so the scatter of strengths is not counted twice; `breaks` tells how far that
/// goes. Knots, faults of the work and of the model are not in it.

#include "solver/check/check_options.hpp"
#include "solver/uncertainty/inputs.hpp"
#include "solver/uncertainty/sampling.hpp"
#include "solver/uncertainty/surface.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

struct UncertaintyOptions {
    std::size_t samples = 10000;
    std::uint64_t seed = 1;
    Tolerances tolerances{};
    CheckOptions check{}; ///< threads and progress count
};

/// One check's demand as it scatters.
struct UncertainRow {
    std::string check{};
    Message situation{};
    std::string unit{};
    double drawn = 0, limit = 0; ///< demand as drawn, and what is allowed
    Band demand{}, utilisation{};
    double mean = 0;  ///< of the demand
    Chance exceeds{}; ///< what is allowed
    /// Of a strength: the chance that the demand exceeds what the wood bears, were what is allowed the weakest
    /// value of twenty with nothing to spare; the reserve that limits hold beyond that is not counted.
    std::optional<Chance> breaks{};
    double error_percent = 0; ///< the furthest that the surface lay from a whole solve, of those tried
};

/// How much of the scatter of the governing check, or of the sag, a cause has by itself.
struct CauseShare {
    std::size_t cause = 0;
    double of_governing = 0, of_sag = 0;
};

/// Where stiff boards belong.
struct BoardPlace {
    double weight = 0; ///< share of the governing movement that this board's stiffness decides
};
struct BoardOrder {
    std::string check{};              ///< the movement that it is for
    std::vector<BoardPlace> places{}; ///< from the edge nearest the origin; few where boards were grouped
    std::vector<std::size_t>
        order{}; ///< best order of measured boards, by their numbers as drawn; empty: as it is
    double demand_before = 0, demand_after = 0; ///< of that check, each by a solve
};

struct Uncertainty {
    std::size_t samples = 0;
    int n_solves = 0;
    std::vector<Cause> causes{};
    std::vector<UncertainRow> rows{}; ///< as the checks come
    std::string governing{};          ///< check
    std::vector<CauseShare> shares{}; ///< the greatest first
    Chance any_exceeds{};             ///< one limit at least
    double error_percent = 0;         ///< of the governing row
    std::optional<BoardOrder> boards{};
    std::vector<Message> notes{}; ///< what could not be told
};

/// Of a checked piece. Throws Error(not_computable) as check_piece does.
Uncertainty uncertainty_of(const CheckOutcome& outcome, const UncertaintyOptions& options);

const UncertainRow* find_row(const Uncertainty& uncertainty, const std::string& check);

/// How a check is asked for by which a surface is laid, and one that proves it.
CheckOptions options_of_solves(const CheckOutcome& outcome, bool rough);

} // namespace hollowtop
