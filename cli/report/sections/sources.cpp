// SPDX-License-Identifier: MIT
// The works that a report leans on: which, under which number, and which of them from memory.
#include "cli/report/sections/sources.hpp"

#include "cli/words/said.hpp"
#include "solver/piece/use_loads.hpp"

#include <algorithm>
#include <array>
#include <numeric>

namespace hollowtop::cli {
namespace {

constexpr std::array<Work, 20> all_works{{
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
               "1816, Forest Products Laboratory, 1950, reaffirmed 1962."},
    {"Serrano", "Serrano, E. and Gustafsson, P. J.: Fracture mechanics in timber engineering, strength "
                "analyses of components and joints. Materials and Structures 40(1), 2007, 87-96."},
    {"Gustafsson", "Gustafsson, P. J.: A study of strength of notched beams. CIB-W18, 1988."},
    {"Huebner", "Huebner, U.: Withdrawal strength of self-tapping screws in hardwoods. CIB-W18, 2013."},
    {"Newmark",
     "Newmark, N. M., Siess, C. P. and Viest, I. M.: Tests and analysis of composite beams with incomplete "
     "interaction. Proceedings of the Society for Experimental Stress Analysis, 1951 (from memory)."},
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
    for (const CheckResult& c : in.result.checks) all += in_own_units(c.basis) + "\n";
    for (const Message& a : in.result.assumptions) all += in_own_units(a) + "\n";
    for (const Message& w : in.result.warnings) all += in_own_units(w) + "\n";
    for (const Message& sentence : told_of_use(in.piece)) all += in_own_units(sentence) + "\n";
    if (!in.result.by_hand.empty() && in.result.by_hand.front().sag_mm) all += "Newmark\n";
    if (in.seasons) {
        for (const Message& a : in.seasons->assumptions) all += in_own_units(a) + "\n";
        for (const SeasonCheck& c : in.seasons->checks) all += in_own_units(c.basis) + "\n";
    }
    return all;
}

constexpr std::string_view memory = "from memory";

/// Whether a sentence names the work and says, before the next bracket closes, that it was from memory.
bool is_from_memory(const std::string& all, std::string_view mark) {
    for (auto at = all.find(mark); at != std::string::npos; at = all.find(mark, at + 1)) {
        const auto end = std::min(all.find_first_of(");\n", at), all.size());
        if (std::string_view(all).substr(at, end - at).find(memory) != std::string_view::npos) return true;
    }
    return false;
}

} // namespace

std::vector<Work> works_of(const ReportInput& in) {
    const std::string all = whole_words_of(in);
    std::vector<Work> works;
    for (Work work : all_works) {
        if (all.find(work.mark) == std::string::npos && work.mark != "Wood Handbook") continue;
        work.from_memory = work.full.find(memory) != std::string_view::npos || is_from_memory(all, work.mark);
        works.push_back(work);
    }
    return works;
}

std::string numbered(std::string_view citation, const std::vector<Work>& works) {
    std::string text(citation);
    for (const std::string& said : {std::string("; ") + std::string(memory), ", " + std::string(memory)})
        for (auto at = text.find(said); at != std::string::npos; at = text.find(said, at))
            text.replace(at, said.size(), " \u2020");
    for (const std::string_view edition : {" FPL-GTR-190", " FPL-GTR-282"})
        for (auto at = text.find(edition); at != std::string::npos; at = text.find(edition, at))
            text.erase(at, edition.size());
    std::vector<std::size_t> longest_first(works.size());
    std::iota(longest_first.begin(), longest_first.end(), std::size_t{0});
    std::stable_sort(longest_first.begin(), longest_first.end(), [&](std::size_t a, std::size_t b) {
        return works[a].mark.size() > works[b].mark.size();
    });
    for (const std::size_t k : longest_first)
        for (auto at = text.find(works[k].mark); at != std::string::npos; at = text.find(works[k].mark, at))
            text.replace(at, works[k].mark.size(), "[" + std::to_string(k + 1) + "]");
    return text;
}

} // namespace hollowtop::cli
