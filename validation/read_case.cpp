// SPDX-License-Identifier: MIT
// From the text of a case file to a case; every fault is gathered with its place.
#include "materials/error.hpp"
#include "materials/names.hpp"
#include "validation/run_cases.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <numeric>
#include <set>

namespace hollowtop::validation {
namespace {

using Json = nlohmann::ordered_json; // keeps the piece's keys in the order of the file

constexpr std::array<std::pair<Status, std::string_view>, 6> status_names{{
    {Status::checked, "checked"},
    {Status::from_memory, "from memory"},
    {Status::closed_form, "closed form"},
    {Status::computed, "computed"},
    {Status::measured, "measured"},
    {Status::invented, "invented"},
}};

/// Reads one case and gathers its faults, so that three typos take one run.
class Reader {
  public:
    std::vector<Fault> faults;

    void fault(std::string place, std::string what, std::string remedy = {}) {
        faults.push_back({std::move(place), std::move(what), std::move(remedy)});
    }

    void refuse_unknown_keys(const Json& object, const std::string& at,
                             const std::vector<std::string>& known) {
        for (const auto& [key, value] : object.items()) {
            if (std::find(known.begin(), known.end(), key) != known.end()) continue;
            fault(at + key, "no such key", materials::did_you_mean(key, known));
        }
    }

    std::string text(const Json& object, const std::string& at, const char* key, bool needed) {
        const auto found = object.find(key);
        if (found == object.end()) {
            if (needed) fault(at + key, "is missing", "give a text");
            return {};
        }
        if (found->is_string() && !(needed && found->get_ref<const std::string&>().empty())) {
            return found->get<std::string>();
        }
        fault(at + key, found->is_string() ? "is empty" : "is not a text", "give a text");
        return {};
    }

    /// A finite number, or true and false as 1 and 0 where `truth` says so.
    std::optional<double> number(const Json& object, const std::string& at, const char* key,
                                 bool truth = false) {
        const auto found = object.find(key);
        if (found == object.end()) return std::nullopt;
        if (found->is_number() && std::isfinite(found->get<double>())) return found->get<double>();
        if (truth && found->is_boolean()) return found->get<bool>() ? 1.0 : 0.0;
        fault(at + key, "is not a number", truth ? "give a number, true or false" : "give a number");
        return std::nullopt;
    }

    Tolerance tolerance(const Json& object, const std::string& at, double value) {
        const auto percent = number(object, at, "tolerance_percent");
        const auto size = number(object, at, "tolerance");
        const bool has_percent = object.contains("tolerance_percent"),
                   has_size = object.contains("tolerance");
        if (has_percent == has_size) {
            fault(at + "tolerance_percent", has_size ? "stands beside a tolerance" : "is missing",
                  R"(give either "tolerance_percent" or "tolerance")");
        } else if (percent.value_or(0) < 0 || size.value_or(0) < 0) {
            fault(at + (percent ? "tolerance_percent" : "tolerance"), "is below 0", "give 0 or more");
        } else if (percent.value_or(0) > 0 && value == 0) {
            fault(at + "tolerance_percent", "is a share of a value that is 0",
                  R"(give "tolerance", in the value's own unit)");
        }
        return {.size = has_percent ? percent.value_or(0) : size.value_or(0), .is_percent = has_percent};
    }

    Expectation expectation(const Json& item, const std::string& at) {
        refuse_unknown_keys(item, at, {"what", "value", "tolerance_percent", "tolerance", "note", "why"});
        Expectation e;
        e.what = text(item, at, "what", true);
        if (!e.what.empty()) check_pointer(e.what, at + "what");
        const auto value = number(item, at, "value", true);
        if (!item.contains("value")) fault(at + "value", "is missing", "give the published number");
        e.value = value.value_or(1);
        e.tolerance = tolerance(item, at, e.value);
        e.note = text(item, at, "note", false);
        e.why = text(item, at, "why", false);
        return e;
    }

