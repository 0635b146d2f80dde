// SPDX-License-Identifier: MIT
#include "cli/nearest.hpp"

#include <algorithm>
#include <vector>

namespace hollowtop::cli {
namespace {

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

} // namespace

int edit_distance(std::string_view one, std::string_view other) {
    const std::size_t n = one.size();
    const std::size_t m = other.size();
    std::vector<std::vector<int>> cost(n + 1, std::vector<int>(m + 1));
    for (std::size_t i = 0; i <= n; ++i) cost[i][0] = static_cast<int>(i);
    for (std::size_t j = 0; j <= m; ++j) cost[0][j] = static_cast<int>(j);
    for (std::size_t i = 1; i <= n; ++i)
        for (std::size_t j = 1; j <= m; ++j) {
            const bool same = lower(one[i - 1]) == lower(other[j - 1]);
            cost[i][j] = std::min({cost[i - 1][j] + 1, cost[i][j - 1] + 1, cost[i - 1][j - 1] + (same ? 0 : 1)});
            if (i > 1 && j > 1 && lower(one[i - 1]) == lower(other[j - 2]) && lower(one[i - 2]) == lower(other[j - 1]))
                cost[i][j] = std::min(cost[i][j], cost[i - 2][j - 2] + 1);
        }
    return cost[n][m];
}

std::string_view nearest(std::string_view word, std::span<const std::string_view> known) {
    constexpr std::size_t longest = 40; // beyond this nobody mistyped a key
    if (word.size() > longest) return {};
    std::string_view best;
    int least = 1000;
    for (const std::string_view candidate : known) {
        const int distance = edit_distance(word, candidate);
        if (distance < least) {
            least = distance;
            best = candidate;
        }
    }
    const int allowed = word.size() <= 2 ? 1 : std::max(2, static_cast<int>(word.size()) / 3);
    return least <= allowed ? best : std::string_view{};
}

std::string listed(std::span<const std::string_view> words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
        text += '"' + std::string(words[i]) + '"';
    }
    return text;
}

} // namespace hollowtop::cli
