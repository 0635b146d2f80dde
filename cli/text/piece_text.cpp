// SPDX-License-Identifier: MIT
#include "cli/text/piece_text.hpp"

#include "cli/words/format.hpp"
#include "cli/words/words.hpp"
#include "materials/uses.hpp"
#include "materials/wood.hpp"
#include "solver/seasons/season_holds.hpp"

#include <nlohmann/json.hpp>

#include <cmath>
#include <variant>

namespace hollowtop::cli {
namespace {

std::string json_string(const std::string& text) {
    return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

class Writer {
  public:
    explicit Writer(Units units) : units_(units) {}
    /// A number in the units of the file, no digit more than it has.
    std::string size(double mm) const {
        constexpr int digits = 7;
        const double own = units_ == Units::mm ? mm : Length::from_mm(mm).inches();
        return significant(std::round(own * 1e5) / 1e5, digits);
    }
    std::string point(Point at) const { return "[" + size(at.x) + ", " + size(at.y) + "]"; }
    std::string range(double from, double to) const { return "[" + size(from) + ", " + size(to) + "]"; }
    /// Screws and sections come in millimetres everywhere here.
    std::string metric(double mm) const {
        return units_ == Units::mm ? significant(mm, 4) : "\"" + significant(mm, 4) + " mm\"";
    }

  private:
    Units units_;
};

std::string support_line(const Support& support, const Writer& w) {
    std::string line = "{\"kind\": ";
    if (const Pad* pad = std::get_if<Pad>(&support.kind))
        line += "\"pad\", \"name\": " + json_string(support.name) + ", \"at\": " + w.point(pad->at) +
                ", \"size\": [" + w.size(pad->size_x) + ", " + w.size(pad->size_y) + "]";
    if (const Bearer* bearer = std::get_if<Bearer>(&support.kind))
        line += "\"bearer\", \"name\": " + json_string(support.name) +
                ", \"from\": " + w.point(bearer->from) + ", \"to\": " + w.point(bearer->to) +
                ", \"width\": " + w.size(bearer->width);
    return line + ", \"hold_down\": true}";
}

std::string points_text(const std::vector<Point>& points, const Writer& w) {
    std::string text;
    for (const Point& point : points) text += (text.empty() ? "[" : ", ") + w.point(point);
    return text + "]";
}

std::string place_of(const RectangleShape& shape, const Writer& w) {
    return "\"x\": " + w.range(shape.box.x0, shape.box.x1) +
           ", \"y\": " + w.range(shape.box.y0, shape.box.y1) +
           ", \"corner_radius\": " + w.size(shape.corner_radius);
}
std::string place_of(const PolygonShape& shape, const Writer& w) {
    return "\"polygon\": " + points_text(shape.points, w) +
           ",\n     \"corner_radius\": " + w.size(shape.corner_radius);
}
std::string place_of(const RimShape& shape, const Writer& w) { return "\"rim\": " + w.size(shape.rim); }

std::string recess_line(const Recess& recess, const Writer& w) {
    return "{\"name\": " + json_string(recess.name) + ", " +
           std::visit([&](const auto& shape) { return place_of(shape, w); }, recess.shape) +
           ", \"depth\": " + w.size(recess.depth) + ", \"root_radius\": " + w.size(recess.root_radius) + "}";
}

/// Of the top; nothing of a rectangle.
std::string outline_text(const Wish& wish, const Top& top, const Writer& w) {
    if (std::holds_alternative<EllipseShape>(top.outline))
        return ",\n    \"outline\": {\"shape\": \"ellipse\"}";
    const auto* polygon = std::get_if<PolygonShape>(&top.outline);
    if (polygon == nullptr) return {};
    return std::string(",\n    ") +
           (wish.plan == Plan::slab ? "// Its edges are invented: lay a straightedge along your slab, "
                                      "measure, and put your own corners here."
                                    : "// Along the edge, either way round.") +
           "\n    \"outline\": {\"shape\": \"polygon\", \"points\": " + points_text(polygon->points, w) + "}";
}

std::string bar_line(const Piece& piece, const Stiffener& bar, const Writer& w) {
    const bool slotted = bar.screws.holes == Holes::slotted;
    return "{\"name\": " + json_string(bar.name) + ", \"section\": " + json_string(bar.section) +
           ", \"metal\": " + json_string(bar.metal) + ", \"from\": " + w.point(bar.from) +
           ", \"to\": " + w.point(bar.to) +
           ",\n     \"screws\": {\"diameter\": " + w.metric(bar.screws.diameter) +
           ", \"length\": " + w.metric(bar.screws.length) + ", \"spacing\": " + w.metric(bar.screws.spacing) +
           ", \"holes\": \"" + to_word(bar.screws.holes) + "\"" +
           (slotted ? ", \"slot_length\": " + w.metric(slot_length_for(piece, bar)) : "") + "}}";
}

template <class Parts, class Line>
void put_list(std::string& text, const char* key, const char* comment, const Parts& parts, Line line) {
    if (parts.empty()) return;
    text += std::string("  // ") + comment + "\n  \"" + key + "\": [\n";
    for (std::size_t i = 0; i < parts.size(); ++i)
        text += "    " + line(parts[i]) + (i + 1 < parts.size() ? ",\n" : "\n");
    text += "  ],\n";
}

} // namespace

const char* to_word(Base base) {
    switch (base) {
    case Base::legs:
        return "legs";
    case Base::trestles:
        return "trestle";
    case Base::pedestal:
        return "pedestal";
    case Base::brackets:
        return "wall";
    case Base::cabinet:
        return "cabinet";
    }
    return "";
}

const char* in_a_title(Base base) {
    switch (base) {
    case Base::legs:
        return "four legs";
    case Base::trestles:
        return "two trestles";
    case Base::pedestal:
        return "a pedestal";
    case Base::brackets:
        return "wall brackets";
    case Base::cabinet:
        return "a cabinet";
    }
    return "";
}

std::string in_a_title(const Wish& wish) {
    switch (wish.plan) {
    case Plan::rectangle:
        return "";
    case Plan::oval:
        return wish.length == wish.width ? "round, " : "oval, ";
    case Plan::slab:
        return "a slab, ";
    case Plan::corner:
        return "a corner, ";
    }
    return "";
}

std::string piece_text(const Wish& wish, const Start& start, const std::string& title) {
    const Writer w(wish.units);
    const Piece& piece = start.piece;
    const std::string unit = wish.units == Units::mm ? "mm" : "in";
    std::string text =
        "// Made by hollowtop new: a start. Every number is yours to change; lengths without a unit are " +
        std::string(wish.units == Units::mm ? "millimetres" : "inches") + ",\n" +
        "// x runs along the length, y along the width, from the front left corner seen from above.\n" +
        "// A calculation, not a test; where a code applies, it and a licensed engineer decide.\n{\n" +
        "  \"hollowtop\": 1,\n  \"title\": " + json_string(title) + ",\n  \"units\": \"" + unit + "\",\n" +
        "  // \"rings\": flatsawn, riftsawn or quartersawn; \"moisture\": percent, as your meter shows "
        "it.\n" +
        "  // A board of your own that was bent or weighed: see hollowtop boardtest, \"measured\".\n" +
        "  \"top\": {\n    \"length\": " + w.size(wish.length) + ", \"width\": " + w.size(wish.width) +
        ", \"thickness\": " + w.size(wish.thickness) +
        ",\n    \"wood\": " + json_string(materials::find_wood(wish.wood).common_name) +
        ", \"grain\": " + significant(wish.grain_deg, 6) +
        ", \"rings\": \"flatsawn\", \"moisture\": " + significant(wish.moisture_percent, 4) +
        outline_text(wish, piece.top, w) + "\n  },\n";
    put_list(
        text, "recesses",
        start.iron > 0
            ? "Cut from below. The rim stands on the base; the bars are screwed to the floor of the recess."
            : "Cut from below. What the base bears on keeps its full thickness.",
        piece.recesses, [&](const Recess& recess) { return recess_line(recess, w); });
    put_list(text, "stiffeners",
             "Slots let the wood move across the grain; a screw in the middle of the bar stays fixed.",
             piece.stiffeners, [&](const Stiffener& bar) { return bar_line(piece, bar, w); });
    put_list(text, "supports",
             wish.base == Base::brackets ? "Put them where your wall holds; whether it does is not looked "
                                           "at. Hold the top down with screws in slots."
                                         : "Put them where your base is. \"hold_down\": buttons, clips or "
                                           "screws in slots hold the top to it.",
             piece.supports, [&](const Support& support) { return support_line(support, w); });
    text += "  // Brings its loads and limits: hollowtop uses " + wish.use +
            ". Your own go into \"loads\" and \"limits\".\n  \"use\": " + json_string(wish.use) + "\n}\n";
    return text;
}

} // namespace hollowtop::cli
