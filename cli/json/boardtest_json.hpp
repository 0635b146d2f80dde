// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a board said on the bench, for other programs and for the piece file.

#include "solver/boardtest/board.hpp"
#include "solver/boardtest/handbook.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// An error that was reckoned with: stated by the maker, or usual for the gauge.
struct StatedError {
    std::string of;    ///< "thickness"
    std::string size;  ///< "0.1 mm"
    std::string basis; ///< "stated", "common practice", ...
    ErrorFrom from{};
};

struct BoardStory {
    std::string wood; ///< as the table calls it; empty where none is named
    std::string cut;  ///< "flatsawn"
    bool across = false;
    std::optional<double> tested_at, piece_at; ///< moisture, percent
    TestedBoard board{};
    std::vector<TestOutcome> tests{};
    std::optional<Together> together{}; ///< absent without a test of stiffness
    std::optional<Gauged> density{};
    std::optional<Handbook> book{};
    std::optional<Gauged>
        /// free of shear, at the moisture of the piece: the handbook's scatter and the tests together
        posterior{};
    std::vector<StatedError> errors{};
    std::vector<std::string> notes{}; ///< of reading the files
    std::vector<std::string> warnings{};
};

/// The line to paste under "top"; empty where there is nothing to write. Standard uncertainties, percent.
std::string measured_block(const BoardStory& story);

/// For other programs (docs/boardtest.schema.json).
std::string boardtest_json(const BoardStory& story);

/// "thickness", "readings about their line".
std::string name_of(ErrorFrom from);

} // namespace hollowtop::cli
