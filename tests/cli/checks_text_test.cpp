// SPDX-License-Identifier: MIT
// docs/checks.md is made from the table of checks: HOLLOWTOP_UPDATE_DOCS=1 in the environment writes it.
#include "cli/text/checks_text.hpp"

#include "solver/checks/checks.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

using namespace hollowtop;
using namespace hollowtop::cli;

TEST_CASE("docs/checks.md says what the table of checks says", "[cli][docs]") {
    const std::string file = std::string(HOLLOWTOP_SOURCE_DIR) + "/docs/checks.md";
    if (std::getenv("HOLLOWTOP_UPDATE_DOCS") != nullptr) std::ofstream(file) << checks_document();
    std::ifstream in(file);
    const std::string kept{std::istreambuf_iterator<char>(in), {}};
    CHECK(kept == checks_document());
}

TEST_CASE("each check says what it compares, on whose word, and when it governs", "[cli][docs]") {
    for (const Check& check : table_of_checks()) {
        INFO(check.name);
        for (const char* words : {check.demand, check.capacity, check.source, check.governs}) {
            REQUIRE(words != nullptr);
            CHECK(std::string(words) != "");
            CHECK(std::string(words).find('|') == std::string::npos); // it would break the table
        }
    }
}
