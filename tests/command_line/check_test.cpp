// SPDX-License-Identifier: MIT
// `hollowtop check` as a maker and a script see it.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <regex>
#include <string>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>
#include <utility>
#include <vector>

using Json = nlohmann::ordered_json;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// An invented shelf that is quick to compute and meets its limits.
const std::string shelf = R"({
  "hollowtop": 1, "title": "shelf",
  "top": {"length": 900, "width": 300, "thickness": 30, "wood": "white oak"},
  "recesses": [{"name": "well", "x": [150, 750], "y": [60, 240], "depth": 10}],
  "supports": [{"kind": "bearer", "from": [40, 10], "to": [40, 290], "width": 20},
               {"kind": "bearer", "from": [860, 10], "to": [860, 290], "width": 20}],
  "loads": [{"name": "books", "kind": "area", "pressure": "0.5 kPa", "duration": "long"}]
})";

std::string shelf_with(const std::string& old_text, const std::string& new_text) {
    std::string text = shelf;
    const auto at = text.find(old_text);
    REQUIRE(at != std::string::npos);
    return text.replace(at, old_text.size(), new_text);
}

std::string overloaded() { return shelf_with("0.5 kPa", "50 kPa"); }
std::string unheld() {
    return shelf_with(R"({"kind": "bearer", "from": [40, 10], "to": [40, 290], "width": 20},)", "");
}

} // namespace

TEST_CASE("the exit status tells the verdict", "[command_line]") {
    const Folder folder;
    CHECK(run({"check", folder.put("good.json", shelf)}).status == 0);
    CHECK(run({"check", folder.put("bad.json", overloaded())}).status == 1);
    CHECK(run({"check", folder.put("wrong.json", shelf_with("900", "-900"))}).status == 2);
    CHECK(run({"check", folder.put("unheld.json", unheld())}).status == 3);
}

TEST_CASE("the text says the verdict first, what governs, the weights, the sags and the cautions",
          "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("good.json", shelf), failing = folder.put("bad.json", overloaded());
    const Ran answer = run({"check", file}), full = run({"check", file, "--full"});
    for (const Ran* ran : {&answer, &full}) {
        CHECK(ran->err.empty());
        const auto second_line = ran->out.find('\n') + 1;
        CHECK(ran->out.substr(second_line, 29) == "This top meets the limits set");
        for (const char* word : {"Weight", "saved", "Sag at once", "After years", "Flatness", "Hollow?",
                                 "a licensed engineer", "load the finished top with known weights"}) {
            CAPTURE(word);
            CHECK(ran->out.find(word) != std::string::npos);
        }
        for (const char* word : {"safe", "certified", "guaranteed", "approved", "\x1b["}) {
            CAPTURE(word);
            CHECK(ran->out.find(word) == std::string::npos);
        }
    }
    for (const char* word : {"Nearest", "used most of what is allowed", "How sure", "--full"}) {
        CAPTURE(word);
        CHECK(answer.out.find(word) != std::string::npos);
    }
    for (const char* word : {"Governs", "Dish", "What the supports carry", "computing error of at most",
                             "Taken for granted", "Cautions"}) {
        CAPTURE(word);
        CHECK(full.out.find(word) != std::string::npos);
    }
    CHECK(std::count(answer.out.begin(), answer.out.end(), '\n') <= 40);
    const Ran bad = run({"check", failing}), all = run({"check", failing, "--full"});
    for (const Ran* ran : {&bad, &all}) {
        CHECK(ran->out.find("This top does not meet the limits set.") != std::string::npos);
        CHECK(ran->out.find("  over\n") != std::string::npos);
    }
    const auto verdict = bad.out.find("does not meet"), fails = bad.out.find("\nFails "),
               way = bad.out.find("\nEnough is ");
    CHECK(verdict < fails);
    CHECK(fails < way);
    CHECK(way < bad.out.find("\nWeight "));
    CHECK(all.out.find("To change") != std::string::npos);
}

