// SPDX-License-Identifier: MIT
// The router's template at 1:1: SVG to print, DXF for a machine.
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/files/files.hpp"
#include "cli/read/piece_file.hpp"
#include "cli/report/workshop/depth_map.hpp"
#include "cli/report/workshop/parts_drawing.hpp"
#include "cli/report/workshop/template_plan.hpp"
#include "cli/report/workshop/template_tiles.hpp"
#include "cli/words/quantity.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"

#include <algorithm>
#include <array>
#include <filesystem>

namespace hollowtop::cli {
namespace {

constexpr Option cutter_option{"--cutter", "DIAMETER",
                               "of the router's cutter (12 mm or 1/2 in where not given)"};
constexpr Option bush_option{
    "--bush", "DIAMETER",
    "outer diameter of the guide bush (where not given: the cutter's own, a bearing on the cutter)"};
constexpr Option svg_option{
    "--svg", "FILE",
    "write the drawing as SVG to FILE (where neither is given: both, named after the piece, in this folder)"};
constexpr Option dxf_option{"--dxf", "FILE", "write the drawing as DXF, release 12, to FILE"};
constexpr Option drawing_option{
    "--out", "FILE", "write the drawing to FILE: SVG, DXF or, with --tiles, HTML by its ending", false, "-o"};
constexpr Option tiles_option{
    "--tiles",
    "a4|letter",
    "write the drawing in sheets of that paper, at 1:1, with a map, crosses and bars to "
    "measure (HTML, to be printed without fitting)",
    false,
    "",
    "a4 letter"};
constexpr Option corners_option{"--corners", "", "with --tiles: only the sheets that hold a corner"};
constexpr Option parts_option{"--parts", "FILE",
                              "write the stiffeners as parts with every hole and slot to FILE, DXF"};
constexpr Option depth_option{"--depth", "FILE",
                              "write the underside to FILE as a 16-bit grey PNG whose grey is its height, "
                              "for machines that mill from one"};
constexpr std::array<Option, 11> options{cutter_option,  bush_option,  svg_option,     dxf_option,
                                         drawing_option, tiles_option, corners_option, parts_option,
                                         depth_option,   quiet_option, help_option};

double diameter_of(const Given& given, const Option& option, double otherwise) {
    if (!given.has(option.name)) return otherwise;
    const std::string& text = given.options.at(option.name);
    double diameter = 0;
    try {
        diameter = Length::parse(text).mm();
    } catch (const Error&) {
    }
    constexpr double least = 1, most = 150;
    if (!(diameter >= least && diameter <= most))
        throw Error(ErrorKind::input, Fault{option.name, cli::in_quotes(text) + " is no diameter",
                                            "give a length such as 12mm or 1/2in, 1 mm to 150 mm"});
    return diameter;
}

PaperSize paper_of(const Given& given) {
    if (!given.has(tiles_option.name)) return PaperSize::a4;
    const std::string& word = given.options.at(tiles_option.name);
    if (word == "a4" || word == "A4") return PaperSize::a4;
    if (word == "letter" || word == "Letter") return PaperSize::letter;
    throw Error(ErrorKind::input, Fault{tiles_option.name, cli::in_quotes(word) + " is no paper known here",
                                        "give a4 or letter"});
}

struct Target {
    const Option* option;
    std::string file;
};

std::vector<Target> targets_of(const Given& given) {
    const std::string& piece = given.names.front();
    std::vector<Target> targets;
    if (given.has(corners_option.name) && !given.has(tiles_option.name))
        throw Error(ErrorKind::input, Fault{corners_option.name, "there are no sheets to choose from",
                                            "give --tiles a4 or --tiles letter as well"});
    for (const Option* option : {&svg_option, &dxf_option, &parts_option, &depth_option})
        if (given.has(option->name)) targets.push_back({option, given.options.at(option->name)});
    if (given.has(drawing_option.name)) {
        const std::string& file = given.options.at(drawing_option.name);
        const std::string ending = std::filesystem::path(file).extension().string();
        const bool sheets = ending == ".html" && given.has(tiles_option.name);
        if (ending != ".svg" && ending != ".dxf" && !sheets)
            throw Error(ErrorKind::input,
                        Fault{drawing_option.name, cli::in_quotes(file) + " does not say which drawing",
                              given.has(tiles_option.name) ? "end it in .html, .svg or .dxf"
                                                           : "end it in .svg or .dxf"});
        const Option* option = sheets ? &tiles_option : ending == ".svg" ? &svg_option : &dxf_option;
        if (!sheets && given.has(option->name))
            throw Error(ErrorKind::input, Fault{drawing_option.name,
                                                std::string("this is what ") + option->name + " writes too",
                                                "give one of them"});
        targets.push_back({option, file});
    }
    const std::string stem =
        (piece == standard_input ? "piece" : std::filesystem::path(piece).stem().string()) + "_template";
    if (given.has(tiles_option.name) &&
        std::none_of(targets.begin(), targets.end(),
                     [](const Target& target) { return target.option == &tiles_option; }))
        targets.push_back({&tiles_option, stem + ".html"});
    if (targets.empty()) {
        targets = {{&svg_option, stem + ".svg"}, {&dxf_option, stem + ".dxf"}};
    }
    std::vector<std::pair<const char*, std::string>> files;
    for (const Target& target : targets) files.emplace_back(target.option->name, target.file);
    ensure_apart({piece}, files);
    for (const Target& target : targets) ensure_writable(target.file, target.option->name);
    return targets;
}

Status run(const Given& given) {
    const std::string& file = given.names.front();
    const Piece piece = load_piece(file);
    const RouterSetup setup = [&] {
        RouterSetup s;
        s.cutter =
            diameter_of(given, cutter_option, piece.units == Units::mm ? 12 : Length::from_inches(0.5).mm());
        s.bush = diameter_of(given, bush_option, s.cutter);
        return s;
    }();
    const PaperSize paper = paper_of(given);
    const std::vector<Target> targets = targets_of(given);
    const std::string title =
        piece.title.empty() ? std::filesystem::path(file).filename().string() : piece.title;
    Template drawn;
    std::string parts, depth_map;
    int levels = 0;
    try {
        const Plan plan = plan_of(piece);
        std::optional<Seasons> seasons;
        if (!piece.stiffeners.empty() && !piece.top.wood.empty()) seasons = seasons_of(piece, {});
        const Bench bench = bench_of(piece, plan, Result{}, seasons, setup.cutter);
        if (given.has(parts_option.name)) parts = parts_dxf(piece, bench, title);
        if (given.has(depth_option.name)) {
            if (plan.hollows.empty())
                throw Error(ErrorKind::input,
                            Fault{"recesses", "this piece has no recess", "leave --depth out"});
            depth_map = depth_map_png(plan);
            levels = levels_per_mm(plan);
        }
        drawn = template_of(piece, plan, bench, setup);
    } catch (Error& error) {
        const bool is_of_the_piece = error.faults().front().place.rfind("--", 0) != 0;
        error = in_words(error, piece.units);
        if (error.file.empty() && is_of_the_piece) error.file = file;
        throw;
    }
    std::vector<Output> outputs;
    std::string said;
    for (const Target& target : targets) {
        const auto content = [&] {
            if (target.option == &svg_option) return template_svg(drawn, title);
            if (target.option == &tiles_option)
                return template_tiles(drawn, title, paper, given.has(corners_option.name));
            if (target.option == &parts_option) return parts;
            if (target.option == &depth_option) return depth_map;
            return template_dxf(drawn, title);
        };
        outputs.push_back({target.file, target.option->name, content()});
        said += "wrote " + target.file + "\n";
    }
    if (levels > 0)
        said += "depth: " + std::to_string(levels) + " levels a mm below white, the underside; " +
                std::to_string(pixels_per_mm) + " pixels a mm; the cutter's nose is not in it\n";
    for (const Message& note : drawn.notes) said += "note: " + in_own_units(note) + "\n";
    if (!given.has(quiet_option.name)) outputs.push_back({"-", "", said});
    write_files(outputs);
    return Status::passes;
}

} // namespace

extern const Command template_command{
    .name = "template",
    .one_line = "1:1 drawing for the router: guide-bush offset, cutter radius, screw holes, slots",
    .names = "PIECE",
    .least_names = 1,
    .most_names = 1,
    .text =
        "Draws the template at 1:1, seen from below, in millimetres: for each recess the wall as it shall be "
        "and the template's edge, offset for the guide bush and the cutter; islands for lands; "
        "pilot holes; outlines of stiffeners and pads; holes and slots in the stiffeners; a bar of 100 mm to "
        "measure "
        "before use. Layers: OUTLINE, WALL, OPENING, ISLAND, PILOT, HOLE, SLOT, STIFFENER, PAD, SCALE, "
        "NOTES. Refuses what the cutter cannot cut. It does not "
        "judge the piece: hollowtop check does.\n"
        "Exit status: 0 written, 2 the input is wrong or cannot be cut so, 3 it could not be written.",
    .example = "hollowtop template docs/examples/reading_table.json\n"
               "hollowtop template --cutter 12mm --bush 24mm --dxf desk.dxf desk.json\n"
               "hollowtop template --tiles a4 desk.json",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
