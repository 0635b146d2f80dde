// SPDX-License-Identifier: MIT
// How sure the numbers are, what they rest on, and the papers at the end.
#include "cli/cautions.hpp"
#include "cli/format.hpp"
#include "cli/report/report_parts.hpp"
#include "cli/report/sha256.hpp"
#include "solver/analysis/use_loads.hpp"
#include "solver/analysis/version.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace hollowtop::cli {
namespace {

struct Reference {
    const char* mark; ///< what the sentences of the result say where they lean on it
    const char* full;
};
constexpr std::array<Reference, 19> references{{
    {"Wood Handbook",
     "Forest Products Laboratory: Wood Handbook, Wood as an Engineering Material. General Technical Report "
     "FPL-GTR-190 (2010) and FPL-GTR-282 (2021), US Department of Agriculture."},
    {"EN 1995-1-1", "EN 1995-1-1:2004+A1:2008, Eurocode 5: Design of timber structures, Part 1-1. CEN."},
    {"EN 1993-1-1", "EN 1993-1-1:2005, Eurocode 3: Design of steel structures, Part 1-1. CEN."},
    {"EN 338", "EN 338, Structural timber, Strength classes. CEN."},
    {"ASTM D245", "ASTM D245, Standard Practice for Establishing Structural Grades and Related Allowable "
                  "Properties for Visually Graded Lumber."},
    {"NDS", "National Design Specification for Wood Construction, American Wood Council."},
    {"AISC 360", "ANSI/AISC 360-16, Specification for Structural Steel Buildings."},
    {"Norris", "Norris, C. B.: Strength of orthotropic materials subjected to combined stresses. Report "
               "1816, Forest Products Laboratory, 1962."},
    {"Serrano", "Serrano, E. and Gustafsson, P. J.: Fracture mechanics in timber engineering, strength "
                "analyses of components and joints. Materials and Structures, 2007."},
    {"Gustafsson", "Gustafsson, P. J.: A study of strength of notched beams. CIB-W18, 1988."},
    {"Huebner", "Huebner, U.: Withdrawal strength of self-tapping screws in hardwoods. CIB-W18, 2013."},
    {"Timoshenko", "Timoshenko, S.: Strength of Materials, Part I, 1955; Timoshenko, S. and Goodier, J. N.: "
                   "Theory of Elasticity, 1970."},
    {"Lekhnitskii", "Lekhnitskii, S. G.: Theory of Elasticity of an Anisotropic Elastic Body, 1963."},
    {"Larsen and Gustafsson", "Larsen, H. J. and Gustafsson, P. J.: The fracture energy of wood in tension "
                              "perpendicular to the grain. CIB-W18 paper 23-19-2, 1990."},
    {"Record (1914)", "Record, S. J.: The Mechanical Properties of Wood. Wiley, 1914."},
    {"DIN 7998", "DIN 7998, Threads and screw ends for wood screws."},
    {"EN 12521",
     "EN 12521, Furniture, Safety, strength and durability, Requirements for domestic tables. CEN."},
    {"EN 15372",
     "EN 15372, Furniture, Strength, durability and safety, Requirements for non-domestic tables. CEN."},
    {"EN 1991", "EN 1991-1-1:2002, Eurocode 1: Actions on structures, Part 1-1. CEN."},
}};

std::string whole_words_of(const ReportInput& in) {
    std::string all;
    for (const CheckResult& c : in.result.checks) all += c.basis + "\n";
    for (const std::string& a : in.result.assumptions) all += a + "\n";
    for (const std::string& w : in.result.warnings) all += w + "\n";
    for (const std::string& sentence : told_of_use(in.piece)) all += sentence + "\n";
    if (in.seasons) {
        for (const std::string& a : in.seasons->assumptions) all += a + "\n";
        for (const SeasonCheck& c : in.seasons->checks) all += c.basis + "\n";
    }
    return all;
}

Markup blank() { return element("span", words("\u00a0"), {{"class", "write"}}); }

} // namespace