TEST_CASE("text is at most a hundred columns wide, whatever the names", "[command_line]") {
    const Folder folder;
    const std::string long_name(150, 'n');
    const Ran ran =
        run({"check", folder.put("long.json", shelf_with("\"books\"", '"' + long_name + '"')), "--sources"});
    CHECK(ran.status == 0);
    std::size_t start = 0;
    for (std::size_t end = ran.out.find('\n'); end != std::string::npos;
         start = end + 1, end = ran.out.find('\n', start)) {
        const std::string line = ran.out.substr(start, end - start);
        CAPTURE(line);
        CHECK(line.size() <= 100);
    }
}

TEST_CASE("inches are shown as sixteenths with the decimal beside them", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("good.json", shelf);
    const Ran ran = run({"check", file, "--units", "in"});
    CHECK(ran.status == 0);
    CHECK(ran.out.find(" lb solid") != std::string::npos);
    CHECK(ran.out.find(" psi") != std::string::npos);
    CHECK(ran.out.find("in (") != std::string::npos);
    CHECK(ran.out.find(" mm of ") == std::string::npos);
}

TEST_CASE("with inches no sentence speaks of millimetres, and the JSON is the same", "[command_line][slow]") {
    const Folder folder;
    const std::string file = folder.put(
        "good.json",
        shelf_with(R"("books", "kind": "area", "pressure": "0.5 kPa", "duration": "long")",
                   R"("glass 10 mm", "kind": "patch", "force": "300 N", "at": "worst", "size": [50, 50])"));
    const std::regex millimetres(R"([0-9)] ?mm\b|millimet)");
    const std::string name = "glass 10 mm"; // as the maker wrote it
    for (std::vector<std::string> words : {std::vector<std::string>{"check", file, "--sources"},
                                           {"check", file, file},
                                           {"movement", file},
                                           {"report", file, "--quick", "--mesh", "coarse", "--out", "-"}}) {
        CAPTURE(words.front());
        const std::string json = folder.path() + "/mm.json", other_json = folder.path() + "/in.json";
        std::vector<std::string> other = words;
        for (auto* list : {&words, &other})
            list->insert(list->end(), {"--json", list == &words ? json : other_json});
        other.insert(other.end(), {"--units", "in"});
        const Ran metric = run(words), ran = run(other);
        REQUIRE(ran.status <= 1);
        CHECK(metric.status == ran.status);
        CHECK(content_of(json) == content_of(other_json));
        CHECK(std::regex_search(metric.out, millimetres));
        std::string text = ran.out;
        for (const auto& [from, to] :
             {std::pair<std::string, std::string>{"<section><h3 id=\"validation\"",
                                                  "</section>"}, // cases as they are published
              {"<h4>The main numbers in both systems of units", "</section>"},
              {"<pre", "</pre>"},
              {"<style", "</style>"},
              {"1 in = 25.4 mm", "lb"}})
            if (const auto at = text.find(from); at != std::string::npos)
                text.erase(at, text.find(to, at) - at);
        for (auto at = text.find(name); at != std::string::npos; at = text.find(name, at))
            text.erase(at, name.size());
        std::smatch found;
        CHECK_FALSE(std::regex_search(text, found, millimetres));
        CAPTURE(found.empty()
                    ? std::string()
                    : text.substr(static_cast<std::size_t>(std::max<long>(0, found.position() - 120)), 240));
        CHECK(found.empty());
    }
}

