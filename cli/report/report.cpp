// SPDX-License-Identifier: MIT
#include "cli/report/report.hpp"

#include "cli/format.hpp"
#include "cli/report/report_parts.hpp"
#include "cli/report/sha256.hpp"
#include "solver/analysis/version.hpp"

#include <array>

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

/// What stands at the head and the foot of each printed page.
std::string page_style(const ReportInput& in, const std::string& title) {
    std::string left = short_text(title, 60);
    if (!in.asked.number.empty()) left += ", " + in.asked.number;
    if (!revision_of(in).empty()) left += ", revision " + revision_of(in);
    if (!in.date.empty()) left += ", " + in.date;
    const std::string foot =
        std::string("hollowtop ") + program_version + ", input " + sha256(in.text).substr(0, 12);
    return "@page{margin:18mm 16mm 18mm;@top-left{content:" + style_string(left) +
           ";font:9pt sans-serif;color:#5f584e}@bottom-left{content:" + style_string(foot) +
           ";font:9pt sans-serif;color:#5f584e}@bottom-right{content:\"page \" counter(page) \" of \" "
           "counter(pages);font:9pt sans-serif;color:#5f584e}}\n";
}

Markup contents() {
    static constexpr std::array<std::pair<const char*, const char*>, 18> entries{
        {{"verdict", "1. Verdict"},
         {"asked", "2. What was asked"},
         {"piece", "3. The piece"},
         {"weight", "4. Weight"},
         {"movement", "5. How it moves"},
         {"stress", "6. How hard the wood works"},
         {"checks", "7. The checks"},
         {"stiffeners", "8. Supports, stiffeners"},
         {"seasons", "9. Seasons"},
         {"bench", "10. Bench page"},
         {"sure", "11. How sure"},
         {"validation", "12. Validation"},
         {"limits", "13. Limits of use"},
         {"cautions", "14. Cautions"},
         {"references", "15. References"},
         {"test", "16. Proof test"},
         {"signatures", "17. Signatures"},
         {"inputs", "Appendix. Input"}}};
    Markup items;
    for (const auto& [id, name] : entries)
        items += element("li", element("a", words(name), {{"href", std::string("#") + id}}));
    return element("nav", element("ol", items), {{"aria-label", "Contents"}});
}

} // namespace

// ---- numbers ----------------------------------------------------------------------------------------------------

std::string at_index(std::string_view list, std::size_t index, std::string_view key) {
    return std::string(list) + "/" + std::to_string(index) + "/" + std::string(key);
}

Markup moved(const Sheet& sheet, double mm, const std::string& pointer, Source source) {
    return number(mm, pointer, amount_text(mm, "mm", sheet.units()), source);
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

Markup figure(const Markup& caption,
              const std::function<Svg(const std::string& id_end, double width)>& draw) {
    constexpr double wide = 760, narrow = 336;
    return element("figure",
                   element("div", Markup{draw("-wide", wide).element()}, {{"class", "wide"}}) +
                       element("div", Markup{draw("-narrow", narrow).element()}, {{"class", "narrow"}}) +
                       element("figcaption", caption)) +
           Markup{"\n"};
}

// ---- the page ---------------------------------------------------------------------------------------------------

std::string report_html(const ReportInput& in) {
    const Plan plan = plan_of(in.piece);
    const Bench bench = bench_of(in.piece, plan, in.result, in.seasons, in.cutter, in.units);
    const Sheet sheet{in, plan, bench};
    const std::string title = in.piece.title.empty() ? in.file : in.piece.title;
    std::vector<std::pair<std::string, Markup>> head;
    if (!in.asked.number.empty()) head.push_back({"Number", own(in.asked.number)});
    if (!revision_of(in).empty()) head.push_back({"Revision", own(revision_of(in))});
    if (!in.asked.status.empty()) head.push_back({"Status", words(in.asked.status)});
    if (!in.date.empty()) head.push_back({"Date", own(in.date)});
    head.push_back({"Made by", words(std::string("hollowtop ") + program_version)});
    head.push_back({"Input", own(in.file) + words(", SHA-256 ") +
                                 element("code", words(sha256(in.text).substr(0, 12)))});
    Markup body = element("header", element("p", words("Calculation report"), {{"class", "kind"}}) +
                                        element("h1", own(title)) + facts(head));
    body += element("main", verdict_section(sheet) + contents() + asked_section(sheet) +
                                piece_section(sheet) + weight_section(sheet) + movement_section(sheet) +
                                stress_section(sheet) + checks_section(sheet) + stiffeners_section(sheet) +
                                seasons_section(sheet) + bench_section(sheet) + sure_section(sheet) +
                                validation_section(sheet) + limits_section(sheet) + cautions_section(sheet) +
                                references_section(sheet) + compare_section(sheet) + test_section(sheet) +
                                signatures_section(sheet) + inputs_section(sheet));
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
