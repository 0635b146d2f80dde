// SPDX-License-Identifier: MIT
// How sure the numbers are, what they rest on, and the papers at the end.
#include "cli/files/sha256.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/cautions.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "materials/table.hpp"
#include "solver/piece/version.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace hollowtop::cli {
namespace {

/// Cases of this family compare with pieces solved as solids.
constexpr std::string_view solid_elasticity = "E";

Markup blank() { return element("span", words("\u00a0"), {{"class", "write"}}); }

} // namespace

namespace {

/// How far the model lies from solid elasticity, in the cases that were computed while this report was made.
struct ModelShare {
    double movement_percent = 0, stress_percent = 0;
    std::size_t n_movements = 0, n_stresses = 0;
    std::vector<std::string> titles;
};
/// A movement stands against the greatest of its case, a stress against the greatest of its direction; empty
/// for other values.
std::string group_of(const validation::Comparison& c) {
    if (c.what.ends_with("w_mm") || c.what.ends_with("sag_mm")) return c.id + " movement";
    return c.what.find("/stress_") == std::string::npos ? std::string() : c.id + " stress " + c.what.back();
}

std::map<std::string, double> greatest_of_each(const std::vector<validation::Comparison>& all) {
    std::map<std::string, double> greatest;
    for (const validation::Comparison& c : all)
        greatest[group_of(c)] = std::max(greatest[group_of(c)], std::abs(c.published));
    return greatest;
}

ModelShare model_share(const ReportInput& in) {
    ModelShare share;
    std::map<std::string, double> greatest = greatest_of_each(in.validation);
    for (const validation::Comparison& c : in.validation) {
        const std::string of = group_of(c);
        if (!c.id.starts_with(solid_elasticity) || !c.computed || of.empty() || !(greatest[of] > 0)) continue;
        const bool is_stress = of.find("stress") != std::string::npos;
        double& furthest = is_stress ? share.stress_percent : share.movement_percent;
        furthest = std::max(furthest, 100 * std::abs(*c.computed - c.published) / greatest[of]);
        ++(is_stress ? share.n_stresses : share.n_movements);
        if (share.titles.empty() || share.titles.back() != c.title) share.titles.push_back(c.title);
    }
    return share;
}

Markup model_words(const Sheet& sheet) {
    const ModelShare share = model_share(sheet.in);
    if (share.n_movements == 0 || share.n_stresses == 0) return words("not known");
    return words("movements within " + error_text(share.movement_percent) + ", stresses within " +
                 error_text(share.stress_percent));
}

Markup model_basis(const Sheet& sheet) {
    const ModelShare share = model_share(sheet.in);
    std::string titles;
    for (const std::string& title : share.titles) titles += (titles.empty() ? "" : "; ") + title;
    const bool one = share.titles.size() == 1;
    return words("the furthest of " + std::to_string(share.n_movements) + " movements and " +
                 std::to_string(share.n_stresses) +
                 " face stresses, as a share of the greatest in their piece and direction, of " +
                 (one ? "a piece solved as a solid (" : "pieces solved as solids (") + titles +
                 "), computed again while this report was made; yours differs from " + (one ? "it" : "them") +
                 ". Not in it: stress in the corner at the wall, knots, joints, faults");
}

/// How many of a hundred tops have a mean stiffness within that share of the mean: normal, boards alike and
/// apart.
int within(double share, double variation_percent, int boards) {
    const double deviations =
        100 * share / (variation_percent / std::sqrt(static_cast<double>(std::max(1, boards))));
    return static_cast<int>(std::floor(100 * std::erf(deviations / std::sqrt(2.0))));
}

Markup stiffness_basis(const Sheet& sheet, double variation) {
    const Top& top = sheet.in.piece.top;
    if (top.measured.E_along)
        return words("between pieces of a species; yours was measured, which narrows it to the error of that "
                     "measurement: Wood Handbook FPL-GTR-190 Table 5-6");
    if (!top.sheet.empty())
        return words("a standard's modulus is the lower limit that a batch must pass, so sag is told high; "
                     "one from a design table is a mean; how sheets scatter is not "
                     "known here");
    const int boards = std::max(top.boards, static_cast<int>(top.each_board.size()));
    const std::string of = boards > 1
                               ? "of " + std::to_string(boards) + " boards glued up, that average it out,"
                               : "of single boards";
    return words("coefficient of variation of the modulus of elasticity of clear wood, Wood Handbook "
                 "FPL-GTR-190 Table 5-6; were it spread normally, " +
                 std::to_string(within(share_step, variation, boards)) + " in a hundred tops " + of +
                 " lie within a fifth of the mean; a bend test of the board narrows it");
}

} // namespace

