// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the built-in cases are about, by the letter that their ids begin with.

#include <string_view>

namespace hollowtop::validation {

struct Family {
    char letter;
    std::string_view heading;
};

/// In the order in which they are told; the last, of letter 0, is of all other cases.
inline constexpr Family families[] = {
    {'P', "Plates of one stiffness"},
    {'O', "Plates of wood"},
    {'R', "Grain at an angle, curved outlines, twist"},
    {'T', "Steps between two thicknesses"},
    {'B', "Strips and beams"},
    {'C', "Supports that only press"},
    {'S', "Stiffeners and their screws"},
    {'V', "Natural frequencies"},
    {'W', "Weights"},
    {'K', "Facts of the trade"},
    {'A', "Shelf spans of a trade standard"},
    {'E', "Solid elasticity: what a plate theory must come near"},
    {'G', "Solid elasticity by a public finite element library"},
    {'M', "Tops that were loaded and measured"},
    {'\0', "Other cases"},
};

inline const Family& family_of(std::string_view id) {
    const Family* family = families;
    while (family->letter != '\0' &&
           (id.size() < 2 || family->letter != id.front() || id[1] < '0' || id[1] > '9'))
        ++family;
    return *family;
}

} // namespace hollowtop::validation