Markup sure_section(const Sheet& sheet) {
    const MeshReport& mesh = sheet.result().mesh;
    double worst = 0;
    std::size_t at = 0;
    for (std::size_t i = 0; i < sheet.result().situations.size(); ++i)
        if (sheet.result().situations[i].equilibrium_error >= worst)
            worst = sheet.result().situations[i].equilibrium_error, at = i;
    std::vector<TableRow> rows{
        {{words("the computation: sag"),
          words("at most ") +
              number(mesh.sag_error_percent, "/mesh/sag_error_percent", error_text(mesh.sag_error_percent)),
          words("from two solutions of different order on one mesh")}},
        {{words("the computation: stress"),
          words("at most ") + number(mesh.stress_error_percent, "/mesh/stress_error_percent",
                                     error_text(mesh.stress_error_percent)),
          words("the same")}},
        {{words("equilibrium"),
          number(worst, at_index("/situations", at, "equilibrium_error"), significant(worst, 2)),
          words("loads less what the supports give, as a share of the loads; the worst situation")}},
        {{words("the wood's stiffness"), words("varies by 22 %"),
          words("coefficient of variation of the modulus of elasticity of clear wood, Wood Handbook "
                "FPL-GTR-190 Table 5-6; several boards glued up average it out; a bend test of the board "
                "narrows it")}},
        {{words("the wood's strength"), words("varies by 14 to 28 %"),
          words("the same table; the limits of stress above already take the weakest 5 % of the pieces")}},
        {{words("the model"), words("movements within about 1 %"),
          words("where depth of the recess stays under half the thickness, against solid elasticity "
                "(docs/validation.md); not in it: knots, joints, faults")}},
        {{words("the making"), words("yours to gauge"),
          words("half a millimetre less skin is more sag and more stress: check the top as it was really "
                "routed")}}};
    Markup inner = table("Kinds of numbers", {{"number"}, {"how sure"}, {"from what"}}, rows);
    if (!mesh.reached)
        inner += para(words("The computing error is more than is wanted (1 % in sag, 3 % in stress): a finer "
                            "mesh may help."),
                      "warn");
    inner += para(words("Mesh: ") + number(mesh.elements, "/mesh/elements", std::to_string(mesh.elements)) +
                  words(" elements, ") + number(mesh.dofs, "/mesh/dofs", std::to_string(mesh.dofs)) +
                  words(" unknowns in the finest solution."));
    return element("section", element("h2", words("11. How sure each number is"), {{"id", "sure"}}) + inner);
}

Markup validation_section(const Sheet& sheet) {
    const auto& all = sheet.in.validation;
    std::vector<TableRow> rows;
    std::size_t n_ok = 0;
    double furthest = 0;
    for (const auto& c : all) {
        n_ok += c.ok ? 1 : 0;
        if (c.difference_percent) furthest = std::max(furthest, std::abs(*c.difference_percent));
        rows.push_back(
            {{words(c.id), words(c.title), words(c.what),
              words(c.computed ? significant(*c.computed, 5) : "none"), words(significant(c.published, 5)),
              words(c.difference_percent ? fixed(*c.difference_percent, 2) + " %" : ""),
              words(c.ok ? "within" : "miss"), words(c.source)},
             c.ok ? "" : "over"});
    }
    Markup inner =
        para(words("While this report was made, the program computed these cases with known answers again: " +
                   std::to_string(n_ok) + " of " + std::to_string(all.size()) +
                   " values lie within their tolerances, the furthest off by " + fixed(furthest, 2) +
                   " %. They are the quick ones of " + std::to_string(sheet.in.n_built_in_cases) +
                   " cases; hollowtop validate runs them all, and those that miss stay on its page."));
    inner += element("details", element("summary", words("The cases, computed and published")) +
                                    table("Computed against published",
                                          {{"case"},
                                           {"title"},
                                           {"value"},
                                           {"computed", true},
                                           {"published", true},
                                           {"difference", true},
                                           {"verdict"},
                                           {"source"}},
                                          rows));
    return element("section", element("h2", words("12. Validation summary"), {{"id", "validation"}}) + inner);
}

