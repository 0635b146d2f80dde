// SPDX-License-Identifier: MIT
#include "validation/run_cases.hpp"

#include "materials/error.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace hollowtop::validation {
namespace {

using Json = nlohmann::json;

Json parse_result(const std::string& text) {
    Json result = Json::parse(text, nullptr, false);
    if (result.is_discarded()) throw Error(ErrorKind::input, Fault{"", "the result is not JSON", ""});
    return result;
}

std::optional<double> find_value(const Json& result, const std::string& pointer) {
    const Json::json_pointer way(pointer);
    if (!result.contains(way)) return std::nullopt;
    const Json& value = result.at(way);
    if (value.is_boolean()) return value.get<bool>() ? 1.0 : 0.0;
    if (value.is_number()) return value.get<double>();
    return std::nullopt;
}

Comparison blank(const Case& c, const Expectation& e) {
    return {.id = c.id,
            .title = c.title,
            .source = c.source,
            .status = c.status,
            .what = e.what,
            .published = e.value,
            .computed = std::nullopt,
            .difference_percent = std::nullopt,
            .tolerance = e.tolerance,
            .ok = false,
            .problem = {},
            .note = e.note,
            .why = e.why.empty() ? c.why : e.why};
}

} // namespace

std::optional<double> value_at(const std::string& result_json, const std::string& pointer) {
    return find_value(parse_result(result_json), pointer);
}

std::vector<Comparison> compare(const Case& c, const std::string& result_json) {
    const Json result = parse_result(result_json);
    std::vector<Comparison> comparisons;
    for (const Expectation& e : c.expect) {
        Comparison line = blank(c, e);
        line.computed = find_value(result, e.what);
        if (line.computed) {
            const double difference = *line.computed - e.value;
            if (e.value != 0) line.difference_percent = 100 * difference / std::abs(e.value);
            const double allowed =
                e.tolerance.is_percent ? e.tolerance.size / 100 * std::abs(e.value) : e.tolerance.size;
            line.ok = std::abs(difference) <= allowed; // false where the result is no finite number
        } else {
            line.problem = "the result has no number at " + e.what;
        }
        comparisons.push_back(std::move(line));
    }
    return comparisons;
}

std::vector<Comparison> run_case(const Case& c, const PieceRunner& run) {
    std::string result;
    try {
        result = run(c.piece);
    } catch (const Error& e) {
        if (e.kind() == ErrorKind::input) {
            std::vector<Fault> faults = e.faults();
            for (Fault& fault : faults) fault.place = fault.place.empty() ? "piece" : "piece." + fault.place;
            throw Error(ErrorKind::input, std::move(faults));
        }
        std::vector<Comparison> comparisons;
        for (const Expectation& expected : c.expect) {
            comparisons.push_back(blank(c, expected));
            comparisons.back().problem =
                e.faults().empty() ? "could not be computed" : in_own_units(e.faults().front().what);
        }
        return comparisons;
    }
    return compare(c, result);
}

bool all_ok(const std::vector<Comparison>& comparisons) {
    return std::all_of(comparisons.begin(), comparisons.end(), [](const Comparison& c) { return c.ok; });
}

} // namespace hollowtop::validation
