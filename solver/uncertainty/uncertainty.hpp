// SPDX-License-Identifier: MIT
#pragma once
/// \file  How sure the numbers of a checked top are: the band of sag, flatness and every check's demand, the
/// chance that a limit is exceeded, what of all that scatters matters, and where stiff boards belong.
/// Limits: it is of the demand against what is allowed. What is allowed already stands on the weakest wood of
/// twenty (solver/capacity), so the scatter of strengths is not counted twice; `breaks` tells how far that
/// goes, and `of_strength` how near such tops come to what their own wood bears. Knots, faults of the work and of
/// the model are not in it.
/// How: the check itself says where the numbers lie; how they change from there is laid through solves on a mesh
/// that is as coarse as differences bear (`differences`), and tried by one whole solve at the hard end of the
/// band of the check that governs.

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
    CheckOptions check{};    ///< threads and progress count
    bool tries_whole = true; ///< tries the surface against a whole solve: it takes as long as the rest
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
    /// Of a strength: the demand over the strength of the wood drawn by chance, were what is allowed the weakest
    /// value of twenty with nothing to spare (the reserve that limits hold beyond that is not counted), and the
    /// chance that it is above 1.
    struct Strength {
        double coefficient_of_variation = 0;
        Message source{};
        Band used{};
        Chance breaks{};
    };
    std::optional<Strength> strength{};
    /// How far the surface lay from the whole solve that it was tried against; empty: it was not tried.
    std::optional<double> error_percent{};
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
    std::vector<UncertainRow> rows{};      ///< as the checks come
    std::string governing{};               ///< check
    std::vector<CauseShare> shares{};      ///< the greatest first
    Chance any_exceeds{};                  ///< one limit at least
    std::optional<double> error_percent{}; ///< of the governing row
    std::optional<BoardOrder> boards{};
    std::vector<Message> notes{}; ///< what could not be told
};

/// Of a checked piece. Throws Error(not_computable) as check_piece does.
Uncertainty uncertainty_of(const CheckOutcome& outcome, const UncertaintyOptions& options);

const UncertainRow* find_row(const Uncertainty& uncertainty, const std::string& check);

/// How a check is asked for by which a surface is laid, and one that proves it.
enum class Solve { differences, whole };
CheckOptions options_of(Solve solve, const CheckOutcome& outcome);
/// The piece that such a check is asked of: for differences the corners of rectangles are sharp, as what is cut
/// round is costly and changes no ratio.
Piece piece_for(Solve solve, Piece piece);

} // namespace hollowtop
