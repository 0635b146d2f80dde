// SPDX-License-Identifier: MIT
#pragma once
/// \file  What `survey` found, in a furniture maker's words, and the sheet to take to the bench.

#include "cli/text/check_text.hpp"
#include "solver/survey/sheet.hpp"
#include "solver/variants/surveyed.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

struct SurveyStory {
    std::string file, readings_file;
    std::vector<std::string> notes; ///< how the readings were read
    std::vector<Message> cautions;
};

std::string survey_text(const Piece& piece, const SurveyAnswer& answer, const SurveyStory& story,
                        const TextStyle& style);

/// "patch 180 x 140 mm at 700, 300": what is done.
std::string mend_words(const Mend& mend, Units units);

/// How thick the board was found, and that it wanders where it does; empty where the rim was not gauged.
std::string rim_words(const SurveyAnswer& answer, Units units);

/// Sag and the check that governs by what the readings leave open, a sentence; and where to gauge next, with why.
/// Empty where it is not known.
std::string routed_band_words(const SurveyAnswer& answer, Units units);
std::string gauge_next_words(const SurveyAnswer& answer, Units units);

/// Under sixty lines: places in the order of the bench, with room for what is read.
std::string sheet_text(const std::string& file, const Piece& piece, const std::vector<SheetPoint>& points,
                       const TextStyle& style);

/// The same as JSON: docs/survey.schema.json.
std::string survey_json(const Piece& piece, const SurveyAnswer& answer, const SurveyStory& story);

} // namespace hollowtop::cli
