// SPDX-License-Identifier: MIT
#pragma once
/// \file  The page of a survey: the skin as it was found, how sure it is, where it was gauged and where it is thin; one HTML
/// file that needs neither network nor script.

#include "cli/text/survey_text.hpp"

#include <string>

namespace hollowtop::cli {

std::string survey_html(const Piece& piece, const SurveyAnswer& answer, const SurveyStory& story,
                        Units units);

} // namespace hollowtop::cli
