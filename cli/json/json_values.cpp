// SPDX-License-Identifier: MIT
#include "cli/json/json_values.hpp"

#include "materials/error.hpp"

#include <cmath>

namespace hollowtop::cli {

double finite(double value) {
    if (!std::isfinite(value))
        throw Error(ErrorKind::not_computable,
                    Fault{.place = "",
                          .what = "a number of the result is not finite",
                          .remedy = "this is a fault of the program: please report it with the piece file"});
    return value + 0.0; // no -0.0
}

} // namespace hollowtop::cli
