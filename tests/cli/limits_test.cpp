// SPDX-License-Identifier: MIT
#include "solver/piece/limits.hpp"

#include "cli/read/piece_file.hpp"
#include "cli/words/messages.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cstdlib>
#include <ctime>
#include <fstream>
#include <sstream>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

namespace {

std::string content(const std::string& path) {
    std::ostringstream out;
    out << std::ifstream(std::string(HOLLOWTOP_SOURCE_DIR) + "/" + path).rdbuf();
    return out.str();
}

Json sound() {
    return Json::parse(R"({"hollowtop": 1, "units": "mm",
        "top": {"length": 3000, "width": 1000, "thickness": 40, "wood": "white_oak"},
        "recesses": [{"name": "well", "x": [500, 1000], "y": [200, 800], "depth": 10}],
        "stiffeners": [{"name": "bar", "section": "flat 30x4", "metal": "S235", "from": [550, 500], "to": [950, 500],
                        "screws": {"diameter": 4, "length": 20, "at": [10, 20]}}],
        "supports": [{"kind": "pad", "at": [60, 60], "size": [40, 40]}],
        "loads": [{"kind": "area", "pressure": "0.5 kPa"}]})");
}

std::vector<Fault> faults_in(const Json& piece) {
    try {
        (void)piece_of_json(piece.dump());
    } catch (const Error& error) {
        return error.faults();
    }
    return {};
}

std::string faults_of_text(const Json& piece) {
    std::string all;
    for (const Fault& fault : faults_in(piece))
        all += fault.place + ": " + in_own_units(fault.what) + "; " + in_own_units(fault.remedy) + "\n";
    return all;
}

/// A list so long at the place of a key.
Json with_so_many(const std::string& key, std::size_t count) {
    Json piece = sound();
    const auto list_of = [&](const Json& one) { return Json(std::vector<Json>(count, one)); };
    if (key == "lands")
        piece["recesses"][0]["lands"] = list_of(Json::parse(R"({"x": [600, 700], "y": [300, 400]})"));
    else if (key == "holds")
        piece["recesses"][0]["holds"] = list_of(Json::parse(R"({"size": [100, 100, 5], "weight": "1 kg"})"));
    else if (key == "screws")
        piece["stiffeners"][0]["screws"]["at"] = list_of(10);
    else if (key == "points")
        piece["top"]["outline"] = {{"shape", "polygon"}, {"points", list_of(Json::parse("[0, 0]"))}};
    else if (key == "boards")
        piece["top"]["boards"] = list_of(100);
    else if (key == "probe")
        piece["probe"] = list_of(Json::parse("[100, 100]"));
    else
        piece[key] = list_of(piece[key][0]);
    return piece;
}

const Json* max_items_of(const Json& schema, const std::string& key) {
    const Json& defs = schema["$defs"];
    if (key == "lands" || key == "holds") return &defs["recess"]["properties"][key]["maxItems"];
    if (key == "screws") return &defs["screws"]["properties"]["at"]["maxItems"];
    if (key == "points") return &defs["points"]["maxItems"];
    if (key == "boards") return &defs["top"]["properties"]["boards"]["anyOf"][1]["maxItems"];
    return &schema["properties"][key]["maxItems"];
}

std::string limits_page() {
    std::ostringstream page;
    page << "# Limits\n\nMade from solver/piece/limits.hpp; a test compares. Bounds of what is computed, "
            "ours, chosen "
            "wide: none says that a thing so large can be built.\nOf faults, "
         << most_faults << " are gathered.\n\n| parts | at most |\n| --- | --- |\n";
    for (const MostParts& limit : most_parts()) page << "| " << limit.what << " | " << limit.most << " |\n";
    page << "\n| size | least | greatest |\n| --- | --- | --- |\n";
    for (const SizeBounds& size : size_bounds())
        page << "| " << size.what << (size.may_be_nought ? " (or 0)" : "") << " | " << size.least << ' '
             << word_of(size.unit) << " | " << size.most << ' ' << word_of(size.unit) << " |\n";
    return page.str();
}

} // namespace

TEST_CASE("more parts of a kind than are computed are refused with their number", "[cli]") {
    REQUIRE(faults_of_text(sound()) == "");
    for (const MostParts& limit : most_parts()) {
        CAPTURE(limit.what);
        const std::string told = too_many(limit, limit.most + 1) + "; " + at_most(limit);
        CHECK_THAT(faults_of_text(with_so_many(limit.key, limit.most + 1)), Contains(told));
        CHECK_THAT(faults_of_text(with_so_many(limit.key, limit.most)), !Contains("more than are computed"));
    }
}

