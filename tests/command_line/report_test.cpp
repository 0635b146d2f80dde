// SPDX-License-Identifier: MIT
// The report as a person gets it: from the real program, its numbers held against the JSON by another hand.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>

#include <filesystem>

namespace {

const std::string python = "/usr/bin/python3";

std::string piece_of(const std::string& title, const std::string& more = "") {
    return R"({"hollowtop": 1, "title": ")" + title + R"(",
      "top": {"length": 900, "width": 400, "thickness": 25, "wood": "white oak"},
      "recesses": [{"name": "well", "rim": 70, "depth": 9, "corner_radius": 10}],
      "supports": [{"kind": "pad", "at": [60, 60], "size": [40, 40]}, {"kind": "pad", "at": [840, 60], "size": [40, 40]},
                   {"kind": "pad", "at": [60, 340], "size": [40, 40]}, {"kind": "pad", "at": [840, 340], "size": [40, 40]}],
      "loads": [{"name": "books", "kind": "area", "pressure": "0.5 kPa", "duration": "long"}])" +
           more + "}";
}

/// Runs the report and the movement of a piece file and holds the page against both.
void expect_true_page(const std::string& file, const Folder& folder,
                      const std::vector<std::string>& more = {}) {
    const std::string page = folder.path() + "/page.html", result = folder.path() + "/result.json",
                      movement = folder.path() + "/movement.json";
    std::vector<std::string> words{"report", file, "--mesh", "coarse", "--out", page, "--json", result};
    words.insert(words.end(), more.begin(), more.end());
    const Ran report = run(words);
    CHECK(report.err == "");
    REQUIRE(report.status <= 1);
    std::vector<std::string> reading{python, of_the_project("tests/command_line/read_report.py"), page,
                                     result};
    const bool tells_years = content_of(page).find("<h3 id=\"year\"") != std::string::npos;
    if (more.empty() || more.front() != "--quick" || tells_years) {
        std::vector<std::string> moving{"movement", file, "--quiet", "--json", movement};
        if (tells_years) moving.emplace_back("--year");
        REQUIRE(run(moving).status <= 1);
        reading.push_back(movement);
    }
    const Ran read = run_other(reading);
    CAPTURE(read.out);
    CHECK(read.err == "");
    CHECK(read.status == 0);
    CHECK(std::filesystem::file_size(page) < 1'500'000);
}

/// One paper alone: what it holds is true.
std::string true_part(const std::string& file, const Folder& folder, const std::string& whom) {
    const std::string page = folder.path() + "/part.html", result = folder.path() + "/part.json";
    const Ran report =
        run({"report", file, "--mesh", "coarse", "--quick", "--for", whom, "--out", page, "--json", result});
    CHECK(report.err == "");
    REQUIRE(report.status <= 1);
    const Ran read =
        run_other({python, of_the_project("tests/command_line/read_report.py"), page, result, "--part"});
    CAPTURE(whom, read.out);
    CHECK(read.err == "");
    CHECK(read.status == 0);
    return content_of(page);
}

} // namespace

TEST_CASE("every number in the report of an example equals the JSON's, and no label covers another",
          "[command_line][slow]") {
    const Folder folder;
    // stiffeners, things in a recess, two wells in inches; the rest of a report is held by the pieces below
    for (const char* name : {"bench_top", "games_table", "hall_table"}) {
        CAPTURE(name);
        expect_true_page(of_the_project(std::string("docs/examples/") + name + ".json"), folder, {"--quick"});
    }
}

TEST_CASE("a paper for one reader holds what that reader needs and nothing of the others",
          "[command_line][slow]") {
    const Folder folder;
    const std::string file = folder.put("oak.json", piece_of("Oak top (invented)"));
    const std::string client = true_part(file, folder, "client"), maker = true_part(file, folder, "maker"),
                      engineer = true_part(file, folder, "engineer");
    const auto holds = [](const std::string& page, const std::string& text) {
        return page.find(text) != std::string::npos;
    };
    for (const char* said : {"This top meets the limits set", "What it was checked to carry", "It weighs ",
                             "Care", "Limits of use", "<th scope=\"col\">signature</th>",
                             "A calculation, not a test", "id=\"underside-wide\""})
        CHECK(holds(client, said));
    for (const char* provenance : {"Wood Handbook", "SHA-256 of", "Table 5", "EN 1995", "from memory"})
        CHECK_FALSE(holds(client, provenance));
    for (const char* said : {"Order of work", "class=\"box\"", "id=\"plan-wide\"", "id=\"gauges-wide\"",
                             "R 10 mm", "square-nosed", "What to cut and get ready"})
        CHECK(holds(maker, said));
    for (const char* said : {"Which loads act together", "From the published value to what is allowed",
                             "Line by line", "[1]", "id=\"loads-wide\"", "id=\"references\""})
        CHECK(holds(engineer, said));
    CHECK_FALSE(holds(engineer, "The input in full"));
    for (const std::string* page : {&client, &maker, &engineer}) {
        CHECK(holds(*page, "Figure 1. "));
        CHECK_FALSE(holds(*page, "<!--figure-->"));
        CHECK_FALSE(holds(*page, "id=\"annex\""));
    }
}

