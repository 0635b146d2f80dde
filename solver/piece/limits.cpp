// SPDX-License-Identifier: MIT
#include "solver/piece/limits.hpp"

#include <array>

namespace hollowtop {

std::span<const MostParts> most_parts() {
    static constexpr std::array all{most_recesses, most_lands, most_holds,    most_stiffeners, most_screws,
                                    most_supports, most_loads, most_vertices, most_boards,     most_probes};
    return all;
}

std::span<const SizeBounds> size_bounds() {
    static constexpr std::array all{top_sides,     top_thickness, recess_sides, recess_depth,   skin_left,
                                    line_length,   pad_sides,     bearer_width, screw_diameter, screw_length,
                                    screw_spacing, section_sizes, load_force,   load_pressure};
    return all;
}

std::string too_many(const MostParts& limit, std::size_t count) {
    return std::to_string(count) + " " + limit.what + " are more than are computed";
}

std::string at_most(const MostParts& limit) { return "give at most " + std::to_string(limit.most); }

} // namespace hollowtop
