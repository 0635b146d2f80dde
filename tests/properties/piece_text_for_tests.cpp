// SPDX-License-Identifier: MIT
#include "tests/properties/piece_text_for_tests.hpp"

#include "tests/properties/dice.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <vector>

namespace hollowtop {
namespace {

// exact by definition: the international inch, the pound-force (NIST SP 811)
constexpr double inch = 25.4, pound_force = 4.4482216152605,
                 psf_of_kPa = 1000 * 0.3048 * 0.3048 / pound_force;

std::string plain(double v) {
    char text[40];
    std::snprintf(text, sizeof text, "%.17g", v);
    return text;
}

/// Writes lengths, forces and pressures in the units of the file.
class Writer {
  public:
    Writer(std::uint32_t seed, Units units, bool crowded) : dice_(seed), units_(units), crowded_(crowded) {}
    std::string piece();

  private:
    std::string length(double mm) const { return plain(units_ == Units::inch ? mm / inch : mm); }
    std::string force(double N) const { return plain(units_ == Units::inch ? N / pound_force : N); }
    std::string pressure(double kPa) const { return plain(units_ == Units::inch ? kPa * psf_of_kPa : kPa); }
    std::string pair(double x, double y) const { return "[" + length(x) + ", " + length(y) + "]"; }
    std::string box(double x0, double x1, double y0, double y1) const {
        return "\"x\": " + pair(x0, x1) + ", \"y\": " + pair(y0, y1);
    }
    std::string points(const std::vector<Point>& corners) const {
        std::string text;
        for (const Point& p : corners) text += (text.empty() ? "[" : ", ") + pair(p.x, p.y);
        return text + "]";
    }
    double between(double low, double high) { return dice_.between(low, high); }
    bool once_in(int n) { return dice_.once_in(n); }
    template <std::size_t n> const char* one_of(const std::array<const char*, n>& words) {
        return words[static_cast<std::size_t>(dice_.up_to(static_cast<int>(n)))];
    }

    std::string top();
    std::string recess_rest(double x0, double x1, double y0, double y1);
    std::vector<std::string> recesses();
    std::string bar_material();
    std::vector<std::string> stiffeners();
    std::string hold_down();
    std::vector<std::string> supports();
    std::vector<std::string> loads();

