// SPDX-License-Identifier: MIT
#include "cli/report/sections/acting.hpp"

#include "cli/words/said.hpp"
#include "solver/piece/use_loads.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hollowtop::cli {
namespace {

bool stays_always(Duration duration) {
    return duration == Duration::permanent || duration == Duration::long_term;
}

/// The names that a value holds: those of a list, each by itself.
void add_names(const Value& value, Units units, std::vector<std::string>& names) {
    if (const auto* text = std::get_if<std::string>(&value)) {
        names.push_back(*text);
        return;
    }
    const auto* list = std::get_if<Messages>(&value);
    if (list == nullptr) return;
    for (const Message& item : list->items) {
        const bool is_list = item.pattern.empty() && item.values.size() == 1 &&
                             std::holds_alternative<Messages>(item.values.front());
        if (is_list)
            add_names(item.values.front(), units, names);
        else
            names.push_back(in_words(item, units));
    }
}

std::vector<std::string> passing_loads(const SituationResult& situation, Units units) {
    if (situation.stage != Stage::passing) return {};
    std::vector<std::string> names;
    if (situation.name.pattern == "{} together" || situation.name.pattern == "{}, with {}")
        for (const Value& value : situation.name.values) add_names(value, units, names);
    else
        names.push_back(in_words(situation.name, units));
    return names;
}

} // namespace

std::vector<std::vector<std::string>> acting_loads(const Piece& piece, const Result& result, Units units) {
    std::vector<std::string> standing;
    if (piece.self_weight) standing.emplace_back("own weight");
    for (const Load& load : with_use(piece).loads)
        if (stays_always(load.duration)) standing.push_back(load.name);
    double stays = 0; // N
    std::map<std::string, double> alone;
    for (const SituationResult& s : result.situations)
        if (s.stage == Stage::at_once) stays = s.applied_N;
    std::vector<std::vector<std::string>> all;
    for (const SituationResult& s : result.situations) {
        const std::vector<std::string> passing = passing_loads(s, units);
        if (passing.size() == 1 && !s.set_down) alone[passing.front()] = s.applied_N - stays;
        all.push_back(standing);
        all.back().insert(all.back().end(), passing.begin(), passing.end());
    }
    for (std::size_t i = 0; i < all.size(); ++i) {
        const SituationResult& s = result.situations[i];
        if (s.set_down) continue; // a share of what passes
        double sum = stays;
        bool known = true;
        for (std::size_t k = standing.size(); k < all[i].size(); ++k) {
            const auto found = alone.find(all[i][k]);
            known = known && found != alone.end();
            if (found != alone.end()) sum += found->second;
        }
        constexpr double noise = 1e-3;
        if (!known || std::abs(sum - s.applied_N) > noise * std::max(1.0, std::abs(s.applied_N))) return {};
    }
    return all;
}

} // namespace hollowtop::cli
