// SPDX-License-Identifier: MIT
#include "validation/run_cases.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace hollowtop;
using namespace hollowtop::validation;
using Catch::Matchers::WithinRel;

namespace {

/// A sound case file with `expect` put in; `more` goes in front of it.
std::string case_file(const std::string& expect, const std::string& more = "") {
    return R"({"id": "X1", "title": "a shelf", "source": "invented", )" + more +
           R"("piece": {"top": {"length": 900}, "hollowtop": 1}, "expect": )" + expect + "}";
}

const std::string one_sag = R"([{"what": "/situations/0/sag_mm", "value": 2, "tolerance_percent": 1}])";

std::string message(const Fault& fault) {
    return fault.place + ": " + in_own_units(fault.what) +
           (fault.remedy.empty() ? "" : "; " + in_own_units(fault.remedy));
}

/// Every message that parsing `text` gives, one a line.
std::string faults_of_case(const std::string& text) {
    try {
        parse_case(text, "x1.json");
    } catch (const Error& e) {
        REQUIRE(e.kind() == ErrorKind::input);
        CHECK(e.file == "x1.json");
        std::string all;
        for (const Fault& fault : e.faults()) all += (all.empty() ? "" : "\n") + message(fault);
        return all;
    }
    return "no error";
}

Comparison compare_one(const std::string& expectation, const std::string& result) {
    const auto lines = compare(parse_case(case_file("[" + expectation + "]"), "x1.json"), result);
    REQUIRE(lines.size() == 1);
    return lines.front();
}

} // namespace

TEST_CASE("a case file is read whole", "[validation]") {
    const Case c = parse_case(
        case_file(R"([{"what": "/mass/top_kg", "value": 30, "tolerance": 1.5, "note": "n", "why": "w"},
                                             {"what": "/situations/0/sag_mm", "value": -2.5, "tolerance_percent": 0.5}])",
                  R"("status": "from memory", "why": "mass counted twice", "note": "rim whole", )"),
        "x1.json");
    CHECK(c.id == "X1");
    CHECK(c.title == "a shelf");
    CHECK(c.source == "invented");
    CHECK(c.why == "mass counted twice");
    CHECK(c.note == "rim whole");
    CHECK(name_of(c.status) == "from memory");
    REQUIRE(c.expect.size() == 2);
    CHECK(c.expect[0].what == "/mass/top_kg");
    CHECK(c.expect[0].tolerance.size == 1.5);
    CHECK_FALSE(c.expect[0].tolerance.is_percent);
    CHECK(c.expect[0].note == "n");
    CHECK(c.expect[0].why == "w");
    CHECK(c.expect[1].value == -2.5);
    CHECK(c.expect[1].tolerance.is_percent);
}

TEST_CASE("the piece of a case keeps the order of its keys and skips comments", "[validation]") {
    const Case c = parse_case("// for the shelf\n" + case_file(one_sag), "x1.json");
    CHECK(c.piece == R"({"top":{"length":900},"hollowtop":1})");
}

TEST_CASE("a bad case file is refused with the place of every fault", "[validation]") {
    struct Row {
        std::string text, messages;
    };
    const std::vector<Row> rows{
        {"", "line 1: this is not JSON; look for a comma, quote or bracket too many or too few"},
        {"{\n\"id\": \"X1\",\n,}",
         "line 3: this is not JSON; look for a comma, quote or bracket too many or too few"},
        {R"({"id": "a", "id": "b"})", "id: stands twice in one object; keep one"},
        {R"({"id": 1e999})", ": a number is too large to hold"},
        {"[1, 2]", R"(: a case is an object; give {"id", "title", "source", "piece", "expect"})"},
        {R"({"id": "X1"})",
         "title: is missing; give a text\n"
         "source: is missing; give a text\n"
         "piece: is missing; give a piece file's content\n"
         R"(expect: is missing; give a list such as [{"what": "/situations/0/sag_mm", "value": 1.5, "tolerance_percent": 1}])"},
        {R"({"id": "", "title": 3, "source": "s", "piece": 1, "expect": [7]})",
         "id: is empty; give a text\n"
         "title: is not a text; give a text\n"
         "piece: is no object; give a piece file's content\n"
         R"(expect[0]: is no object; give {"what", "value", "tolerance_percent"})"},
        {case_file(one_sag, R"("statsu": "checked", )"), R"(statsu: no such key; did you mean "status"?)"},
        {case_file(one_sag, R"("status": "proven", )"),
         R"(status: "proven" is no status; give "checked", "from memory", "closed form", "computed", "measured" or "invented")"},
        {case_file(R"([{"what": "situations/0", "value": 1, "tolerance_percent": 1}])"),
         R"(expect[0].what: "situations/0" is no JSON Pointer; write the way into the result, such as "/situations/0/sag_mm")"},
        {case_file(R"([{"what": "/a~2", "value": 1, "tolerance_percent": 1}])"),
         R"(expect[0].what: "/a~2" is no JSON Pointer; write the way into the result, such as "/situations/0/sag_mm")"},
        {case_file(R"([{"what": "/a", "tolerance_percent": 1}])"),
         "expect[0].value: is missing; give the published number"},
        {case_file(R"([{"what": "/a", "value": "1", "tolerance_percent": 1}])"),
         "expect[0].value: is not a number; give a number, true or false"},
        {case_file(R"([{"what": "/a", "value": 1}])"),
         R"(expect[0].tolerance_percent: is missing; give either "tolerance_percent" or "tolerance")"},
        {case_file(R"([{"what": "/a", "value": 1, "tolerance_percent": 1, "tolerance": 1}])"),
         R"(expect[0].tolerance_percent: stands beside a tolerance; give either "tolerance_percent" or "tolerance")"},
        {case_file(R"([{"what": "/a", "value": 1, "tolerance_percent": -1}])"),
         "expect[0].tolerance_percent: is below 0; give 0 or more"},
        {case_file(R"([{"what": "/a", "value": 0, "tolerance_percent": 1}])"),
         R"(expect[0].tolerance_percent: is a share of a value that is 0; give "tolerance", in the value's own unit)"},
        {case_file(R"([{"what": "/a", "value": 1, "tolerance": "1", "notes": ""}])"),
         "expect[0].notes: no such key; did you mean \"note\"?\n"
         "expect[0].tolerance: is not a number; give a number"},
    };
    for (const Row& row : rows) {
        INFO(row.text);
        CHECK(faults_of_case(row.text) == row.messages);
    }
    CHECK(faults_of_case(case_file(one_sag)) == "no error");
}

