// SPDX-License-Identifier: MIT
#include "cli/read/table_of_json.hpp"

#include "cli/read/load_readings.hpp"
#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <array>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinAbs;

namespace {

constexpr std::array<std::string_view, 2> columns{"load", "reading"};

std::string refusal_of(std::string_view json) {
    try {
        table_of_json(json, columns);
    } catch (const Error& error) {
        return error.faults().front().place;
    }
    return "";
}

} // namespace

TEST_CASE("readings kept as JSON say what the same table says", "[cli]") {
    CHECK(is_json(" \n[[1, 2]]"));
    CHECK(is_json("{}"));
    CHECK_FALSE(is_json("load;reading\n5;0.48\n"));
    const auto same = [](std::string_view json) {
        const TypedReadings typed = load_readings_of(table_of_json(json, columns), Units::mm);
        const TypedReadings table =
            load_readings_of("0 kg;0.21 mm\n5 kg;0.48 mm\n10 kg;0.75 mm\n", Units::mm);
        REQUIRE(typed.readings.size() == table.readings.size());
        for (std::size_t i = 0; i < typed.readings.size(); ++i) {
            CHECK_THAT(typed.readings[i].load_N, WithinAbs(table.readings[i].load_N, 1e-9));
            CHECK_THAT(typed.readings[i].deflection_mm, WithinAbs(table.readings[i].deflection_mm, 1e-12));
        }
    };
    same(R"({"load_unit": "kg", "readings": [[0, 0.21], [5, 0.48], [10, 0.75]]})");
    same(R"([["0 kg", 0.21], {"load": "5 kg", "reading": "0.48 mm"}, {"reading": 0.75, "load": "10 kg"}])");
}

TEST_CASE("JSON that holds no readings is refused at its place", "[cli]") {
    CHECK(refusal_of(R"({"loads": []})") == "loads");
    CHECK(refusal_of(R"({"load_unit": "kg"})") == "readings");
    CHECK(refusal_of(R"([[1, 2, 3]])") == "readings[0]");
    CHECK(refusal_of(R"([[1, 2], {"load": 1, "red": 2}])") == "readings[1].red");
    CHECK(refusal_of(R"([[1, [2]]])") == "readings[0][1]");
    CHECK(refusal_of(R"([[1, "1;2"]])") == "readings[0][1]");
}
