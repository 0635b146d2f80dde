// SPDX-License-Identifier: MIT
#include "materials/error.hpp"
#include "validation/run_cases.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace hollowtop;
using namespace hollowtop::validation;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const std::string measured =
    R"("status": "measured", "measured": {"by": "a maker", "on": "a day", "how": "a gauge"},)";
const std::string piece =
    R"("piece": {"loads": [{"kind": "patch", "force": 300, "at": [1, 2]}], "self_weight": false})";

/// A file of a loaded top with these readings.
std::string loaded(const std::string& readings, const std::string& said = measured,
                   const std::string& of_piece = piece) {
    return R"({"id": "M7", "title": "a top", )" + said + of_piece + R"(, "readings": )" + readings + "}";
}

std::vector<std::string> places_of_faults(const std::string& text) {
    std::vector<std::string> places;
    try {
        parse_case(text, "m7.json");
    } catch (const Error& e) {
        REQUIRE(e.kind() == ErrorKind::input);
        for (const Fault& fault : e.faults()) places.push_back(fault.place);
    }
    return places;
}

} // namespace

TEST_CASE("of readings under a loaded top the slope is compared, at the greatest load", "[validation]") {
    // by hand: loads 0 100 200 300, mean 150; readings 0.05 0.25 0.45 0.65 lie on 0.05 + 0.002 F, so 0.6 mm at 300 N
    // and no scatter; the second gauge: 0, 0.1, 0.2, 0.5: sum of products 80, of squares 50000: 0.0016 a newton, 0.48 mm;
    // off the line by 0.04 -0.02 -0.08 0.06, squares 0.012, over 4 - 2: scatter 0.077
    const Case c = parse_case(
        loaded(
            R"([{"at": [400, 20], "load_N": [0, 100, 200, 300], "down_mm": [0.05, 0.25, 0.45, 0.65], "tolerance_percent": 10},
                   {"at": [200, 20], "load_N": [0, 100, 200, 300], "down_mm": [0, 0.1, 0.2, 0.5], "tolerance": 0.2}])"),
        "m7.json");
    CHECK(c.status == Status::measured);
    CHECK(c.source == "measured by a maker, a day; a gauge");
    REQUIRE(c.expect.size() == 3);
    CHECK(c.expect[0].what == "/situations/0/applied_N");
    CHECK(c.expect[0].value == 300);
    CHECK(c.expect[1].what == "/situations/0/probes/0/w_mm");
    CHECK_THAT(c.expect[1].value, WithinRel(0.6, 1e-12));
    CHECK(c.expect[1].note == "by the slope of 4 readings, which scatter by 0.000 mm, at 300 N");
    CHECK(c.expect[2].what == "/situations/0/probes/1/w_mm");
    CHECK_THAT(c.expect[2].value, WithinRel(0.48, 1e-12));
    CHECK(c.expect[2].note == "by the slope of 4 readings, which scatter by 0.077 mm, at 300 N");
    CHECK(c.piece.ends_with(R"("probe":[[400.0,20.0],[200.0,20.0]]})"));
}

TEST_CASE("a gauge that starts off nought measures the same", "[validation]") {
    const auto value = [](const std::string& down) {
        return parse_case(loaded(R"([{"at": [1, 2], "load_N": [0, 150, 300], "down_mm": )" + down +
                                 R"(, "tolerance_percent": 10}])"),
                          "m7.json")
            .expect[1]
            .value;
    };
    CHECK_THAT(value("[1.5, 1.9, 2.4]"), WithinAbs(value("[0, 0.4, 0.9]"), 1e-12));
}

TEST_CASE("invented readings say so in their source", "[validation]") {
    std::string said = measured;
    said.replace(said.find("\"measured\""), 10, "\"invented\"");
    const Case c = parse_case(
        loaded(R"([{"at": [1, 2], "load_N": [0, 150, 300], "down_mm": [0, 1, 2], "tolerance_percent": 10}])",
               said),
        "m7.json");
    CHECK(name_of(c.status) == "invented");
    CHECK(c.source.starts_with("INVENTED, an example of the form: "));
}

TEST_CASE("readings that cannot be compared are refused with their place", "[validation]") {
    using Places = std::vector<std::string>;
    const std::string good =
        R"([{"at": [1, 2], "load_N": [0, 150, 300], "down_mm": [0, 1, 2], "tolerance_percent": 10}])";
    CHECK(places_of_faults(loaded(good)).empty());
    CHECK(places_of_faults(loaded(good, R"("status": "measured",)")) == Places{"measured"});
    CHECK(places_of_faults(
              loaded(good, R"("status": "measured", "measured": {"by": "a maker", "how": "a gauge"},)")) ==
          Places{"measured.on"});
    CHECK(places_of_faults(loaded("[]")) == Places{"readings"});
    CHECK(places_of_faults(loaded(
              R"([{"at": [1, 2], "load_N": [0, 300], "down_mm": [0, 2], "tolerance_percent": 10}])")) ==
          Places{"readings[0].load_N"});
    CHECK(
        places_of_faults(loaded(
            R"([{"at": [1, 2], "load_N": [300, 300, 300], "down_mm": [0, 1, 2], "tolerance_percent": 10}])")) ==
        Places{"readings[0].load_N"});
    CHECK(places_of_faults(loaded(
              R"([{"at": [1, 2], "load_N": [0, 150, 300], "down_mm": [0, 1], "tolerance_percent": 10}])")) ==
          Places{"readings[0].down_mm"});
    CHECK(places_of_faults(loaded(R"([{"at": [1, 2], "load_N": [0, 150, 300], "down_mm": [0, 1, 2]}])")) ==
          Places{"readings[0].tolerance_percent"});
    CHECK(places_of_faults(loaded(good, measured, R"("piece": {"loads": [1], "self_weight": true})")) ==
          Places{"piece.self_weight"});
    CHECK(places_of_faults(loaded(good, measured, R"("piece": {"loads": [1, 2], "self_weight": false})")) ==
          Places{"piece.loads"});
    CHECK(places_of_faults(
              loaded(good, measured, R"("piece": {"loads": [1], "self_weight": false, "use": "dining"})")) ==
          Places{"piece.use"});
}
