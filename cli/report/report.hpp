// SPDX-License-Identifier: MIT
#pragma once
/// \file  The report for a client piece: one HTML page that needs nothing else, neither network nor script.
/// From the same input it comes out the same, byte for byte; it holds no date but the one that was given.

#include "cli/report/sections/report_input.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

/// Sentences of the solver are turned into the units of the report.
std::string report_html(ReportInput input);

/// The pictures of such a page as files of their own, those for wide pages: name without ending, and SVG.
struct Picture {
    std::string name, svg;
};
std::vector<Picture> pictures_of(const std::string& page);

} // namespace hollowtop::cli
