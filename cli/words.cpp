// SPDX-License-Identifier: MIT
#include "cli/words.hpp"

#include "materials/names.hpp"

#include <algorithm>
#include <vector>

namespace hollowtop::cli {
namespace {

bool is_control(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte < 0x20 || byte == 0x7F;
}

} // namespace

bool has_control_character(std::string_view text) {
    return std::any_of(text.begin(), text.end(), is_control);
}

std::string in_quotes(std::string_view text) {
    constexpr std::size_t longest = 40;
    std::size_t length = std::min(text.size(), longest);
    while (length < text.size() && length > 0 && (static_cast<unsigned char>(text[length]) & 0xC0U) == 0x80U)
        --length; // never cut a character of several bytes
    std::string shown(text.substr(0, length));
    std::replace_if(shown.begin(), shown.end(), is_control, '?');
    return '"' + shown + (length < text.size() ? "...\"" : "\"");
}

std::string listed(std::span<const std::string_view> words, std::string_view joint) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) text += i + 1 == words.size() ? ' ' + std::string(joint) + ' ' : ", ";
        text += '"' + std::string(words[i]) + '"';
    }
    return text;
}

std::string did_you_mean(std::string_view word, std::span<const std::string_view> known) {
    constexpr std::size_t longest = 40; // beyond this nobody mistyped a word
    if (word.size() > longest) return {};
    const std::vector<std::string> names(known.begin(), known.end());
    const auto near = materials::nearest_names(word, names, 1);
    return near.empty() ? std::string() : "did you mean \"" + near.front() + "\"?";
}

} // namespace hollowtop::cli