Markup sure_section(const Sheet& sheet) {
    const double variation = materials::rule("wood_rules", "cov_moe").value;
    const bool is_sheet = !sheet.in.piece.top.sheet.empty();
    const MeshReport& mesh = sheet.result().mesh;
    double worst = 0;
    std::size_t at = 0;
    for (std::size_t i = 0; i < sheet.result().situations.size(); ++i)
        if (sheet.result().situations[i].equilibrium_error >= worst)
            worst = sheet.result().situations[i].equilibrium_error, at = i;
    std::vector<TableRow> rows{
        {{words("computed sag"),
          words("at most ") +
              number(mesh.sag_error_percent, "/mesh/sag_error_percent", error_text(mesh.sag_error_percent)),
          words("from two solutions of different order on one mesh")}},
        {{words("computed bending stress"),
          words("at most ") + number(mesh.stress_error_percent, "/mesh/stress_error_percent",
                                     error_text(mesh.stress_error_percent)),
          words("the same; every other check tells its own computing error in its row")}},
        {{words("equilibrium"),
          number(worst, at_index("/situations", at, "equilibrium_error"), significant(worst, 2)),
          words("loads less what the supports give, as a share of the loads; the worst situation")}},
        {{words(is_sheet ? "the sheet's stiffness" : "the wood's stiffness"),
          words(is_sheet ? "not known" : "varies by " + significant(variation, 3) + " %"),
          stiffness_basis(sheet, variation)}},
        {{words(is_sheet ? "the sheet's strength" : "the wood's strength"),
          words(is_sheet ? "not known" : "varies by 14 to 28 %"),
          words(std::string(is_sheet ? "" : "the same table; ") +
                "the limits of stress above already take the weakest 5 % of the pieces")}},
        {{words("the model"), model_words(sheet), model_basis(sheet)}},
        {{words("the making"), words("yours to gauge"),
          words(sheet.units() == Units::mm ? "what half a millimetre does is in "
                                           : "what a fiftieth of an inch does is in ") +
              section_link(sheet, "changes")}}};
    Markup inner;
    if (const Markup band = band_words(sheet); !band.empty()) inner += para(band + words("."));
    inner += table("Kinds of numbers", {{"number"}, {"how sure"}, {"from what"}}, rows);
    if (!mesh.reached)
        inner += para(words("The computing error is more than is wanted (1 % in sag, 3 % in stress): a finer "
                            "mesh may help."),
                      "warn");
    inner += para(words("Mesh: ") + number(mesh.elements, "/mesh/elements", std::to_string(mesh.elements)) +
                  words(" elements, ") + number(mesh.dofs, "/mesh/dofs", std::to_string(mesh.dofs)) +
                  words(" unknowns in the finest solution."));
    return element("section", heading(sheet, "sure") + inner);
}

Markup scatter_section(const Sheet& sheet) {
    Markup inner = band_part(sheet) + by_hand_part(sheet);
    if (inner.empty()) inner = para(words("Not computed."));
    return element("section", heading(sheet, "scatter") + inner);
}

