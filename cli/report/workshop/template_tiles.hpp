// SPDX-License-Identifier: MIT
#pragma once
/// \file  The template cut into sheets of paper at 1:1: one HTML page, to be printed without fitting.
///
///      +-----+-----+      sheets lie in columns A, B, ... and rows 1, 2, ...; neighbours share a strip of
///      | A1  | B1  |      `overlap`, in whose middle stand crosses that both sheets show
///      +--x--+--x--+
///      | A2  | B2  |      mm, the drawing's own: from below, y downwards
///      +-----+-----+

#include "cli/report/workshop/template_plan.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

enum class PaperSize { a4, letter };
/// Width and height of a sheet, upright, mm.
Point size_of(PaperSize paper);

inline constexpr double sheet_margin = 12;  ///< that no drawing lies in: printers leave some 5 mm white
inline constexpr double sheet_overlap = 15; ///< of neighbours

struct Sheets {
    double sheet_width = 0, sheet_height = 0; ///< of the paper as it lies
    Rectangle drawing{};                      ///< what is cut up
    double step_x = 0, step_y = 0;            ///< from sheet to sheet
    int columns = 0, rows = 0;
    std::vector<bool> wanted; ///< row by row: whether the sheet is printed
    Rectangle window(int column, int row) const;
    std::vector<Point> crosses() const;
};

/// As few sheets as upright or across give. `corners_only`: just those that hold a corner of a template's edge.
Sheets sheets_of(const Template& drawn, PaperSize paper, bool corners_only);

std::string template_tiles(const Template& drawn, const std::string& title, PaperSize paper,
                           bool corners_only);

} // namespace hollowtop::cli
