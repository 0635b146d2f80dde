// SPDX-License-Identifier: MIT
#pragma once
/// \file  The colour scale of the pictures, and their inks.
/// Lightness falls evenly (CIE L* 95 to 25), so that the order of the bands reads in grey print and to every
/// kind of colour-blind reader; the hue turns from straw over green to a dark blue, so that red is left for
/// what is over its limit. Our own choice, made in CIE LCh and turned into sRGB (IEC 61966-2-1; CIE 15).

#include <string>

namespace hollowtop::cli {

struct Colour {
    int red = 0, green = 0, blue = 0; ///< 0..255
};

/// `share` from 0 (least) to 1 (most).
Colour scale_colour(double share);
/// CIE L*, 0 black to 100 white, of a colour on the screen.
double lightness_of(Colour colour);
/// "#24566b".
std::string to_hex(Colour colour);
/// Of two colours, 1 to 21 (WCAG 2.1, contrast ratio).
double contrast_of(Colour a, Colour b);
/// Ink that reads on that ground: dark or light, with a contrast of at least 4.5 to 1 (WCAG 2.1, 1.4.3).
std::string ink_on(Colour ground);

namespace ink {
inline constexpr const char* text = "#26231f";
inline constexpr const char* soft = "#5f584e"; ///< secondary words
inline constexpr const char* line = "#8a8174"; ///< outlines, dimension lines
inline constexpr const char* hair = "#d9d2c5"; ///< rules
inline constexpr const char* wood = "#f1e3c6"; ///< full thickness
inline constexpr const char* skin = "#fbf6ea"; ///< a hollowed place
inline constexpr const char* steel = "#4a6172";
inline constexpr const char* mark = "#8c2f1b";   ///< what is over its limit, and nothing else
inline constexpr const char* accent = "#1d5a73"; ///< places that the eye looks for: sections, gauges, loads
inline constexpr const char* paper = "#ffffff";
inline constexpr const char* black = "#000000"; ///< on grounds of middle lightness, where no other ink reads
} // namespace ink

} // namespace hollowtop::cli
