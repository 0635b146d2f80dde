// SPDX-License-Identifier: MIT
#include "cli/json/study_lines.hpp"

#include "cli/json/message_json.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"
#include "solver/check/season_told.hpp"
#include "solver/checks/checks.hpp"

#include <nlohmann/json.hpp>

#include <array>
#include <charconv>
#include <string_view>

namespace hollowtop::cli {
namespace {

/// Twelve digits: more than any number here is sure to.
std::string digits_of(double value) { return significant(value, 12); }
std::string digits_of(const std::optional<double>& value) {
    return value ? digits_of(*value) : std::string();
}

std::string field(const std::string& text) {
    if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
    std::string out = "\"";
    for (const char c : text) {
        if (c == '\n' || c == '\r') {
            out += ' '; // a line stays a line
            continue;
        }
        if (c == '"') out += '"';
        out += c;
    }
    return out + '"';
}

/// Empty where a quote is left open.
std::optional<std::vector<std::string>> fields_of(const std::string& line) {
    std::vector<std::string> fields(1);
    bool is_quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        if (is_quoted) {
            if (c != '"')
                fields.back() += c;
            else if (i + 1 < line.size() && line[i + 1] == '"')
                fields.back() += line[i++];
            else
                is_quoted = false;
        } else if (c == '"') {
            is_quoted = true;
        } else if (c == ',') {
            fields.emplace_back();
        } else {
            fields.back() += c;
        }
    }
    if (is_quoted) return std::nullopt;
    return fields;
}

bool read_number(const std::string& text, double& value) {
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc{} && end == text.data() + text.size();
}
bool read_number(const std::string& text, std::optional<double>& value) {
    if (text.empty()) return true;
    double number = 0;
    if (!read_number(text, number)) return false;
    value = number;
    return true;
}

constexpr const char* passes_word = "passes";
constexpr const char* fails_word = "fails";
constexpr const char* impossible_word = "not possible";

const char* verdict_of(const VariantLine& line) {
    return !line.row ? impossible_word : line.row->passes ? passes_word : fails_word;
}

constexpr std::size_t n_season_columns = 4;
/// Free, held, boards, pull: as the heading has them.
std::array<std::optional<double>, n_season_columns> season_columns(const VariantLine& line) {
    if (!line.seasons) return {};
    const SeasonNumbers& s = *line.seasons;
    return {s.free_mm, s.held_mm, s.boards_mm, s.tension_MPa};
}

} // namespace

std::string csv_written_for(const WrittenFor& what) {
    return "# hollowtop " + what.version + ", mesh " + what.mesh + ", piece " + what.piece + ", settings " +
           what.settings + '\n';
}

std::string json_written_for(const WrittenFor& what) {
    const nlohmann::ordered_json line = {
        {"hollowtop", what.version}, {"mesh", what.mesh}, {"piece", what.piece}, {"settings", what.settings}};
    return line.dump() + '\n';
}

std::optional<WrittenFor> read_written_for(const std::string& line) {
    if (line.starts_with('{')) {
        const auto json = nlohmann::json::parse(line, nullptr, false);
        WrittenFor what;
        const std::array<std::pair<const char*, std::string*>, 4> keys{{{"hollowtop", &what.version},
                                                                        {"mesh", &what.mesh},
                                                                        {"piece", &what.piece},
                                                                        {"settings", &what.settings}}};
        for (const auto& [key, value] : keys) {
            if (!json.is_object() || !json.contains(key) || !json[key].is_string()) return std::nullopt;
            *value = json[key].get<std::string>();
        }
        return what;
    }
    const std::array<std::string_view, 4> heads{"# hollowtop ", ", mesh ", ", piece ", ", settings "};
    std::array<std::string, 4> values;
    std::size_t at = 0;
    for (std::size_t i = 0; i < heads.size(); ++i) {
        if (line.compare(at, heads[i].size(), heads[i]) != 0) return std::nullopt;
        at += heads[i].size();
        const std::size_t end = i + 1 < heads.size() ? line.find(heads[i + 1], at) : line.size();
        if (end == std::string::npos) return std::nullopt;
        values[i] = line.substr(at, end - at);
        at = end;
    }
    return WrittenFor{.version = values[0], .piece = values[2], .mesh = values[1], .settings = values[3]};
}

std::string differences(const WrittenFor& one, const WrittenFor& other) {
    std::vector<std::string> all;
    if (one.piece != other.piece) all.emplace_back("the piece");
    if (one.mesh != other.mesh) all.push_back("the mesh (" + one.mesh + ", now " + other.mesh + ")");
    if (one.settings != other.settings) all.emplace_back("what is varied, added or priced");
    if (one.version != other.version)
        all.push_back("the version (" + one.version + ", now " + other.version + ")");
    std::string text;
    for (std::size_t i = 0; i < all.size(); ++i)
        text += (i == 0 ? "" : i + 1 == all.size() ? " and " : ", ") + all[i];
    return text;
}

std::string csv_heading(const std::vector<std::string>& axes) {
    std::string heading = "variant";
    for (const std::string& axis : axes) heading += ',' + field(axis);
    heading += ",verdict,governs,situation,utilisation,mass_kg,stiffeners_kg,sag_mm,sag_limit_mm,sag_years_"
               "mm,dish_mm,frequency_Hz,cost,"
               "sag_error_percent,stress_error_percent,season_free_mm,season_held_mm,season_boards_mm,season_"
               "pull_MPa";
    for (const Check& check : table_of_checks()) heading += ',' + field(std::string("use: ") + check.name);
    for (const Check& row : table_of_season_rows()) heading += ',' + field(std::string("use: ") + row.name);
    return heading + ",problem\n";
}