namespace {

/// What a value of a case is, in words, from its place in the result; the place itself where there are none
/// for it.
std::string value_words(const std::string& pointer) {
    const auto ordinal_after = [&](std::string_view key) -> std::string {
        const auto at = pointer.find(key);
        if (at == std::string::npos) return {};
        const auto from = at + key.size(), to = pointer.find('/', from);
        const std::string index = pointer.substr(from, to - from);
        if (index.empty() || index.find_first_not_of("0123456789") != std::string::npos) return {};
        return std::to_string(std::stoi(index) + 1);
    };
    constexpr std::array<const char*, 3> directions{"along the grain", "across the grain", "in shear"};
    constexpr std::array<const char*, 3> moments{"in x", "in y", "of twist"};
    const auto component = static_cast<std::size_t>(pointer.back() - '0');
    const std::string place = ordinal_after("/probes/");
    const std::string there = place.empty() ? "" : ", place " + place;
    if (pointer.ends_with("/w_mm")) return "movement, mm" + there;
    if (pointer.ends_with("/sag_mm")) return "sag, mm";
    if (pointer.ends_with("/applied_N")) return "load, N";
    if (pointer.ends_with("/force_N")) return "force, N, on support " + ordinal_after("/reactions/");
    if (component > 2) return pointer;
    if (pointer.find("/stress_top_MPa/") != std::string::npos)
        return std::string("stress at the top face, MPa, ") + directions[component] + there;
    if (pointer.find("/stress_bottom_MPa/") != std::string::npos)
        return std::string("stress at the underside, MPa, ") + directions[component] + there;
    if (pointer.find("/moment_N/") != std::string::npos)
        return std::string("moment a width, N, ") + moments[component] + there;
    return pointer;
}

/// The cases that were computed while this report was made: in a paragraph, and each with its values.
struct Validated {
    Markup summary, tables;
};
Validated validated(const Sheet& sheet) {
    const auto& all = sheet.in.validation;
    std::size_t n_ok = 0, n_cases = 0;
    double furthest = 0;
    std::map<std::string, double> greatest = greatest_of_each(all);
    Markup tables;
    for (std::size_t i = 0; i < all.size();) {
        std::vector<TableRow> rows;
        const auto& first = all[i];
        for (; i < all.size() && all[i].id == first.id; ++i) {
            const auto& c = all[i];
            n_ok += c.ok ? 1 : 0;
            const std::string group = group_of(c);
            const double whole = group.empty() ? std::abs(c.published) : greatest[group];
            if (c.computed && whole > 0)
                furthest = std::max(furthest, 100 * std::abs(*c.computed - c.published) / whole);
            rows.push_back(
                {{words(value_words(c.what)), words(c.computed ? significant(*c.computed, 5) : "none"),
                  words(significant(c.published, 5)),
                  words(c.difference_percent ? fixed(*c.difference_percent, 2) + " %" : ""),
                  words(c.ok ? "within" : "miss")},
                 c.ok ? "" : "over"});
        }
        ++n_cases;
        tables +=
            table(first.id + ": " + first.title,
                  {{"value"}, {"computed", true}, {"published", true}, {"difference", true}, {"tolerance"}},
                  rows) +
            para(
                words("Source: " + first.source +
                      (name_of(first.status).empty() ? "" : " (" + std::string(name_of(first.status)) + ")") +
                      "."),
                "soft");
    }
    Markup inner =
        para(words("While this report was made, the program computed these cases with known answers again, "
                   "on a coarse mesh to begin with: " +
                   std::to_string(n_ok) + " of " + std::to_string(all.size()) +
                   " values lie within their tolerances, the furthest off by " + fixed(furthest, 2) +
                   " % of the greatest of its kind in its case. They are " + std::to_string(n_cases) +
                   " quick ones of " + std::to_string(sheet.in.n_built_in_cases) +
                   " cases; hollowtop validate runs them all, and those that miss stay on its page."));
    return {inner, tables};
}

} // namespace

Markup validation_section(const Sheet& sheet) {
    return element("section", heading(sheet, "validation") + validated(sheet).summary);
}

Markup cases_section(const Sheet& sheet) {
    return element("section", heading(sheet, "cases") + validated(sheet).tables);
}