    Dice dice_;
    Units units_;
    bool crowded_;
    double length_ = 0, width_ = 0, thickness_ = 0;
    double inset_x_ = 0, inset_y_ = 0; ///< inside which everything lies within the outline
    struct Well {
        double x0, x1, y0, y1, skin;
    };
    std::vector<Well> wells_;
};

std::string joined(const std::vector<std::string>& items) {
    std::string text;
    for (const std::string& item : items) text += (text.empty() ? "" : ",\n  ") + item;
    return "[" + text + "]";
}

std::string Writer::top() {
    length_ = std::round(between(500, 2400));
    width_ = std::round(between(300, std::min(1100.0, length_)));
    thickness_ = once_in(8) ? between(6, 12) : between(16, 60);
    std::string text = "\"length\": " + length(length_) + ", \"width\": " + length(width_) +
                       ", \"thickness\": " + length(thickness_);
    if (once_in(8))
        text +=
            R"(, "elastic": {"E1": 11000, "E2": 800, "nu12": 0.37, "G12": 750, "G13": 700, "G23": 90, "density": 650})";
    else
        text += std::string(", \"wood\": \"") +
                one_of<6>({"oak_white", "cherry_black", "ash_white", "walnut_black", "beech_european",
                           "pine_eastern_white"}) +
                "\", \"moisture\": " + plain(between(6, 14)) +
                ", \"rings\": " + one_of<4>({"\"flatsawn\"", "\"quartersawn\"", "\"rift\"", "30"});
    text += ", \"grain\": " + (once_in(2) ? std::string("0") : once_in(2) ? "90" : plain(between(-60, 60)));
    inset_x_ = inset_y_ = 0;
    switch (dice_.up_to(6)) {
    case 0:
        text += R"(, "outline": {"shape": "ellipse"})";
        inset_x_ = 0.15 * length_; // the box within an ellipse: (1 - sqrt(1/2)) / 2 of each side
        inset_y_ = 0.15 * width_;
        break;
    case 1: {
        const double radius = between(0.5, 0.2 * width_);
        text += ", \"outline\": {\"shape\": \"rectangle\", \"corner_radius\": " + length(radius) + "}";
        inset_x_ = inset_y_ = 0.3 * radius;
        break;
    }
    case 2: {
        const double cut_x = between(0.01, 0.12) * length_, cut_y = between(0.01, 0.12) * width_;
        text += ", \"outline\": {\"shape\": \"polygon\", \"points\": " +
                points({{cut_x, 0},
                        {length_, between(0, 0.9) * cut_y},
                        {length_ - between(0, 0.9) * cut_x, width_},
                        {between(0, 0.9) * cut_x, width_},
                        {0, 0.4 * width_}}) +
                (once_in(2) ? ", \"corner_radius\": " + length(between(0.2, 20)) : "") + "}";
        inset_x_ = cut_x;
        inset_y_ = cut_y;
        break;
    }
    default:
        break;
    }
    if (once_in(3)) text += ", \"boards\": " + std::to_string(1 + dice_.up_to(9));
    return "{" + text + "}";
}

/// Depth, radii, lands, what it holds, its cover.
std::string Writer::recess_rest(double x0, double x1, double y0, double y1) {
    const double size_x = x1 - x0, size_y = y1 - y0, least = std::min(size_x, size_y);
    const double skin = once_in(6) ? between(0.5, 4) : between(0.3, 0.8) * thickness_;
    wells_.push_back({x0, x1, y0, y1, skin});
    std::string text =
        once_in(2) ? ", \"skin\": " + length(skin) : ", \"depth\": " + length(thickness_ - skin);
    if (once_in(2)) text += ", \"corner_radius\": " + length(between(0.1, 0.3) * std::min(least, 60.0));
    if (once_in(3)) text += ", \"root_radius\": " + length(between(0.5, 4));
    std::vector<std::string> lands;
    if (least > 60 && once_in(3)) {
        const double at_x = x0 + between(0.3, 0.5) * size_x, at_y = y0 + between(0.3, 0.5) * size_y;
        const double sliver = once_in(2) ? between(0.1, 1) : between(10, 0.2 * least);
        if (once_in(2))
            lands.push_back("{" + box(at_x, at_x + sliver, at_y, at_y + 0.3 * size_y) + "}");
        else
            lands.push_back(
                "{\"polygon\": " +
                points({{at_x, at_y}, {at_x + 0.3 * size_x, at_y}, {at_x + 0.1 * size_x, at_y + sliver}}) +
                "}");
    }
    if (!lands.empty()) text += ", \"lands\": " + joined(lands);
    if (lands.empty() && least > 150 && once_in(5))
        text += ", \"holds\": [{\"size\": [" + length(0.5 * size_x) + ", " + length(0.5 * size_y) + ", " +
                length(0.5 * (thickness_ - skin)) + "], \"weight\": " + force(between(5, 60)) +
                ", \"hangs\": \"" + one_of<3>({"skin", "runners", "base"}) + "\"}]";
    if (lands.empty() && thickness_ - skin > 12 && least > 100 && once_in(6))
        text += ", \"cover\": {\"sheet\": \"birch_ply_6p5\", \"thickness\": " + length(6.5) + "}";
    return text;
}

std::vector<std::string> Writer::recesses() {
    std::vector<std::string> list;
    const double rim_x = inset_x_ + between(0.08, 0.15) * length_,
                 rim_y = inset_y_ + between(0.1, 0.2) * width_, room_x = length_ - 2 * rim_x,
                 room_y = width_ - 2 * rim_y;
    if (once_in(6)) return list;
    if (!crowded_ && once_in(7)) {
        const double rim = std::max(rim_x, rim_y);
        if (2 * rim < 0.8 * std::min(length_, width_)) {
            list.push_back("{\"rim\": " + length(rim) +
                           recess_rest(rim_x, length_ - rim_x, rim_y, width_ - rim_y) + "}");
            return list;
        }
    }
    const int columns = crowded_ ? 1 + dice_.up_to(20) : 1 + dice_.up_to(3),
              rows = crowded_ ? 1 + dice_.up_to(10) : 1 + dice_.up_to(2);
    const double rib = once_in(3) ? 0.1 : between(8, 60);
    const double one_x = (room_x - rib * (columns - 1)) / columns, one_y = (room_y - rib * (rows - 1)) / rows;
    if (one_x < 5 || one_y < 5) return list;
    for (int i = 0; i < columns; ++i)
        for (int j = 0; j < rows; ++j) {
            const double x0 = rim_x + i * (one_x + rib), y0 = rim_y + j * (one_y + rib), x1 = x0 + one_x,
                         y1 = y0 + one_y;
            if (once_in(5))
                list.push_back(
                    "{\"polygon\": " +
                    points({{x0 + between(0, 0.3) * one_x, y0},
                            {x1, y0 + between(0, 0.3) * one_y},
                            {x1 - between(0.01, 0.3) * one_x, y1},
                            {x0, y1 - between(0.01, 0.3) * one_y}}) +
                    recess_rest(x0 + 0.3 * one_x, x1 - 0.3 * one_x, y0 + 0.3 * one_y, y1 - 0.3 * one_y) +
                    "}");
            else if (once_in(12) && one_x > 20) // a groove
                list.push_back("{" + box(x0, x0 + 0.2, y0, y1) + ", \"depth\": " + length(0.3 * thickness_) +
                               "}");
            else
                list.push_back("{" + box(x0, x1, y0, y1) + recess_rest(x0, x1, y0, y1) + "}");
        }
    return list;
}

std::string Writer::bar_material() {
    switch (dice_.up_to(3)) {
    case 0:
        return R"("metal": "S235")";
    case 1:
        return R"("wood": "oak_white")";
    default:
        return R"("elastic": {"E": 70000, "G": 26000, "density": 2700})";
    }
}

std::vector<std::string> Writer::stiffeners() {
    std::vector<std::string> list;
    if (once_in(2)) return list;
    const int n = crowded_ ? 1 + dice_.up_to(30) : 1 + dice_.up_to(3);
    for (int i = 0; i < n; ++i) {
        double x0 = inset_x_ + 0.1 * length_, x1 = length_ - x0,
               y = inset_y_ + 0.05 * width_ + (width_ - 2 * inset_y_ - 0.1 * width_) * (i + 0.5) / n;
        double wood = thickness_;
        if (!wells_.empty()) { // elsewhere it would cross a wall
            const Well& well = wells_[static_cast<std::size_t>(dice_.up_to(static_cast<int>(wells_.size())))];
            x0 = well.x0 + 0.1 * (well.x1 - well.x0);
            x1 = well.x1 - 0.1 * (well.x1 - well.x0);
            y = well.y0 + (well.y1 - well.y0) * (i + 0.5) / n;
            wood = well.skin;
        }
        const char* section = one_of<8>({"angle 30x30x3", "flat 40x5", "bar 20x30", "channel 40x20x3",
                                         "tee 30x30x4", "tube 30x20x2", "flat 8x1", "bar 6x12"});
        std::string text = std::string("{\"section\": \"") + section + "\", " + bar_material() +
                           ", \"from\": " + pair(x0, y) + ", \"to\": " + pair(x1, once_in(4) ? y + 3 : y);
        if (once_in(5)) {
            text += R"(, "screws": {"holes": "bonded"})";
        } else {
            text += ", \"screws\": {\"diameter\": " + length(between(3, 5)) +
                    ", \"length\": " + length(std::max(6.0, wood * between(0.5, 1.0)));
            if (once_in(3))
                text += ", \"at\": [" + length(0.1 * (x1 - x0)) + ", " + length(0.9 * (x1 - x0)) + "]";
            else
                text += ", \"spacing\": " + length(between(40, 300));
            text += std::string(", \"holes\": \"") + one_of<3>({"round", "oversize", "slotted"}) + "\"";
            if (once_in(5)) text += ", \"stiffness\": " + plain(between(200, 3000));
            text += "}";
        }
        list.push_back(text + "}");
    }
    return list;
}

std::string Writer::hold_down() {
    switch (dice_.up_to(4)) {
    case 0:
        return "";
    case 1:
        return R"(, "hold_down": true)";
    case 2:
        return ", \"hold_down\": \"" + plain(std::round(between(100, 900))) + " N\"";
    default:
        return ", \"hold_down\": {\"screws\": 2, \"diameter\": " + length(4) +
               ", \"length\": " + length(0.4 * thickness_) + "}";
    }
}

std::vector<std::string> Writer::supports() {
    std::vector<std::string> list;
    constexpr double half_a_pad = 36;
    const double x0 = inset_x_ + std::max(0.06 * length_, half_a_pad),
                 y0 = inset_y_ + std::max(0.06 * width_, half_a_pad), x1 = length_ - x0, y1 = width_ - y0;
    const std::string stiff = once_in(4) ? ", \"stiffness\": " + plain(between(1, 200)) : "";
    const auto pad = [&](double x, double y, double size) {
        list.push_back("{\"kind\": \"pad\", \"at\": " + pair(x, y) + ", \"size\": " + pair(size, size) +
                       stiff + hold_down() + (once_in(5) ? ", \"packed\": true" : "") + "}");
    };
    const auto line = [&](const std::string& kind, double from_x, double from_y, double to_x, double to_y,
                          const std::string& rest) {
        list.push_back("{\"kind\": \"" + kind + "\", \"from\": " + pair(from_x, from_y) +
                       ", \"to\": " + pair(to_x, to_y) + rest + "}");
    };
    switch (crowded_ ? 6 : dice_.up_to(6)) {
    case 0:
        for (const double x : {x0, x1})
            for (const double y : {y0, y1}) pad(x, y, between(0.5, 60));
        break;
    case 1:
        for (const double x : {x0, x1})
            line("bearer", x, y0, once_in(3) ? x + 5 : x, y1,
                 ", \"width\": " + length(once_in(3) ? 0 : between(5, 60)) + hold_down());
        break;
    case 2:
        for (const double x : {x0, x1})
            for (const double y : {y0, y1}) pad(x, y, between(30, 60));
        for (const double y : {y0, y1})
            line("rail", x0, y, x1, y, R"(, "section": "bar 22x90", )" + bar_material());
        break;
    case 3:
        line("held", x0, y0, x0, y1,
             std::string(R"(, "holds": ["down")") + (once_in(2) ? R"(, "tilt")" : "") +
                 (once_in(2) ? R"(, "twist")" : "") + (once_in(2) ? R"(, "along")" : "") +
                 R"(], "level": ")" + one_of<3>({"top", "middle", "bottom"}) + "\"");
        line("held", x1, y0, x1 - (once_in(2) ? 10 : 0), y1, R"(, "holds": ["down", "across"])");
        break;
    case 4:
        line("built_in", x0, y0, x0, y1, "");
        if (once_in(2)) pad(x1, 0.5 * width_, 40);
        break;
    case 5:
        for (const double x : {x0, 0.5 * length_, x1})
            for (const double y : {y0, y1}) pad(x, y, between(20, 70));
        break;
    default: {
        const int columns = 2 + dice_.up_to(20), rows = 2 + dice_.up_to(10);
        for (int i = 0; i < columns; ++i)
            for (int j = 0; j < rows; ++j)
                pad(x0 + (x1 - x0) * i / (columns - 1), y0 + (y1 - y0) * j / (rows - 1), between(5, 20));
    }
    }
    return list;
}

std::vector<std::string> Writer::loads() {
    std::vector<std::string> list;
    const double x0 = inset_x_ + 0.1 * length_, y0 = inset_y_ + 0.1 * width_, x1 = length_ - x0,
                 y1 = width_ - y0;
    const int n = crowded_ ? 1 + dice_.up_to(60) : 1 + dice_.up_to(4);
    for (int i = 0; i < n; ++i) {
        // what is not for every day passes
        const bool passes = once_in(5);
        const std::string rest =
            std::string(", \"duration\": \"") +
            (passes
                 ? one_of<3>({"short", "minutes", "instantaneous"})
                 : one_of<7>({"permanent", "long", "medium", "short", "hour", "minutes", "instantaneous"})) +
            "\"" +
            (passes ? std::string(", \"for\": \"") + one_of<2>({"strength", "stability"}) + "\"" : "") + "}";
        const double x = between(x0, x1), y = between(y0, y1);
        const bool travels = !crowded_ && once_in(6);
        switch (dice_.up_to(4)) {
        case 0:
            list.push_back("{\"kind\": \"area\", \"pressure\": " + pressure(between(0.05, 2)) +
                           (once_in(2) ? ", \"over\": {" + box(x0, x, y0, y) + "}" : "") + rest);
            break;
        case 1:
            list.push_back("{\"kind\": \"patch\", \"force\": " + force(between(once_in(6) ? -100 : 20, 900)) +
                           ", \"at\": " + (travels ? "\"worst\"" : pair(x, y)) + ", \"size\": " +
                           pair(once_in(4) ? 0.1 : between(20, 200), between(20, 200)) + rest);
            break;
        case 2:
            list.push_back("{\"kind\": \"line\", \"force\": " + force(between(20, 500)) +
                           ", \"from\": " + pair(x, y) +
                           ", \"to\": " + pair(0.5 * (x + length_ / 2), 0.5 * (y + width_ / 2) + 0.5) + rest);
            break;
        default:
            list.push_back("{\"kind\": \"clamp\", \"force\": " + force(between(20, 150)) + ", \"at\": " +
                           pair(x, inset_y_ + 30) + ", \"towards\": " + pair(x, inset_y_ + 200) +
                           ", \"arm\": " + length(between(100, 600)) + ", \"above\": " + pair(50, 50) +
                           ", \"below\": " + pair(50, 50) + rest);
        }
    }
    return list;
}

std::string Writer::piece() {
    std::string text = "{\"hollowtop\": 1, \"title\": \"random (invented)\", \"units\": \"" +
                       std::string(units_ == Units::inch ? "in" : "mm") + "\",\n \"top\": " + top();
    text += ",\n \"recesses\": " + joined(recesses());
    text += ",\n \"stiffeners\": " + joined(stiffeners());
    text += ",\n \"supports\": " + joined(supports());
    text += ",\n \"loads\": " + joined(loads());
    if (once_in(5))
        text +=
            std::string(",\n \"use\": \"") + one_of<4>({"dining", "desk", "hall_table", "workbench"}) + "\"";
    if (once_in(5)) text += ", \"self_weight\": false";
    if (once_in(3))
        text += ",\n \"limits\": {\"sag\": \"span/300\", \"sag_years\": " + length(3) +
                ", \"dish\": " + length(0.5) + ", \"flatness\": " + length(0.6) + ", \"frequency\": 8}";
    if (once_in(4))
        text +=
            R"(, "climate": {"low": {"temperature": "18 C", "humidity": 30}, "high": {"temperature": "24 C", "humidity": 65}, "years": 20})";
    if (once_in(3))
        text += ", \"probe\": [" + pair(0.5 * length_, 0.5 * width_) + ", " +
                pair(0.3 * length_, 0.4 * width_) + "]";
    return text + "}\n";
}

} // namespace

std::string random_piece_text(std::uint32_t seed, Units units, Crowd crowd) {
    return Writer(seed, units, crowd == Crowd::many).piece();
}

} // namespace hollowtop
