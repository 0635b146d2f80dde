// SPDX-License-Identifier: MIT
#include "cli/json/result_json.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <limits>

using namespace hollowtop;
using namespace hollowtop::cli;
using Json = nlohmann::ordered_json;

namespace {

Result invented() {
    Result result;
    result.version = "0";
    result.title = "invented \"piece\"\n";
    result.passes = true;
    result.governing_check = "dish";
    result.governing_utilisation = 0.1 + 0.2;
    SituationResult situation;
    situation.name = "books";
    situation.duration = Duration::long_term;
    situation.stage = Stage::at_once;
    situation.sag_mm = 1.0 / 3;
    situation.reactions.push_back({.support = "pad 1", .force_N = -0.0, .lifts = true});
    situation.probes.push_back({.at = {1, 2}, .w_mm = 0.5, .moment_N = {1, 2, 3}});
    result.situations.push_back(situation);
    CheckResult check;
    check.check = "dish";
    check.unit = "mm";
    result.checks.push_back(check);
    result.frequency_Hz = {8.25};
    return result;
}

} // namespace

TEST_CASE("numbers keep every digit, minus nought is nought and what was not computed is null", "[cli]") {
    const std::string text = to_json(invented());
    const Json json = Json::parse(text);
    CHECK(json["governing"]["utilisation"].get<double>() == 0.1 + 0.2);
    const Json& situation = json["situations"][0];
    CHECK(situation["sag_mm"].get<double>() == 1.0 / 3);
    CHECK(situation["dish_mm"].is_null());
    CHECK(situation["dish_at_mm"].is_null());
    CHECK(situation["tipping_factor"].is_null());
    CHECK(situation["stage"] == "at once");
    CHECK(situation["duration"] == "long");
    CHECK(situation["probes"][0]["moment_N"] == Json::array({1.0, 2.0, 3.0}));
    CHECK(text.find("-0.0") == std::string::npos);
    CHECK(json["checks"][0]["at_mm"].is_null());
    CHECK(json["title"] == "invented \"piece\"\n");
    CHECK(json["verdict"] == "passes");
}

TEST_CASE("no wood is softer by more than the whole of its stiffness, so no limit is told there", "[cli]") {
    ChangeRow row{.kind = Changed::softer,
                  .step = 0.2,
                  .part = {},
                  .at = {},
                  .row = {},
                  .problem = {},
                  .steps_to_limit = {}};
    CHECK_FALSE(limit_at(row));
    row.steps_to_limit = 1.5;
    CHECK(*limit_at(row) == Approx(0.3));
    row.steps_to_limit = 5;
    CHECK_FALSE(limit_at(row));
    row.kind = Changed::heavier; // loads may be twice as heavy
    CHECK(*limit_at(row) == Approx(1.0));
}

TEST_CASE("a list of results names the file of each first", "[cli]") {
    const std::vector<NamedResult> named{{"a.json", invented()}, {"b.json", invented()}};
    const Json json = Json::parse(to_json(named));
    REQUIRE(json.size() == 2);
    CHECK(json[1].begin().key() == "file");
    CHECK(json[1]["file"] == "b.json");
    CHECK(json[1]["hollowtop"] == 1);
}

TEST_CASE("a result with a number that is not finite is not written", "[cli]") {
    Result result = invented();
    result.situations[0].sag_mm = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(to_json(result), Error);
    result = invented();
    result.frequency_Hz[0] = std::numeric_limits<double>::infinity();
    CHECK_THROWS_AS(to_json(result), Error);
}
