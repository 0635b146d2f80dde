// SPDX-License-Identifier: MIT
#include "cli/report/validation_page.hpp"

#include "cli/report/drawing/html.hpp"
#include "cli/report/drawing/validation_pictures.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "solver/piece/version.hpp"
#include "validation/families.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace hollowtop::cli {
namespace {

using validation::Comparison;
using validation::Family;

/// For the dark of a room; pictures are drawn in the colours of the words about them.
constexpr const char* validation_style = R"css(
:root{color-scheme:light dark}
body{max-width:64rem}
figure svg,.case svg{display:block;max-width:100%;height:auto;color:var(--ink)}
svg .soft{color:var(--soft)}
svg .miss{color:var(--bad)}
.case{border-top:1px solid var(--line);padding-top:.2rem;margin-top:1.6rem}
.case h3{margin:.8rem 0 .3rem}
.case table{margin:.4rem 0 .6rem}
.case p{margin:.4rem 0;max-width:46rem}
.case code{font-size:.82em}
.tag{font:600 .78rem/1.4 system-ui,"Segoe UI","Helvetica Neue",Arial,sans-serif;letter-spacing:.04em;border:1px solid var(--soft);padding:0 .4rem;color:var(--soft);white-space:nowrap}
@media (prefers-color-scheme:dark){
 :root{--ink:#ece5d8;--soft:#b3a996;--line:#4a443a;--ground:#1d1a16;--good:#86c9a4;--bad:#f09a80;--steel:#a5c3d8}
}
@media print{:root{--ink:#26231f;--soft:#5f584e;--line:#d9d2c5;--ground:#fff;--bad:#8c2f1b;--steel:#3c5566}}
)css";

/// What kind of value the computed one is held against.
const char* kind_of(validation::Status status) {
    switch (status) {
    case validation::Status::checked:
        return "published, read in its source";
    case validation::Status::from_memory:
        return "published, from memory";
    case validation::Status::closed_form:
        return "by a formula or a series";
    case validation::Status::computed:
        return "computed reference";
    case validation::Status::measured:
        return "measured";
    case validation::Status::invented:
        return "INVENTED";
    case validation::Status::not_said:
        break;
    }
    return "of unsaid origin";
}

const char* heading_of(validation::Status status) {
    switch (status) {
    case validation::Status::checked:
    case validation::Status::from_memory:
        return "published";
    case validation::Status::closed_form:
        return "by formula";
    case validation::Status::computed:
        return "reference";
    case validation::Status::measured:
        return "measured";
    case validation::Status::invented:
        return "invented";
    case validation::Status::not_said:
        break;
    }
    return "expected";
}

std::string counted(std::size_t n, const std::string& one, const std::string& several) {
    return std::to_string(n) + ' ' + (n == 1 ? one : several);
}

std::string allowed_text(const validation::Tolerance& tolerance) {
    return significant(tolerance.size, 3) + (tolerance.is_percent ? " %" : "");
}

std::string difference_text(const Comparison& c) {
    if (c.difference_percent) return fixed(*c.difference_percent, 2) + " %";
    return c.computed ? significant(*c.computed - c.published, 3) : c.problem;
}

Markup lines_table(const ValidatedCase& one) {
    std::vector<TableRow> rows;
    for (const Comparison& c : one.lines())
        rows.push_back(
            {{element("code", words(c.what)), words(c.computed ? significant(*c.computed, 6) : "-"),
              words(significant(c.published, 6)), words(difference_text(c)),
              words(allowed_text(c.tolerance) + (c.ok ? "" : ": outside"))},
             c.ok ? "" : "over"});
    return table("",
                 {{"place in the result"},
                  {"computed", true},
                  {heading_of(one.about.status), true},
                  {"difference", true},
                  {"allowed", true}},
                 rows);
}

Markup case_part(const ValidatedCase& one) {
    const validation::Case& c = one.about;
    Markup inner =
        element("h3", words(c.id + ": ") + own(c.title)) +
        para(element("span", words(kind_of(c.status)), {{"class", "tag"}}) + words(" ") + own(c.source));
    if (!c.note.empty()) inner += para(own(c.note), "soft");
    if (!c.miss.empty()) inner += para(own(c.miss), "warn");
    inner += lines_table(one) + Markup{convergence_picture(one).element()};
    return element("section", inner, {{"class", "case"}, {"id", c.id}}) + Markup{"\n"};
}

/// The value that lies furthest off, as a share of the one that it is compared with, of those that `counts` takes.
template <typename Counts>
const Comparison* furthest(const std::vector<ValidatedCase>& cases, const Counts& counts) {
    const Comparison* worst = nullptr;
    for (const ValidatedCase& one : cases)
        for (const Comparison& c : one.lines())
            if (c.difference_percent && counts(c) &&
                (worst == nullptr || std::abs(*c.difference_percent) > std::abs(*worst->difference_percent)))
                worst = &c;
    return worst;
}

Markup told(const Comparison& c) {
    return words(fixed(std::abs(*c.difference_percent), 1) + " % (") +
           element("a", words(c.id), {{"href", "#" + c.id}}) + words(")");
}

Markup end_of_theory(const std::vector<ValidatedCase>& cases) {
    const auto is_solid = [](const Comparison& c) {
        const char letter = validation::family_of(c.id).letter;
        return letter == 'E' || letter == 'G';
    };
    const Comparison* const movement =
        furthest(cases, [&](const Comparison& c) { return is_solid(c) && c.what.ends_with("_mm"); });
    std::vector<Markup> items;
    if (movement != nullptr)
        items.push_back(
            words("A top is computed as a shell, with a reference surface in its top face. Held against "
                  "the same tops computed as solids (E, G), movements differ by ") +
            told(*movement) +
            words(" at most. Beside a wall, within about a thickness, stresses of a shell are not those of a "
                  "solid: there "
                  "the differences are told against the largest stress of the case, and the root of the "
                  "wall has a cross-section of its own, solved as a solid."));
    items.push_back(words(
        "Movements are small. Where a skin dishes by more than half its thickness the theory ends "
        "(Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 1959, art. 13), and the program "
        "gives no margin of a stress there."));
    items.push_back(words("Under a force or over a support without area a plate that gives in shear has no "
                          "finite movement: it grows, "
                          "slowly, as the mesh gets finer."));
    items.push_back(words("Supports only press and joints slip as stated; the base, its joints and the floor "
                          "are not in the model."));
    items.push_back(
        words("No difference on this page holds anything of the wood. Boards of one wood differ: the "
              "coefficient of "
              "variation of the modulus is 22 % (Wood Handbook, FPL-GTR-190, table 5-6). Knots, shakes and "
              "glue joints are not in any case."));
    return element("section",
                   element("h2", words("Where the theory ends"), {{"id", "ends"}}) + bullets(items));
}

Markup misses_part(const std::vector<ValidatedCase>& cases) {
    std::vector<Markup> items;
    for (const ValidatedCase& one : cases)
        for (const Comparison& c : one.lines())
            if (!c.ok)
                items.push_back(
                    element("a", words(c.id), {{"href", "#" + c.id}}) + words(" ") +
                    element("code", words(c.what)) +
                    words(": " + difference_text(c) + ", allowed " + allowed_text(c.tolerance) + ". ") +
                    own(one.about.miss.empty() ? "Not explained yet." : one.about.miss));
    if (items.empty()) return {};
    return element("section",
                   element("h2", words("Outside their tolerances"), {{"id", "misses"}}) + bullets(items));
}

Markup measured_part(const std::vector<ValidatedCase>& cases) {
    const auto n = std::count_if(cases.begin(), cases.end(), [](const ValidatedCase& one) {
        return one.about.status == validation::Status::measured;
    });
    Markup inner = element("h2", words("Loaded tops"), {{"id", "measured"}});
    if (n == 0)
        inner += para(words(
            "None. No published test of a hollowed tabletop is known to us: what is said of hollowed tops is "
            "held "
            "against formulas, published plates and computed solids, not against wood. Whoever loads one and "
            "reads its gauges can add it: the form lies in validation/measured, with an invented example."));
    else
        inner += para(words(counted(static_cast<std::size_t>(n), "top that was loaded and measured stands",
                                    "tops that were loaded and measured stand") +
                            " below."));
    return element("section", inner);
}

/// "57 values published by others, 210 by a formula, ..."
std::string kinds_text(const std::vector<ValidatedCase>& cases) {
    std::size_t published = 0, formula = 0, computed = 0, measured = 0, invented = 0, unsaid = 0;
    for (const ValidatedCase& one : cases) {
        const std::size_t n = one.lines().size();
        switch (one.about.status) {
        case validation::Status::checked:
        case validation::Status::from_memory:
            published += n;
            break;
        case validation::Status::closed_form:
            formula += n;
            break;
        case validation::Status::computed:
            computed += n;
            break;
        case validation::Status::measured:
            measured += n;
            break;
        case validation::Status::invented:
            invented += n;
            break;
        case validation::Status::not_said:
            unsaid += n;
            break;
        }
    }
    std::string text =
        std::to_string(published) + " are compared with what others published, " + std::to_string(formula) +
        " with a formula or a series, " + std::to_string(computed) +
        " with references that were computed by another program and are not published as such, " +
        std::to_string(measured) + " with readings under a loaded top";
    if (invented > 0)
        text += ", " + std::to_string(invented) + " with invented readings, which prove nothing";
    if (unsaid > 0) text += ", " + std::to_string(unsaid) + " with values of unsaid origin";
    return text + ".";
}

Markup summary(const std::vector<ValidatedCase>& cases) {
    std::size_t n = 0, missed = 0;
    for (const ValidatedCase& one : cases) {
        n += one.lines().size();
        missed += static_cast<std::size_t>(
            std::count_if(one.lines().begin(), one.lines().end(), [](const Comparison& c) { return !c.ok; }));
    }
    return para(words(counted(n, "value of ", "values of ") + counted(cases.size(), "case", "cases") + ", " +
                      (missed == 0 ? "all within their tolerances."
                                   : std::to_string(missed) + " outside their tolerances.")),
                "sentence") +
           para(words("Of these, " + kinds_text(cases))) +
           para(words("Each case is a piece file with its source; hollowtop validate runs them all, and "
                      "wrote this page. A tolerance stands in the case, with "
                      "its reason. Every case is computed on three meshes: the small pictures show how far "
                      "each of its values lies from the "
                      "one it is compared with, as a share of what is allowed; within the band is within the "
                      "tolerance."));
}

Markup families_contents(const std::vector<const Family*>& families, bool has_misses) {
    Markup items;
    const auto item = [&items](const std::string& id, std::string_view text) {
        items += element("li", element("a", words(text), {{"href", "#" + id}}));
    };
    if (has_misses) item("misses", "Outside their tolerances");
    item("ends", "Where the theory ends");
    item("measured", "Loaded tops");
    for (const Family* family : families)
        item(std::string("family-") + (family->letter == '\0' ? '0' : family->letter), family->heading);
    return element("nav", element("ol", items));
}

} // namespace

std::string validation_html(const std::vector<ValidatedCase>& cases) {
    std::vector<const Family*> families;
    Markup parts;
    for (const Family& family : validation::families) {
        Markup inner;
        for (const ValidatedCase& one : cases)
            if (&validation::family_of(one.about.id) == &family) inner += case_part(one);
        if (inner.empty()) continue;
        families.push_back(&family);
        parts += element("section", element("h2", words(family.heading),
                                            {{"id", std::string("family-") +
                                                        (family.letter == '\0' ? '0' : family.letter)}}) +
                                        inner);
    }
    const Markup misses = misses_part(cases);
    const Markup body =
        element("header",
                element("p", words(std::string("hollowtop ") + program_version), {{"class", "kind"}}) +
                    element("h1", words("Validation"))) +
        element(
            "main",
            summary(cases) +
                figure(words("Every value: its difference as a share of what is allowed, family by family. "
                             "The band is the tolerance; what lies further off than the picture reaches "
                             "stands at its edge."),
                       [&](const std::string& id_end, double width) {
                           return overview_picture(cases, id_end, width);
                       }) +
                families_contents(families, !misses.empty()) + misses + end_of_theory(cases) +
                measured_part(cases) + parts);
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
           "content=\"width=device-width, initial-scale=1\">\n<title>hollowtop: "
           "validation</title>\n<style>\n" +
           std::string(style_sheet) + validation_style + "</style>\n</head>\n<body>\n" + body.html +
           "\n</body>\n</html>\n";
}

} // namespace hollowtop::cli
