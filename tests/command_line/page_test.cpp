// SPDX-License-Identifier: MIT
#include "cli/files/built_in_page.hpp"
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>

TEST_CASE("page writes the page that was built in, or says how one is made and writes nothing",
          "[command_line]") {
    const Folder folder;
    const std::string file = folder.path() + "/page.html";
    const Ran ran = run({"page", "--out", file});
    if (hollowtop::cli::built_in_page().empty()) {
        CHECK(ran.status == 3);
        CHECK(ran.out.empty());
        CHECK(
            ran.err ==
            "hollowtop: this program was built without the page; sh cli/page/build.sh, in the sources, makes "
            "build/page/hollowtop.html; -DHOLLOWTOP_PAGE=build/page/hollowtop.html builds it in\n");
        CHECK(folder.names().empty());
    } else {
        CHECK(ran.status == 0);
        CHECK(ran.out == "wrote " + file + ": open it in a browser\n");
        CHECK(content_of(file) == hollowtop::cli::built_in_page());
        CHECK(run({"page", "--out", folder.path()}).status == 2);
    }
}
