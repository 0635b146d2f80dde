// SPDX-License-Identifier: MIT
#include "solver/variants/space.hpp"

#include "materials/assert.hpp"
#include "materials/error.hpp"

#include <algorithm>
#include <numeric>
#include <set>

namespace hollowtop {
namespace {

constexpr double most_variants = 1e12;

struct SplitMix {
    std::uint64_t state;
    std::uint64_t next() {
        state += 0x9e3779b97f4a7c15u;
        std::uint64_t z = state;
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
        return z ^ (z >> 31);
    }
    /// 0 .. limit - 1, each as likely: what would make the low ones likelier is thrown away.
    std::uint64_t below(std::uint64_t limit) {
        const std::uint64_t whole = UINT64_MAX - UINT64_MAX % limit;
        std::uint64_t value = next();
        while (value >= whole) value = next();
        return value % limit;
    }
};

} // namespace

VariantSpace make_space(Piece base, std::vector<Axis> axes) {
    std::stable_sort(axes.begin(), axes.end(), [](const Axis& a, const Axis& b) { return a.rank < b.rank; });
    double count = 1;
    for (const Axis& axis : axes) {
        if (axis.choices.empty())
            throw Error(ErrorKind::input, {.place = axis.name,
                                           .what = "there is nothing to choose from",
                                           .remedy = "give a value at least"});
        count *= static_cast<double>(axis.choices.size());
    }
    if (count > most_variants)
        throw Error(ErrorKind::input, {.place = "",
                                       .what = "there are more than a million million variants",
                                       .remedy = "vary fewer things"});
    return {.base = std::move(base), .axes = std::move(axes)};
}

std::uint64_t count_of(const VariantSpace& space) {
    std::uint64_t count = 1;
    for (const Axis& axis : space.axes) count *= axis.choices.size();
    return count;
}

std::vector<std::size_t> choices_of(const VariantSpace& space, std::uint64_t index) {
    HOLLOWTOP_ASSERT(index < count_of(space));
    std::vector<std::size_t> choices(space.axes.size());
    for (std::size_t a = space.axes.size(); a-- > 0;) {
        const std::uint64_t n = space.axes[a].choices.size();
        choices[a] = static_cast<std::size_t>(index % n);
        index /= n;
    }
    return choices;
}

Piece variant_of(const VariantSpace& space, std::uint64_t index) {
    Piece piece = space.base;
    const std::vector<std::size_t> choices = choices_of(space, index);
    for (std::size_t a = 0; a < choices.size(); ++a) space.axes[a].choices[choices[a]].apply(piece);
    return piece;
}

std::vector<std::uint64_t> sample_of(std::uint64_t count, std::uint64_t n, std::uint64_t seed) {
    std::vector<std::uint64_t> sample;
    if (n >= count) {
        sample.resize(static_cast<std::size_t>(count));
        std::iota(sample.begin(), sample.end(), std::uint64_t{0});
        return sample;
    }
    SplitMix random{seed};
    std::set<std::uint64_t> chosen;
    for (std::uint64_t last = count - n; last < count; ++last) {
        const std::uint64_t one = random.below(last + 1);
        if (!chosen.insert(one).second) chosen.insert(last);
    }
    return {chosen.begin(), chosen.end()};
}

} // namespace hollowtop
