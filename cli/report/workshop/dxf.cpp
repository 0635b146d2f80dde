// SPDX-License-Identifier: MIT
#include "cli/report/workshop/dxf.hpp"

#include "cli/words/format.hpp"

#include <algorithm>
#include <cstdint>
#include <tuple>
#include <utility>

namespace hollowtop::cli {
namespace {

std::string group(int code, std::string_view value) {
    return std::to_string(code) + "\n" + std::string(value) + "\n";
}
std::string group(int code, double value) { return group(code, fixed(value, 6)); }
std::string group(int code, int value) { return group(code, std::to_string(value)); }
std::string place(Point at, int first = 10) {
    return group(first, at.x) + group(first + 10, at.y) + group(first + 20, 0.0);
}

/// How letters with marks, and signs of the trade, are spelt; U+00A0 to U+017F and a few more.
std::string spelt_character(std::uint32_t code) {
    static constexpr std::pair<std::uint32_t, const char*> single[] = {
        {0xA0, " "},   {0xB0, " deg"}, {0xB2, "2"},    {0xB3, "3"},    {0xD7, "x"},   {0xC4, "Ae"},
        {0xD6, "Oe"},  {0xDC, "Ue"},   {0xE4, "ae"},   {0xF6, "oe"},   {0xFC, "ue"},  {0xDF, "ss"},
        {0xC5, "Aa"},  {0xE5, "aa"},   {0xC6, "Ae"},   {0xE6, "ae"},   {0xD8, "Oe"},  {0xF8, "oe"},
        {0xD0, "D"},   {0xF0, "d"},    {0xDE, "Th"},   {0xFE, "th"},   {0x141, "L"},  {0x142, "l"},
        {0x131, "i"},  {0x152, "Oe"},  {0x153, "oe"},  {0x2013, "-"},  {0x2014, "-"}, {0x2018, "'"},
        {0x2019, "'"}, {0x201C, "\""}, {0x201D, "\""}, {0x2026, "..."}};
    for (const auto& [sign, words] : single)
        if (sign == code) return words;
    static constexpr std::tuple<std::uint32_t, std::uint32_t, char, char> runs[] = {
        // from, to, capital (or all where the run has one size), small in turns with it (0: one size)
        {0xC0, 0xC3, 'A', 0},     {0xE0, 0xE3, 'a', 0},     {0xC7, 0xC7, 'C', 0},
        {0xE7, 0xE7, 'c', 0},     {0xC8, 0xCB, 'E', 0},     {0xE8, 0xEB, 'e', 0},
        {0xCC, 0xCF, 'I', 0},     {0xEC, 0xEF, 'i', 0},     {0xD1, 0xD1, 'N', 0},
        {0xF1, 0xF1, 'n', 0},     {0xD2, 0xD5, 'O', 0},     {0xF2, 0xF5, 'o', 0},
        {0xD9, 0xDB, 'U', 0},     {0xF9, 0xFB, 'u', 0},     {0xDD, 0xDD, 'Y', 0},
        {0xFD, 0xFD, 'y', 0},     {0xFF, 0xFF, 'y', 0},     {0x100, 0x105, 'A', 'a'},
        {0x106, 0x10D, 'C', 'c'}, {0x10E, 0x111, 'D', 'd'}, {0x112, 0x11B, 'E', 'e'},
        {0x11C, 0x123, 'G', 'g'}, {0x124, 0x127, 'H', 'h'}, {0x128, 0x130, 'I', 'i'},
        {0x134, 0x135, 'J', 'j'}, {0x136, 0x137, 'K', 'k'}, {0x14C, 0x151, 'O', 'o'},
        {0x154, 0x159, 'R', 'r'}, {0x15A, 0x161, 'S', 's'}, {0x162, 0x167, 'T', 't'},
        {0x168, 0x173, 'U', 'u'}, {0x174, 0x175, 'W', 'w'}, {0x176, 0x177, 'Y', 'y'}};
    for (const auto& [from, to, capital, small] : runs)
        if (from <= code && code <= to)
            return std::string(1, small == 0 || (code - from) % 2 == 0 ? capital : small);
    return {};
}

std::string kept_character(std::uint32_t code) {
    const auto four = [](std::uint32_t unit) {
        constexpr std::string_view digits = "0123456789ABCDEF";
        std::string text = "\\U+";
        for (int shift = 12; shift >= 0; shift -= 4)
            text += digits[(unit >> static_cast<unsigned>(shift)) & 0xFU];
        return text;
    };
    constexpr std::uint32_t beyond = 0x10000;
    if (code < beyond) return four(code);
    return four(0xD800U + ((code - beyond) >> 10U)) + four(0xDC00U + ((code - beyond) & 0x3FFU));
}

std::string spelt(std::string_view words) {
    std::string plain;
    for (std::size_t i = 0; i < words.size();) {
        const auto first = static_cast<unsigned char>(words[i]);
        const std::size_t length = first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
        std::uint32_t code = length == 1   ? first
                             : length == 2 ? first & 0x1FU
                             : length == 3 ? first & 0x0FU
                                           : first & 0x07U;
        for (std::size_t k = 1; k < length && i + k < words.size(); ++k)
            code = (code << 6U) | (static_cast<unsigned char>(words[i + k]) & 0x3FU);
        i += length;
        if (code >= 0x20 && code < 0x7F) {
            plain += static_cast<char>(code);
            continue;
        }
        if (code < 0x20 || code == 0x7F) { // a group ends with its line
            plain += ' ';
            continue;
        }
        const std::string by_letters = spelt_character(code);
        plain += by_letters.empty() ? kept_character(code) : by_letters;
    }
    return plain;
}

} // namespace

void Dxf::reach(Point at) {
    least_ = any_ ? Point{std::min(least_.x, at.x), std::min(least_.y, at.y)} : at;
    most_ = any_ ? Point{std::max(most_.x, at.x), std::max(most_.y, at.y)} : at;
    any_ = true;
}

void Dxf::layer(std::string_view name, int colour) {
    layers_ += group(0, "LAYER") + group(2, name) + group(70, 0) + group(62, colour) + group(6, "CONTINUOUS");
    ++n_layers_;
}

void Dxf::line(std::string_view layer, Point from, Point to) {
    reach(from);
    reach(to);
    entities_ += group(0, "LINE") + group(8, layer) + place(from) + place(to, 11);
}

void Dxf::closed(std::string_view layer, const std::vector<DxfVertex>& vertices) {
    entities_ += group(0, "POLYLINE") + group(8, layer) + group(66, 1) + place({0, 0}) + group(70, 1);
    for (const DxfVertex& vertex : vertices) {
        reach(vertex.at);
        entities_ += group(0, "VERTEX") + group(8, layer) + place(vertex.at);
        if (vertex.bulge != 0) entities_ += group(42, fixed(vertex.bulge, 12));
    }
    entities_ += group(0, "SEQEND") + group(8, layer);
}

void Dxf::circle(std::string_view layer, Point centre, double radius) {
    reach({centre.x - radius, centre.y - radius});
    reach({centre.x + radius, centre.y + radius});
    entities_ += group(0, "CIRCLE") + group(8, layer) + place(centre) + group(40, radius);
}

void Dxf::text(std::string_view layer, Point at, double height, std::string_view words) {
    reach(at);
    entities_ += group(0, "TEXT") + group(8, layer) + place(at) + group(40, height) + group(1, spelt(words));
}

std::string Dxf::file() const {
    // $INSUNITS 4: a unit is a millimetre; $MEASUREMENT 1: metric. Younger than release 12, and read with it.
    std::string out = group(0, "SECTION") + group(2, "HEADER") + group(9, "$ACADVER") + group(1, "AC1009") +
                      group(9, "$INSUNITS") + group(70, 4) + group(9, "$MEASUREMENT") + group(70, 1) +
                      group(9, "$EXTMIN") + place(least_) + group(9, "$EXTMAX") + place(most_) +
                      group(0, "ENDSEC");
    out += group(0, "SECTION") + group(2, "TABLES");
    out += group(0, "TABLE") + group(2, "LTYPE") + group(70, 1) + group(0, "LTYPE") + group(2, "CONTINUOUS") +
           group(70, 0) + group(3, "Solid line") + group(72, 65) + group(73, 0) + group(40, 0.0) +
           group(0, "ENDTAB");
    out += group(0, "TABLE") + group(2, "LAYER") + group(70, n_layers_) + layers_ + group(0, "ENDTAB") +
           group(0, "ENDSEC");
    return out + group(0, "SECTION") + group(2, "ENTITIES") + entities_ + group(0, "ENDSEC") +
           group(0, "EOF");
}

} // namespace hollowtop::cli
