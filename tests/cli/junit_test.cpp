// SPDX-License-Identifier: MIT
#include "cli/json/junit.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop::cli;
using Catch::Matchers::Contains;

TEST_CASE("tests are counted and told in the XML that build servers read", "[cli]") {
    const std::string xml = junit_xml("shop", {{.group = "g", .name = "a.json", .message = ""},
                                               {.group = "g",
                                                .name = "b.json",
                                                .outcome = TestLine::Outcome::failed,
                                                .message = "dish at 134 %, in \"books & <lamps>\"",
                                                .text = "dish & sag"},
                                               {.group = "g",
                                                .name = "c.json",
                                                .outcome = TestLine::Outcome::not_computed,
                                                .message = "nothing\nholds it"}});
    CHECK(xml == R"(<?xml version="1.0" encoding="UTF-8"?>
<testsuites name="shop" tests="3" failures="1" errors="1" skipped="0">
  <testsuite name="shop" tests="3" failures="1" errors="1" skipped="0">
    <testcase classname="g" name="a.json"/>
    <testcase classname="g" name="b.json">
      <failure message="dish at 134 %, in &quot;books &amp; &lt;lamps&gt;&quot;" type="limit">dish &amp; sag</failure>
    </testcase>
    <testcase classname="g" name="c.json">
      <error message="nothing&#10;holds it" type="not computed"></error>
    </testcase>
  </testsuite>
</testsuites>
)");
}

TEST_CASE("what XML cannot hold does not get into it", "[cli]") {
    const std::string xml = junit_xml(
        "s", {{.group = "g", .name = std::string("a\x01\x1b", 3), .message = ""},
              {.group = "g", .name = "b\xff", .outcome = TestLine::Outcome::failed, .message = "\xc3"}});
    // U+FFFD; bytes that are not UTF-8 once went through
    CHECK_THAT(xml, Contains("name=\"a\xEF\xBF\xBD\xEF\xBF\xBD\""));
    CHECK_THAT(xml, Contains("name=\"b\xEF\xBF\xBD\"") && Contains("message=\"\xEF\xBF\xBD\""));
}