TEST_CASE("faults of a piece in inches are told in inches", "[command_line]") {
    const Folder folder;
    const Ran ran = run(
        {"check",
         folder.put(
             "wide.json",
             R"({"hollowtop": 1, "units": "in", "top": {"length": 36, "width": 12, "thickness": 1, "wood": "white oak"},
      "recesses": [{"name": "well", "x": [4, 37], "y": [2, 10], "depth": 0.5}],
      "supports": [{"kind": "bearer", "from": [2, 1], "to": [2, 11], "width": 1}, {"kind": "bearer", "from": [34, 1], "to": [34, 11], "width": 1}]})")});
    CHECK(ran.status == 2);
    CHECK(ran.err.find("recesses[0]: reaches 1 in past the outline at x 37, y 2; keep it on the top") !=
          std::string::npos);
}

TEST_CASE("quiet prints nothing and keeps the exit status", "[command_line]") {
    const Folder folder;
    const Ran good = run({"check", "--quiet", folder.put("good.json", shelf)});
    CHECK(good.status == 0);
    CHECK(good.out.empty());
    CHECK(good.err.empty());
    const Ran bad = run({"check", "--quiet", folder.put("bad.json", overloaded())});
    CHECK(bad.status == 1);
    CHECK(bad.out.empty());
    const Ran wrong = run({"check", "--quiet", folder.path() + "/none.json"});
    CHECK(wrong.status == 2);
    CHECK_FALSE(wrong.err.empty());
}

TEST_CASE("a first answer says that it is not final, tells nothing of what would help, and agrees with the "
          "full check",
          "[command_line]") {
    const Folder folder;
    const std::string good = folder.put("good.json", shelf), bad = folder.put("bad.json", overloaded());
    for (const std::string& file : {good, bad}) {
        const Ran full = run({"check", file, "--json", folder.path() + "/full.json"}),
                  first = run({"check", file, "--quick", "--json", folder.path() + "/first.json"});
        CHECK(first.status == full.status);
        CHECK(first.out.find("not final") != std::string::npos);
        CHECK(full.out.find("not final") == std::string::npos);
        CHECK(first.out.find("Enough is") == std::string::npos);
        const Json a = Json::parse(content_of(folder.path() + "/first.json")),
                   b = Json::parse(content_of(folder.path() + "/full.json"));
        CHECK(a["warnings"][0].get<std::string>().find("not final") != std::string::npos);
        CHECK(a["remedies"].is_null());
        CHECK(a["governing"]["check"] == b["governing"]["check"]);
        // a mesh that was not refined errs by some percent
        CHECK_THAT(a["governing"]["utilisation"].get<double>(),
                   WithinRel(b["governing"]["utilisation"].get<double>(), 0.05));
    }
    CHECK(run({"check", good, "--quick", "--band"}).status == 2);
    CHECK(run({"check", good, "--quick", "--junit", folder.path() + "/j.xml"}).status == 2);
    CHECK(run({"check", good, bad, "--quick"}).status == 2);
}

TEST_CASE("colour is for terminals only and can be refused", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("good.json", shelf);
    CHECK(run({"check", file}).out.find('\x1b') == std::string::npos);
    if (!has_terminals()) {
        WARN("no terminal to be had here: what is shown on one is not tested");
        return;
    }
    CHECK(run_on_terminal({"check", file}).out.find("\x1b[1;32m") != std::string::npos);
    CHECK(run_on_terminal({"check", "--no-color", file}).out.find("\x1b[1") == std::string::npos);
    CHECK(run_on_terminal({"check", file}, {{"NO_COLOR", "1"}}).out.find("\x1b[1") == std::string::npos);
    CHECK(run_on_terminal({"check", file}, {{"NO_COLOR", ""}}).out.find("\x1b[1;32m") != std::string::npos);
}

TEST_CASE("the JSON goes to a file or to standard output, whole and in the order of the interface",
          "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("good.json", shelf);
    const Ran to_output = run({"check", file, "--json", "-"});
    CHECK(to_output.status == 0);
    const Json result = Json::parse(to_output.out);
    std::vector<std::string> keys;
    for (const auto& [key, value] : result.items()) keys.push_back(key);
    CHECK(keys == std::vector<std::string>{"hollowtop",   "version",      "title",      "verdict",
                                           "to_spare",    "governing",    "pays",       "mass",
                                           "situations",  "checks",       "stiffeners", "screws",
                                           "stiffening",  "frequency_Hz", "pushes",     "travels",
                                           "sag_in_time", "solid_too",    "remedies",   "by_hand",
                                           "solid_equal", "in_recesses",  "mesh",       "assumptions",
                                           "warnings",    "cautions"});
    CHECK(result["verdict"] == "passes");
    CHECK(result["situations"][0]["tipping_factor"].is_null());
    CHECK_FALSE(result["cautions"].empty());

    const std::string target = folder.path() + "/out.json";
    const Ran to_file = run({"check", file, "--json", target});
    CHECK(to_file.status == 0);
    CHECK(content_of(target) == to_output.out);
    CHECK(to_file.out.find("This top meets the limits set.") != std::string::npos);
    CHECK(folder.names() == std::vector<std::string>{"good.json", "out.json"});
}

TEST_CASE("results do not depend on the number of threads", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("good.json", shelf);
    CHECK(run({"check", file, "--json", "-", "--threads", "1"}).out ==
          run({"check", file, "--json", "-", "--threads", "2"}).out);
}

TEST_CASE("several pieces give a line each, a summary and a list of results", "[command_line]") {
    const Folder folder;
    const std::string good = folder.put("good.json", shelf);
    const std::string bad = folder.put("bad.json", overloaded());
    const Ran ran = run({"check", good, bad, "--json", folder.path() + "/all.json"});
    CHECK(ran.status == 1);
    CHECK(ran.out.find("1 of 2 meet the limits set.") != std::string::npos);
    const Json all = Json::parse(content_of(folder.path() + "/all.json"));
    REQUIRE(all.size() == 2);
    CHECK(all[0]["file"] == good);
    CHECK(all[0]["verdict"] == "passes");
    CHECK(all[1]["verdict"] == "fails");

    const Ran open =
        run({"check", good, folder.put("unheld.json", unheld()), "--json", folder.path() + "/open.json"});
    CHECK(open.status == 3);
    CHECK(open.out.find("1 could not be computed") != std::string::npos);
    CHECK(content_of(folder.path() + "/open.json").empty());

    const Ran wrong = run({"check", good, folder.path() + "/no.json", folder.path() + "/none.json"});
    CHECK(wrong.status == 2);
    CHECK(wrong.out.empty());
    CHECK(wrong.err == folder.path() + "/no.json: there is no such file; check the name and the folder\n" +
                           folder.path() +
                           "/none.json: there is no such file; check the name and the folder\n");
}

TEST_CASE("a file that is no piece is refused in one line", "[command_line]") {
    const Folder folder;
    const auto message = [&](const std::string& file) {
        const Ran ran = run({"check", file});
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        return ran.err.substr(std::min(ran.err.size(), file.size()));
    };
    CHECK(message(folder.path() + "/none.json") ==
          ": there is no such file; check the name and the folder\n");
    CHECK(message(folder.path()) == ": this is a folder; name a file in it\n");
    CHECK(message(folder.put("empty.json", "")) ==
          ": the file is empty; see docs/examples for pieces to start from\n");
    CHECK(message(folder.put("slip.json", "{\n  \"hollowtop\": 1,\n}")) ==
          ": line 3, column 1: there is a comma before the }; take that comma out\n");
    CHECK(message(folder.put("deep.json", std::string(100'000, '['))) ==
          ": lists and objects are nested more than 32 deep; a piece file needs six levels at most\n");
    const std::string huge = folder.put("huge.json", "{");
    REQUIRE(::truncate(huge.c_str(), 200'000'000) == 0);
    CHECK(message(huge) == ": the file is larger than 10 MB; a piece file has a few thousand characters\n");
}

TEST_CASE("the program's own word for a top that nothing holds names the piece", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("unheld.json", unheld());
    const Ran ran = run({"check", file, "--json", folder.path() + "/out.json"});
    CHECK(ran.status == 3);
    CHECK(ran.out.empty());
    CHECK(ran.err.substr(0, file.size() + 2) == file + ": ");
    CHECK(folder.names() == std::vector<std::string>{"unheld.json"});
}

TEST_CASE("what this version cannot compute is refused with status 3, never passed over", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put(
        "travels.json",
        shelf_with(
            R"({"name": "books", "kind": "area", "pressure": "0.5 kPa", "duration": "long"})",
            R"({"name": "somebody", "kind": "patch", "force": "50 kg", "at": "worst", "size": [100, 100], "duration": "long"})"));
    const Ran ran = run({"check", file});
    CHECK(ran.status == 3);
    CHECK(ran.err == file + ": loads[0].at: the worst place of a load that stays is not searched for; give "
                            "the place; try several\n");
}

TEST_CASE("a load that travels is told with its worst places, in the text and as numbers", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put(
        "travels.json",
        shelf_with(
            R"({"name": "books", "kind": "area", "pressure": "0.5 kPa", "duration": "long"})",
            R"({"name": "somebody", "kind": "patch", "force": "5 kg", "at": "worst", "size": [100, 100]})"));
    const Ran ran = run({"check", file, "--full", "--mesh", "coarse", "--json", folder.path() + "/out.json"});
    CHECK(ran.err.empty());
    CHECK(ran.status <= 1);
    CHECK(ran.out.find("Where \"somebody\" does most harm") != std::string::npos);
    const std::string json = content_of(folder.path() + "/out.json");
    CHECK(json.find("somebody, at x ") != std::string::npos);
    CHECK(json.find("\"worst_at_mm\"") != std::string::npos);
}

TEST_CASE("a target that cannot be written is refused before anything is computed", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("good.json", shelf);
    const auto refused = [&](const std::string& option, const std::string& target,
                             const std::string& message) {
        CAPTURE(option, target);
        const Ran ran = run({"check", file, option, target});
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        CHECK(ran.err == message);
    };
    const std::string nowhere = folder.path() + "/none/out.json";
    refused("--json", nowhere,
            nowhere + ": --json: cannot be written: No such file or directory; name a file in a folder that "
                      "you may write to\n");
    refused("--fields", nowhere,
            nowhere + ": --fields: cannot be written: No such file or directory; name a file in a folder "
                      "that you may write to\n");
    refused("--json", folder.path(), folder.path() + ": --json: this is a folder; name a file in it\n");
    refused("--json", file,
            "hollowtop: --json: \"" + file.substr(0, 40) + (file.size() > 40 ? "...\"" : "\"") +
                " is the piece file itself; name another file\n");
    CHECK(content_of(file) == shelf);
    CHECK(folder.names() == std::vector<std::string>{"good.json"});
}

TEST_CASE("a file is replaced whole, also behind a link, and a device is written to as it is",
          "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("good.json", shelf);
    const std::string target = folder.put("out.json", "before");
    const std::string link = folder.path() + "/link.json";
    REQUIRE(::symlink("out.json", link.c_str()) == 0);
    CHECK(run({"check", "--quiet", file, "--json", link}).status == 0);
    CHECK(content_of(target).substr(0, 1) == "{");
    struct stat about {};
    REQUIRE(::lstat(link.c_str(), &about) == 0);
    CHECK(S_ISLNK(about.st_mode));
    CHECK(run({"check", "--quiet", file, "--json", "/dev/null"}).status == 0);
    REQUIRE(::stat("/dev/null", &about) == 0);
    CHECK(S_ISCHR(about.st_mode));
    // A failing run leaves what was there.
    CHECK(run({"check", "--quiet", folder.put("unheld.json", unheld()), "--json", target}).status == 3);
    CHECK(content_of(target).substr(0, 1) == "{");
}

TEST_CASE("a full disk is told, not passed over", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("good.json", shelf);
    const Ran ran = run({"check", "--quiet", file, "--json", "/dev/full"});
    CHECK(ran.status == 3);
    CHECK(ran.err ==
          "/dev/full: --json: could not be written: No space left on device; no file was written\n");
}

TEST_CASE("the fields are a VTK file of quadrilaterals with a value a point", "[command_line]") {
    const Folder folder;
    const std::string target = folder.path() + "/fields.vtu";
    CHECK(run({"check", "--quiet", folder.put("good.json", shelf), "--fields", target}).status == 0);
    const std::string text = content_of(target);
    CHECK(text.find("<VTKFile type=\"UnstructuredGrid\"") != std::string::npos);
    CHECK(text.find("Name=\"connectivity\"") != std::string::npos);
    CHECK(text.find("thickness") != std::string::npos);
    CHECK(text.find("nan") == std::string::npos);
    CHECK(text.ends_with("</VTKFile>\n"));
}

TEST_CASE("the same piece in millimetres and in inches gives the same result", "[command_line]") {
    // Nothing in it is symmetric, so that no two places are equally stressed.
    const std::string millimetres = R"({
      "hollowtop": 1, "title": "shelf", "units": "mm",
      "top": {"length": 914.4, "width": 304.8, "thickness": 31.75, "wood": "white oak"},
      "recesses": [{"name": "well", "x": [152.4, 711.2], "y": [50.8, 241.3], "depth": 9.525}],
      "supports": [{"kind": "bearer", "from": [38.1, 12.7], "to": [38.1, 292.1], "width": 19.05},
                   {"kind": "bearer", "from": [863.6, 12.7], "to": [863.6, 292.1], "width": 25.4}],
      "loads": [{"name": "books", "kind": "area", "pressure": "10 psf", "duration": "long"},
                {"name": "elbow", "kind": "patch", "force": 222.411080763025, "at": [508, 76.2], "size": [101.6, 50.8]}],
      "limits": {"sag": "3.175 mm", "dish": 0.79375}
    })";
    const std::string inches = R"({
      "hollowtop": 1, "title": "shelf", "units": "in",
      "top": {"length": "3 ft", "width": 12, "thickness": "1-1/4 in", "wood": "white oak"},
      "recesses": [{"name": "well", "x": [6, 28], "y": [2, "9-1/2 in"], "depth": "3/8 in"}],
      "supports": [{"kind": "bearer", "from": [1.5, 0.5], "to": [1.5, 11.5], "width": 0.75},
                   {"kind": "bearer", "from": [34, 0.5], "to": [34, 11.5], "width": 1}],
      "loads": [{"name": "books", "kind": "area", "pressure": 10, "duration": "long"},
                {"name": "elbow", "kind": "patch", "force": 50, "at": [20, 3], "size": [4, 2]}],
      "limits": {"sag": "1/8 in", "dish": "1/32 in"}
    })"; // 50 lbf are 222.411080763025 N
    const Folder folder;
    const Json one =
        Json::parse(run({"check", folder.put("mm.json", millimetres), "--json", "-"}).out).flatten();
    const Json other =
        Json::parse(run({"check", folder.put("in.json", inches), "--json", "-"}).out).flatten();
    REQUIRE(one.size() == other.size());
    for (const auto& [pointer, value] : one.items()) {
        CAPTURE(pointer);
        // Residuals and errors are what is left when nearly equal numbers are taken from one another: few
        // digits stay.
        const bool is_a_rest =
            pointer.find("residual") != std::string::npos || pointer.find("error") != std::string::npos;
        // A greatest stress is searched for and found a little beside itself.
        const bool is_searched = pointer.find("/checks/") == 0;
        const double share = is_a_rest ? 1e-4 : is_searched ? 1e-8 : 1e-9;
        // Places are searched to about a thousandth of a millimetre.
        const double apart = is_a_rest ? 1e-6 : pointer.find("at_mm") != std::string::npos ? 1e-2 : 1e-9;
        if (value.is_number_float())
            CHECK_THAT(other[pointer].get<double>(),
                       WithinRel(value.get<double>(), share) || WithinAbs(value.get<double>(), apart));
        else if (!value.is_string())
            CHECK(other[pointer] == value);
    }
}

TEST_CASE("a piece is read from standard input, and the text goes to a file", "[command_line]") {
    const Folder folder;
    const std::string file = folder.put("good.json", shelf), out = folder.path() + "/answer.txt";
    const Ran named = run({"check", file}), filed = run({"check", file, "-o", out});
    CHECK(filed.status == 0);
    CHECK(filed.out.empty());
    CHECK(content_of(out) == named.out);
    const Ran piped = run_other({"/bin/sh", "-c", "'" HOLLOWTOP_PROGRAM "' check - <'" + file + "'"});
    CHECK(piped.status == 0);
    const auto after_name = [](const std::string& text) { return text.substr(text.find('\n')); };
    CHECK(after_name(piped.out) == after_name(named.out));
    CHECK(run({"check", file, "--out", folder.path() + "/none/out.txt"}).status == 2);
}

TEST_CASE("a load right above a knife edge moves nothing, and is computed", "[command_line][slow]") {
    // both edges under the ends, no weight: the edge carries the load by itself, 100 N
    const Folder folder;
    for (const std::string thickness : {"30", "60"})
        for (const std::string mesh : {"coarse", "normal"}) {
            CAPTURE(thickness, mesh);
            const std::string piece = folder.put("edge.json",
                                                 R"({"hollowtop": 1, "units": "mm", "self_weight": false,
  "top": {"length": 1000, "width": 400, "wood": "black_cherry", "thickness": )" +
                                                     thickness + R"(},
  "supports": [{"kind": "bearer", "width": 0, "from": [0, 0], "to": [0, 400]},
               {"kind": "bearer", "width": 0, "from": [1000, 0], "to": [1000, 400]}],
  "loads": [{"name": "edge", "kind": "line", "from": [0, 0], "to": [0, 400], "force": "100 N"}]})");
            const Ran ran = run({"check", "--mesh", mesh, "--json", "-", piece});
            CHECK(ran.err.empty());
            REQUIRE(ran.status == 0);
            const auto result = nlohmann::json::parse(ran.out);
            const auto& situation = result.at("situations").at(0);
            CHECK(std::abs(situation.at("sag_mm").get<double>()) < 1e-9);
            CHECK(std::abs(situation.at("reactions").at(0).at("force_N").get<double>() - 100) < 1e-6);
            CHECK(std::abs(situation.at("reactions").at(1).at("force_N").get<double>()) < 1e-6);
        }
}

