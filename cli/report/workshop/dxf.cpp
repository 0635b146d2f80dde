// SPDX-License-Identifier: MIT
#include "cli/report/workshop/dxf.hpp"

#include "cli/words/format.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

std::string group(int code, std::string_view value) {
    return std::to_string(code) + "\n" + std::string(value) + "\n";
}
std::string group(int code, double value) { return group(code, fixed(value, 6)); }
std::string group(int code, int value) { return group(code, std::to_string(value)); }
std::string place(Point at, int first = 10) {
    return group(first, at.x) + group(first + 10, at.y) + group(first + 20, 0.0);
}

} // namespace

void Dxf::reach(Point at) {
    least_ = any_ ? Point{std::min(least_.x, at.x), std::min(least_.y, at.y)} : at;
    most_ = any_ ? Point{std::max(most_.x, at.x), std::max(most_.y, at.y)} : at;
    any_ = true;
}

void Dxf::layer(std::string_view name, int colour) {
    layers_ += group(0, "LAYER") + group(2, name) + group(70, 0) + group(62, colour) + group(6, "CONTINUOUS");
    ++n_layers_;
}

void Dxf::line(std::string_view layer, Point from, Point to) {
    reach(from);
    reach(to);
    entities_ += group(0, "LINE") + group(8, layer) + place(from) + place(to, 11);
}

void Dxf::closed(std::string_view layer, const std::vector<DxfVertex>& vertices) {
    entities_ += group(0, "POLYLINE") + group(8, layer) + group(66, 1) + place({0, 0}) + group(70, 1);
    for (const DxfVertex& vertex : vertices) {
        reach(vertex.at);
        entities_ += group(0, "VERTEX") + group(8, layer) + place(vertex.at);
        if (vertex.bulge != 0) entities_ += group(42, fixed(vertex.bulge, 12));
    }
    entities_ += group(0, "SEQEND") + group(8, layer);
}

void Dxf::circle(std::string_view layer, Point centre, double radius) {
    reach({centre.x - radius, centre.y - radius});
    reach({centre.x + radius, centre.y + radius});
    entities_ += group(0, "CIRCLE") + group(8, layer) + place(centre) + group(40, radius);
}

void Dxf::text(std::string_view layer, Point at, double height, std::string_view words) {
    reach(at);
    std::string plain;
    for (const char c : words) {
        const auto byte = static_cast<unsigned char>(c);
        if ((byte & 0xC0) == 0x80) continue;
        plain += byte >= 0x20 && byte < 0x7F ? c : '?';
    }
    entities_ += group(0, "TEXT") + group(8, layer) + place(at) + group(40, height) + group(1, plain);
}

std::string Dxf::file() const {
    std::string out = group(0, "SECTION") + group(2, "HEADER") + group(9, "$ACADVER") + group(1, "AC1009") +
                      group(9, "$EXTMIN") + place(least_) + group(9, "$EXTMAX") + place(most_) +
                      group(0, "ENDSEC");
    out += group(0, "SECTION") + group(2, "TABLES");
    out += group(0, "TABLE") + group(2, "LTYPE") + group(70, 1) + group(0, "LTYPE") + group(2, "CONTINUOUS") +
           group(70, 0) + group(3, "Solid line") + group(72, 65) + group(73, 0) + group(40, 0.0) +
           group(0, "ENDTAB");
    out += group(0, "TABLE") + group(2, "LAYER") + group(70, n_layers_) + layers_ + group(0, "ENDTAB") +
           group(0, "ENDSEC");
    return out + group(0, "SECTION") + group(2, "ENTITIES") + entities_ + group(0, "ENDSEC") +
           group(0, "EOF");
}

} // namespace hollowtop::cli
