// SPDX-License-Identifier: MIT
#pragma once
/// \file  What is fuzzed: each reader of something that people write. Whatever the bytes, it answers with values that can be
/// used or with Error(input) that says what is wrong; anything else ends the program. Run by libFuzzer (one_target.cpp) and
/// by a driver of ours with a fixed seed (replay.cpp).

#include <span>
#include <string_view>

namespace hollowtop {

struct FuzzTarget {
    std::string_view name; ///< of its folder in tests/fuzz/corpus too
    std::string_view also; ///< a folder of the project with more such files; may be empty
    void (*run)(std::string_view bytes);
};

std::span<const FuzzTarget> fuzz_targets();

/// Ends the program where there is no such target.
const FuzzTarget& fuzz_target(std::string_view name);

} // namespace hollowtop
