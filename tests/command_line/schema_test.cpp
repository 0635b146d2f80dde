// SPDX-License-Identifier: MIT
// The schemas against every example, every case and every kind of result, checked by a library that is not
// ours.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

namespace {

const std::string python = "/usr/bin/python3";

bool checker_is_there() {
    if (run_other({python, "-c", "import jsonschema; jsonschema.Draft202012Validator"}).status == 0)
        return true;
    WARN("NOT CHECKED: the schemas need Debian's python3-jsonschema; sh cli/setup.sh tests installs it");
    return false;
}

Ran checked(const std::string& schema, const std::vector<std::string>& files) {
    std::vector<std::string> command{python, of_the_project("tests/command_line/check_schema.py"),
                                     of_the_project(schema)};
    command.insert(command.end(), files.begin(), files.end());
    return run_other(command);
}

std::vector<std::string> json_files(const std::string& folder) {
    std::vector<std::string> files;
    for (const auto& entry : std::filesystem::directory_iterator(of_the_project(folder)))
        if (entry.path().extension() == ".json") files.push_back(entry.path().string());
    return files;
}

} // namespace

TEST_CASE("every example and every case obeys the schema of the piece file", "[command_line]") {
    if (!checker_is_there()) return;
    std::vector<std::string> files = json_files("docs/examples");
    REQUIRE(files.size() >= 4);
    for (const std::string& file : json_files("validation/cases")) files.push_back(file);
    const Ran ran = checked("docs/piece.schema.json", files);
    CHECK(ran.out == "");
    CHECK(ran.err == "");
    CHECK(ran.status == 0);
}

TEST_CASE("the schema of the piece file refuses what the program refuses", "[command_line]") {
    if (!checker_is_there()) return;
    const std::string sound =
        R"({"hollowtop": 1, "top": {"length": 900, "width": 300, "thickness": 20, "wood": "white oak"},
        "recesses": [{"rim": 60, "depth": 8}], "supports": [{"kind": "pad", "at": [60, 60], "size": [40, 40]}],
        "loads": [{"kind": "area", "pressure": "0.5 kPa"}], "limits": {"sag": "span/300"}})";
    struct Slip {
        std::string old_text, new_text;
    };
    const auto slip = GENERATE(values<Slip>({{R"("hollowtop": 1)", R"("hollowtop": 2)"},
                                             {R"("length": 900, )", ""},
                                             {R"("wood": "white oak")", R"("wod": "white oak")"},
                                             {R"("thickness": 20)", R"("thickness": "20")"},
                                             {R"("thickness": 20)", R"("thickness": "20 kg")"},
                                             {R"("depth": 8)", R"("depth": 8, "skin": 12)"},
                                             {R"("rim": 60, )", ""},
                                             {R"("kind": "pad")", R"("kind": "leg")"},
                                             {R"("size": [40, 40])", R"("size": [40])"},
                                             {R"("0.5 kPa")", R"("0.5 kN")"},
                                             {R"("span/300")", R"("span:300")"}}));
    CAPTURE(slip.new_text);
    const Folder folder;
    CHECK(checked("docs/piece.schema.json", {folder.put("sound.json", sound)}).out.empty());
    std::string text = sound;
    const auto at = text.find(slip.old_text);
    REQUIRE(at != std::string::npos);
    const std::string file = folder.put("slip.json", text.replace(at, slip.old_text.size(), slip.new_text));
    CHECK(checked("docs/piece.schema.json", {file}).status == 1);
    CHECK(run({"check", file}).status == 2);
}

TEST_CASE("the results of the examples obey the schema of the result, alone and in a list",
          "[command_line]") {
    const Folder folder;
    std::vector<std::string> words{"check", "--mesh", "coarse", "--json", folder.path() + "/list.json"};
    for (const std::string& file : json_files("docs/examples"))
        if (file.find("oval") == std::string::npos) words.push_back(file); // takes long
    words.push_back(folder.put(
        "oval.json",
        R"({"hollowtop": 1, "top": {"length": 900, "width": 600, "thickness": 24, "wood": "white oak",
        "outline": {"shape": "ellipse"}}, "supports": [{"kind": "bearer", "from": [250, 150], "to": [250, 450], "width": 40},
        {"kind": "bearer", "from": [650, 150], "to": [650, 450], "width": 40}], "loads": [{"kind": "area", "pressure": "0.3 kPa"}]})"));
    words.push_back(folder.put(
        "heavy.json",
        R"({"hollowtop": 1, "top": {"length": 900, "width": 400, "thickness": 24, "wood": "white oak"},
        "supports": [{"kind": "bearer", "from": [50, 0], "to": [50, 400], "width": 40}, {"kind": "bearer", "from": [850, 0], "to": [850, 400], "width": 40}],
        "loads": [{"kind": "area", "pressure": "30 kPa"}]})"));
    const Ran list = run(words);
    CHECK(list.err.empty());
    CHECK(list.status == 1); // the last is far too heavy
    const Ran one = run(
        {"check", of_the_project("docs/examples/reading_table.json"), "--json", folder.path() + "/one.json"});
    CHECK(one.err.empty());
    CHECK(one.status == 0);
    if (!checker_is_there()) return;
    const Ran ran =
        checked("docs/result.schema.json", {folder.path() + "/list.json", folder.path() + "/one.json"});
    CHECK(ran.out == "");
    CHECK(ran.err == "");
    CHECK(ran.status == 0);
}

