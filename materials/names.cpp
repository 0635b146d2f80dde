// SPDX-License-Identifier: MIT
#include "materials/names.hpp"

#include <algorithm>
#include <utility>

namespace hollowtop::materials {
namespace {

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

} // namespace

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before_last, last(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const bool same = lower(a[i - 1]) == lower(b[j - 1]);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0u : 1u)});
            const bool swapped =
                i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]);
            if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
        }
        before_last = last;
        std::swap(last, row);
    }
    return last[b.size()];
}

std::vector<std::string> nearest_names(std::string_view word, std::span<const std::string> known,
                                       std::size_t most) {
    const std::size_t far = std::max<std::size_t>(1, word.size() / 3);
    std::vector<std::pair<std::size_t, std::string>> near;
    for (const std::string& name : known)
        if (const std::size_t distance = edit_distance(word, name); distance <= far)
            near.emplace_back(distance, name);
    std::stable_sort(near.begin(), near.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<std::string> names;
    for (auto& [distance, name] : near)
        if (names.size() < most && std::find(names.begin(), names.end(), name) == names.end())
            names.push_back(std::move(name));
    return names;
}

std::string did_you_mean(std::string_view word, std::span<const std::string> known) {
    const std::vector<std::string> names = nearest_names(word, known);
    if (names.empty()) return {};
    std::string text = "did you mean ";
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (i > 0) text += i + 1 == names.size() ? " or " : ", ";
        text += "\"" + names[i] + "\"";
    }
    return text + "?";
}

std::string plain_words(std::string_view text) {
    std::string plain;
    for (const char raw : text) {
        const char c = lower(raw);
        // Bytes above 127 are parts of letters in UTF-8; they stay.
        const bool is_word =
            (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) > 127;
        if (is_word)
            plain += c;
        else if (!plain.empty() && plain.back() != ' ')
            plain += ' ';
    }
    if (!plain.empty() && plain.back() == ' ') plain.pop_back();
    return plain;
}

} // namespace hollowtop::materials
