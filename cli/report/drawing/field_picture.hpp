// SPDX-License-Identifier: MIT
#pragma once
/// \file  A value all over the top as bands and contour lines, seen from below as the plan is (the front edge at
/// the top), with supports, loads, a bar of a round length and its scale.

#include "cli/report/drawing/contours.hpp"
#include "cli/report/drawing/html.hpp"
#include "cli/report/drawing/plan_of.hpp"
#include "cli/report/drawing/plan_picture.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// A place that the result names, with its number.
struct Peak {
    Point at;
    std::string label;
    Attributes attributes; ///< ties the number to the JSON
    double value = 0;      ///< in the scale's unit, so that it can be ringed there; 0: not
};

struct FieldContent {
    std::string id, title, description;
    std::string unit;           ///< of the scale, such as "mm" or "% of what is allowed"
    std::vector<double> levels; ///< of the bands, rising; at least two
    double over = 0;            ///< values from here on are hatched; 0: none are
    int decimals = 1;           ///< of the figures on the scale
    double factor = 1;          ///< from the grid's values to those of levels and figures
    std::optional<Peak> peak;
    int figures = 2;              ///< on the lines of one level, at most
    const Piece* piece = nullptr; ///< whose supports and loads are drawn; null: none
    Units units = Units::mm;      ///< of the bar
};

Svg field_picture(const Plan& plan, const ValueGrid& given, double width, const FieldContent& content);

/// The thickness of each region, the thinner the darker.
Svg thickness_picture(const Plan& plan, double width, const std::string& id, Units units);

} // namespace hollowtop::cli
