// SPDX-License-Identifier: MIT
#include "cli/read/piece_file.hpp"

#include "cli/files/files.hpp"
#include "cli/read/asked.hpp"
#include "cli/read/cursor.hpp"
#include "cli/read/piece_parts.hpp"
#include "cli/words/said.hpp"
#include "solver/piece/sense.hpp"

#include <algorithm>
#include <array>

namespace hollowtop::cli {
namespace {

void read_version(const Cursor& root) {
    double version = 0;
    if (!root.has("hollowtop"))
        root.fault_at("hollowtop", "this key is missing", R"(start the file with "hollowtop": 1)");
    else if (root.number("hollowtop", version) && version != piece_file_version)
        root.fault_at("hollowtop", "this version of the piece file is not known", R"(write "hollowtop": 1)");
}

/// Recesses of a piece that no recess of the file is: those of grooves, and whose.
struct Grooves {
    std::size_t first = 0;
    std::vector<std::size_t> stiffener{};
};

Piece read_piece(Cursor root, Grooves& grooves) {
    static constexpr std::array<std::string_view, 2> unit_words{"mm", "in"};
    Piece piece;
    if (!root.only({"hollowtop", "title", "units", "top", "recesses", "stiffeners", "ends", "supports",
                    "loads", "use", "limits", "self_weight", "allowables", "climate", "probe", "report",
                    "$schema"}))
        return piece;
    std::string schema; // an editor reads it
    root.text("$schema", schema);
    read_version(root);
    root.text("title", piece.title);
    std::size_t units = 0;
    root.word("units", unit_words, units);
    piece.units = units == 0 ? Units::mm : Units::inch;
    root.use_units(piece.units);

    if (const auto top = root.find("top"))
        piece.top = read_top(*top);
    else
        root.fault_at("top", "this key is missing",
                      R"(write "top": {"length", "width", "thickness" and "wood"})");
    std::size_t number = 0;
    if (const auto list = root.find("recesses"))
        for (const Cursor& item : list->items(most_recesses))
            piece.recesses.push_back(read_recess(item, piece.top, ++number));
    number = 0;
    grooves.first = piece.recesses.size();
    if (const auto list = root.find("stiffeners"))
        for (const Cursor& item : list->items(most_stiffeners)) {
            piece.stiffeners.push_back(read_stiffener(item, ++number));
            if (std::optional<Recess> groove = read_groove(item, piece.stiffeners.back())) {
                piece.recesses.push_back(std::move(*groove));
                grooves.stiffener.push_back(number - 1);
            }
        }
    if (const auto ends = root.find("ends")) piece.ends = read_ends(*ends, piece.top);
    if (const auto list = root.find("supports")) piece.supports = read_supports(*list);
    number = 0;
    if (const auto list = root.find("loads"))
        for (const Cursor& item : list->items(most_loads))
            piece.loads.push_back(read_load(item, piece.top, ++number));
    root.text("use", piece.use);
    if (const auto limits = root.find("limits")) piece.limits = read_limits(*limits);
    root.boolean("self_weight", piece.self_weight);
    if (const auto allowables = root.find("allowables"))
        piece.allowables = read_allowables(*allowables, !piece.top.sheet.empty());
    if (const auto climate = root.find("climate")) piece.climate = read_climate(*climate);
    if (const auto list = root.find("probe"))
        for (const Cursor& item : list->items(most_probes))
            if (const auto point = item.as_point()) piece.probes.push_back(*point);
    if (const auto words = root.find("report"))
        read_asked(*words); // for its faults; the report reads it for its words
    return piece;
}

/// The part of the file that a place lies in: `recesses[1]` of `recesses[1].lands[0].x`.
std::string part_of(const std::string& place) { return place.substr(0, place.find('.')); }

/// Faults of sense in the parts that were read without fault. Nothing can be said where the top itself is
/// unknown, for everything is measured against it; nor of supports where one of them could not be read, for
/// then they are miscounted.
std::vector<Fault> faults_of_the_rest(const Piece& piece, const Grooves& grooves,
                                      const std::vector<Fault>& read) {
    const auto is_at_fault = [&](const std::string& place) {
        return std::any_of(read.begin(), read.end(),
                           [&](const Fault& fault) { return part_of(fault.place) == part_of(place); });
    };
    if (is_at_fault("top") || is_at_fault("") || is_at_fault("units")) return {};
    const auto is_support = [](const std::string& place) { return place.rfind("supports", 0) == 0; };
    const bool supports_miscounted =
        std::any_of(read.begin(), read.end(), [&](const Fault& fault) { return is_support(fault.place); });
    std::vector<Fault> rest;
    try {
        for (Fault& fault : faults_of(piece)) {
            for (std::size_t k = 0; k < grooves.stiffener.size(); ++k)
                if (part_of(fault.place) == "recesses[" + std::to_string(grooves.first + k) + "]")
                    fault.place = "stiffeners[" + std::to_string(grooves.stiffener[k]) + "].groove";
            if (!is_at_fault(fault.place) && !(supports_miscounted && is_support(fault.place)))
                rest.push_back(std::move(fault));
        }
    } catch (const Error&) {
        if (read.empty()) throw; // of half a piece it may be impossible to say whether it makes sense
    }
    return rest;
}

} // namespace

Piece piece_of_json(std::string_view text) {
    const JsonValue value = parse_json(text);
    std::vector<Fault> faults;
    Grooves grooves;
    Piece piece = read_piece(Cursor(value, "", Units::mm, faults), grooves);
    for (const Fault& fault : faults_of_the_rest(piece, grooves, faults))
        if (faults.size() < most_faults) faults.push_back(in_words(fault, piece.units));
    if (!faults.empty()) throw Error(ErrorKind::input, std::move(faults));
    return piece;
}

Piece load_piece(const std::string& file) {
    try {
        return piece_of_json(read_file(file));
    } catch (Error& error) {
        error.file = file == standard_input ? "standard input" : file;
        throw;
    }
}

} // namespace hollowtop::cli
