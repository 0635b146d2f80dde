// SPDX-License-Identifier: MIT
// The program's `compare`, as a maker or a script uses it.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdlib>
#include <sstream>

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

/// A small top with one flat under it: quick to judge, with every kind of check.
std::string tray(const std::string& depth = "10", const std::string& section = "flat 30x4",
                 const std::string& spacing = "150", const std::string& holes = "slotted",
                 const std::string& rim = "80") {
    return R"({"hollowtop": 1, "title": "Tray", "units": "mm",
  "top": {"length": 700, "width": 400, "thickness": 24, "wood": "black cherry"},
  "recesses": [{"name": "well", "rim": )" +
           rim + R"(, "depth": )" + depth + R"(}],
  "stiffeners": [{"name": "flat", "section": ")" +
           section + R"(", "metal": "S235", "from": [120, 200], "to": [580, 200],
    "screws": {"diameter": 2, "length": 13, "spacing": )" +
           spacing + R"(, "holes": ")" + holes + R"("}}],
  "supports": [{"kind": "bearer", "from": [40, 30], "to": [40, 370], "width": 30}, {"kind": "bearer", "from": [660, 30], "to": [660, 370], "width": 30}],
  "loads": [{"name": "books", "kind": "area", "pressure": "1 kPa", "duration": "long"},
            {"name": "hand", "kind": "patch", "force": "200 N", "at": [350, 150], "size": [80, 80]}]})";
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

const std::vector<std::string> small_space{
    "--vary", "depth=8,12", "--vary", "section=flat 30x4, angle 25x25x3", "--vary", "spacing=100,150"};

std::vector<std::string> words(std::vector<std::string> first, const std::vector<std::string>& more) {
    first.insert(first.end(), more.begin(), more.end());
    return first;
}

} // namespace

TEST_CASE("compare ranks every combination and says what governs", "[command_line][slow]") {
    const Folder folder;
    const std::string piece = folder.put("tray.json", tray()), csv = folder.path() + "/all.csv",
                      svg = folder.path() + "/chart.svg";
    const Ran ran =
        run(words({"compare", piece, "--csv", csv, "--svg", svg, "--mesh", "coarse"}, small_space));
    CHECK(ran.err.empty());
    CHECK(ran.status == 0);
    CHECK_THAT(ran.out, Contains("8 variants") && Contains("Lightest that meet the limits set") &&
                            Contains("governs"));
    CHECK_THAT(ran.out, Contains("not a test"));
    for (const std::string& line : lines_of(ran.out)) CHECK(line.size() <= 100);
    CHECK(lines_of(content_of(csv)).size() == 10); // what it was written for, the heading, the variants
    CHECK_THAT(content_of(svg), StartsWith("<?xml") || StartsWith("<svg"));
}

TEST_CASE("one thread, two threads, parts joined and a run gone on with all write the same file",
          "[command_line][slow]") {
    const Folder folder;
    const std::string piece = folder.put("tray.json", tray());
    const auto written = [&](const std::string& name, const std::vector<std::string>& more) {
        const std::string csv = folder.path() + "/" + name;
        const Ran ran = run(
            words(words({"compare", piece, "--quiet", "--csv", csv, "--mesh", "coarse"}, small_space), more));
        CHECK(ran.out.empty());
        CHECK(ran.err.empty());
        return content_of(csv);
    };
    const std::string whole = written("one.csv", {"--threads", "1"});
    REQUIRE(lines_of(whole).size() == 10);
    CHECK(written("two.csv", {"--threads", "2"}) == whole);
    const std::string first = lines_of(whole).front() + "\n", a = written("a.csv", {"--part", "1/3"}),
                      b = written("b.csv", {"--part", "2/3"}), c = written("c.csv", {"--part", "3/3"});
    for (const std::string& part : {b, c}) REQUIRE_THAT(part, StartsWith(first));
    CHECK(a + b.substr(first.size()) + c.substr(first.size()) == whole);
    folder.put("joined.csv", a + b + c);
    CHECK(written("joined.csv", {"--resume"}) == a + b + c); // nothing left to do
    for (const std::size_t cut :
         {whole.find("\n3,") + 20, whole.find("\n5,") + 1, std::size_t{10}, std::size_t{0}}) {
        folder.put("cut.csv", whole.substr(0, cut));
        CHECK(written("cut.csv", {"--resume"}) == whole);
    }
    CHECK(written("one.csv", {"--resume"}) == whole); // nothing left to do
}

TEST_CASE("a variant agrees with a check of a piece file that states it", "[command_line][slow]") {
    const Folder folder;
    const std::string piece = folder.put("tray.json", tray());
    const std::vector<std::string> depths{"8", "10.5", "12"},
        sections{"flat 30x4", "angle 25x25x3", "bar 5x25"}, spacings{"90", "150"}, holes{"slotted", "round"},
        rims{"70", "90"};
    const std::string sample =
        std::getenv("HOLLOWTOP_THOROUGH") ? "50" : "8"; // a check each beside them takes its time
    const Ran ran = run({"compare",   piece,
                         "--threads", "2",
                         "--json",    "-",
                         "--mesh",    "coarse",
                         "--vary",    "depth=8,10.5,12",
                         "--vary",    "section=flat 30x4, angle 25x25x3, bar 5x25",
                         "--vary",    "spacing=90,150",
                         "--vary",    "holes=slotted,round",
                         "--vary",    "rim=70,90",
                         "--sample",  sample,
                         "--seed",    "3"});
    CHECK(ran.err.empty());
    const std::vector<std::string> lines = lines_of(ran.out);
    REQUIRE(lines.size() == std::stoul(sample));
    const auto value = [](const std::string& label) { return label.substr(0, label.find(" mm")); };
    for (const std::string& line : lines) {
        CAPTURE(line);
        const auto variant = nlohmann::json::parse(line);
        const auto choice = [&](const char* key) { return variant["choices"][key].get<std::string>(); };
        const std::string file =
            folder.put("stated.json", tray(value(choice("depth")), choice("section"),
                                           value(choice("spacing")), choice("holes"), value(choice("rim"))));
        const Ran alone = run({"check", file, "--json", "-", "--mesh", "coarse"});
        if (variant["verdict"] == "not possible") {
            CHECK(alone.status >= 2);
            continue;
        }
        const auto result = nlohmann::json::parse(alone.out);
        constexpr double same = 1e-8;
        const auto agree = [&](double a, double b) {
            CHECK(std::abs(a - b) <= same * std::max(std::abs(a), std::abs(b)));
        };
        CHECK(variant["verdict"] == result["verdict"]);
        CHECK(variant["governing"]["check"] == result["governing"]["check"]);
        CHECK(variant["governing"]["situation"] == result["governing"]["situation"]);
        agree(variant["governing"]["utilisation"], result["governing"]["utilisation"]);
        agree(variant["mass_kg"], result["mass"]["total_kg"]);
        agree(variant["frequency_Hz"], result["frequency_Hz"][0]);
        double sag = 0, years = 0, dish = 0;
        for (const auto& situation : result["situations"]) {
            (situation["stage"] == "after the years" ? years : sag) = std::max(
                situation["stage"] == "after the years" ? years : sag, situation["sag_mm"].get<double>());
            dish = std::max(dish, situation["dish_mm"].get<double>());
        }
        agree(variant["sag_mm"], sag);
        agree(variant["sag_years_mm"], years);
        agree(variant["dish_mm"], dish);
        for (const auto& [check, use] : variant["utilisation"].items()) {
            double most = -1;
            for (const auto& row : result["checks"])
                if (row["check"] == check) most = std::max(most, row["utilisation"].get<double>());
            CAPTURE(check);
            agree(use, most);
        }
        for (const auto& row : result["checks"]) {
            const auto check = row["check"].get<std::string>();
            if (check == "push on the skin" || check == "feels springy" || check == "heel on the skin")
                continue; // advice, left out of variants
            CHECK(variant["utilisation"].contains(check));
        }
    }
}

TEST_CASE("a variant that cannot be made is told and stops nothing", "[command_line][slow]") {
    const Folder folder;
    const std::string piece = folder.put("tray.json", tray());
    const Ran ran = run({"compare", piece, "--mesh", "coarse", "--vary", "depth=10,30", "--json", "-"});
    const std::vector<std::string> lines = lines_of(ran.out);
    REQUIRE(lines.size() == 2);
    CHECK(ran.status == 0);
    const auto deep = nlohmann::json::parse(lines[1]);
    CHECK(deep["verdict"] == "not possible");
    CHECK_THAT(deep["problem"].get<std::string>(), StartsWith("recesses[0].depth: "));
}

TEST_CASE("where no variant meets the limits the nearest are told and the status is 1",
          "[command_line][slow]") {
    const Folder folder;
    std::string text = tray();
    text.insert(text.rfind('}'), R"(, "limits": {"sag": "0.001 mm"})");
    const Ran ran =
        run({"compare", folder.put("tray.json", text), "--mesh", "coarse", "--vary", "depth=8,10"});
    CHECK(ran.status == 1);
    CHECK_THAT(ran.out,
               Contains("Nearest to meeting the limits") && Contains("0 meet the limits set, 2 do not"));
}

TEST_CASE("a wrong option of compare is refused before anything is computed or written", "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("tray.json", tray()), csv = folder.path() + "/x.csv";
    const auto refused = [&](std::vector<std::string> more) {
        const Ran ran = run(words({"compare", piece}, more));
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        return ran.err;
    };
    CHECK_THAT(refused({}), Contains("--vary: nothing is varied"));
    CHECK_THAT(refused({"--vary", "depth=8", "--vary", "depth=9"}), Contains("\"depth\" is varied twice"));
    CHECK_THAT(refused({"--vary", "depth=8", "--sort", "best"}),
               Contains("give lightest, stiffest or cheapest"));
    CHECK_THAT(refused({"--vary", "depth=8", "--sort", "cheapest"}), Contains("no price is given"));
    CHECK_THAT(refused({"--vary", "depth=8", "--price", "tonne=3"}), Contains("\"tonne\" has no price here"));
    CHECK_THAT(refused({"--vary", "depth=8", "--part", "3/2"}), Contains("\"3/2\" is no part"));
    CHECK_THAT(refused({"--vary", "depth=8", "--under", "light"}), Contains("\"light\" is no weight"));
    CHECK_THAT(refused({"--vary", "depth=8", "--resume"}), Contains("no file says what is done"));
    CHECK_THAT(refused({"--vary", "depth=8", "--seed", "4"}), Contains("no sample is asked for"));
    CHECK_THAT(refused({"--vary", "number=1,2", "--vary", "flat.section=flat 30x4"}),
               Contains("their number is varied too"));
    CHECK_THAT(refused({"--vary", "depth=8", "--csv", piece}), Contains("is the piece file itself"));
    folder.put("x.csv", "something else\n");
    CHECK_THAT(refused({"--vary", "depth=8", "--csv", csv, "--resume"}),
               Contains("does not say what it was written for"));
    CHECK(content_of(csv) == "something else\n");
}

TEST_CASE("a run is gone on with only for the same piece, loads, mesh, choices and version",
          "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("tray.json", tray()), csv = folder.path() + "/x.csv",
                      json = folder.path() + "/x.jsonl";
    const auto judge = [&](const std::string& of, std::vector<std::string> more) {
        return run(words({"compare", of, "--quiet", "--csv", csv, "--json", json}, more));
    };
    const std::vector<std::string> usual{"--vary", "depth=8", "--mesh", "coarse"},
        again{"--vary", "depth=8", "--mesh", "coarse", "--resume"};
    REQUIRE(judge(piece, usual).status <= 1);
    const std::string written = content_of(csv), written_json = content_of(json);
    const auto refused = [&](const std::string& of, const std::vector<std::string>& more) {
        const Ran ran = judge(of, more);
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        CHECK(content_of(csv) == written);
        CHECK(content_of(json) == written_json);
        folder.put("x.csv", written);
        folder.put("x.jsonl", written_json);
        return ran.err;
    };
    CHECK(judge(piece, again).status <= 1);
    CHECK(content_of(csv) == written);
    // another load, twice as heavy: the same variants by name
    std::string heavier = tray();
    heavier.replace(heavier.find("1 kPa"), 5, "2 kPa");
    const std::string other = folder.put("other.json", heavier);
    CHECK_THAT(refused(other, again), Contains("x.csv\" was written for something else: the piece differ"));
    CHECK_THAT(refused(piece, {"--vary", "depth=8", "--mesh", "30mm", "--resume"}),
               Contains("the mesh (coarse, now 30mm) differ"));
    CHECK_THAT(refused(piece, words(again, {"--price", "metre=4"})),
               Contains("what is varied, added or priced differ"));
    CHECK_THAT(refused(other, {"--vary", "depth=8", "--resume"}),
               Contains("the piece and the mesh (coarse, now normal) differ"));
    // another version
    const auto older = [](std::string text) {
        const std::size_t at = text.find("0.");
        REQUIRE(at < 20);
        return text.replace(at, 2, "9.");
    };
    const std::string of_older = older(written);
    folder.put("x.csv", of_older);
    const Ran ran = judge(piece, again);
    CHECK(ran.status == 2);
    CHECK_THAT(ran.err, Contains("the version (9."));
    CHECK(content_of(csv) == of_older);
    folder.put("x.csv", written);
    folder.put("x.jsonl", older(written_json)); // each file speaks for itself
    CHECK_THAT(judge(piece, again).err, Contains("--json: ") && Contains("the version (9."));
}

TEST_CASE("prices rank the cheapest first", "[command_line][slow]") {
    const Folder folder;
    const Ran ran =
        run({"compare", folder.put("tray.json", tray()), "--mesh", "coarse", "--vary", "spacing=60,100,150",
             "--price", "metre=2, kilo=3, screw=0.5", "--sort", "cheapest", "--json", "-"});
    const std::vector<std::string> lines = lines_of(ran.out);
    REQUIRE(lines.size() == 3);
    // 460 mm of flat 30x4: 0.46 x 30 x 4 x 7850e-6 kg; the screws differ
    const double bar = 0.46 * 2 + 0.46 * 30 * 4 * 7850e-6 * 3;
    for (const std::string& line : lines) {
        const double screws = (nlohmann::json::parse(line)["cost"].get<double>() - bar) / 0.5;
        CHECK(std::abs(screws - std::round(screws)) < 1e-6);
        CHECK(screws >= 3);
    }
    CHECK(nlohmann::json::parse(lines[0])["cost"].get<double>() >
          nlohmann::json::parse(lines[2])["cost"].get<double>());
}