TEST_CASE("a top on a thousand loose pads is computed in less than a gigabyte", "[command_line][slow]") {
    const Folder folder;
    std::string pads;
    for (int i = 0; i < 1000; ++i)
        pads += std::string(i == 0 ? "" : ", ") + R"({"kind": "pad", "size": [40, 40], "at": [)" +
                std::to_string(60 + i % 50 * 58) + ", " + std::to_string(60 + i / 50 * 60) + "]}";
    const std::string piece = folder.put("pads.json", R"({"hollowtop": 1,
  "top": {"length": 3000, "width": 1300, "thickness": 40, "wood": "black_cherry"},
  "supports": [)" + pads + R"(], "loads": [{"kind": "area", "pressure": "0.5 kPa", "duration": "long"}]})");
    const Ran ran = run({"check", "--mesh", "coarse", "--threads", "2", "--json", "-", piece});
    rusage used{};
    REQUIRE(::getrusage(RUSAGE_CHILDREN, &used) == 0);
    CHECK(used.ru_maxrss < 1'000'000'000 / 1024); // kB
    CHECK(ran.err.empty());
    REQUIRE(ran.status == 0);
    const auto result = nlohmann::json::parse(ran.out);
    const auto& situation = result.at("situations").at(0);
    double carried = 0;
    for (const auto& reaction : situation.at("reactions")) carried += reaction.at("force_N").get<double>();
    const double applied = situation.at("applied_N").get<double>();
    CHECK(applied > 0.0005 * 3000 * 1300); // the books, and the top's own weight
    CHECK(std::abs(carried - applied) < 1e-6 * applied);
    CHECK(
        result.at("warnings").dump().find("so many supports that the pressure under each is taken as even") !=
        std::string::npos);
}
