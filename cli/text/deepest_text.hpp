// SPDX-License-Identifier: MIT
#pragma once
/// \file  What `deepest` found, in a furniture maker's words.

#include "cli/text/check_text.hpp"
#include "solver/variants/deepest.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hollowtop::cli {

struct DeepestStory {
    std::string subject;                 ///< "the recess", "every recess", "\"well\""
    bool widest = false;                 ///< the rim is sought, not the depth
    std::function<double(double)> shown; ///< the depth, or the rim left, for a measure; mm
    std::function<double(double)>
        skin;         ///< what is left above the recess, mm; of a widest search the skin as drawn
    double least = 0; ///< the least skin, or rim, that was asked for, mm
    std::vector<Message> cautions;
};

std::string deepest_text(const std::string& file, const Farthest& answer, const DeepestStory& story,
                         const TextStyle& style);

/// The same as JSON: docs/deepest.schema.json.
std::string deepest_json(const std::string& title, const Farthest& answer, const DeepestStory& story);

/// Checks over their limit at a point, the most used first: index into table_of_checks().
std::vector<std::size_t> exceeded(const ReachPoint& point);

} // namespace hollowtop::cli
