// SPDX-License-Identifier: MIT
#pragma once
/// \file  What `compare` found, in a furniture maker's words.

#include "cli/text/check_text.hpp"
#include "solver/seasons/season_numbers.hpp"
#include "solver/variants/space.hpp"
#include "solver/variants/tally.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

struct CompareStory {
    Preference wish = Preference::lightest;
    std::optional<double> most_kg;
    std::uint64_t of_all =
        0; ///< variants there are; more than were looked at where a sample or a part was asked for
    std::vector<Message> cautions;
    std::map<std::uint64_t, SeasonNumbers> seasons{}; ///< by variant, where asked for and known
};

std::string compare_text(const std::string& file, const VariantSpace& space, const Tally& tally,
                         const CompareStory& story, const TextStyle& style);

} // namespace hollowtop::cli