TEST_CASE("so many screws by their spacing are refused like a list of them", "[cli]") {
    Json piece = sound();
    piece["stiffeners"][0]["to"] = {2600, 500};
    piece["stiffeners"][0]["screws"] = {{"diameter", 4}, {"length", 20}, {"spacing", 2}};
    CHECK_THAT(faults_of_text(piece),
               Contains("stiffeners[0].screws.spacing: 1026 screws of a stiffener are more"));
}

TEST_CASE("the schema of the piece file knows the limits", "[cli]") {
    const Json schema = Json::parse(content("docs/piece.schema.json"));
    for (const MostParts& limit : most_parts()) {
        CAPTURE(limit.what);
        const Json* most = max_items_of(schema, limit.key);
        REQUIRE(most->is_number());
        CHECK(most->get<std::size_t>() == limit.most);
    }
    CHECK(schema["$defs"]["length"]["anyOf"][0]["maximum"] == top_sides.most);
    CHECK(schema["$defs"]["force"]["anyOf"][0]["maximum"] == load_force.most);
}

TEST_CASE("the page of limits is what the table says", "[cli]") {
    if (std::getenv("HOLLOWTOP_UPDATE_DOCS") != nullptr)
        std::ofstream(std::string(HOLLOWTOP_SOURCE_DIR) + "/docs/limits.md") << limits_page();
    CHECK(content("docs/limits.md") == limits_page());
}

TEST_CASE("sizes that nothing has are refused, not computed", "[cli]") {
    const auto told = [](const char* pointer, const Json& value) {
        Json piece = sound();
        piece["stiffeners"][0]["screws"] = {{"diameter", 4}, {"length", 20}, {"spacing", 100}};
        piece[Json::json_pointer(pointer)] = value;
        return faults_of_text(piece);
    };
    CHECK_THAT(told("/top/length", 1e-300),
               Contains("is less than 1 mm, the least length or width of the top"));
    CHECK_THAT(told("/top/width", 0.5), Contains("is less than 1 mm"));
    CHECK_THAT(told("/top/thickness", 1e-300), Contains("is less than 0.05 mm, the least thickness"));
    CHECK_THAT(told("/top/thickness", 3000), Contains("is more than 2000 mm, the greatest thickness"));
    CHECK_THAT(told("/recesses/0/depth", 1e-6), Contains("the least depth of a recess"));
    CHECK_THAT(told("/recesses/0/depth", 39.9999), Contains("the least wood left over a recess"));
    CHECK_THAT(told("/recesses/0/x", {500, 500.00001}), Contains("the least side of a recess"));
    CHECK_THAT(told("/supports/0/size", {1e-9, 40}), Contains("the least side of a pad"));
    CHECK_THAT(told("/stiffeners/0/screws/spacing", 1e-6), Contains("the least spacing of screws"));
    CHECK_THAT(told("/stiffeners/0/screws/diameter", 1e-9), Contains("the least diameter of a screw"));
    CHECK_THAT(told("/loads/0/pressure", 1e-300), Contains("the least pressure of a load"));
    for (const double size : {section_sizes.least / 2, section_sizes.most * 2})
        CHECK_THAT(told("/stiffeners/0/section", "flat " + Json(size).dump() + "x4"),
                   Contains("is not between 0.01 and 10 000 mm"));
    CHECK(told("/loads/0/pressure", 0) == "");
    CHECK(told("/top/thickness", 39.5) == "");
}

TEST_CASE("faults are gathered up to fifty, and that there may be more is said", "[cli]") {
    Json piece = sound();
    piece["recesses"] = std::vector<Json>(400, piece["recesses"][0]); // each on top of all before it
    const std::vector<Fault> faults = faults_in(piece);
    CHECK(faults.size() == most_faults);
    const Error error(ErrorKind::input, faults);
    CHECK_THAT(message_of(error), Contains("and at least 38 more"));
}

TEST_CASE("fifty thousand equal recesses are answered within a second", "[cli]") {
    Json piece = sound();
    piece["recesses"] = std::vector<Json>(50'000, piece["recesses"][0]);
    const std::string text = piece.dump();
    const std::clock_t start = std::clock(); // of this program, however busy the machine
    CHECK_THROWS_AS(piece_of_json(text), Error);
    CHECK(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC < 1);
}
