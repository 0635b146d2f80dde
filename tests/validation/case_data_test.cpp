// SPDX-License-Identifier: MIT
#include "validation/case_data.hpp"

#include "validation/run_cases.hpp"

#include <catch2/catch.hpp>

#include <set>
#include <string>

using namespace hollowtop::validation;

TEST_CASE(
    "every built-in case can be read, has its own id and says whence it comes and what a miss would mean",
    "[validation]") {
    std::set<std::string> ids;
    for (const CaseText& text : built_in_cases()) {
        INFO(text.name);
        const Case c = parse_case(text.text, std::string(text.name));
        CHECK(ids.insert(c.id).second);
        CHECK(c.status != Status::not_said);
        CHECK_FALSE(c.why.empty());
        CHECK_FALSE(c.source.empty());
    }
    CHECK(ids.size() > 60); // the set must not be lost in the build
}

TEST_CASE("a recalled value never carries a tighter tolerance than its source was rounded to",
          "[validation]") {
    for (const CaseText& text : built_in_cases()) {
        const Case c = parse_case(text.text, std::string(text.name));
        if (c.status != Status::from_memory) continue;
        for (const Expectation& e : c.expect) {
            INFO(c.id << " " << e.what);
            CHECK((!e.tolerance.is_percent || e.tolerance.size >= 0.5));
        }
    }
}