TEST_CASE("what a report writes as JSON obeys the schema of the result", "[command_line]") {
    const Folder folder;
    const std::string piece = of_the_project("docs/examples/reading_table.json"),
                      page = folder.path() + "/page.html";
    std::vector<std::string> files{folder.path() + "/full.json", folder.path() + "/quick.json"};
    CHECK(run({"report", piece, "--mesh", "coarse", "--out", page, "--json", files[0]}).status == 0);
    CHECK(run({"report", piece, "--mesh", "coarse", "--out", page, "--json", files[1], "--quick"}).status ==
          0);
    if (!checker_is_there()) return;
    const Ran ran = checked("docs/result.schema.json", files);
    CHECK(ran.out == "");
    CHECK(ran.err == "");
    CHECK(ran.status == 0);
}

TEST_CASE("what compare writes, a variant a line, obeys its schema", "[command_line]") {
    const Folder folder;
    const std::string lines = folder.path() + "/variants.jsonl";
    // one that cannot be made is among them
    const Ran ran = run({"compare", of_the_project("docs/examples/reading_table.json"), "--mesh", "coarse",
                         "--vary", "depth=16,24,41.8", "--json", lines, "--quiet"});
    CHECK(ran.err.empty());
    CHECK(ran.status == 0);
    const std::string text = content_of(lines);
    CHECK(std::count(text.begin(), text.end(), '\n') == 4); // what it was written for, and the variants
    if (!checker_is_there()) return;
    const Ran seen = checked("docs/compare.schema.json", {lines});
    CHECK(seen.out == "");
    CHECK(seen.err == "");
    CHECK(seen.status == 0);
}

TEST_CASE("what survey writes obeys its schema", "[command_line][slow]") {
    const Folder folder;
    const std::string file = folder.path() + "/survey.json";
    // invented: a floor that lies deep, a gouge, a rim that is thin, one reading off the top and one on the wall
    const std::string readings =
        folder.put("skin.csv", "x,y,thickness\n200,200,25.2\n600,200,25.0\n1000,200,25.1\n"
                               "1400,200,24.9\n200,600,25.4\n600,600,25.1\n1000,600,23.2\n1400,600,25.0\n"
                               "60,400,41.5\n950,50,41.4\n1850,400,41.6\n3000,10,25\n121,300,25\n");
    const Ran ran = run({"survey", of_the_project("docs/examples/reading_table.json"), readings, "--mesh",
                         "coarse", "--json", file, "--quiet"});
    CHECK(ran.err.empty());
    CHECK((ran.status == 0 || ran.status == 1));
    if (!checker_is_there()) return;
    const Ran seen = checked("docs/survey.schema.json", {file});
    CHECK(seen.out == "");
    CHECK(seen.err == "");
    CHECK(seen.status == 0);
}

TEST_CASE("what deepest writes obeys its schema", "[command_line][slow]") {
    const Folder folder;
    const std::string file = folder.path() + "/deepest.json";
    const Ran ran = run({"deepest", of_the_project("docs/examples/reading_table.json"), "--mesh", "coarse",
                         "--json", file, "--quiet"});
    CHECK(ran.err.empty());
    CHECK(ran.status == 0);
    if (!checker_is_there()) return;
    const Ran seen = checked("docs/deepest.schema.json", {file});
    CHECK(seen.out == "");
    CHECK(seen.err == "");
    CHECK(seen.status == 0);
}

TEST_CASE("the schemas are printed as they are shipped, and an unknown one is refused", "[command_line]") {
    for (const std::string name : {"piece", "result", "compare", "deepest", "movement", "seasons", "survey",
                                   "boardtest", "prooftest"}) {
        const Ran ran = run({"schema", name});
        CHECK(ran.status == 0);
        CHECK(ran.out == content_of(of_the_project("docs/" + name + ".schema.json")));
    }
    CHECK(run({"schema"}).out == run({"schema", "piece"}).out);
    const Ran ran = run({"schema", "table"});
    CHECK(ran.status == 2);
    CHECK(ran.err.find("no such schema here; give \"boardtest\"") != std::string::npos);
    const Folder folder;
    CHECK(run({"schema", "result", "--out", folder.path() + "/r.json"}).status == 0);
    CHECK(content_of(folder.path() + "/r.json") == content_of(of_the_project("docs/result.schema.json")));
}

TEST_CASE("a piece may name its schema, and the schema lets it", "[command_line]") {
    const Folder folder;
    const std::string sound = R"({"$schema": "piece.schema.json", "hollowtop": 1,
        "top": {"length": 900, "width": 300, "thickness": 20, "wood": "white oak"},
        "supports": [{"kind": "bearer", "from": [50, 0], "to": [50, 300], "width": 20},
                     {"kind": "bearer", "from": [850, 0], "to": [850, 300], "width": 20}],
        "loads": [{"kind": "area", "pressure": "0.1 kPa"}]})";
    const std::string file = folder.put("sound.json", sound);
    const Ran ran = run({"check", "--quiet", "--mesh", "coarse", file});
    CHECK(ran.err == "");
    CHECK(ran.status == 0);
    std::string number = sound;
    number.replace(number.find("\"piece.schema.json\""), 19, "7");
    const std::string other = folder.put("number.json", number);
    CHECK(run({"check", "--quiet", other}).status == 2);
    if (!checker_is_there()) return;
    CHECK(checked("docs/piece.schema.json", {file}).out.empty());
    CHECK(checked("docs/piece.schema.json", {other}).status == 1);
}
