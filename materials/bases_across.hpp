// SPDX-License-Identifier: MIT
#pragma once
/// \file  A wood's tension across the grain by the handbook and by its strength class, side by side, and why they differ.

#include "materials/wood.hpp"

#include <string>

namespace hollowtop::materials {

/// A wood's tension across the grain on both bases, on the same volume under the same long load: clear,
/// flat-sawn, at 12 % moisture content, service class 1.
struct BasesAcross {
    std::string
        strength_class; ///< C24 for softwoods, D30 for hardwoods: EN 338:2016 gives f_t,90,k one value for each of the two
    double handbook_MPa = 0, class_MPa = 0; ///< on the handbook's volume
    double ratio() const { return handbook_MPa / class_MPa; }
};
BasesAcross bases_across(const Wood& wood);

/// Why the two differ, in a sentence.
std::string why_bases_differ(const Wood& wood);

} // namespace hollowtop::materials