TEST_CASE("a computed value is compared as a share of the published one", "[validation]") {
    const std::string sag = R"({"what": "/situations/0/sag_mm", "value": 2, "tolerance_percent": 1})";
    const Comparison near = compare_one(sag, R"({"situations": [{"sag_mm": 2.019}]})");
    CHECK(near.ok);
    CHECK(near.computed == 2.019);
    REQUIRE(near.difference_percent);
    CHECK_THAT(*near.difference_percent, WithinRel(0.95, 1e-9)); // rounding of 2.019 - 2 only

    const Comparison far = compare_one(sag, R"({"situations": [{"sag_mm": 1.979}]})");
    CHECK_FALSE(far.ok);
    CHECK_THAT(far.difference_percent.value_or(0), WithinRel(-1.05, 1e-9));
}

TEST_CASE("the tolerance of a negative value is a share of its size", "[validation]") {
    const std::string moment = R"({"what": "/m", "value": -50, "tolerance_percent": 2})";
    CHECK(compare_one(moment, R"({"m": -50.9})").ok);
    const Comparison wrong_sign = compare_one(moment, R"({"m": 50})");
    CHECK_FALSE(wrong_sign.ok);
    CHECK_THAT(wrong_sign.difference_percent.value_or(0), WithinRel(200.0, 1e-12));
}

TEST_CASE("a value that must be nought has a tolerance in its own unit", "[validation]") {
    const std::string lifted = R"({"what": "/reactions/1/force_N", "value": 0, "tolerance": 1e-6})";
    const Comparison line = compare_one(lifted, R"({"reactions": [{}, {"force_N": 5e-7}]})");
    CHECK(line.ok);
    CHECK_FALSE(line.difference_percent);
    CHECK_FALSE(compare_one(lifted, R"({"reactions": [{}, {"force_N": -2e-6}]})").ok);
    CHECK(compare_one(R"({"what": "/f", "value": 0, "tolerance": 0})", R"({"f": 0.0})").ok);
    CHECK_FALSE(compare_one(R"({"what": "/f", "value": 0, "tolerance": 0})", R"({"f": 1e-300})").ok);
}

TEST_CASE("true and false are compared like numbers", "[validation]") {
    const std::string lifts = R"({"what": "/lifts", "value": true, "tolerance": 0})";
    CHECK(compare_one(lifts, R"({"lifts": true})").ok);
    CHECK_FALSE(compare_one(lifts, R"({"lifts": false})").ok);
}

TEST_CASE("a value that the result does not hold is a miss that says so", "[validation]") {
    for (const std::string result : {R"({})", R"({"f": []})", R"({"f": "12"})", R"({"f": null})", "[]"}) {
        INFO(result);
        const Comparison line =
            compare_one(R"({"what": "/f", "value": 12, "tolerance_percent": 100})", result);
        CHECK_FALSE(line.ok);
        CHECK_FALSE(line.computed);
        CHECK(line.problem == "the result has no number at /f");
    }
    CHECK_FALSE(
        compare_one(R"({"what": "/f/3", "value": 1, "tolerance_percent": 1})", R"({"f": [1, 1, 1]})").ok);
    CHECK_THROWS_AS(compare_one(R"({"what": "/f", "value": 1, "tolerance_percent": 1})", "{"), Error);
}

TEST_CASE("running a case hands the piece over and compares what comes back", "[validation]") {
    const Case c = parse_case(case_file(one_sag, R"("why": "span read wrong", )"), "x1.json");
    std::string seen;
    const auto lines = run_case(c, [&seen](const std::string& piece) {
        seen = piece;
        return std::string(R"({"situations": [{"sag_mm": 2.01}]})");
    });
    CHECK(seen == c.piece);
    REQUIRE(lines.size() == 1);
    CHECK(lines[0].ok);
    CHECK(lines[0].id == "X1");
    CHECK(lines[0].why == "span read wrong");
    CHECK(all_ok(lines));
}

TEST_CASE("a piece that cannot be computed is a miss in every line", "[validation]") {
    const Case c = parse_case(case_file(one_sag), "x1.json");
    const auto lines = run_case(c, [](const std::string&) -> std::string {
        throw Error(ErrorKind::not_computable, Fault{"supports", "nothing holds the top", ""});
    });
    REQUIRE(lines.size() == 1);
    CHECK_FALSE(lines[0].computed);
    CHECK(lines[0].problem == "nothing holds the top");
    CHECK_FALSE(all_ok(lines));
}

TEST_CASE("a piece that makes no sense is an error of the case file", "[validation]") {
    const Case c = parse_case(case_file(one_sag), "x1.json");
    try {
        run_case(c, [](const std::string&) -> std::string {
            throw Error(ErrorKind::input, Fault{"top.width", "is missing", "give a length"});
        });
        FAIL("no error");
    } catch (const Error& e) {
        CHECK(e.kind() == ErrorKind::input);
        CHECK(message(e.faults().front()) == "piece.top.width: is missing; give a length");
    }
}
