// SPDX-License-Identifier: MIT
#include "solver/variants/tally.hpp"

#include <algorithm>
#include <limits>
#include <tuple>

namespace hollowtop {
namespace {

bool is_better_row(Preference wish, const StudyRow& a, const StudyRow& b) {
    constexpr double dearest = std::numeric_limits<double>::max();
    switch (wish) {
    case Preference::lightest:
        return std::tie(a.mass_kg, a.sag_mm) < std::tie(b.mass_kg, b.sag_mm);
    case Preference::stiffest:
        return std::tie(a.sag_mm, a.mass_kg) < std::tie(b.sag_mm, b.mass_kg);
    case Preference::cheapest:
        break;
    }
    return std::tuple(a.cost.value_or(dearest), a.mass_kg) < std::tuple(b.cost.value_or(dearest), b.mass_kg);
}

bool is_nearer(Preference, const StudyRow& a, const StudyRow& b) { return a.utilisation < b.utilisation; }

} // namespace

void Tally::rank(std::vector<RankedVariant>& list, RankedVariant one,
                 bool (*before)(Preference, const StudyRow&, const StudyRow&)) const {
    const auto at =
        std::upper_bound(list.begin(), list.end(), one, [&](const RankedVariant& a, const RankedVariant& b) {
            return before(options_.wish, a.row, b.row);
        });
    list.insert(at, std::move(one));
    if (list.size() > options_.shown) list.pop_back();
}

void Tally::keep_dot(const StudyRow& row) {
    if (rows_++ % stride_ != 0) return;
    dots_.push_back({row.mass_kg, row.sag_mm, row.passes});
    if (dots_.size() <= options_.dots) return;
    std::vector<Dot> every_second;
    for (std::size_t i = 0; i < dots_.size(); i += 2) every_second.push_back(dots_[i]);
    dots_ = std::move(every_second);
    stride_ *= 2;
}

std::vector<Impossible> Tally::impossible_because() const {
    std::vector<Impossible> sorted = because_;
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const Impossible& a, const Impossible& b) { return a.count > b.count; });
    return sorted;
}

void Tally::add(std::uint64_t variant, const std::optional<StudyRow>& row, const Message& why) {
    ++all_;
    if (!row) {
        ++impossible_;
        constexpr std::size_t most_reasons = 100, most_named = 12;
        auto known = std::find_if(because_.begin(), because_.end(),
                                  [&](const Impossible& one) { return one.why == why; });
        if (known == because_.end()) {
            if (because_.size() == most_reasons) return;
            known = because_.insert(because_.end(), {.why = why, .count = 0, .variants = {}});
        }
        ++known->count;
        if (known->variants.size() < most_named) known->variants.push_back(variant);
        return;
    }
    keep_dot(*row);
    if (!row->passes) {
        ++governs_failing_[row->governing_check];
        rank(nearest_, {variant, *row}, is_nearer);
        return;
    }
    ++passing_;
    ++governs_passing_[row->governing_check];
    // the set that no other beats: mass rising, sag falling; of equals the first stays
    const auto heavier =
        std::upper_bound(pareto_.begin(), pareto_.end(), row->mass_kg,
                         [](double mass, const RankedVariant& member) { return mass < member.row.mass_kg; });
    if (heavier == pareto_.begin() || (heavier - 1)->row.sag_mm > row->sag_mm) {
        auto first = heavier;
        if (first != pareto_.begin() && (first - 1)->row.mass_kg == row->mass_kg) --first;
        auto last = heavier;
        while (last != pareto_.end() && last->row.sag_mm >= row->sag_mm) ++last;
        first = pareto_.erase(first, last);
        pareto_.insert(first, {variant, *row});
    }
    if (!options_.most_kg || row->mass_kg <= *options_.most_kg) rank(best_, {variant, *row}, is_better_row);
}

} // namespace hollowtop
