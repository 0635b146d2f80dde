// SPDX-License-Identifier: MIT
#pragma once
/// \file  All that a maker wants to vary in a piece, and the variants that come of it.
/// Variants are numbered from 0; the choices of the first axis change most slowly.

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace hollowtop {

struct Choice {
    Message label; ///< as it stands in the table: "angle 30x30x3", "24 mm"
    std::function<void(Piece&)> apply;
};

/// One thing that is varied.
struct Axis {
    std::string name; ///< "section", "well.depth"
    int rank =
        0; ///< axes of a lower rank are applied first: a rim before the stiffeners that stand inside it
    std::vector<Choice> choices;
};

struct VariantSpace {
    Piece base;
    std::vector<Axis> axes; ///< by rank
};

/// Throws Error(input) where an axis has no choice, or where there are more variants than can be numbered
/// (10^12).
VariantSpace make_space(Piece base, std::vector<Axis> axes);

std::uint64_t count_of(const VariantSpace& space);

/// Which choice of each axis a variant takes.
std::vector<std::size_t> choices_of(const VariantSpace& space, std::uint64_t index);

/// Throws Error(input) where a choice cannot be applied.
Piece variant_of(const VariantSpace& space, std::uint64_t index);

/// `n` different variants of `count`, rising, the same for the same seed on every machine; all of them where
/// there are no more.
/// Source: Floyd's sample without replacement (Bentley and Floyd, Communications of the ACM 30, 1987);
/// numbers by splitmix64 (Steele, Lea and Flood 2014).
std::vector<std::uint64_t> sample_of(std::uint64_t count, std::uint64_t n, std::uint64_t seed);

} // namespace hollowtop