TEST_CASE("a report draws the first two years of a piece that says when it moves in, and of no other",
          "[command_line][slow]") {
    const Folder folder;
    const std::string climate =
        R"(, "climate": {"low": {"temperature": "20 C", "humidity": 35}, "high": {"temperature": "20 C", "humidity": 60}%})";
    const auto with = [&](const std::string& more) {
        std::string text = climate;
        text.replace(text.find('%'), 1, more);
        return folder.put("oak.json", piece_of("Oak top (invented)", text));
    };
    const std::string page = folder.path() + "/page.html", curve = "id=\"bow-wide\"";
    expect_true_page(with(R"(, "move_in": "may")"), folder, {"--quick"});
    CHECK(content_of(page).find(curve) != std::string::npos);
    CHECK(content_of(page).find("id=\"moisture-narrow\"") != std::string::npos);
    expect_true_page(with(""), folder, {"--quick"});
    CHECK(content_of(page).find(curve) == std::string::npos);
}

TEST_CASE("a report in inches tells the same numbers", "[command_line]") {
    const Folder folder;
    expect_true_page(folder.put("oak.json", piece_of("Oak top (invented)")), folder, {"--units", "in"});
}

TEST_CASE("titles with markup, quotes and right-to-left text come out as text", "[command_line]") {
    const Folder folder;
    const std::string title = R"(</style></title><script>alert(1)</script> \"quoted\" & 'so' שולחן \\ top)";
    expect_true_page(
        folder.put(
            "odd.json",
            piece_of(title,
                     R"(, "report": {"client": "<b>A</b> & Söhne", "number": "\"7\"", "wanted": "قهوة"})")),
        folder, {"--quick"});
    const std::string page = content_of(folder.path() + "/page.html");
    CHECK(page.find("<script") == std::string::npos);
    CHECK(page.find("<b>A") == std::string::npos);
    CHECK(page.find("&lt;b&gt;A&lt;/b&gt; &amp; Söhne") != std::string::npos);
    CHECK(page.find("<bdi>قهوة</bdi>") != std::string::npos);
    CHECK(page.find("</style>") == page.rfind("</style>"));
}

TEST_CASE("the check of a report's numbers sees a number that is wrong", "[command_line]") {
    const Folder folder;
    expect_true_page(folder.put("oak.json", piece_of("Oak top (invented)")), folder, {"--quick"});
    const std::string page = content_of(folder.path() + "/page.html");
    const auto judged = [&](const std::string& changed) {
        return run_other({python, of_the_project("tests/command_line/read_report.py"),
                          folder.put("changed.html", changed), folder.path() + "/result.json"})
            .out;
    };
    const std::string key = R"(data-json="/mass/solid_kg">)";
    const auto at = page.find(key);
    REQUIRE(at != std::string::npos);
    std::string changed = page;
    changed.insert(at + key.size(), "1");
    CHECK(judged(changed).find("/mass/solid_kg") != std::string::npos);
    changed = page;
    changed.replace(page.rfind("value=\"", at) + 7, 1, "9");
    CHECK(judged(changed).find("/mass/solid_kg") != std::string::npos);
}

TEST_CASE("two reports of one piece are the same, byte for byte, whatever the number of threads",
          "[command_line][slow]") {
    const Folder folder;
    const std::string file = folder.put("oak.json", piece_of("Oak top (invented)"));
    const Ran one = run({"report", file, "--mesh", "coarse", "--out", "-", "--threads", "1"});
    const Ran two = run({"report", file, "--mesh", "coarse", "--out", "-", "--threads", "2"});
    CHECK(one.status == 0);
    CHECK(one.out == two.out);
    CHECK(one.out.rfind("<!DOCTYPE html>", 0) == 0);
    CHECK(one.out.find("2031-02-03") == std::string::npos);
    const Ran dated = run({"report", file, "--mesh", "coarse", "--out", "-", "--date", "2031-02-03"});
    CHECK(dated.out.find("2031-02-03") != std::string::npos);
}

