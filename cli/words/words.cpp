// SPDX-License-Identifier: MIT
#include "cli/words/words.hpp"

#include "materials/names.hpp"

#include <algorithm>
#include <array>

namespace hollowtop::cli {
namespace {

bool is_control(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte < 0x20 || byte == 0x7F;
}

} // namespace

std::optional<double> ring_angle_of(std::string_view cut) {
    struct Named {
        std::string_view word;
        double angle_deg;
    };
    static constexpr std::array<Named, 8> cuts{{{"flat", 0},
                                                {"plain", 0},
                                                {"slash", 0},
                                                {"tangential", 0},
                                                {"rift", 45},
                                                {"quarter", 90},
                                                {"quartered", 90},
                                                {"radial", 90}}};
    std::string word = materials::plain_words(cut);
    std::erase(word, ' ');
    for (const std::string_view end : {"sawn", "cut"})
        if (word.ends_with(end)) word.resize(word.size() - end.size());
    for (const Named& named : cuts)
        if (named.word == word) return named.angle_deg;
    return std::nullopt;
}

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

const char* to_word(Holes holes) {
    switch (holes) {
    case Holes::round:
        return "round";
    case Holes::oversize:
        return "oversize";
    case Holes::slotted:
        return "slotted";
    case Holes::bonded:
        return "bonded";
    case Holes::dovetail:
        return "dovetail";
    }
    return "";
}

std::vector<std::string> parted(const std::string& text, char at) {
    std::vector<std::string> parts;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t next = std::min(text.find(at, from), text.size());
        parts.push_back(text.substr(from, next - from));
        from = next + 1;
    }
    return parts;
}

} // namespace hollowtop::cli
