// SPDX-License-Identifier: MIT
#pragma once
/// \file  The underside as a picture whose grey is its height, for machines that mill from one: 16 bits, from
/// below, the front edge at the top. The floor meets the walls of a recess and of its lands in the root radius, a
/// quarter circle; what the drawing has square stays square.
///
///     grey = 65535 - levels_per_mm x depth below the underside; off the top as the underside
///
/// PNG as in its specification, second edition (W3C 2003): a zlib stream of one block with fixed codes
/// (RFC 1950, RFC 1951), in which only runs of one byte are shortened; rows as differences from the row above.

#include "cli/report/drawing/plan_of.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace hollowtop::cli {

inline constexpr int pixels_per_mm = 2;
/// 1000, or less where a recess is deeper than 65 mm.
int levels_per_mm(const Plan& plan);

/// A grey picture of 16 bits, row by row from the top. `pixels_per_metre` and `comment` (plain ASCII) lie in it.
std::string grey_png(const std::vector<std::vector<std::uint16_t>>& rows, std::uint32_t pixels_per_metre,
                     const std::string& comment);

std::string depth_map_png(const Plan& plan);

} // namespace hollowtop::cli