TEST_CASE("the report holds the piece file and its fingerprint", "[command_line]") {
    const Folder folder;
    const std::string file =
        folder.put("oak.json", piece_of("Oak top (invented)") + "\n// kept: a < b & \"c\"\n");
    const Ran page = run({"report", file, "--mesh", "coarse", "--quick", "--out", "-"});
    CHECK(page.out.find("// kept: a &lt; b &amp; &quot;c&quot;") != std::string::npos);
    const Ran sum = run_other({"/usr/bin/sha256sum", file});
    REQUIRE(sum.out.size() > 64);
    CHECK(page.out.find(sum.out.substr(0, 64)) != std::string::npos);
}

TEST_CASE("a piece that fails is told what would help, with the numbers that check gives",
          "[command_line][slow]") {
    const Folder folder;
    std::string text = piece_of("Oak", R"(, "limits": {"dish": 0.3})");
    const std::string drawn = R"("depth": 9)";
    text.replace(text.find(drawn), drawn.size(), R"("depth": 19)");
    const std::string file = folder.put("thin.json", text);
    expect_true_page(file, folder);
    const std::string page = content_of(folder.path() + "/page.html");
    for (const char* said : {"What would make it meet the limits", "What was tried",
                             "A thumb, a sanding pad, a heel and a hand that leans", "The sag by hand",
                             "The solid equal: in", "as the years go by"})
        CHECK(page.find(said) != std::string::npos);
    // sought as check seeks it: the same list, to the last digit
    const auto remedies_in = [](const std::string& json) {
        const auto at = json.find("\"remedies\": ["), end = json.find("\"by_hand\"");
        REQUIRE(at < end);
        return json.substr(at, end - at);
    };
    const Ran check = run({"check", file, "--mesh", "coarse", "--json", "-"});
    CHECK(remedies_in(check.out) == remedies_in(content_of(folder.path() + "/result.json")));
    const Ran quick = run({"report", file, "--mesh", "coarse", "--quick", "--out", "-"});
    CHECK(quick.status == 1);
    CHECK(quick.out.find("Not sought, as was asked for (--quick).") != std::string::npos);
    CHECK(quick.out.find("What was tried") == std::string::npos);
    // whoever holds the bench page or the record of the test alone must see it too
    CHECK(page.find("What is furthest over its limit: ") != std::string::npos);
    CHECK(page.find("This top does not meet the limits set (") != std::string::npos);
    CHECK(page.find("change it before anything is laid on it") != std::string::npos);
    CHECK(page.find("Advice that is not kept (it fails no top): ") != std::string::npos);
}

TEST_CASE("a report tells and shows where a load that travels does most harm", "[command_line][slow]") {
    const Folder folder;
    std::string text = piece_of("Oak");
    const std::string books = R"("pressure": "0.5 kPa", "duration": "long"})";
    text.replace(text.find(books), books.size(),
                 books + R"x(, {"name": "a <guest> leans", "kind": "patch", "force": "200 N", "at": "worst",
                 "size": [200, 100]})x");
    expect_true_page(folder.put("leaned.json", text), folder);
    const std::string page = content_of(folder.path() + "/page.html");
    CHECK(page.find("Where \u201c<bdi>a &lt;guest&gt; leans</bdi>\u201d does most harm") !=
          std::string::npos);
    CHECK(page.find("id=\"travel-1-wide\"") != std::string::npos);
}

TEST_CASE("what a report was asked stands in it, with its revisions", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put(
        "asked.json",
        piece_of("Oak top", R"x(, "report": {"client": "A. Client (invented)", "maker": "B. Maker (invented)",
        "wanted": "A desk for two", "status": "issued", "prepared_by": "B. Maker",
        "revisions": [{"mark": "A", "change": "first"}, {"mark": "B", "date": "2031-02-03", "change": "thicker skin", "by": "B. M."}]
})x"));
    const Ran page = run({"report", file, "--mesh", "coarse", "--quick", "--out", "-"});
    CHECK(page.out.find("not meet the limits set") == std::string::npos);
    CHECK(page.out.find("<dt>Limit of flatness</dt><dd>1.0 mm under a straightedge; ") != std::string::npos);
    CHECK(page.out.find("<dt>Limit of dish</dt>") ==
          std::string::npos); // there is one only where the file states it
    for (const char* said : {"A. Client (invented)", "B. Maker (invented)", "A desk for two", "issued",
                             "thicker skin", "<dd><bdi>B</bdi></dd>"})
        CHECK(page.out.find(said) != std::string::npos);
    const std::string dished = folder.put("dished.json", piece_of("Oak top", R"(, "limits": {"dish": 0.6})"));
    const Ran stated = run({"report", dished, "--mesh", "coarse", "--quick", "--out", "-"});
    CHECK(stated.out.find("<dt>Limit of dish</dt><dd>0.6 mm, as stated</dd>") != std::string::npos);
}

