// SPDX-License-Identifier: MIT
#include "cli/words/markup.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD"; // U+FFFD

/// Bytes of the UTF-8 character that starts here; 0 where there is none.
std::size_t length_of_character(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char first = byte(at);
    std::size_t length = 0;
    if (first < 0x80)
        length = 1;
    else if (first >= 0xC2 && first < 0xE0)
        length = 2;
    else if (first >= 0xE0 && first < 0xF0)
        length = 3;
    else if (first >= 0xF0 && first < 0xF5)
        length = 4;
    if (length == 0 || at + length > text.size()) return 0;
    for (std::size_t i = 1; i < length; ++i)
        if ((byte(at + i) & 0xC0) != 0x80) return 0;
    if (length == 3 && first == 0xE0 && byte(at + 1) < 0xA0) return 0;  // too long a form
    if (length == 3 && first == 0xED && byte(at + 1) >= 0xA0) return 0; // a surrogate
    if (length == 3 && first == 0xEF && byte(at + 1) == 0xBF && byte(at + 2) >= 0xBE) return 0; // not in XML
    if (length == 4 && first == 0xF0 && byte(at + 1) < 0x90) return 0;
    if (length == 4 && first == 0xF4 && byte(at + 1) >= 0x90) return 0;
    return length;
}

} // namespace

std::string escaped(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = length_of_character(text, i);
        const auto first = static_cast<unsigned char>(text[i]);
        if (length == 0 ||
            (length == 1 && ((first < 0x20 && first != '\n' && first != '\t') || first == 0x7F)) ||
            (first == 0xC2 && length == 2 && static_cast<unsigned char>(text[i + 1]) < 0xA0)) {
            out += replacement;
            i += std::max<std::size_t>(length, 1);
            continue;
        }
        switch (text[i]) {
        case '&':
            out += "&amp;";
            break;
        case '<':
            out += "&lt;";
            break;
        case '>':
            out += "&gt;";
            break;
        case '"':
            out += "&quot;";
            break;
        case '\'':
            out += "&#39;";
            break;
        default:
            out += text.substr(i, length);
        }
        i += length;
    }
    return out;
}

std::string escaped_on_one_line(std::string_view text) {
    std::string out;
    for (const char c : escaped(text))
        if (c == '\n')
            out += "&#10;";
        else if (c == '\t')
            out += "&#9;";
        else
            out += c;
    return out;
}

} // namespace hollowtop::cli