Markup limits_section(const Sheet& sheet) {
    static constexpr std::array<const char*, 14> limits{
        "It holds for this piece, these dimensions and this timber alone; where a thickness or the moisture "
        "comes out below what is listed, check again.",
        "It holds indoors, in the air that is stated; not in the wet, not out of doors.",
        "The top is no ladder, seat, stage, hoist, bed or guard, unless such a load is listed above.",
        "It is no part of a building; where a code or a permit applies, the local code and a licensed "
        "engineer decide.",
        "It shows no conformity with any furniture standard: only the standard's own physical test does.",
        "Handbook values are means of a species, and the tree may differ; faults that cannot be seen (shake, "
        "rot, insects, old metal, starved glue) are not covered.",
        "Screws, slots and glue are taken as drawn; a change makes it another piece.",
        "The base and its joints are by others, and the floor is taken as level and firm.",
        "Sag after years is an estimate, and has a range.",
        "Fire, heat, falls and blows, glass and stone are outside.",
        "What was measured, the maker measured: the program cannot see the board.",
        "Who reads this must be competent to judge it, and asks where unsure.",
        "Who answers for the piece and by which law is between maker and client, in terms of their own; this "
        "report prints none.",
        "Keep it with the piece and hand it on; check again after a change, a leak, or a move to another "
        "climate."};
    std::vector<Markup> use;
    for (const char* limit : limits) use.push_back(words(limit));
    return element("section", heading(sheet, "limits") + bullets(use));
}

Markup cautions_section(const Sheet& sheet) {
    std::vector<Markup> items;
    for (const Message& caution : sheet.result().cautions) items.push_back(words(text_of(caution)));
    return element("section", heading(sheet, "cautions") + bullets(items));
}

Markup signatures_section(const Sheet& sheet) {
    const Asked& asked = sheet.in.asked;
    std::vector<TableRow> rows;
    const auto or_blank = [](const std::string& text) { return text.empty() ? blank() : own(text); };
    for (const Revision& r : asked.revisions)
        rows.push_back(
            {{own(r.mark), or_blank(r.date), or_blank(r.change), or_blank(r.by), or_blank(r.checked)}});
    rows.push_back({{words(asked.revisions.empty() ? "first" : "next"), blank(), blank(), blank(), blank()}});
    Markup inner = table("Revisions", {{"revision"}, {"date"}, {"change"}, {"by"}, {"checked"}}, rows);
    std::vector<TableRow> names;
    const auto sign = [&](const char* role, const std::string& name) {
        names.push_back({{words(role), or_blank(name), blank(), blank()}});
    };
    sign("prepared by", asked.prepared_by);
    sign("checked by", asked.checked_by);
    sign("client agrees to use and limits", asked.client);
    inner += table("Signatures", {{"who"}, {"name"}, {"date"}, {"signature"}}, names);
    const bool issued = asked.status == "issued";
    inner += para(words("Status: ") +
                  element("strong", words(asked.status.empty() ? "draft, as none is stated" : asked.status)) +
                  words(issued && (asked.prepared_by.empty() || asked.checked_by.empty())
                            ? ", though the piece file does not name who prepared and who checked it"
                            : "") +
                  words(". A change of the input makes a new revision; keep the old. This one rests on the "
                        "input whose SHA-256 begins ") +
                  element("code", words(sha256(sheet.in.text).substr(0, 12))) + words("."));
    return element("section", heading(sheet, "signatures") + inner);
}

Markup inputs_section(const Sheet& sheet) {
    Markup inner =
        facts({{"Program", words(std::string("hollowtop ") + program_version)},
               {"Input", own(sheet.in.file)},
               {"SHA-256 of the input", element("code", words(sha256(sheet.in.text)), {{"class", "hash"}})},
               {"Made again by", element("code", own(sheet.in.command), {{"class", "long"}})}});
    inner += both_units_part(sheet);
    inner += para(words("The same version, the same command and the same input give this report again, byte "
                        "for byte. The input in full:"));
    inner += element("pre", element("code", own(sheet.in.text)),
                     {{"tabindex", "0"}, {"role", "region"}, {"aria-label", "The piece file"}});
    return element("section", heading(sheet, "inputs") + inner);
}

} // namespace hollowtop::cli
