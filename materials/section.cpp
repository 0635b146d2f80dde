// SPDX-License-Identifier: MIT
#include "materials/section.hpp"

#include "materials/digits.hpp"
#include "materials/error.hpp"
#include "materials/names.hpp"
#include "materials/table.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>
#include <optional>

namespace hollowtop::materials {
namespace {

constexpr double shear_factor =
    5.0 / 6; // of a rectangle: Timoshenko (1955), energy of the parabolic shear stress

struct KindRow {
    const char* word;
    SectionKind kind;
    std::size_t n_sizes;
    const char* form;
};
constexpr KindRow kinds[] = {
    {"angle", SectionKind::angle, 3, "angle AxBxT"}, {"flat", SectionKind::flat, 2, "flat WxT"},
    {"bar", SectionKind::bar, 2, "bar BxH"},         {"channel", SectionKind::channel, 3, "channel HxBxT"},
    {"tee", SectionKind::tee, 3, "tee BxHxT"},       {"tube", SectionKind::tube, 3, "tube BxHxT"}};

[[noreturn]] void wrong(const std::string& what, const std::string& remedy) {
    throw Error(ErrorKind::input, Fault{"", what, remedy});
}

/// A rectangle of the cross-section, from its lower left corner.
struct Box {
    double y = 0, z = 0, b = 0, h = 0;
};

/// Area, centroid and second moments of boxes that do not overlap.
void add_up(Section& section, const std::vector<Box>& boxes) {
    section.area = section.y_c = section.z_c = section.I_yy = section.I_zz = section.I_yz = 0;
    for (const Box& box : boxes) {
        const double A = box.b * box.h;
        section.area += A;
        section.y_c += A * (box.y + box.b / 2);
        section.z_c += A * (box.z + box.h / 2);
    }
    section.y_c /= section.area;
    section.z_c /= section.area;
    for (const Box& box : boxes) {
        const double A = box.b * box.h, dy = box.y + box.b / 2 - section.y_c,
                     dz = box.z + box.h / 2 - section.z_c;
        section.I_yy += A * (box.h * box.h / 12 + dz * dz);
        section.I_zz += A * (box.b * box.b / 12 + dy * dy);
        section.I_yz += A * dy * dz;
    }
}

/// The rows of sections.csv of that kind and size; kinds there are called "equal angle", "square tube",
/// "channel", ...
std::optional<Cells> tabulated(std::string_view kind_word, double h, double b, double t) {
    const Table& all = table("sections");
    const double slack = 0.02; // mm: inch sizes come rounded
    for (const Table::Row& row : all.rows) {
        const Cells cells(all, row);
        if (cells.text("kind").find(kind_word) == std::string::npos) continue;
        if (std::abs(cells.required("h_mm") - h) < slack && std::abs(cells.required("b_mm") - b) < slack &&
            std::abs(cells.required("t_mm") - t) < slack)
            return cells;
    }
    return std::nullopt;
}

Message table_basis(const Cells& row, const Message& how) {
    return said("table value {}{}{}", row.text("id"), how, cited(row.text("source"), row.text("status")));
}

void set_angle(Section& s, double A, double B, double T) {
    s.height = A;
    s.width = B;
    s.thickness = s.grip = T;
    s.contact_y1 = B;
    s.screw_y = T + (B - T) / 2;
    add_up(s, {{0, -A, T, A - T}, {0, -T, B, T}});
    s.basis = "formula, sharp corners: the size is not in the table of sections";
    // The table's integral over the outline with its radii; the longer leg is h there.
    if (const auto row = tabulated("angle", std::max(A, B), std::min(A, B), T)) {
        const bool h_hangs = A >= B;
        const double mm2 = 100, mm = 10, mm4 = 1e4; // from cm
        s.area = mm2 * row->required("calc_A_cm2");
        s.z_c = -mm * row->required(h_hangs ? "calc_cy_cm" : "calc_cx_cm");
        s.y_c = mm * row->required(h_hangs ? "calc_cx_cm" : "calc_cy_cm");
        s.I_yy = mm4 * row->required(h_hangs ? "calc_Ix_cm4" : "calc_Iy_cm4");
        s.I_zz = mm4 * row->required(h_hangs ? "calc_Iy_cm4" : "calc_Ix_cm4");
        const double radius = mm4 * (row->required("calc_Iu_cm4") - row->required("calc_Iv_cm4")) / 2;
        s.I_yz = std::sqrt(std::max(0.0, radius * radius - (s.I_yy - s.I_zz) * (s.I_yy - s.I_zz) / 4));
        const double root = row->required("r1_mm");
        s.basis = table_basis(
            *row, root > 0 ? said(", from the outline with root radius {}", amount(root, Unit::mm))
                           : ", from the outline with sharp corners");
    }
    s.J = (A + B - T) * T * T * T / 3; // thin open section; the root fillet would add a tenth
    s.A_sz = shear_factor * A * T;
    s.A_sy = shear_factor * B * T;
    s.corners = {{0, 0}, {B, 0}, {B, -T}, {T, -A}, {0, -A}};
}

void set_rectangle(Section& s, double b, double h) {
    s.height = h;
    s.width = b;
    s.grip = h;
    s.contact_y1 = b;
    s.screw_y = b / 2;
    add_up(s, {{0, -h, b, h}});
    s.J = torsion_constant_of_rectangle(b, h);
    s.A_sy = s.A_sz = shear_factor * b * h;
    s.corners = {{0, 0}, {b, 0}, {b, -h}, {0, -h}};
    s.basis = "formula of the rectangle";
}

void set_channel(Section& s, double H, double B, double T) {
    s.height = H;
    s.width = B;
    s.thickness = s.grip = T;
    s.contact_y1 = B;
    s.screw_y = T + (B - T) / 2;
    add_up(s, {{0, -H, T, H}, {T, -T, B - T, T}, {T, -H, B - T, T}});
    s.J = (H + 2 * (B - T)) * T * T * T / 3;
    s.A_sz = shear_factor * H * T;
    s.A_sy = shear_factor * 2 * B * T;
    s.basis = "formula, even thickness and sharp corners: the size is not in the table of sections";
    if (const auto row = tabulated("channel", H, B, T)) {
        s.area = 100 * row->required("pub_A_cm2");
        s.y_c = 10 * row->required("pub_cx_cm");
        s.I_yy = 1e4 * row->required("pub_Ix_cm4");
        s.I_zz = 1e4 * row->required("pub_Iy_cm4");
        const double flange = row->required("r1_mm"); // that column holds the flange thickness of a channel
        s.grip = flange;
        s.J = (H * T * T * T + 2 * (B - T) * flange * flange * flange) / 3;
        s.A_sy = shear_factor * 2 * B * flange;
        s.basis = table_basis(*row, ", tapered flanges");
    }
    s.corners = {{0, 0}, {B, 0}, {B, -H}, {0, -H}};
}

void set_tee(Section& s, double B, double H, double T) {
    s.height = H;
    s.width = B;
    s.thickness = s.grip = T;
    s.contact_y1 = B;
    s.screw_y = B / 2 + T / 2 + (B - T) / 4; // the middle of one half of the flange
    add_up(s, {{0, -T, B, T}, {(B - T) / 2, -H, T, H - T}});
    s.J = (B + H - T) * T * T * T / 3;
    s.A_sz = shear_factor * H * T;
    s.A_sy = shear_factor * B * T;
    s.corners = {{0, 0}, {B, 0}, {0, -T}, {B, -T}, {(B - T) / 2, -H}, {(B + T) / 2, -H}};
    s.basis = "formula, sharp corners";
}

/// Takes a rectangle's four rounded corners away: a square of side r less a quarter circle in each.
void round_off(double b, double h, double r, double& area, double& I_yy, double& I_zz) {
    const double missing = r * r * (1 - std::numbers::pi / 4);
    // Centroid of the missing piece, from the outer corner; its second moment about its own centroid
    // (Timoshenko 1955, App.).
    const double inset = r * (10 - 3 * std::numbers::pi) / (12 - 3 * std::numbers::pi);
    const double own =
        r * r * r * r *
        (1.0 / 3 - std::numbers::pi / 16 - (1 - std::numbers::pi / 4) * std::pow(1 - inset / r, 2));
    area -= 4 * missing;
    I_yy -= 4 * (own + missing * (h / 2 - inset) * (h / 2 - inset));
    I_zz -= 4 * (own + missing * (b / 2 - inset) * (b / 2 - inset));
}

void set_tube(Section& s, double B, double H, double T) {
    s.height = H;
    s.width = B;
    s.thickness = s.grip = T;
    s.contact_y1 = B;
    s.screw_y = B / 2;
    double A_out = B * H, Iy_out = B * H * H * H / 12, Iz_out = H * B * B * B / 12;
    const double b = B - 2 * T, h = H - 2 * T;
    double A_in = b * h, Iy_in = b * h * h * h / 12, Iz_in = h * b * b * b / 12;
    const bool is_roomy = std::min(B, H) > 4 * T; // the outer corners of radius 2 T fit
    if (is_roomy) round_off(B, H, 2 * T, A_out, Iy_out, Iz_out);
    if (is_roomy) round_off(b, h, T, A_in, Iy_in, Iz_in);
    s.area = A_out - A_in;
    s.I_yy = Iy_out - Iy_in;
    s.I_zz = Iz_out - Iz_in;
    s.y_c = B / 2;
    s.z_c = -H / 2;
    const double middle_b = B - T, middle_h = H - T; // Bredt: 4 A^2 t / length of the middle line
    const double round_share = is_roomy ? 1.5 * T : 0;
    const double enclosed = middle_b * middle_h - (4 - std::numbers::pi) * round_share * round_share;
    const double middle_line = 2 * (middle_b + middle_h) - (8 - 2 * std::numbers::pi) * round_share;
    s.J = 4 * enclosed * enclosed * T / middle_line + middle_line * T * T * T / 3;
    s.A_sz = shear_factor * 2 * H * T;
    s.A_sy = shear_factor * 2 * B * T;
    s.corners = {{0, 0}, {B, 0}, {B, -H}, {0, -H}};
    s.basis = is_roomy ? "formula, corner radii 2 T outside and T inside (EN 10219-2, checked)"
                       : "formula, sharp corners";
    if (const auto row = tabulated("tube", std::max(B, H), std::min(B, H), T)) {
        s.area = 100 * row->required("calc_A_cm2");
        s.I_yy = 1e4 * row->required(H >= B ? "calc_Ix_cm4" : "calc_Iy_cm4");
        s.I_zz = 1e4 * row->required(H >= B ? "calc_Iy_cm4" : "calc_Ix_cm4");
        s.basis = table_basis(*row, ", from the outline with its corner radii");
    }
}

std::vector<double> sizes_in(std::string_view text, const std::string& whole, const KindRow& row) {
    std::vector<double> sizes;
    const auto malformed = [&] {
        wrong("\"" + whole + "\" is no section size", std::string("write it as \"") + row.form + "\"");
    };
    while (true) {
        while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
        double size = 0;
        const auto [stop, fault] = std::from_chars(text.data(), text.data() + text.size(), size);
        if (fault != std::errc{} || !std::isfinite(size)) malformed();
        if (!(size > 0)) wrong("a size in \"" + whole + "\" is not above zero", "");
        if (size < least_section_size || size > greatest_section_size)
            wrong("a size in \"" + whole + "\" is not between 0.01 and 10 000 mm", "");
        sizes.push_back(size);
        text.remove_prefix(static_cast<std::size_t>(stop - text.data()));
        while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
        if (text.empty()) break;
        if (text.front() == 'x' || text.front() == 'X' || text.front() == '*')
            text.remove_prefix(1);
        else if (text.starts_with("\u00d7"))
            text.remove_prefix(std::string_view("\u00d7").size());
        else
            malformed();
    }
    if (sizes.size() != row.n_sizes)
        wrong("\"" + whole + "\" has " + std::to_string(sizes.size()) +
                  " sizes, a section of this kind has " + std::to_string(row.n_sizes),
              std::string("write it as \"") + row.form + "\"");
    return sizes;
}

} // namespace

const char* to_word(SectionKind kind) {
    for (const KindRow& row : kinds)
        if (row.kind == kind) return row.word;
    throw Error(ErrorKind::not_computable, Fault{"", "no such kind of section", ""});
}

namespace {

/// Letters of the standards before the sizes, as they are stamped on bars: the kind, and whether two sizes mean
/// that both sides are alike.
struct Stamp {
    const char* letters;
    const char* word;
    bool may_be_even = false;
};
constexpr Stamp stamps[] = {{"l", "angle", true}, {"fl", "flat"},  {"u", "channel"},
                            {"t", "tee"},         {"rhs", "tube"}, {"shs", "tube", true}};

/// "L30x30x3", "L30x3", "SHS30x3", and the names that the table prints, as parse_section reads them; other texts
/// stay as they are. A flat or an oblong tube lies as its first size says, wide and low: who means it upright
/// writes so.
std::string spelt_out(std::string_view text) {
    const std::size_t end = std::min(text.find_first_of(" 0123456789"), text.size());
    const std::string letters = plain_words(text.substr(0, end));
    const auto stamp = std::find_if(std::begin(stamps), std::end(stamps),
                                    [&](const Stamp& one) { return letters == one.letters; });
    if (stamp == std::end(stamps)) return std::string(text);
    const auto same = [](char a, char b) {
        return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
    };
    for (const SectionRow& row : tabulated_sections()) {
        if (!std::equal(row.id.begin(), row.id.end(), text.begin(), text.end(), same)) continue;
        const bool may_stand =
            stamp->word == std::string_view("flat") || stamp->word == std::string_view("tube");
        const std::string known = may_stand ? std::string() : text_of_section(row);
        if (!known.empty()) return known;
        if (row.kind.find("angle") != std::string::npos) // in inches: the table holds mm
            return "angle " + digits(row.h, 6) + "x" + digits(row.b, 6) + "x" + digits(row.t, 6);
    }
    std::string sizes(text.substr(end));
    const auto crosses =
        std::count_if(sizes.begin(), sizes.end(), [](char c) { return c == 'x' || c == 'X'; });
    if (stamp->may_be_even && crosses == 1) sizes = sizes.substr(0, sizes.find_first_of("xX")) + "x" + sizes;
    return std::string(stamp->word) + " " + sizes;
}

} // namespace

Section parse_section(std::string_view text) {
    const std::string whole(text);
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    const std::string spelt = spelt_out(text);
    text = spelt;
    const std::size_t word_end = std::min(text.find_first_of(" 0123456789"), text.size());
    const std::string word = plain_words(text.substr(0, word_end));
    const auto row = std::find_if(std::begin(kinds), std::end(kinds),
                                  [&](const KindRow& kind) { return word == kind.word; });
    if (row == std::end(kinds)) {
        std::vector<std::string> known;
        for (const KindRow& kind : kinds) known.push_back(kind.word);
        const std::string near = did_you_mean(word, known);
        wrong("\"" + whole + "\" is no section",
              near.empty() ? "write it as \"angle AxBxT\", \"flat WxT\", \"bar BxH\", \"channel HxBxT\", "
                             "\"tee BxHxT\" or \"tube BxHxT\""
                           : near);
    }
    const std::vector<double> size = sizes_in(text.substr(word_end), whole, *row);
    Section section;
    section.kind = row->kind;
    section.text = whole;
    const auto must = [&](bool fits, const char* what) {
        if (!fits) wrong("\"" + whole + "\": " + what, "");
    };
    switch (row->kind) {
    case SectionKind::angle:
        must(size[2] < std::min(size[0], size[1]), "the legs must be wider than they are thick");
        set_angle(section, size[0], size[1], size[2]);
        break;
    case SectionKind::flat:
    case SectionKind::bar:
        set_rectangle(section, size[0], size[1]);
        break;
    case SectionKind::channel:
        must(2 * size[2] < size[0] && size[2] < size[1], "the thickness leaves no room between the flanges");
        set_channel(section, size[0], size[1], size[2]);
        break;
    case SectionKind::tee:
        must(size[2] < std::min(size[0], size[1]), "flange and web must be wider than they are thick");
        set_tee(section, size[0], size[1], size[2]);
        break;
    case SectionKind::tube:
        must(2 * size[2] < std::min(size[0], size[1]), "the wall leaves no room inside");
        set_tube(section, size[0], size[1], size[2]);
        break;
    }
    for (auto& corner : section.corners) {
        corner[0] -= section.y_c;
        corner[1] -= section.z_c;
    }
    return section;
}

double mass_per_metre_kg(const Section& section, double density_kg_m3) {
    return section.area * 1e-6 * density_kg_m3;
}

double torsion_constant_of_rectangle(double a, double b) {
    const double longer = std::max(a, b), shorter = std::min(a, b);
    double series = 0;
    for (int n = 1; n <= 15; n += 2) // the terms fall with n^5
        series += std::tanh(n * std::numbers::pi * longer / (2 * shorter)) / std::pow(n, 5);
    const double tail =
        31.0 / 32 *
        1.0369277551433699; // sum of 1/n^5 over odd n (zeta(5)); tanh is 1 to the last digit beyond
    double used = 0;
    for (int n = 1; n <= 15; n += 2) used += 1 / std::pow(n, 5);
    series += tail - used;
    return longer * shorter * shorter * shorter / 3 *
           (1 - 192 / std::pow(std::numbers::pi, 5) * shorter / longer * series);
}

double torsion_stiffness_of_rectangle(double b, double h, double G_b, double G_h) {
    // Stretching h by sqrt(G_b / G_h) turns the stress function's equation into that of a bar of the one
    // modulus G_h.
    const double stretch = std::sqrt(G_b / G_h);
    return G_h * torsion_constant_of_rectangle(b, h * stretch) / stretch;
}

const std::vector<SectionRow>& tabulated_sections() {
    static const std::vector<SectionRow> all = [] {
        std::vector<SectionRow> rows;
        const Table& sections = table("sections");
        for (const Table::Row& row : sections.rows) {
            const Cells cells(sections, row);
            rows.push_back({cells.text("id"), cells.text("kind"), cells.text("source"), cells.text("status"),
                            cells.text("note"), cells.required("h_mm"), cells.required("b_mm"),
                            cells.required("t_mm"), cells.required("pub_mass_kg_m"),
                            cells.required("pub_A_cm2"), cells.required("pub_Ix_cm4"),
                            cells.required("pub_Iy_cm4")});
        }
        return rows;
    }();
    return all;
}

std::string text_of_section(const SectionRow& row) {
    const auto is = [&](const char* word) { return row.kind.find(word) != std::string::npos; };
    if (is("inch")) return {};
    const auto mm = [](double v) { return digits(v, 6); };
    if (is("on edge")) return "bar " + mm(row.b) + "x" + mm(row.h);
    if (is("channel")) return "channel " + mm(row.h) + "x" + mm(row.b) + "x" + mm(row.t);
    if (is("tube")) return "tube " + mm(row.b) + "x" + mm(row.h) + "x" + mm(row.t);
    if (is("angle")) return "angle " + mm(row.h) + "x" + mm(row.b) + "x" + mm(row.t);
    return {};
}

} // namespace hollowtop::materials