  private:
    void check_pointer(const std::string& pointer, const std::string& place) {
        bool fine = pointer.front() == '/';
        for (std::size_t i = 0; i < pointer.size(); ++i) {
            if (pointer[i] != '~') continue;
            fine = fine && i + 1 < pointer.size() && (pointer[i + 1] == '0' || pointer[i + 1] == '1');
        }
        if (!fine) {
            fault(place, "\"" + pointer + "\" is no JSON Pointer",
                  "write the way into the result, such as \"/situations/0/sag_mm\"");
        }
    }
};

/// Refuses a key given twice in one object, which the library would take silently.
Json parse_json(std::string_view text) {
    std::vector<std::set<std::string>> open;
    const auto watch = [&open](int, Json::parse_event_t event, Json& value) {
        if (event == Json::parse_event_t::object_start) open.emplace_back();
        if (event == Json::parse_event_t::object_end) open.pop_back();
        if (event == Json::parse_event_t::key && !open.back().insert(value.get<std::string>()).second) {
            throw Error(ErrorKind::input,
                        Fault{value.get<std::string>(), "stands twice in one object", "keep one"});
        }
        return true;
    };
    try {
        return Json::parse(text.begin(), text.end(), watch, true, true);
    } catch (const Json::parse_error& e) {
        const auto end = text.begin() + static_cast<std::ptrdiff_t>(std::min(e.byte, text.size()));
        const auto line = 1 + std::count(text.begin(), end, '\n');
        throw Error(ErrorKind::input, Fault{"line " + std::to_string(line), "this is not JSON",
                                            "look for a comma, quote or bracket too many or too few"});
    } catch (const Json::exception&) { // a number too large to hold
        throw Error(ErrorKind::input, Fault{"", "a number is too large to hold", ""});
    }
}

Status status_of(const std::string& name, Reader& reader) {
    if (name.empty()) return Status::not_said;
    for (const auto& [status, known] : status_names) {
        if (name == known) return status;
    }
    reader.fault("status", "\"" + name + "\" is no status",
                 R"(give "checked", "from memory", "closed form", "computed", "measured" or "invented")");
    return Status::not_said;
}

/// Of the measuring: by whom, when and how, as a sentence for `source`.
std::string measuring(const Json& file, Reader& reader) {
    const auto measured = file.find("measured");
    if (measured == file.end() || !measured->is_object()) {
        reader.fault("measured", measured == file.end() ? "is missing" : "is no object",
                     R"(give {"by", "on", "how"}: who measured, when and by what means)");
        return "-";
    }
    reader.refuse_unknown_keys(*measured, "measured.", {"by", "on", "how"});
    const std::string by = reader.text(*measured, "measured.", "by", true),
                      on = reader.text(*measured, "measured.", "on", true),
                      how = reader.text(*measured, "measured.", "how", true);
    return "measured by " + by + ", " + on + "; " + how;
}

std::vector<double> numbers(const Json& object, const std::string& at, const char* key, Reader& reader) {
    const auto found = object.find(key);
    std::vector<double> all;
    if (found != object.end() && found->is_array())
        for (const Json& item : *found) {
            if (!item.is_number() || !std::isfinite(item.get<double>())) break;
            all.push_back(item.get<double>());
        }
    if (found == object.end() || !found->is_array() || all.size() != found->size() || all.empty())
        reader.fault(at + key, found == object.end() ? "is missing" : "is no list of numbers",
                     "give a list of numbers");
    return all;
}

/// mm a newton: the slope of the straight line nearest to the readings (least squares, free to miss nought),
/// and how far they scatter about it.
struct Slope {
    double value = 0, scatter = 0;
};
Slope slope_of(const std::vector<double>& load, const std::vector<double>& down) {
    const double n = static_cast<double>(load.size());
    const double mean_load = std::accumulate(load.begin(), load.end(), 0.0) / n,
                 mean_down = std::accumulate(down.begin(), down.end(), 0.0) / n;
    double both = 0, square = 0;
    for (std::size_t i = 0; i < load.size(); ++i) {
        both += (load[i] - mean_load) * (down[i] - mean_down);
        square += (load[i] - mean_load) * (load[i] - mean_load);
    }
    Slope slope{.value = both / square};
    for (std::size_t i = 0; i < load.size(); ++i)
        slope.scatter += std::pow(down[i] - mean_down - slope.value * (load[i] - mean_load), 2);
    slope.scatter = std::sqrt(slope.scatter / std::max(n - 2, 1.0));
    return slope;
}

std::string digits(double value, int decimals) {
    char text[32];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    return text;
}

/// One gauge: its place becomes a probe of the piece, its slope the movement expected under the full load.
void read_gauge(const Json& gauge, std::size_t index, Json& piece, Case& c, Reader& reader) {
    const std::string at = "readings[" + std::to_string(index) + "].";
    if (!gauge.is_object()) {
        reader.fault(at, "is no object", R"(give {"at", "load_N", "down_mm", "tolerance_percent"})");
        return;
    }
    reader.refuse_unknown_keys(gauge, at,
                               {"at", "load_N", "down_mm", "tolerance_percent", "tolerance", "why"});
    const std::vector<double> place = numbers(gauge, at, "at", reader),
                              load = numbers(gauge, at, "load_N", reader),
                              down = numbers(gauge, at, "down_mm", reader);
    if (load.empty() || down.empty() || place.empty()) return;
    const double full = *std::max_element(load.begin(), load.end());
    if (place.size() != 2) reader.fault(at + "at", "is no place", "give [x, y]");
    if (load.size() != down.size())
        reader.fault(at + "down_mm", "has another number of readings than load_N", "give one a load");
    else if (load.size() < 3 || *std::min_element(load.begin(), load.end()) == full)
        reader.fault(at + "load_N", "makes no line", "give three readings or more, under different loads");
    else {
        const Slope slope = slope_of(load, down);
        Expectation e{.what = "/situations/0/probes/" + std::to_string(index) + "/w_mm",
                      .value = slope.value * full,
                      .tolerance = {},
                      .note = {},
                      .why = {}};
        e.tolerance = reader.tolerance(gauge, at, e.value);
        e.note = "by the slope of " + std::to_string(load.size()) + " readings, which scatter by " +
                 digits(slope.scatter, 3) + " mm, at " + digits(full, 0) + " N";
        e.why = reader.text(gauge, at, "why", false);
        if (index == 0)
            c.expect.push_back({.what = "/situations/0/applied_N",
                                .value = full,
                                .tolerance = {.size = 0.5},
                                .note = "the greatest load that was laid on",
                                .why = "The load of the piece is not the one that was laid on."});
        c.expect.push_back(std::move(e));
        piece["probe"].push_back(place);
    }
}

/// Gauges are set to nought under the top's own weight: the piece has none, one load and no probes of its own.
void read_gauges(const Json& readings, Json& piece, Case& c, Reader& reader) {
    if (!readings.is_array() || readings.empty()) {
        reader.fault("readings", "is no list",
                     R"(give a list of {"at", "load_N", "down_mm", "tolerance_percent"})");
        return;
    }
    if (!piece.contains("self_weight") || piece["self_weight"] != false)
        reader.fault("piece.self_weight", "is not false",
                     "gauges start from the top under its own weight: give false");
    if (!piece.contains("loads") || !piece["loads"].is_array() || piece["loads"].size() != 1)
        reader.fault("piece.loads", "is not one load", "give the load that was laid on, at its greatest");
    for (const char* key : {"probe", "use"})
        if (piece.contains(key))
            reader.fault(std::string("piece.") + key, "cannot stand beside readings", "leave it out");
    for (std::size_t i = 0; i < readings.size(); ++i) read_gauge(readings[i], i, piece, c, reader);
}

Case read_case(const Json& file, Reader& reader) {
    Case c;
    reader.refuse_unknown_keys(file, "",
                               {"id", "title", "source", "status", "why", "note", "miss", "piece", "expect",
                                "measured", "readings"});
    c.id = reader.text(file, "", "id", true);
    c.title = reader.text(file, "", "title", true);
    c.status = status_of(reader.text(file, "", "status", false), reader);
    const bool is_measured = c.status == Status::measured || c.status == Status::invented;
    if (is_measured)
        c.source = (c.status == Status::invented ? "INVENTED, an example of the form: " : "") +
                   measuring(file, reader);
    else
        c.source = reader.text(file, "", "source", true);
    c.why = reader.text(file, "", "why", false);
    c.note = reader.text(file, "", "note", false);
    c.miss = reader.text(file, "", "miss", false);
    if (const auto piece = file.find("piece"); piece != file.end() && piece->is_object()) {
        Json built = *piece;
        if (const auto readings = file.find("readings"); readings != file.end())
            read_gauges(*readings, built, c, reader);
        c.piece = built.dump();
    } else {
        reader.fault("piece", piece == file.end() ? "is missing" : "is no object",
                     "give a piece file's content");
    }
    const auto expect = file.find("expect");
    if (expect == file.end() && file.contains("readings")) return c;
    if (expect == file.end() || !expect->is_array() || expect->empty()) {
        reader.fault(
            "expect", expect == file.end() ? "is missing" : "is no list of expected values",
            R"(give a list such as [{"what": "/situations/0/sag_mm", "value": 1.5, "tolerance_percent": 1}])");
        return c;
    }
    for (std::size_t i = 0; i < expect->size(); ++i) {
        const std::string at = "expect[" + std::to_string(i) + "]";
        const Json& item = (*expect)[i];
        if (item.is_object()) {
            c.expect.push_back(reader.expectation(item, at + "."));
        } else {
            reader.fault(at, "is no object", R"(give {"what", "value", "tolerance_percent"})");
        }
    }
    return c;
}

} // namespace

std::string_view name_of(Status status) {
    for (const auto& [known, name] : status_names) {
        if (known == status) return name;
    }
    return {};
}

Case parse_case(std::string_view text, const std::string& name) {
    try {
        const Json file = parse_json(text);
        Reader reader;
        Case c;
        if (file.is_object()) {
            c = read_case(file, reader);
        } else {
            reader.fault("", "a case is an object", R"(give {"id", "title", "source", "piece", "expect"})");
        }
        if (!reader.faults.empty()) throw Error(ErrorKind::input, reader.faults);
        return c;
    } catch (Error& e) {
        e.file = name;
        throw;
    }
}

} // namespace hollowtop::validation
