// SPDX-License-Identifier: MIT
#pragma once
/// \file  HOLLOWTOP_ASSERT(condition): a promise of our own code, as against a fault of the input
/// (materials/error.hpp).
/// On where HOLLOWTOP_ASSERTS is defined (presets dev, sanitize, tidy): says what was promised and where,
/// then aborts. Off otherwise: the condition is not evaluated, so it must not change anything.

#ifdef HOLLOWTOP_ASSERTS

#include <cstdio>
#include <cstdlib>

#define HOLLOWTOP_ASSERT(condition)                                                                          \
    ((condition) ? static_cast<void>(0)                                                                      \
                 : (std::fprintf(stderr, "%s:%d: broken promise: %s\n", __FILE__, __LINE__, #condition),     \
                    std::abort()))

#else

#define HOLLOWTOP_ASSERT(condition) static_cast<void>(sizeof((condition) ? 1 : 0))

#endif
