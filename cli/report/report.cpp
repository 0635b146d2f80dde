// SPDX-License-Identifier: MIT
#include "cli/report/report.hpp"

#include "cli/files/sha256.hpp"
#include "cli/report/sections/acting.hpp"
#include "cli/report/sections/report_parts.hpp"
#include "cli/report/sections/year.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "materials/assert.hpp"
#include "solver/piece/version.hpp"

#include <array>
#include <utility>

namespace hollowtop::cli {
namespace {

/// A text inside a quoted string of a style sheet: everything but plain letters and digits by its code point.
std::string style_string(std::string_view text) {
    std::string out = "\"";
    for (std::size_t i = 0; i < text.size();) {
        const auto first = static_cast<unsigned char>(text[i]);
        std::size_t length = first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
        if (i + length > text.size()) break;
        unsigned long code = length == 1   ? first
                             : length == 2 ? first & 0x1FU
                             : length == 3 ? first & 0x0FU
                                           : first & 0x07U;
        for (std::size_t k = 1; k < length; ++k)
            code = (code << 6U) | (static_cast<unsigned char>(text[i + k]) & 0x3FU);
        const bool is_plain = (first >= '0' && first <= '9') || (first >= 'a' && first <= 'z') ||
                              (first >= 'A' && first <= 'Z') || first == ' ';
        if (is_plain) {
            out += text[i];
        } else {
            constexpr std::string_view digits = "0123456789abcdef";
            std::string hex;
            for (unsigned long rest = code; rest > 0; rest /= 16) hex.insert(hex.begin(), digits[rest % 16]);
            out += "\\" + hex + " ";
        }
        i += length;
    }
    return out + "\"";
}

std::string revision_of(const ReportInput& in) {
    return in.asked.revisions.empty() ? "" : in.asked.revisions.back().mark;
}

/// DRAFT, ISSUED or SUPERSEDED; a piece file that does not say is a draft.
std::string stamp_of(const ReportInput& in) {
    std::string stamp = in.asked.status.empty() ? "draft" : in.asked.status;
    for (char& c : stamp)
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    return stamp;
}

/// What stands at the head and the foot of each printed page.
std::string page_style(const ReportInput& in, const std::string& title) {
    std::string left = short_text(title, 60);
    if (!in.asked.number.empty()) left += ", " + in.asked.number;
    if (!revision_of(in).empty()) left += ", revision " + revision_of(in);
    if (!in.date.empty()) left += ", " + in.date;
    const std::string foot =
        std::string("hollowtop ") + program_version + ", input " + sha256(in.text).substr(0, 12);
    return "@page{margin:13mm 15mm 13mm;@top-left{content:" + style_string(left) +
           ";font:9pt sans-serif;color:#5f584e}@top-right{content:" + style_string(stamp_of(in)) +
           ";font:9pt sans-serif;color:#5f584e}@bottom-left{content:" + style_string(foot) +
           ";font:9pt sans-serif;color:#5f584e}@bottom-right{content:\"page \" counter(page) \" of \" "
           "counter(pages);font:9pt sans-serif;color:#5f584e}}\n";
}

/// Where a section stands: in the engineer's paper, or behind all three.
enum class Part { engineer, annex };
struct Section {
    std::string_view id, title, short_title;
    Part part;
    Markup (*write)(const Sheet&);
};
/// In the order of the page; each part counts its own.
constexpr std::array<Section, 32> sections{{
    {"verdict", "Verdict", "", Part::engineer, verdict_section},
    {"drawn", "What is judged", "", Part::engineer, drawn_section},
    {"assumed", "Taken for granted", "", Part::engineer, assumed_section},
    {"together", "Loads, and what the supports give", "Loads and reactions", Part::engineer,
     together_section},
    {"judged", "The checks and their factors", "Checks and factors", Part::engineer, judged_section},
    {"worst", "Where it works hardest", "", Part::engineer, worst_section},
    {"written", "One check written out", "Written out", Part::engineer, written_section},
    {"sure", "How sure each number is", "How sure", Part::engineer, sure_section},
    {"validation", "Validation summary", "Validation", Part::engineer, validation_section},
    {"references", "Sources", "", Part::engineer, references_section},
    {"asked", "What was asked, and for whom", "What was asked", Part::annex, asked_section},
    {"piece", "The piece", "", Part::annex, piece_section},
    {"weight", "Weight before and after", "Weight", Part::annex, weight_section},
    {"movement", "How it moves", "", Part::annex, movement_section},
    {"stress", "How hard the wood works", "", Part::annex, stress_section},
    {"checks", "Every check", "", Part::annex, checks_section},
    {"stiffeners", "Supports, stiffeners and screws", "Supports, stiffeners", Part::annex,
     stiffeners_section},
    {"seasons", "Through the seasons", "Seasons", Part::annex, seasons_section},
    {"year", "Its first two years", "First years", Part::annex, year_section},
    {"bench", "More for the bench", "", Part::annex, bench_section},
    {"changes", "What changes the verdict first", "What changes it first", Part::annex, changes_section},
    {"compare", "Variants side by side", "Variants", Part::annex, compare_section},
    {"method", "Data and their sources", "Data", Part::annex, method_section},
    {"scatter", "How such tops scatter, and the sag by hand", "Scatter", Part::annex, scatter_section},
    {"cases", "Cases computed again", "Cases", Part::annex, cases_section},
    {"test", "Proof test", "", Part::annex, test_section},
    {"care", "Use and care", "", Part::annex, care_section},
    {"risks", "Risk table", "", Part::annex, risks_section},
    {"limits", "Limits of use", "", Part::annex, limits_section},
    {"cautions", "Cautions", "", Part::annex, cautions_section},
    {"signatures", "Revisions and signatures", "Signatures", Part::annex, signatures_section},
    {"inputs", "Both units, and the input in full", "Input", Part::annex, inputs_section},
}};

bool is_there(const Sheet& sheet, const Section& section) {
    if (section.id == "year") return says_of_its_years(sheet.in.piece);
    return section.id != "compare" || !sheet.in.varied.empty();
}

/// Whether this paper holds the part.
bool holds(const Sheet& sheet, Part part) {
    return sheet.in.paper == Paper::all || (sheet.in.paper == Paper::engineer && part == Part::engineer);
}

const Section& section_of(std::string_view id) {
    for (const Section& section : sections)
        if (section.id == id) return section;
    HOLLOWTOP_ASSERT(false);
    return sections.front();
}

std::string number_of(const Sheet& sheet, const Section& wanted) {
    int number = 0;
    for (const Section& section : sections) {
        number += section.part == wanted.part && is_there(sheet, section) ? 1 : 0;
        if (&section == &wanted) break;
    }
    return (wanted.part == Part::annex ? "A" : "") + std::to_string(number);
}

Markup contents(const Sheet& sheet, Part part) {
    Markup items;
    for (const Section& section : sections)
        if (section.part == part && is_there(sheet, section))
            items += element(
                "li",
                element("a",
                        words(number_of(sheet, section) + ". " +
                              std::string(section.short_title.empty() ? section.title : section.short_title)),
                        {{"href", "#" + std::string(section.id)}}));
    return element("nav", element("ol", items),
                   {{"aria-label", part == Part::engineer ? "Contents of the engineer\u2019s part"
                                                          : "Contents of the annex"}});
}

/// A section's heading stands below that of its part: every heading one step down.
Markup one_step_down(Markup markup) {
    for (const auto& [from, to] : {std::pair{"h4", "h5"}, {"h3", "h4"}, {"h2", "h3"}})
        for (const std::string_view start : {"<", "</"}) {
            const std::string wanted = std::string(start) + from, given = std::string(start) + to;
            for (auto at = markup.html.find(wanted); at != std::string::npos;
                 at = markup.html.find(wanted, at + 1))
                markup.html.replace(at, wanted.size(), given);
        }
    return markup;
}

Markup part_of_page(std::string_view id, std::string_view title, const Markup& inner) {
    return element(
        "section", element("h2", words(title), {{"id", std::string(id) + "-heading"}}) + inner,
        {{"class", "part"}, {"id", std::string(id)}, {"aria-labelledby", std::string(id) + "-heading"}});
}

Markup sections_of(const Sheet& sheet, Part part) {
    Markup all = contents(sheet, part);
    for (const Section& section : sections)
        if (section.part == part && is_there(sheet, section)) all += one_step_down(section.write(sheet));
    return all;
}

} // namespace

std::string short_text(const std::string& text, std::size_t most) {
    std::size_t n = 0, i = 0;
    while (i < text.size() && n < most) {
        ++i;
        while (i < text.size() && (static_cast<unsigned char>(text[i]) & 0xC0U) == 0x80) ++i;
        ++n;
    }
    return i < text.size() ? text.substr(0, i) + "\u2026" : text;
}

Markup heading(const Sheet& sheet, std::string_view id) {
    const Section& section = section_of(id);
    return element("h2", words(number_of(sheet, section) + ". " + std::string(section.title)),
                   {{"id", std::string(id)}});
}

Markup section_link(const Sheet& sheet, std::string_view id) {
    const Section& section = section_of(id);
    const std::string number = number_of(sheet, section);
    const bool is_annex = section.part == Part::annex;
    if (!holds(sheet, section.part))
        return words(is_annex ? "annex " + number + " of the whole report"
                              : "section " + number + " of the engineer\u2019s part");
    return element("a", words((is_annex ? "annex " : "section ") + number),
                   {{"href", "#" + std::string(id)}});
}

// ---- numbers
// ----------------------------------------------------------------------------------------------------

std::string at_index(std::string_view list, std::size_t index, std::string_view key) {
    return std::string(list) + "/" + std::to_string(index) + "/" + std::string(key);
}

Markup moved(const Sheet& sheet, double mm, const std::string& pointer, Source source) {
    return number(mm, pointer, amount_text(mm, "mm", sheet.units()), source);
}
Markup moved_finely(const Sheet& sheet, double mm, const std::string& pointer) {
    const bool metric = sheet.units() == Units::mm;
    const double least = metric ? 0.005 : Length::from_inches(0.0005).mm();
    return number(mm, pointer,
                  mm > 0 && mm < least ? (metric ? "under 0.01 mm" : "under 0.001 in")
                                       : reading_text(mm, sheet.units()));
}
Markup massed(const Sheet& sheet, double kg, const std::string& pointer) {
    return number(kg, pointer, mass_text(kg, sheet.units()));
}
Markup forced(const Sheet& sheet, double newtons, const std::string& pointer, Source source) {
    return number(newtons, pointer, force_text(newtons, sheet.units()), source);
}
Markup amount(const Sheet& sheet, double value, const std::string& unit, const std::string& pointer,
              Source source) {
    return number(value, pointer, amount_text(value, unit, sheet.units()), source);
}
Markup used(double utilisation, const std::string& pointer, Source source) {
    return number(utilisation, pointer, utilisation_text(utilisation), source);
}
Markup placed(const Sheet& sheet, Point at, const std::string& pointer, Source source) {
    const std::string both = place_text(at, sheet.units());
    const auto comma = both.find(", ");
    return number(at.x, pointer + "/0", both.substr(0, comma), source) + words(", ") +
           number(at.y, pointer + "/1", both.substr(comma + 2), source);
}

Markup placed_in_words(const Sheet& sheet, Point at, const std::string& pointer) {
    return words("x, y ") + placed(sheet, at, pointer) + words(std::string(" ") + place_unit(sheet.units()));
}

Markup figure(const Markup& caption,
              const std::function<Svg(const std::string& id_end, double width)>& draw) {
    constexpr double wide = 760, narrow = 312; // that on a telephone of 360 px, unscaled
    return element("figure",
                   element("div", Markup{draw("-wide", wide).element()}, {{"class", "wide"}}) +
                       element("div", Markup{draw("-narrow", narrow).element()}, {{"class", "narrow"}}) +
                       element("figcaption", element("b", Markup{std::string(figure_number)}) + caption)) +
           Markup{"\n"};
}

// ---- the page
// ---------------------------------------------------------------------------------------------------

namespace {

/// Every sentence of the solver, and what is found by the name of a situation, in the units of the report.
void tell(ReportInput& in) {
    const auto turn = [&](Message& message) { message = Message(in_words(message, in.units)); };
    in.result = in_words(std::move(in.result), in.units);
    for (Fields::Named& field : in.fields.point_values) turn(field.name);
    if (in.seasons) in.seasons = in_words(std::move(*in.seasons), in.units);
    if (in.trials)
        for (ChangeRow& change : in.trials->changes) turn(change.problem);
    for (Datum& datum : in.data) turn(datum.source);
    for (ReportVariant& variant : in.variants) {
        for (Message& choice : variant.choices) turn(choice);
        turn(variant.problem);
    }
}

} // namespace

namespace {

/// "Figure 3. " in the order of the page.
std::string with_figures_numbered(std::string page) {
    int number = 0;
    for (auto at = page.find(figure_number); at != std::string::npos; at = page.find(figure_number, at))
        page.replace(at, figure_number.size(), "Figure " + std::to_string(++number) + ". ");
    return page;
}

Markup head_of(const ReportInput& in, const std::string& title) {
    std::vector<std::pair<std::string, Markup>> facts_of_head;
    const auto put = [&](const char* term, const std::string& text) {
        constexpr std::size_t most = 60;
        if (!text.empty()) facts_of_head.push_back({term, own(short_text(text, most))});
    };
    put("Number", in.asked.number);
    put("Revision", revision_of(in));
    put("Date", in.date);
    put("Client", in.asked.client);
    put("Maker", in.asked.maker);
    Markup links;
    if (in.paper == Paper::all)
        for (const auto& [id, name] : {std::pair{"client", "For the client"},
                                       {"maker", "For the maker"},
                                       {"engineer", "For the engineer"},
                                       {"annex", "Annex"}})
            links += element("li", element("a", words(name), {{"href", "#" + std::string(id)}}));
    return element(
        "header",
        element("p", words("Calculation report"), {{"class", "kind"}}) +
            element("p", words(stamp_of(in)), {{"class", "stamp"}}) +
            element("h1", own(title),
                    short_text(title, 80) == title ? Attributes{} : Attributes{{"class", "long"}}) +
            facts(facts_of_head) +
            (links.empty() ? Markup{} : element("nav", element("ul", links), {{"aria-label", "Parts"}})));
}

/// Of every check the way to its capacity, from the sentences as the solver has them.
std::vector<std::optional<Reckoned>> reckoned_checks_of(const ReportInput& in) {
    std::vector<std::optional<Reckoned>> all;
    for (const CheckResult& check : in.result.checks)
        all.push_back(reckoned_of(check.basis, check.capacity, check.unit, in.units));
    return all;
}

} // namespace

std::string report_html(ReportInput input) {
    const std::vector<std::optional<Reckoned>> reckoned = reckoned_checks_of(input);
    const std::vector<std::vector<std::string>> acting = acting_loads(input.piece, input.result, input.units);
    tell(input);
    const ReportInput& in = input;
    const Plan plan = plan_of(in.piece);
    const Bench bench = bench_of(in.piece, plan, in.result, in.seasons, in.cutter, in.units);
    const std::vector<Work> works = works_of(in);
    const Sheet sheet{in, plan, bench, reckoned, acting, works};
    const std::string title = in.piece.title.empty() ? in.file : in.piece.title;
    const auto wanted = [&](Paper paper) { return in.paper == Paper::all || in.paper == paper; };
    Markup main;
    if (wanted(Paper::client)) main += part_of_page("client", "For the client", client_part(sheet));
    if (wanted(Paper::maker)) main += part_of_page("maker", "For the maker", maker_part(sheet));
    if (wanted(Paper::engineer))
        main += part_of_page("engineer", "For the engineer", sections_of(sheet, Part::engineer));
    if (in.paper == Paper::all) main += part_of_page("annex", "Annex", sections_of(sheet, Part::annex));
    Markup body = head_of(in, title) + element("main", main);
    body += element("footer", para(words("End of report. ") + own(short_text(title, 80))));
    return with_figures_numbered(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
        "content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light "
        "dark\">\n<title>" +
        escaped(short_text(title, 120)) + ": calculation report</title>\n<style>\n" + style_sheet +
        page_style(in, title) + "</style>\n</head>\n<body>\n" + body.html + "\n</body>\n</html>\n");
}

std::vector<Picture> pictures_of(const std::string& page) {
    std::vector<Picture> pictures;
    constexpr std::string_view start = "<svg id=\"", ending = "-wide\"", close = "</svg>";
    for (auto at = page.find(start); at != std::string::npos; at = page.find(start, at + 1)) {
        const auto name_at = at + start.size(), quote = page.find('"', name_at), end = page.find(close, at);
        std::string name = page.substr(name_at, quote - name_at + 1);
        if (!name.ends_with(ending) || end == std::string::npos) continue;
        name.resize(name.size() - ending.size());
        pictures.push_back(
            {name, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"" +
                       page.substr(at + 4, end + close.size() - at - 4) + "\n"});
    }
    return pictures;
}

} // namespace hollowtop::cli
