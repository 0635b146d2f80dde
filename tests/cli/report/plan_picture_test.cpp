// SPDX-License-Identifier: MIT
#include "cli/report/drawing/plan_picture.hpp"

#include "cli/read/piece_file.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <iterator>
#include <regex>
#include <sstream>

using namespace hollowtop;
using namespace hollowtop::cli;

namespace {

struct Label {
    std::string words;
    Point at;
    double size = 0;
};

std::vector<Label> labels_of(const Svg& svg) {
    const std::string text = svg.element();
    static const std::regex label(
        R"re(<text x="([-0-9.]+)" y="([-0-9.]+)" font-size="([0-9.]+)"[^>]*>([^<]*)<)re");
    std::vector<Label> labels;
    for (std::sregex_iterator found(text.begin(), text.end(), label), end; found != end; ++found)
        labels.push_back(
            {(*found)[4], {std::stod((*found)[1]), std::stod((*found)[2])}, std::stod((*found)[3])});
    return labels;
}

int count(const std::vector<Label>& labels, const std::string& words) {
    return static_cast<int>(std::count_if(labels.begin(), labels.end(),
                                          [&](const Label& label) { return label.words == words; }));
}

std::vector<Piece> examples() {
    std::vector<Piece> pieces;
    const auto folder = std::filesystem::path(HOLLOWTOP_SOURCE_DIR) / "docs/examples";
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        if (entry.path().extension() == ".json") pieces.push_back(load_piece(entry.path().string()));
    return pieces;
}

} // namespace

TEST_CASE("the plan of each example tells its length, its width and how deep each recess is", "[report]") {
    const double width = GENERATE(760.0, 312.0);
    for (const Piece& piece : examples()) {
        CAPTURE(piece.title, width);
        const Plan plan = plan_of(piece);
        const auto labels = labels_of(plan_picture("plan", piece, plan, width, piece.units, {}));
        CHECK(count(labels, drawn_length(plan.length, piece.units)) >= 1);
        CHECK(count(labels, drawn_length(plan.width, piece.units)) >= 1);
        int told = 0;
        for (const Label& label : labels) told += label.words.find(" deep") != std::string::npos ? 1 : 0;
        CHECK(told == static_cast<int>(plan.hollows.size()));
        for (std::size_t i = 0; i < piece.supports.size(); ++i) CHECK(count(labels, support_letter(i)) == 1);
        CHECK(count(labels, "grain") == 1);
    }
}

TEST_CASE("how deep a recess is stands on its skin, clear of its wall and of its lands", "[report]") {
    // a slender oval, a recess with a land where the words would stand, and one too narrow for a line of
    // words
    const std::string recesses = GENERATE(
        std::string(
            R"("outline": {"shape": "ellipse"}}, "recesses": [{"name": "well", "rim": 80, "depth": 8}])"),
        std::string(R"("boards": 4}, "recesses": [{"name": "well", "rim": 60, "depth": 8,
            "lands": [{"name": "lamp", "x": [300, 700], "y": [100, 200], "corner_radius": 8}]}])"),
        std::string(
            R"("boards": 4}, "recesses": [{"name": "well", "x": [400, 620], "y": [60, 340], "depth": 8}])"));
    const double width = GENERATE(760.0, 312.0);
    const Piece piece = piece_of_json(
        R"({"hollowtop": 1, "top": {"length": 1200, "width": 400, "thickness": 24, "wood": "white oak", )" +
        recesses + "}");
    const Plan plan = plan_of(piece);
    REQUIRE(plan.hollows.size() == 1);
    const auto labels = labels_of(plan_picture("plan", piece, plan, width, Units::mm, {}));
    // where the drawing lies: the dimension lines of the whole run from end to end of it
    const auto words = std::find_if(labels.begin(), labels.end(), [](const Label& label) {
        return label.words.find(" deep") != std::string::npos;
    });
    REQUIRE(words != labels.end());
    const std::string text = plan_picture("plan", piece, plan, width, Units::mm, {}).element();
    static const std::regex corner(
        R"re(<circle cx="([-0-9.]+)" cy="([-0-9.]+)")re"); // of the piece, x = y = 0
    std::smatch origin;
    REQUIRE(std::regex_search(text, origin, corner));
    const auto front = std::find_if(labels.begin(), labels.end(),
                                    [](const Label& label) { return label.words.find("front") == 0; });
    REQUIRE(front != labels.end()); // in the middle of the length
    const double scale = (front->at.x - std::stod(origin[1])) / (plan.length / 2);
    // 0.5 of the size a letter is about what bold digits and small letters take
    const double half = 0.25 * words->size * static_cast<double>(words->words.size());
    for (const double x : {words->at.x - half, words->at.x, words->at.x + half})
        for (const double y : {words->at.y - 0.7 * words->size, words->at.y}) {
            const Point at{(x - std::stod(origin[1])) / scale, (y - std::stod(origin[2])) / scale};
            CAPTURE(words->words, at.x, at.y);
            CHECK(thickness_at(plan, at) == 16);
        }
}

TEST_CASE("a clamp is drawn with both its pads and the way its weight hangs", "[report]") {
    const double width = GENERATE(760.0, 312.0);
    const std::string top =
        R"({"hollowtop": 1, "top": {"length": 1200, "width": 400, "thickness": 24, "wood": "white oak", "boards": 4}, "loads": [)";
    const auto picture_of = [&](const std::string& loads) {
        const Piece piece = piece_of_json(top + loads + "]}");
        return plan_picture("plan", piece, plan_of(piece), width, Units::mm, {});
    };
    const std::string clamp =
        R"({"name": "screen arm", "kind": "clamp", "force": "8 kg", "at": [600, 360], "towards": [600, )";
    const Svg out = picture_of(clamp + R"(800], "above": [80, 60], "below": [50, 40]})");
    CHECK(count(labels_of(out), "screen arm") == 1);
    CHECK(out.element().find("Clamp screen arm at 600, 360 mm.") != std::string::npos);
    const auto polygons = [](const Svg& svg) {
        static const std::regex points(R"re(<polygon points="([^"]*)")re");
        const std::string text = svg.element();
        std::vector<std::vector<double>> found;
        for (std::sregex_iterator it(text.begin(), text.end(), points), end; it != end; ++it) {
            std::string numbers = (*it)[1];
            std::replace(numbers.begin(), numbers.end(), ',', ' ');
            std::istringstream in(numbers);
            found.push_back({std::istream_iterator<double>(in), {}});
        }
        return found;
    };
    const std::vector<std::vector<double>> pads = polygons(out);
    REQUIRE(pads.size() == 2); // there is nothing else that has corners
    const auto wide = [](const std::vector<double>& pad) { return std::abs(pad.at(2) - pad.at(0)); };
    CHECK(std::abs(wide(pads[1]) / wide(pads[0]) - 80.0 / 50) <
          0.05); // the lower first; coordinates are rounded
    CHECK(polygons(picture_of("")).empty());
    CHECK(count(labels_of(picture_of(R"({"name": "books", "kind": "area", "pressure": "1 kPa"})")),
                "books") == 0);
}
