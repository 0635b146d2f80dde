// SPDX-License-Identifier: MIT
#include "solver/piece/wording.hpp"

namespace hollowtop {

std::string plain(double value) { return in_digits(value, decimals(3)); }

Message in_mm(double length) { return amount(length, Unit::mm, decimals(3)); }

Message sizes(double one, double other) { return amounts({one, other}, " x ", Unit::mm, decimals(3)); }

Message place_text(Point at) { return bare_place(at.x, at.y, decimals(3)); }

Message place_words(Point at, Units units) {
    return said("at x {}", Amounts{.values = {at.x, at.y},
                                   .unit = Unit::mm,
                                   .digits = decimals(0),
                                   .joints = {", y "},
                                   .is_place = true,
                                   .is_drawn_in_inches = units == Units::inch});
}

Message name_of(const Load& load, Units units) {
    if (!load.found_at) return load.name;
    return said("{}, {}", load.name, place_words(*load.found_at, units));
}

} // namespace hollowtop