TEST_CASE("a wrong option or key of a report is told, and nothing is written", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("oak.json", piece_of("Oak"));
    const std::string out = folder.path() + "/out.html";
    struct Slip {
        std::vector<std::string> words;
        std::string said;
    };
    const std::vector<Slip> slips{
        {{"report", file, "--out", out, "--cutter", "12 kg"},
         "--cutter: \"12 kg\" is no diameter of a cutter; give a length such as 12mm or 1/2in, 1 mm to 100 "
         "mm\n"},
        {{"report", file, "--out", out, "--for", "nobody"},
         "--for: \"nobody\" is nobody that a paper is made for; give client, maker, engineer or all\n"},
        {{"report",
          folder.put(
              "photo.json",
              piece_of("Oak", R"(, "report": {"pictures": [{"file": "photo.json", "caption": "c"}]})")),
          "--out", out},
         "report.pictures[0].file: \"photo.json\" is neither PNG nor JPEG; save it as one\n"},
        {{"report", file, "--out", out, "--date", ""},
         "--date: \"\" is no date to print; give a short text such as 2026-05-14\n"},
        {{"report", file, "--out", file}, "is the piece file itself; name another file\n"},
        {{"report", file, "--out", folder.path() + "/no/such/out.html"}, "--out"},
        {{"report", folder.put("key.json", piece_of("Oak", R"(, "report": {"clint": "A"})")), "--out", out},
         "report.clint: no such key; did you mean \"client\"?\n"},
        {{"report", folder.put("word.json", piece_of("Oak", R"(, "report": {"status": "final"})")), "--out",
          out},
         "report.status: "},
    };
    for (const Slip& slip : slips) {
        CAPTURE(slip.said);
        const Ran ran = run(slip.words);
        CHECK(ran.status == 2);
        CHECK(ran.err.find(slip.said) != std::string::npos);
        CHECK(ran.out == "");
        CHECK_FALSE(std::filesystem::exists(out));
    }
}

TEST_CASE("variants stand side by side, each with the numbers that a check of it gives", "[command_line]") {
    const Folder folder;
    const std::string text = piece_of("Oak"), file = folder.put("oak.json", text);
    const Ran page =
        run({"report", file, "--mesh", "coarse", "--quick", "--out", "-", "--compare", "depth=5,7"});
    CHECK(page.err == "");
    for (const char* depth : {"5", "7"}) {
        std::string other = text;
        const std::string key = "\"depth\": 9";
        other.replace(other.find(key), key.size(), "\"depth\": " + std::string(depth));
        const Ran check = run({"check", folder.put("other.json", other), "--mesh", "coarse", "--json", "-"});
        const std::string mass = "\"total_kg\": ";
        const auto at = check.out.find(mass) + mass.size();
        const std::string kg = check.out.substr(at, check.out.find_first_of(",\n", at) - at);
        CAPTURE(kg);
        CHECK(page.out.find("<data value=\"" + kg + "\">") != std::string::npos);
    }
    CHECK(page.out.find("id=\"variants\" data-varied=\"1\"") != std::string::npos);
    CHECK(page.out.find(
              "Bars: what is used, against the limit; the rest, against the greatest of the variants.") !=
          std::string::npos);
    // without a script the table is there and the chooser is not
    CHECK(page.out.find("<div id=\"explorer\" hidden=\"hidden\"></div>") != std::string::npos);
    const Ran wrong = run({"report", file, "--out", folder.path() + "/x.html", "--compare", "dept=5,7"});
    CHECK(wrong.status == 2);
    CHECK(wrong.err.find("--compare: ") != std::string::npos);
    const Ran many =
        run({"report", file, "--out", folder.path() + "/x.html", "--compare", "depth=1..9 in 201"});
    CHECK(many.status == 2);
    CHECK(many.err.find("201 variants are too many for a report") != std::string::npos);
}
