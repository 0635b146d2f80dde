// SPDX-License-Identifier: MIT
#include "cli/read/piece_parts.hpp"
#include "cli/words/words.hpp"
#include "materials/finish.hpp"
#include "materials/sheet.hpp"
#include "materials/wood.hpp"
#include "solver/piece/skin.hpp"

#include <algorithm>
#include <array>

namespace hollowtop::cli {
namespace {

std::vector<Point> read_points(const Cursor& list) {
    std::vector<Point> points;
    for (const Cursor& item : list.items(most_vertices))
        if (const auto point = item.as_point()) points.push_back(*point);
    if (list.value().kind == JsonValue::Kind::list && list.value().items.size() < 3)
        list.fault("a polygon has at least three corners", "write its points as [[x, y], [x, y], [x, y]]");
    return points;
}

/// Growth rings: a word, or an angle from flat-sawn (0) to quarter-sawn (90).
double read_rings(const Cursor& value) {
    if (value.value().kind == JsonValue::Kind::text) {
        if (const auto angle = ring_angle_of(value.value().text)) return *angle;
    } else if (value.value().kind == JsonValue::Kind::number && value.value().number >= 0 &&
               value.value().number <= 90) {
        return value.value().number;
    }
    const bool is_text = value.value().kind == JsonValue::Kind::text;
    value.fault(
        (is_text ? in_quotes(value.value().text) : "this") + " is no way to saw a board",
        R"(write "flatsawn", "riftsawn" or "quartersawn", or an angle from 0 (flat) to 90 (quarter))");
    return 0;
}

void read_outline(const Cursor& object, Top& top, bool has_length, bool has_width) {
    static constexpr std::array<std::string_view, 3> shapes{"rectangle", "ellipse", "polygon"};
    const Rectangle box{.x0 = 0, .x1 = top.length, .y0 = 0, .y1 = top.width};
    std::size_t shape = 0;
    if (object.value().kind != JsonValue::Kind::object) {
        object.only({});
        return;
    }
    if (!object.word("shape", shapes, shape, required)) return;
    if (shapes[shape] == "rectangle") {
        RectangleShape rectangle{.box = box};
        object.only({"shape", "corner_radius"});
        object.length("corner_radius", rectangle.corner_radius, not_negative);
        top.outline = rectangle;
    } else if (shapes[shape] == "ellipse") {
        object.only({"shape"});
        top.outline = EllipseShape{.box = box};
    } else {
        PolygonShape polygon;
        object.only({"shape", "points", "corner_radius"});
        if (!object.has("points"))
            object.fault_at("points", "this key is missing", "write the corners as [[x, y], [x, y], [x, y]]");
        else
            polygon.points = read_points(*object.find("points"));
        object.length("corner_radius", polygon.corner_radius, not_negative);
        // Length and width may be left to the corners.
        for (const Point& point : polygon.points) {
            if (!has_length) top.length = std::max(top.length, point.x);
            if (!has_width) top.width = std::max(top.width, point.y);
        }
        top.outline = std::move(polygon);
    }
}

Elastic read_elastic(const Cursor& object) {
    Elastic elastic;
    object.only({"E1", "E2", "nu12", "G12", "G13", "G23", "E3", "density"});
    object.modulus_MPa("E1", elastic.E1, required_positive);
    object.modulus_MPa("E2", elastic.E2, required_positive);
    object.number("nu12", elastic.nu12, {.required = true, .least = -1, .most = 10});
    object.modulus_MPa("G12", elastic.G12, required_positive);
    object.modulus_MPa("G13", elastic.G13, required_positive);
    object.modulus_MPa("G23", elastic.G23, required_positive);
    double through = 0, density = 0;
    if (object.modulus_MPa("E3", through, positive)) elastic.E3 = through;
    if (object.density_kg_m3("density", density, not_negative)) elastic.density_kg_m3 = density;
    return elastic;
}

Measured read_measured(const Cursor& object) {
    Measured measured;
    if (!object.only({"E_along", "density", "uncertainty"})) return measured;
    double value = 0;
    if (const auto uncertainty = object.find("uncertainty");
        uncertainty && uncertainty->only({"E_along", "density"})) {
        static constexpr Rule share{.least = 0, .most = 50, .above_least = true};
        if (uncertainty->percent("E_along", value, share)) measured.u_E_along_percent = value;
        if (uncertainty->percent("density", value, share)) measured.u_density_percent = value;
    }
    if (object.modulus_MPa("E_along", value, positive)) measured.E_along = value;
    if (object.density_kg_m3("density", value, positive)) measured.density_kg_m3 = value;
    return measured;
}

Board read_board(const Cursor& object) {
    Board board;
    if (!object.only({"width", "measured", "pith", "bark"})) return board;
    object.length("width", board.width, required_positive);
    Rings rings;
    std::size_t bark = 0;
    static constexpr std::array<std::string_view, 2> ways{"up", "down"};
    const bool has_pith = object.length("pith", rings.pith, not_negative),
               has_bark = object.word("bark", ways, bark);
    rings.bark_up = bark == 0;
    if (has_pith && has_bark) board.rings = rings;
    if (object.has("pith") != object.has("bark"))
        object.fault_at(
            object.has("pith") ? "bark" : "pith", "this key is missing beside its fellow",
            R"(give both: "pith", its distance from the nearer face, and "bark", "up" or "down")");
    if (const auto measured = object.find("measured")) board.measured = read_measured(*measured);
    return board;
}

void read_boards(const Cursor& value, Top& top) {
    constexpr const char* way = "write how many boards, such as 6, or their widths, such as [140, 150, 140]";
    if (value.value().kind == JsonValue::Kind::list) {
        for (const Cursor& item : value.items(most_boards)) {
            if (item.value().kind == JsonValue::Kind::object) {
                top.each_board.push_back(read_board(item));
                continue;
            }
            const auto width = item.as_length();
            if (width && *width > 0) top.each_board.push_back({.width = *width});
            if (width && *width <= 0) item.fault("a board's width is more than 0", "give its width");
        }
        if (value.value().items.empty()) value.fault("this list is empty", way);
        top.boards = static_cast<int>(top.each_board.size());
        return;
    }
    constexpr double most = 1000;
    const double number = value.value().number;
    const bool is_count = value.value().kind == JsonValue::Kind::number && number >= 1 && number <= most &&
                          number == static_cast<double>(static_cast<int>(number));
    if (is_count)
        top.boards = static_cast<int>(number);
    else
        value.fault("this is no number of boards", way);
}

RectangleShape read_rectangle_shape(const Cursor& object) {
    RectangleShape shape;
    object.range("x", shape.box.x0, shape.box.x1, required);
    object.range("y", shape.box.y0, shape.box.y1, required);
    object.length("corner_radius", shape.corner_radius, not_negative);
    return shape;
}

PolygonShape read_polygon_shape(const Cursor& object) {
    PolygonShape shape;
    shape.points = read_points(*object.find("polygon"));
    object.length("corner_radius", shape.corner_radius, not_negative);
    return shape;
}

/// Which of the ways to draw an outline is used: "x", "polygon" or "rim". "x" and "y" belong together.
std::optional<std::string_view> drawn_as(const Cursor& object, bool may_be_rim) {
    std::vector<std::string_view> ways;
    if (object.has("x") || object.has("y")) ways.push_back("x");
    if (object.has("polygon")) ways.push_back("polygon");
    if (may_be_rim && object.has("rim")) ways.push_back("rim");
    if (ways.size() == 1) return ways.front();
    const std::string choice =
        may_be_rim ? R"("x" and "y", or "polygon", or "rim")" : R"("x" and "y", or "polygon")";
    if (ways.empty())
        object.fault("nothing says where it lies", "give " + choice);
    else
        object.fault(listed(ways, "and") + " are both given", "keep " + choice);
    return std::nullopt;
}

std::string read_finish(const Cursor& value) {
    const auto word = value.as_text();
    if (!word) return {};
    return value.parsed([&] { return materials::find_finish(*word).id; }).value_or("");
}

/// One word for all faces, or an object with a word for each.
FaceFinishes read_finishes(const Cursor& value) {
    FaceFinishes finish;
    if (value.value().kind != JsonValue::Kind::object) {
        finish.above = finish.below = finish.recess = read_finish(value);
        return finish;
    }
    if (!value.only({"top", "underside", "recess"})) return finish;
    if (const auto word = value.find("top")) finish.above = read_finish(*word);
    if (const auto word = value.find("underside")) finish.below = read_finish(*word);
    if (const auto word = value.find("recess")) finish.recess = read_finish(*word);
    return finish;
}

Land read_land(const Cursor& object, std::size_t number) {
    Land land{.name = "land " + std::to_string(number), .shape = RectangleShape{}};
    if (!object.only({"name", "x", "y", "polygon", "corner_radius"})) return land;
    object.text("name", land.name);
    const auto way = drawn_as(object, false);
    if (way == "x") land.shape = read_rectangle_shape(object);
    if (way == "polygon") land.shape = read_polygon_shape(object);
    return land;
}

} // namespace

std::string read_wood(const Cursor& text) {
    const auto name = text.as_text();
    if (!name) return {};
    return text.parsed([&] { return materials::find_wood(*name).id; }).value_or("");
}

std::string read_sheet(const Cursor& text, double thickness) {
    const auto name = text.as_text();
    if (!name) return {};
    const std::optional<double> wanted = thickness > 0 ? std::optional(thickness) : std::nullopt;
    return text.parsed([&] { return materials::find_sheet(*name, wanted).id; }).value_or("");
}

Top read_top(const Cursor& object) {
    Top top;
    if (!object.only({"length", "width", "thickness", "wood", "sheet", "grain", "rings", "outline",
                      "moisture", "measured", "elastic", "boards", "finish"}))
        return top;
    const auto outline = object.find("outline");
    const bool is_polygon = outline && outline->value().find("points") != nullptr;
    const Rule size{.required = !is_polygon, .least = 0, .above_least = true};
    const bool has_length = object.length("length", top.length, size);
    const bool has_width = object.length("width", top.width, size);
    object.length("thickness", top.thickness, required_positive);
    if (const auto way = object.one_of({"wood", "sheet", "elastic"})) {
        if (*way == "wood") top.wood = read_wood(*object.find("wood"));
        if (*way == "sheet") top.sheet = read_sheet(*object.find("sheet"), top.thickness);
        if (*way == "sheet")
            for (const char* const key : {"rings", "moisture", "boards", "finish"})
                if (object.has(key))
                    object.fault_at(key, R"(this is of solid wood, and the top is a "sheet")",
                                    "leave it out");
        if (*way == "elastic") {
            const Cursor elastic = *object.find("elastic");
            if (elastic.value().kind == JsonValue::Kind::object)
                top.elastic = read_elastic(elastic);
            else
                elastic.only({});
            if (object.has("measured"))
                object.fault_at("measured",
                                R"(this goes with a "wood" or a "sheet" from the tables, not with "elastic")",
                                R"(write the measured values into "elastic")");
        }
    }
    object.degrees("grain", top.grain_deg, {.least = -360, .most = 360});
    if (const auto rings = object.find("rings")) top.ring_angle_deg = read_rings(*rings);
    top.outline = RectangleShape{.box = {.x0 = 0, .x1 = top.length, .y0 = 0, .y1 = top.width}};
    if (outline) read_outline(*outline, top, has_length, has_width);
    object.percent("moisture", top.moisture_percent, {.least = 0, .most = 30, .above_least = true});
    if (const auto measured = object.find("measured");
        measured && (object.has("wood") || object.has("sheet")))
        top.measured = read_measured(*measured);
    if (const auto boards = object.find("boards")) read_boards(*boards, top);
    if (const auto finish = object.find("finish")) top.finish = read_finishes(*finish);
    return top;
}

Recess read_recess(const Cursor& object, const Top& top, std::size_t number) {
    Recess recess{.name = "recess " + std::to_string(number), .shape = RectangleShape{}, .lands = {}};
    if (!object.only({"name", "x", "y", "polygon", "rim", "depth", "skin", "corner_radius", "root_radius",
                      "lands", "holds", "cover"}))
        return recess;
    object.text("name", recess.name);
    const auto way = drawn_as(object, true);
    if (way == "x") recess.shape = read_rectangle_shape(object);
    if (way == "polygon") recess.shape = read_polygon_shape(object);
    if (way == "rim") {
        RimShape rim;
        object.length("rim", rim.rim, positive);
        object.length("corner_radius", rim.corner_radius, not_negative);
        recess.shape = rim;
    }
    if (const auto measure = object.one_of({"depth", "skin"})) {
        if (*measure == "depth") object.length("depth", recess.depth, positive);
        double skin = 0;
        if (*measure == "skin" && object.length("skin", skin, positive)) {
            if (top.thickness > 0 && skin >= top.thickness)
                object.fault_at("skin", "this is no less than the thickness of the top",
                                "give what is to be left above the recess");
            recess.depth = depth_for_skin(skin, top);
        }
    }
    object.length("root_radius", recess.root_radius, not_negative);
    if (const auto lands = object.find("lands")) {
        std::size_t n_lands = 0;
        for (const Cursor& land : lands->items(most_lands))
            recess.lands.push_back(read_land(land, ++n_lands));
    }
    if (const auto holds = object.find("holds")) recess.holds = read_holds(*holds);
    if (const auto cover = object.find("cover")) recess.cover = read_cover(*cover);
    return recess;
}

} // namespace hollowtop::cli