std::string csv_line(const VariantLine& line) {
    std::string text = std::to_string(line.variant);
    const auto add = [&](const std::string& one) { text += ',' + field(one); };
    for (const std::string& choice : line.choices) add(choice);
    add(verdict_of(line));
    const StudyRow row = line.row.value_or(StudyRow{});
    add(row.governing_check);
    add(as_drawn(row.governing_situation));
    if (line.row) {
        for (const double value :
             {row.utilisation, row.mass_kg, row.stiffeners_kg, row.sag_mm, row.sag_limit_mm})
            add(digits_of(value));
    } else {
        text += ",,,,,";
    }
    for (const auto& value : {row.sag_years_mm, row.dish_mm, row.frequency_Hz, row.cost})
        add(digits_of(value));
    for (const double value : {row.sag_error_percent, row.stress_error_percent})
        add(line.row ? digits_of(value) : "");
    for (const auto& value : season_columns(line)) add(digits_of(value));
    for (std::size_t i = 0; i < table_of_checks().size(); ++i)
        add(i < row.uses.size() && row.uses[i] >= 0 ? digits_of(row.uses[i]) : "");
    for (const double use : row.season_uses) add(use >= 0 ? digits_of(use) : "");
    add(line.problem);
    return text + '\n';
}

std::optional<VariantLine> read_csv_line(const std::string& text, std::size_t n_axes) {
    const std::size_t n_checks = table_of_checks().size();
    const auto fields = fields_of(text);
    if (!fields ||
        fields->size() != 1 + n_axes + 15 + n_season_columns + n_checks + table_of_season_rows().size())
        return std::nullopt;
    VariantLine line;
    const std::string& first = fields->front();
    const auto [end, error] = std::from_chars(first.data(), first.data() + first.size(), line.variant);
    if (error != std::errc{} || end != first.data() + first.size()) return std::nullopt;
    auto at = fields->begin() + 1;
    for (std::size_t a = 0; a < n_axes; ++a) line.choices.push_back(*at++);
    const std::string verdict = *at++;
    line.problem = fields->back();
    if (verdict == impossible_word) return line;
    if (verdict != passes_word && verdict != fails_word) return std::nullopt;
    StudyRow row;
    row.passes = verdict == passes_word;
    row.governing_check = *at++;
    row.governing_situation = *at++;
    for (double* value : {&row.utilisation, &row.mass_kg, &row.stiffeners_kg, &row.sag_mm, &row.sag_limit_mm})
        if (!read_number(*at++, *value)) return std::nullopt;
    for (auto* value : {&row.sag_years_mm, &row.dish_mm, &row.frequency_Hz, &row.cost})
        if (!read_number(*at++, *value)) return std::nullopt;
    for (double* value : {&row.sag_error_percent, &row.stress_error_percent})
        if (!read_number(*at++, *value)) return std::nullopt;
    std::array<std::optional<double>, n_season_columns> seasons;
    for (auto& value : seasons)
        if (!read_number(*at++, value)) return std::nullopt;
    if (seasons[0] && seasons[3])
        line.seasons = SeasonNumbers{.free_mm = *seasons[0],
                                     .held_mm = seasons[1],
                                     .boards_mm = seasons[2],
                                     .tension_MPa = *seasons[3]};
    for (std::size_t i = 0; i < n_checks; ++i) {
        std::optional<double> use;
        if (!read_number(*at++, use)) return std::nullopt;
        row.uses.push_back(use.value_or(-1));
    }
    for (double& season_use : row.season_uses) {
        std::optional<double> use;
        if (!read_number(*at++, use)) return std::nullopt;
        season_use = use.value_or(-1);
    }
    line.row = std::move(row);
    return line;
}

std::string json_line(const std::vector<std::string>& axes, const VariantLine& line) {
    using Json = nlohmann::ordered_json;
    const auto or_null = [](const std::optional<double>& value) {
        return value ? Json(*value) : Json(nullptr);
    };
    Json choices = Json::object();
    for (std::size_t a = 0; a < axes.size(); ++a) choices[axes[a]] = line.choices[a];
    Json out = {{"variant", line.variant}, {"choices", std::move(choices)}, {"verdict", verdict_of(line)}};
    if (const auto& row = line.row) {
        out["governing"] = {{"check", row->governing_check},
                            {"situation", row->governing_situation},
                            {"utilisation", row->utilisation}};
        out["mass_kg"] = row->mass_kg;
        out["stiffeners_kg"] = row->stiffeners_kg;
        out["sag_mm"] = row->sag_mm;
        out["sag_limit_mm"] = row->sag_limit_mm;
        out["sag_years_mm"] = or_null(row->sag_years_mm);
        out["dish_mm"] = or_null(row->dish_mm);
        out["frequency_Hz"] = or_null(row->frequency_Hz);
        out["cost"] = or_null(row->cost);
        Json uses = Json::object();
        for (std::size_t i = 0; i < row->uses.size(); ++i)
            if (row->uses[i] >= 0) uses[table_of_checks()[i].name] = row->uses[i];
        for (std::size_t i = 0; i < row->season_uses.size(); ++i)
            if (row->season_uses[i] >= 0) uses[table_of_season_rows()[i].name] = row->season_uses[i];
        out["utilisation"] = std::move(uses);
        out["sag_error_percent"] = row->sag_error_percent;
        out["stress_error_percent"] = row->stress_error_percent;
        if (const auto& seasons = line.seasons)
            out["seasons"] = {{"free_mm", seasons->free_mm},
                              {"held_mm", or_null(seasons->held_mm)},
                              {"boards_mm", or_null(seasons->boards_mm)},
                              {"pull_MPa", seasons->tension_MPa}};
    } else {
        out["problem"] = line.problem;
    }
    return out.dump(-1, ' ', false, Json::error_handler_t::replace) + '\n';
}

} // namespace hollowtop::cli
