// SPDX-License-Identifier: MIT
#include "cli/report/report.hpp"

#include "cli/files/sha256.hpp"
#include "cli/report/sections/report_parts.hpp"
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

std::string short_text(const std::string& text, std::size_t most) {
    std::size_t n = 0, i = 0;
    while (i < text.size() && n < most) {
        ++i;
        while (i < text.size() && (static_cast<unsigned char>(text[i]) & 0xC0U) == 0x80) ++i;
        ++n;
    }
    return i < text.size() ? text.substr(0, i) + "\u2026" : text;
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
    return "@page{margin:18mm 16mm 18mm;@top-left{content:" + style_string(left) +
           ";font:9pt sans-serif;color:#5f584e}@top-right{content:" + style_string(stamp_of(in)) +
           ";font:9pt sans-serif;color:#5f584e}@bottom-left{content:" + style_string(foot) +
           ";font:9pt sans-serif;color:#5f584e}@bottom-right{content:\"page \" counter(page) \" of \" "
           "counter(pages);font:9pt sans-serif;color:#5f584e}}\n";
}

struct Section {
    std::string_view id, title, short_title;
    Markup (*write)(const Sheet&);
};
/// In the order of the page.
constexpr std::array<Section, 24> sections{{
    {"verdict", "Verdict", "", verdict_section},
    {"asked", "What was asked, and for whom", "What was asked", asked_section},
    {"piece", "The piece", "", piece_section},
    {"weight", "Weight before and after", "Weight", weight_section},
    {"movement", "How it moves", "", movement_section},
    {"stress", "How hard the wood works", "", stress_section},
    {"checks", "The checks", "", checks_section},
    {"stiffeners", "Supports, stiffeners and screws", "Supports, stiffeners", stiffeners_section},
    {"seasons", "Through the seasons", "Seasons", seasons_section},
    {"bench", "Bench page", "", bench_section},
    {"changes", "What changes the verdict first", "What changes it first", changes_section},
    {"compare", "Variants side by side", "Variants", compare_section},
    {"method", "Method, data and their sources", "Method and data", method_section},
    {"sure", "How sure each number is", "How sure", sure_section},
    {"validation", "Validation summary", "Validation", validation_section},
    {"test", "Proof test", "", test_section},
    {"care", "Use and care", "", care_section},
    {"risks", "Risk table", "", risks_section},
    {"limits", "What was taken for granted, and limits of use", "Limits of use", limits_section},
    {"cautions", "Cautions", "", cautions_section},
    {"references", "References", "", references_section},
    {"signatures", "Revisions and signatures", "Signatures", signatures_section},
    {"both", "The main numbers in both systems of units", "Both units", both_units_section},
    {"inputs", "The input in full", "Input", inputs_section},
}};

bool is_there(const Sheet& sheet, const Section& section) {
    return section.id != "compare" || !sheet.in.varied.empty();
}

/// "7", and letters for the appendices.
std::string number_of(const Sheet& sheet, std::string_view id) {
    constexpr int n_appendices = 2;
    int number = 0, left = static_cast<int>(sections.size());
    for (const Section& section : sections) {
        number += is_there(sheet, section) ? 1 : 0;
        if (section.id == id)
            return left > n_appendices ? std::to_string(number)
                                       : std::string(1, static_cast<char>('A' + n_appendices - left));
        --left;
    }
    HOLLOWTOP_ASSERT(false);
    return {};
}

Markup contents(const Sheet& sheet) {
    Markup items;
    for (const Section& section : sections)
        if (is_there(sheet, section))
            items += element(
                "li",
                element("a",
                        words(number_of(sheet, section.id) + ". " +
                              std::string(section.short_title.empty() ? section.title : section.short_title)),
                        {{"href", "#" + std::string(section.id)}}));
    return element("nav", element("ol", items), {{"aria-label", "Contents"}});
}

} // namespace

Markup heading(const Sheet& sheet, std::string_view id) {
    for (const Section& section : sections)
        if (section.id == id) {
            const std::string number = number_of(sheet, id);
            return element("h2",
                           words((number.front() >= 'A' ? "Appendix " + number : number) + ". " +
                                 std::string(section.title)),
                           {{"id", std::string(id)}});
        }
    HOLLOWTOP_ASSERT(false);
    return {};
}

Markup section_link(const Sheet& sheet, std::string_view id) {
    const std::string number = number_of(sheet, id);
    return element("a", words((number.front() >= 'A' ? "appendix " : "section ") + number),
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
    constexpr double wide = 760, narrow = 336;
    return element("figure",
                   element("div", Markup{draw("-wide", wide).element()}, {{"class", "wide"}}) +
                       element("div", Markup{draw("-narrow", narrow).element()}, {{"class", "narrow"}}) +
                       element("figcaption", caption)) +
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

std::string report_html(ReportInput input) {
    tell(input);
    const ReportInput& in = input;
    const Plan plan = plan_of(in.piece);
    const Bench bench = bench_of(in.piece, plan, in.result, in.seasons, in.cutter, in.units);
    const Sheet sheet{in, plan, bench};
    const std::string title = in.piece.title.empty() ? in.file : in.piece.title;
    std::vector<std::pair<std::string, Markup>> head;
    if (!in.asked.number.empty()) head.push_back({"Number", own(in.asked.number)});
    if (!revision_of(in).empty()) head.push_back({"Revision", own(revision_of(in))});
    if (!in.date.empty()) head.push_back({"Date", own(in.date)});
    head.push_back({"Made by", words(std::string("hollowtop ") + program_version)});
    head.push_back({"Input", own(in.file) + words(", SHA-256 ") +
                                 element("code", words(sha256(in.text).substr(0, 12)))});
    Markup body = element("header", element("p", words("Calculation report"), {{"class", "kind"}}) +
                                        element("p", words(stamp_of(in)), {{"class", "stamp"}}) +
                                        element("h1", own(title)) + facts(head));
    Markup main = verdict_section(sheet) + contents(sheet);
    for (const Section& section : sections)
        if (section.id != "verdict" && is_there(sheet, section)) main += section.write(sheet);
    body += element("main", main);
    body += element("footer", para(words("End of report. ") + own(title)));
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
           "content=\"width=device-width, initial-scale=1\">\n<title>" +
           escaped(short_text(title, 120)) + ": calculation report</title>\n<style>\n" + style_sheet +
           page_style(in, title) + "</style>\n</head>\n<body>\n" + body.html + "\n</body>\n</html>\n";
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
