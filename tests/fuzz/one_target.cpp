// SPDX-License-Identifier: MIT
// One target for libFuzzer.
#include "tests/fuzz/targets.hpp"

#include <cstddef>
#include <cstdint>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const hollowtop::FuzzTarget& target = hollowtop::fuzz_target(HOLLOWTOP_FUZZ_TARGET);
    target.run({reinterpret_cast<const char*>(data), size});
    return 0;
}
