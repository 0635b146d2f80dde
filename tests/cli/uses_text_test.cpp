// SPDX-License-Identifier: MIT
// docs/uses.md is made from the tables: HOLLOWTOP_UPDATE_DOCS=1 in the environment writes it.
#include "cli/text/uses_text.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

using namespace hollowtop;
using namespace hollowtop::cli;

TEST_CASE("docs/uses.md says what the tables say", "[cli][docs]") {
    const std::string file = std::string(HOLLOWTOP_SOURCE_DIR) + "/docs/uses.md";
    if (std::getenv("HOLLOWTOP_UPDATE_DOCS") != nullptr) std::ofstream(file) << uses_document();
    std::ifstream in(file);
    const std::string kept{std::istreambuf_iterator<char>(in), {}};
    CHECK(kept == uses_document());
}

TEST_CASE("each load of a use is shown with its source and how well that is known", "[cli]") {
    for (const materials::Use& use : materials::uses()) {
        Page page;
        put_use(page, use, Units::inch);
        const std::string text = page.text(false);
        for (const materials::UseLoad& load : use.loads)
            CHECK(text.find(load.name.substr(0, 12)) != std::string::npos);
        CHECK(text.find(" kPa") == std::string::npos);
        CHECK(text.find("a standard is met, or not") != std::string::npos);
    }
}
