// SPDX-License-Identifier: MIT
#pragma once
/// \file  Values that every JSON of ours is made of. The library's type is the caller's, so that its header stays
/// in sources.

#include "solver/piece/piece.hpp"

namespace hollowtop::cli {

/// The same number, never -0. Throws Error(not_computable) where it is not finite.
double finite(double value);

template <class Json> Json json_point(Point at) { return Json::array({finite(at.x), finite(at.y)}); }

template <class Json, class Values, class ToJson> Json json_list(const Values& values, ToJson to_json) {
    Json array = Json::array();
    for (const auto& value : values) array.push_back(to_json(value));
    return array;
}

} // namespace hollowtop::cli
