// SPDX-License-Identifier: MIT
// The pictures that the guide shows are those the program draws of an example. HOLLOWTOP_UPDATE_DOCS=1 draws
// them anew into docs/pictures.

#include <catch2/catch.hpp>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

namespace fs = std::filesystem;

namespace {

const fs::path shown = fs::path(HOLLOWTOP_SOURCE_DIR) / "docs/pictures";

std::string content(const fs::path& file) {
    std::ifstream in(file);
    REQUIRE(in);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// What a picture says of itself: its title and its description, with its numbers.
std::string words_of(const std::string& svg) {
    return svg.substr(svg.find("<title"), svg.find("</desc>") - svg.find("<title"));
}

} // namespace

TEST_CASE("the pictures of the guide are those that the program draws", "[docs]") {
    std::string name = (fs::temp_directory_path() / "hollowtop_pictures_XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    const fs::path folder = name;
    const std::string piece = (fs::path(HOLLOWTOP_SOURCE_DIR) / "docs/examples/reading_table.json").string();
    const std::string command = "'" HOLLOWTOP_PROGRAM "' report '" + piece + "' --quiet --out '" +
                                (folder / "page.html").string() + "' --pictures '" + name + "'";
    REQUIRE(std::system(command.c_str()) == 0);
    const char* update = std::getenv("HOLLOWTOP_UPDATE_DOCS");
    // Pictures of the piece alone come out the same everywhere; contours may differ in their last digits
    // between machines.
    for (const std::string picture : {"plan", "section2", "thickness", "gauges", "movement", "across"}) {
        CAPTURE(picture);
        const fs::path drawn = folder / (picture + ".svg"), kept = shown / (picture + ".svg");
        if (update != nullptr) fs::copy_file(drawn, kept, fs::copy_options::overwrite_existing);
        const bool is_of_the_piece = picture != "movement" && picture != "across" && picture != "gauges";
        if (is_of_the_piece)
            CHECK(content(drawn) == content(kept));
        else
            CHECK(words_of(content(drawn)) == words_of(content(kept)));
    }
    std::error_code ignored;
    fs::remove_all(folder, ignored);
}
