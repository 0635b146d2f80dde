// SPDX-License-Identifier: MIT
#include "cli/report/drawing/svg.hpp"

#include "cli/words/format.hpp"
#include "materials/assert.hpp"

namespace hollowtop::cli {
namespace {

std::string attribute(std::string_view name, std::string_view value) {
    return " " + std::string(name) + "=\"" + escaped(value) + "\"";
}

std::string attribute(std::string_view name, double value) {
    return " " + std::string(name) + "=\"" + coordinate(value) + "\"";
}

std::string pair_of(Point p) { return coordinate(p.x) + " " + coordinate(p.y); }

std::string drawn(const Look& look) {
    std::string text = attribute("fill", look.fill);
    if (look.stroke != "none") {
        text += attribute("stroke", look.stroke) + attribute("stroke-width", look.width);
        if (!look.dash.empty()) text += attribute("stroke-dasharray", look.dash);
    }
    if (look.even_odd) text += attribute("fill-rule", "evenodd");
    if (look.opacity < 1) text += attribute("opacity", look.opacity);
    return text;
}

std::string points_attribute(const std::vector<Point>& points) {
    std::string text;
    for (const Point& p : points) {
        if (!text.empty()) text += ' ';
        text += coordinate(p.x) + ',' + coordinate(p.y);
    }
    return attribute("points", text);
}

} // namespace

std::string coordinate(double value) {
    std::string text = fixed(value, 3);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

// ---- paths
// ------------------------------------------------------------------------------------------------------

SvgPath& SvgPath::move(Point to) {
    d_ += "M" + pair_of(to);
    return *this;
}

SvgPath& SvgPath::line(Point to) {
    d_ += "L" + pair_of(to);
    return *this;
}

SvgPath& SvgPath::arc(Point to, double rx, double ry, bool clockwise, bool the_long_way) {
    d_ += "A" + coordinate(rx) + " " + coordinate(ry) + " 0 " + (the_long_way ? "1 " : "0 ") +
          (clockwise ? "1 " : "0 ") + pair_of(to);
    return *this;
}

SvgPath& SvgPath::close() {
    d_ += "Z";
    return *this;
}

SvgPath& SvgPath::polygon(const std::vector<Point>& points) {
    if (points.empty()) return *this;
    move(points.front());
    for (std::size_t i = 1; i < points.size(); ++i) line(points[i]);
    return close();
}

SvgPath& SvgPath::circle(Point centre, double radius) {
    move({centre.x - radius, centre.y});
    arc({centre.x + radius, centre.y}, radius, radius, true);
    arc({centre.x - radius, centre.y}, radius, radius, true);
    return close();
}

// ---- the drawing
// ------------------------------------------------------------------------------------------------

Svg::Svg(std::string id, double width, double height, std::string title, std::string description)
    : id_(std::move(id)), title_(std::move(title)), description_(std::move(description)), width_(width),
      height_(height) {}

void Svg::line(Point from, Point to, const Look& look) {
    body_ += "<line" + attribute("x1", from.x) + attribute("y1", from.y) + attribute("x2", to.x) +
             attribute("y2", to.y) + drawn(look) + "/>\n";
}

void Svg::polyline(const std::vector<Point>& points, const Look& look) {
    body_ += "<polyline" + points_attribute(points) + drawn(look) + "/>\n";
}

void Svg::polygon(const std::vector<Point>& points, const Look& look) {
    body_ += "<polygon" + points_attribute(points) + drawn(look) + "/>\n";
}

void Svg::rectangle(Point corner, double width, double height, const Look& look, double radius) {
    body_ += "<rect" + attribute("x", corner.x) + attribute("y", corner.y) + attribute("width", width) +
             attribute("height", height) + (radius > 0 ? attribute("rx", radius) : "") + drawn(look) + "/>\n";
}

void Svg::circle(Point centre, double radius, const Look& look) {
    body_ += "<circle" + attribute("cx", centre.x) + attribute("cy", centre.y) + attribute("r", radius) +
             drawn(look) + "/>\n";
}

void Svg::path(const SvgPath& path, const Look& look) {
    if (path.empty()) return;
    body_ += "<path" + attribute("d", path.d()) + drawn(look) + "/>\n";
}

void Svg::text(Point at, std::string_view words, const Lettering& lettering, const Attributes& attributes) {
    body_ += "<text" + attribute("x", at.x) + attribute("y", at.y) + attribute("font-size", lettering.size) +
             attribute("fill", lettering.fill);
    if (lettering.anchor != Anchor::start)
        body_ += attribute("text-anchor", lettering.anchor == Anchor::middle ? "middle" : "end");
    if (lettering.bold) body_ += attribute("font-weight", "600");
    if (lettering.turn_deg != 0)
        body_ += attribute("transform", "rotate(" + coordinate(lettering.turn_deg) + " " + pair_of(at) + ")");
    if (!lettering.halo.empty())
        body_ += attribute("stroke", lettering.halo) + attribute("stroke-width", lettering.size / 4) +
                 attribute("stroke-linejoin", "round") + attribute("style", "paint-order:stroke");
    for (const auto& [name, value] : attributes) body_ += attribute(name, value);
    body_ += ">" + escaped(words) + "</text>\n";
}

void Svg::open(const Attributes& attributes) {
    body_ += "<g";
    for (const auto& [name, value] : attributes) body_ += attribute(name, value);
    body_ += ">\n";
    ++n_open_;
}

void Svg::close() {
    HOLLOWTOP_ASSERT(n_open_ > 0);
    body_ += "</g>\n";
    --n_open_;
}

std::pair<std::string, std::string> Svg::clip(const SvgPath& shape) {
    const std::string name = id_ + "-clip-" + std::to_string(++n_definitions_);
    definitions_ +=
        "<clipPath" + attribute("id", name) + "><path" + attribute("d", shape.d()) + "/></clipPath>\n";
    return {"clip-path", "url(#" + name + ")"};
}

std::string Svg::hatch(double spacing, double turn_deg, const std::string& colour, double line_width,
                       const std::string& ground) {
    const std::string name = id_ + "-hatch-" + std::to_string(++n_definitions_);
    definitions_ += "<pattern" + attribute("id", name) + attribute("width", spacing) +
                    attribute("height", spacing) + attribute("patternUnits", "userSpaceOnUse") +
                    attribute("patternTransform", "rotate(" + coordinate(turn_deg) + ")") + ">";
    if (ground != "none")
        definitions_ += "<rect" + attribute("width", spacing) + attribute("height", spacing) +
                        attribute("fill", ground) + "/>";
    definitions_ += "<line" + attribute("x1", 0.0) + attribute("y1", spacing / 2) + attribute("x2", spacing) +
                    attribute("y2", spacing / 2) + attribute("stroke", colour) +
                    attribute("stroke-width", line_width) + "/></pattern>\n";
    return "url(#" + name + ")";
}

std::string Svg::rendered(const std::string& root_attributes) const {
    HOLLOWTOP_ASSERT(n_open_ == 0);
    std::string out =
        "<svg" + root_attributes +
        attribute("viewBox", "0 0 " + coordinate(width_) + " " + coordinate(height_)) +
        attribute("role", "img") + attribute("aria-labelledby", id_ + "-title " + id_ + "-description") +
        attribute("font-family", "system-ui, 'Segoe UI', 'Helvetica Neue', Arial, sans-serif") + ">\n";
    out += "<title" + attribute("id", id_ + "-title") + ">" + escaped(title_) + "</title>\n";
    out += "<desc" + attribute("id", id_ + "-description") + ">" + escaped(description_) + "</desc>\n";
    if (!definitions_.empty()) out += "<defs>\n" + definitions_ + "</defs>\n";
    return out + body_ + "</svg>\n";
}

std::string Svg::inner() const {
    HOLLOWTOP_ASSERT(n_open_ == 0);
    return (definitions_.empty() ? "" : "<defs>\n" + definitions_ + "</defs>\n") + body_;
}

std::string Svg::element() const {
    return rendered(attribute("id", id_) + attribute("width", width_) + attribute("height", height_));
}

std::string Svg::file(const std::string& natural_width, const std::string& natural_height) const {
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" +
           rendered(
               R"( xmlns="http://www.w3.org/2000/svg")" + attribute("id", id_) +
               (natural_width.empty() ? attribute("width", width_) : attribute("width", natural_width)) +
               (natural_height.empty() ? attribute("height", height_) : attribute("height", natural_height)));
}

// ---- words
// ------------------------------------------------------------------------------------------------------

double width_of_words(std::string_view words, double size) {
    // Digits are about 0.56 of the size wide in ordinary typefaces; capitals and wide scripts more.
    double width = 0;
    for (const char c : words) {
        const auto byte = static_cast<unsigned char>(c);
        if ((byte & 0xC0) == 0x80) continue;
        if (byte >= 0xE0)
            width += 1.0;
        else if (c == ' ' || c == '.' || c == ',' || c == 'i' || c == 'l' || c == '\'' || c == '|')
            width += 0.36;
        else if ((c >= 'A' && c <= 'Z') || c == 'm' || c == 'w' || c == '%' || c == '@')
            width += 0.95;
        else
            width += 0.64;
    }
    return width * size;
}

Box box_of_words(Point at, std::string_view words, const Lettering& lettering) {
    const double width = width_of_words(words, lettering.size) * (lettering.bold ? 1.1 : 1);
    const double left = lettering.anchor == Anchor::start    ? at.x
                        : lettering.anchor == Anchor::middle ? at.x - width / 2
                                                             : at.x - width;
    return {.x0 = left,
            .y0 = at.y - 1.02 * lettering.size,
            .x1 = left + width,
            .y1 = at.y + 0.36 * lettering.size};
}

} // namespace hollowtop::cli
