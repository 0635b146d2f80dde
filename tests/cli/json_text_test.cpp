// SPDX-License-Identifier: MIT
#include "cli/files/json_text.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace hollowtop;
using namespace hollowtop::cli;

namespace {

std::string message_of(const std::string& text) {
    try {
        (void)parse_json(text);
    } catch (const Error& error) {
        const Fault& fault = error.faults().at(0);
        return (fault.place.empty() ? "" : fault.place + ": ") + in_own_units(fault.what) + "; " +
               in_own_units(fault.remedy);
    }
    return "no error";
}

} // namespace

TEST_CASE("JSON is read with comments and in the order of the file", "[cli]") {
    const JsonValue value = parse_json("\xEF\xBB\xBF{\"b\": [1, -2.5e1], /* a\nb */ \"a\": {\"x\": true}, // "
                                       "c\n\"n\": null, \"t\": \"5\\\"\"}");
    REQUIRE(value.kind == JsonValue::Kind::object);
    REQUIRE(value.members.size() == 4);
    CHECK(value.members[0].first == "b");
    CHECK(value.members[1].first == "a");
    CHECK(value.find("b")->items.at(1).number == -25);
    CHECK(value.find("a")->find("x")->boolean);
    CHECK(value.find("n")->kind == JsonValue::Kind::null);
    CHECK(value.find("t")->text == "5\"");
    CHECK(value.find("z") == nullptr);
}

TEST_CASE("each slip of JSON is named in words with its line and column", "[cli]") {
    const auto [text, message] = GENERATE(table<std::string, std::string>({
        {"", "the file is empty; see docs/examples for pieces to start from"},
        {" \n\t ", "the file is empty; see docs/examples for pieces to start from"},
        {"{\"a\": 1", "line 1, column 8: the file ends too early; a closing } is missing"},
        {"{\"a\": [1, 2", "line 1, column 12: the file ends too early; a closing ] is missing"},
        {"{\"a\": 1,\n \"b\": 2,\n}", "line 3, column 1: there is a comma before the }; take that comma out"},
        {"{\"a\": [1, 2,]}", "line 1, column 13: there is a comma before the ]; take that comma out"},
        {"{\"a\": 1\n \"b\": 2}",
         "line 2, column 2: a comma is missing before this; write a comma between keys"},
        {"[1 2]", "line 1, column 4: a comma is missing before this; write a comma between values"},
        {"{\"a\" 1}", "line 1, column 6: a colon is missing after the key; write it like \"length\": 1900"},
        {"{a: 1}",
         "line 1, column 2: a key in double quotes is missing here; write it like \"length\": 1900"},
        {"{\"a\": }", "line 1, column 7: a value is missing here; write a number, a text in double quotes, a "
                      "list or an object"},
        {"{\"a\": mm}",
         "line 1, column 7: a word stands here without quotes; write texts in double quotes: \"mm\""},
        {"{\"a\": .5}", "line 1, column 7: this is not a number; write 0.5 rather than .5, and a quantity "
                        "with a unit in quotes: \"42 mm\""},
        {"{\"a\": 1e400}", "line 1, column 7: this number is too large; write a smaller one"},
        {"{\"a\": \"42 mm}\n}",
         "line 1, column 7: a text is not closed on its line; write the closing double quote"},
        {"{\"a\": 1} {", "line 1, column 10: more text follows after the end of the piece; keep one pair of "
                         "outer braces { }"},
        {"{\"a\": 1 /* }",
         "line 1, column 9: a comment is not closed; write // for the rest of a line, or /* ... */"},
        {"{\"a\": \"\xff\"}", "line 1, column 7: this is not UTF-8 text; save the file as UTF-8"},
        {"{\"\u00e4\": 1 \"b\": 2}",
         "line 1, column 9: a comma is missing before this; write a comma between keys"},
    }));
    CAPTURE(text);
    CHECK(message_of(text) == message);
}

TEST_CASE("a key given twice is refused with its path", "[cli]") {
    CHECK(message_of(R"({"a": 1, "a": 2})") == "a: this key is given twice; keep one of them");
    CHECK(message_of(R"({"recesses": [{"depth": 1}, {"depth": 1, "x": [1, 2], "depth": 2}]})") ==
          "recesses[1].depth: this key is given twice; keep one of them");
    CHECK(message_of(R"({"a": 1, "b": {"a": 2}})") == "no error");
}

TEST_CASE("endless nesting and endless keys are refused before they hurt", "[cli]") {
    CHECK(message_of(std::string(1'000'000, '[')) ==
          "lists and objects are nested more than 32 deep; a piece file needs six levels at most");
    std::string many = "{";
    for (int i = 0; i < 300; ++i) many += "\"k" + std::to_string(i) + "\": 1,";
    CHECK(message_of(many) == "k200: there are more than 200 keys here; no part of a piece file has so many");
}
