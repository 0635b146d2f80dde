// SPDX-License-Identifier: MIT
// What check and validate write for a build server, read by a parser that is not ours.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>

using Catch::Matchers::Contains;

namespace {

std::string shelf(const std::string& pressure, const std::string& x = "900") {
    return R"({"hollowtop": 1, "top": {"length": 900, "width": 300, "thickness": 20, "wood": "white oak"},
        "supports": [{"kind": "bearer", "from": [0, 0], "to": [0, 300], "width": 0},
                     {"kind": "bearer", "from": [)" +
           x + R"(, 0], "to": [)" + x + R"(, 300], "width": 0}],
        "loads": [{"name": "books & more", "kind": "area", "pressure": ")" +
           pressure + R"( kPa"}]})";
}

/// A line a test case: its name, what it ended in, and the message.
std::string told(const std::string& file) {
    const Ran ran = run_other({"/usr/bin/python3", "-c", R"(
import sys, xml.etree.ElementTree as tree
root = tree.parse(sys.argv[1]).getroot()
assert root.tag == "testsuites" and root[0].tag == "testsuite"
for suite in root:
    cases = list(suite)
    count = lambda tag: sum(case.find(tag) is not None for case in cases)
    assert suite.get("tests") == str(len(cases)), suite.attrib
    assert suite.get("failures") == str(count("failure")) and suite.get("errors") == str(count("error"))
    for case in cases:
        end = case[0] if len(case) else None
        print(case.get("name").rsplit("/", 1)[-1], "passed" if end is None else end.tag, "" if end is None else end.get("message"))
)",
                               file});
    CHECK(ran.err == "");
    return ran.out;
}

} // namespace

TEST_CASE("a folder of pieces is told to a build server, each piece a test", "[command_line]") {
    const Folder folder;
    const std::string junit = folder.path() + "/tests.xml", light = folder.put("light.json", shelf("0.1")),
                      heavy = folder.put("heavy.json", shelf("20")),
                      off = folder.put("off.json", shelf("0.1", "100")); // it tips
    const Ran ran = run({"check", "--mesh", "coarse", "--quiet", light, heavy, off, "--junit", junit});
    CHECK(ran.status == 3);
    const std::string all = told(junit);
    CHECK_THAT(all, Contains("light.json passed"));
    CHECK_THAT(all, Contains("heavy.json failure ") && Contains(" %, in \"books & more\""));
    CHECK_THAT(all, Contains("off.json error "));
    // one piece alone
    CHECK(run({"check", "--mesh", "coarse", "--quiet", light, "--junit", junit}).status == 0);
    CHECK(told(junit) == "light.json passed \n");
    CHECK(run({"check", "--mesh", "coarse", "--quiet", off, "--junit", junit}).status == 3);
    CHECK_THAT(told(junit), Contains("off.json error "));
    CHECK_THAT(run({"check", light, "--junit", "-"}).err,
               Contains("--junit: is not written to standard output"));
    CHECK_THAT(run({"check", light, "--junit", junit, "--json", junit}).err,
               Contains("is the file of --json too"));
}

TEST_CASE("validation is told to a build server, each value a test", "[command_line]") {
    const Folder folder;
    const std::string junit = folder.path() + "/tests.xml";
    const auto one = [&](const std::string& what, const std::string& value) {
        return R"({"id": "shelf", "title": "a shelf", "source": "invented for this test", "piece": )" +
               shelf("0.1") + R"(, "expect": [{"what": ")" + what + R"(", "value": )" + value +
               R"(, "tolerance_percent": 1}]})";
    };
    folder.put("a.json", one("/hollowtop", "1"));
    folder.put("b.json", one("/hollowtop", "2"));
    folder.put("c.json", one("/nothing", "1"));
    CHECK(run({"validate", "--quiet", "--cases", folder.path(), "--junit", junit}).status == 1);
    const std::string all = told(junit);
    CHECK_THAT(all, Contains("hollowtop passed"));
    CHECK_THAT(all, Contains("failure computed 1, reference 2, allowed"));
    CHECK_THAT(all, Contains("nothing error "));
}