Markup limits_section(const Sheet& sheet) {
    std::vector<Markup> taken;
    for (const std::string& a : sheet.result().assumptions) taken.push_back(own(a));
    if (sheet.in.seasons)
        for (const std::string& a : sheet.in.seasons->assumptions) taken.push_back(own(a));
    static constexpr std::array<const char*, 13> limits{
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
        "Sag after years is an estimate.",
        "Fire, heat, falls and blows, glass and stone are outside.",
        "What was measured, the maker measured: the program cannot see the board.",
        "Who reads this must be competent to judge it, and asks where unsure.",
        "Keep it with the piece and hand it on; check again after a change, a leak, or a move to another "
        "climate."};
    std::vector<Markup> use;
    for (const char* limit : limits) use.push_back(words(limit));
    return element("section", element("h2", words("13. What was taken for granted, and limits of use"),
                                      {{"id", "limits"}}) +
                                  element("h3", words("Taken for granted")) + bullets(taken) +
                                  element("h3", words("Limits of use")) + bullets(use));
}

Markup cautions_section(const Sheet& sheet) {
    std::vector<Markup> items;
    for (const std::string& caution : sheet.result().cautions) items.push_back(words(caution));
    return element("section", element("h2", words("14. Cautions"), {{"id", "cautions"}}) + bullets(items));
}

Markup references_section(const Sheet& sheet) {
    const std::string all = whole_words_of(sheet.in);
    std::vector<Markup> items;
    for (const Reference& reference : references)
        if (all.find(reference.mark) != std::string::npos ||
            std::string_view(reference.mark) == "Wood Handbook")
            items.push_back(words(reference.full));
    return element("section",
                   element("h2", words("15. References"), {{"id", "references"}}) +
                       para(words("Works that the sentences above name; table and equation stand there. "
                                  "\u201cFrom memory\u201d marks what was not read again in its source.")) +
                       bullets(items));
}

Markup test_section(const Sheet&) {
    std::vector<TableRow> rows;
    for (const char* step :
         {"preload, then zero", "25 % of service load", "50 %", "75 %", "100 % of service load",
          "proof load, 30 to 60 minutes", "unloaded, after 5 minutes", "unloaded, after 24 hours"})
        rows.push_back({{words(step), blank(), blank(), blank()}});
    return element(
        "section",
        element("h2", words("16. Proof test"), {{"id", "test"}}) +
            para(words("Proof test: not done."), "sentence") +
            para(words(
                "A test with known weights before delivery is what turns this calculation into evidence for "
                "this very top. Nobody under it; blocks close below; bags lowered, not dropped. "
                "Stop at any noise, or where movement goes on growing under a load that stays.")) +
            table("Record",
                  {{"step"}, {"middle of the front edge"}, {"middle of the skin"}, {"noise, cracks"}}, rows));
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
    inner += para(words("Status: ") +
                  element("strong", words(asked.status.empty() ? "draft, as none is stated" : asked.status)) +
                  words(". A change of the input makes a new revision; keep the old."));
    return element("section",
                   element("h2", words("17. Revisions and signatures"), {{"id", "signatures"}}) + inner);
}

Markup inputs_section(const Sheet& sheet) {
    Markup inner =
        facts({{"Program", words(std::string("hollowtop ") + program_version)},
               {"Input", own(sheet.in.file)},
               {"SHA-256 of the input", element("code", words(sha256(sheet.in.text)), {{"class", "hash"}})},
               {"Made again by",
                element("code", words("hollowtop report ")) + element("code", own(sheet.in.file))}});
    inner += para(words(
        "The same version and the same input give this report again, byte for byte. The input in full:"));
    inner += element("pre", element("code", own(sheet.in.text)),
                     {{"tabindex", "0"}, {"role", "region"}, {"aria-label", "The piece file"}});
    return element("section",
                   element("h2", words("Appendix. The input in full"), {{"id", "inputs"}}) + inner);
}

} // namespace hollowtop::cli
