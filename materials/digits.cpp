// SPDX-License-Identifier: MIT
#include "materials/digits.hpp"

#include <algorithm>
#include <cstddef>

namespace hollowtop::materials {

std::string digits(double value, int significant) {
    return in_digits(value, hollowtop::significant(significant));
}

std::string cited(const std::string& source, const std::string& status) {
    // A row may name several sources, parted by "; ": the first is the one of the strengths and the moduli.
    const std::size_t end = std::min(source.find(", checked against"), source.find("; "));
    return " (" + source.substr(0, end) + ", " + status + ")";
}

} // namespace hollowtop::materials
