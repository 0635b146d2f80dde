// SPDX-License-Identifier: MIT
#include "materials/push.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop::materials;

TEST_CASE("every push has a force, a size, a source and a status", "[materials][push]") {
    REQUIRE(pushes().size() >= 3);
    for (const Push& push : pushes()) {
        INFO(push.id);
        CHECK(push.force_N > 0);
        CHECK(push.size_mm > 0);
        CHECK((!push.dish_limit_mm || *push.dish_limit_mm > 0));
        CHECK_FALSE(push.source.empty());
        CHECK((push.status == "common practice" || push.status == "from memory" ||
               push.status == "judgement" || push.status == "checked"));
    }
}
