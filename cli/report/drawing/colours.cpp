// SPDX-License-Identifier: MIT
#include "cli/report/drawing/colours.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string_view>

namespace hollowtop::cli {
namespace {

// sRGB under D65: IEC 61966-2-1; L*a*b*: CIE 15.
constexpr std::array<double, 3> white{0.95047, 1.0, 1.08883};

double from_lab(double t) { return t > 6.0 / 29 ? t * t * t : 3 * (6.0 / 29) * (6.0 / 29) * (t - 4.0 / 29); }
double to_lab(double t) {
    return t > 216.0 / 24389 ? std::cbrt(t) : t / (3 * (6.0 / 29) * (6.0 / 29)) + 4.0 / 29;
}
double encoded(double linear) {
    const double c = std::clamp(linear, 0.0, 1.0);
    return c <= 0.0031308 ? 12.92 * c : 1.055 * std::pow(c, 1 / 2.4) - 0.055;
}
double decoded(int channel) {
    const double c = channel / 255.0;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}
double luminance(Colour c) {
    return 0.2126729 * decoded(c.red) + 0.7151522 * decoded(c.green) + 0.0721750 * decoded(c.blue);
}

Colour from_lch(double L, double chroma, double hue_deg) {
    const double hue = hue_deg * std::numbers::pi / 180;
    const double fy = (L + 16) / 116;
    const double X = white[0] * from_lab(fy + chroma * std::cos(hue) / 500);
    const double Y = white[1] * from_lab(fy);
    const double Z = white[2] * from_lab(fy - chroma * std::sin(hue) / 200);
    const auto channel = [](double linear) { return static_cast<int>(std::lround(255 * encoded(linear))); };
    return {.red = channel(3.2404542 * X - 1.5371385 * Y - 0.4985314 * Z),
            .green = channel(-0.9692660 * X + 1.8760108 * Y + 0.0415560 * Z),
            .blue = channel(0.0556434 * X - 0.2040259 * Y + 1.0572252 * Z)};
}

} // namespace

Colour scale_colour(double share) {
    const double t = std::clamp(share, 0.0, 1.0);
    const double lightness = 95 - 70 * t;
    const double chroma = 14 + 160 * t * (1 - t) * (1 - 0.35 * t) * 0.95;
    const double hue = 96 + 148 * t;
    return from_lch(lightness, std::min(chroma, 28.0) * (1 - 0.25 * t * t), hue);
}

double lightness_of(Colour colour) { return 116 * to_lab(luminance(colour)) - 16; }

std::string to_hex(Colour colour) {
    constexpr std::string_view digits = "0123456789abcdef";
    std::string text = "#";
    for (const int channel : {colour.red, colour.green, colour.blue}) {
        text += digits[static_cast<std::size_t>(channel / 16)];
        text += digits[static_cast<std::size_t>(channel % 16)];
    }
    return text;
}

double contrast_of(Colour a, Colour b) {
    const double x = luminance(a) + 0.05, y = luminance(b) + 0.05;
    return std::max(x, y) / std::min(x, y);
}

std::string ink_on(Colour ground) {
    constexpr double legible = 4.5;
    if (contrast_of(ground, {0x26, 0x23, 0x1f}) >= legible) return ink::text;
    // between the two only black reads: black or white does on every ground
    return contrast_of(ground, {0xff, 0xff, 0xff}) >= legible ? ink::paper : ink::black;
}

} // namespace hollowtop::cli
