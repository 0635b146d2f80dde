// SPDX-License-Identifier: MIT
#include "cli/json/validation_json.hpp"

#include "validation/families.hpp"

#include <nlohmann/json.hpp>

namespace hollowtop::cli {
namespace {

using Json = nlohmann::ordered_json;

Json optional(const std::optional<double>& value) { return value ? Json(*value + 0.0) : Json(nullptr); }

} // namespace

std::string to_json(std::span<const validation::Comparison> comparisons) {
    Json out = Json::array();
    for (const validation::Comparison& c : comparisons)
        out.push_back({{"id", c.id},
                       {"title", c.title},
                       {"family", validation::family_of(c.id).heading},
                       {"source", c.source},
                       {"status", validation::name_of(c.status)},
                       {"what", c.what},
                       {"computed", optional(c.computed)},
                       {"published", c.published},
                       {"difference_percent", optional(c.difference_percent)},
                       {c.tolerance.is_percent ? "tolerance_percent" : "tolerance", c.tolerance.size},
                       {"ok", c.ok},
                       {"problem", c.problem},
                       {"note", c.note},
                       {"why", c.why}});
    constexpr int indent = 2;
    return out.dump(indent, ' ', false, Json::error_handler_t::replace) + '\n';
}

} // namespace hollowtop::cli
