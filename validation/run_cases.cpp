// SPDX-License-Identifier: MIT
#include "validation/run_cases.hpp"

#include "materials/error.hpp"
#include "materials/names.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

namespace hollowtop::validation {
namespace {

using Json = nlohmann::ordered_json; // keeps the piece's keys in the order of the file

constexpr std::array<std::pair<Status, std::string_view>, 4> status_names{{
    {Status::checked, "checked"},
    {Status::from_memory, "from memory"},
    {Status::closed_form, "closed form"},
    {Status::computed, "computed"},
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
                 R"(give "checked", "from memory", "closed form" or "computed")");
    return Status::not_said;
}

Case read_case(const Json& file, Reader& reader) {
    Case c;
    reader.refuse_unknown_keys(file, "",
                               {"id", "title", "source", "status", "why", "note", "piece", "expect"});
    c.id = reader.text(file, "", "id", true);
    c.title = reader.text(file, "", "title", true);
    c.source = reader.text(file, "", "source", true);
    c.status = status_of(reader.text(file, "", "status", false), reader);
    c.why = reader.text(file, "", "why", false);
    c.note = reader.text(file, "", "note", false);
    if (const auto piece = file.find("piece"); piece != file.end() && piece->is_object()) {
        c.piece = piece->dump();
    } else {
        reader.fault("piece", piece == file.end() ? "is missing" : "is no object",
                     "give a piece file's content");
    }
    const auto expect = file.find("expect");
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

Json parse_result(const std::string& text) {
    Json result = Json::parse(text, nullptr, false);
    if (result.is_discarded()) throw Error(ErrorKind::input, Fault{"", "the result is not JSON", ""});
    return result;
}

std::optional<double> find_value(const Json& result, const std::string& pointer) {
    const Json::json_pointer way(pointer);
    if (!result.contains(way)) return std::nullopt;
    const Json& value = result.at(way);
    if (value.is_boolean()) return value.get<bool>() ? 1.0 : 0.0;
    if (value.is_number()) return value.get<double>();
    return std::nullopt;
}

Comparison blank(const Case& c, const Expectation& e) {
    return {.id = c.id,
            .title = c.title,
            .source = c.source,
            .status = c.status,
            .what = e.what,
            .published = e.value,
            .computed = std::nullopt,
            .difference_percent = std::nullopt,
            .tolerance = e.tolerance,
            .ok = false,
            .problem = {},
            .note = e.note,
            .why = e.why.empty() ? c.why : e.why};
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

std::optional<double> value_at(const std::string& result_json, const std::string& pointer) {
    return find_value(parse_result(result_json), pointer);
}

std::vector<Comparison> compare(const Case& c, const std::string& result_json) {
    const Json result = parse_result(result_json);
    std::vector<Comparison> comparisons;
    for (const Expectation& e : c.expect) {
        Comparison line = blank(c, e);
        line.computed = find_value(result, e.what);
        if (line.computed) {
            const double difference = *line.computed - e.value;
            if (e.value != 0) line.difference_percent = 100 * difference / std::abs(e.value);
            const double allowed =
                e.tolerance.is_percent ? e.tolerance.size / 100 * std::abs(e.value) : e.tolerance.size;
            line.ok = std::abs(difference) <= allowed; // false where the result is no finite number
        } else {
            line.problem = "the result has no number at " + e.what;
        }
        comparisons.push_back(std::move(line));
    }
    return comparisons;
}

std::vector<Comparison> run_case(const Case& c, const PieceRunner& run) {
    std::string result;
    try {
        result = run(c.piece);
    } catch (const Error& e) {
        if (e.kind() == ErrorKind::input) {
            std::vector<Fault> faults = e.faults();
            for (Fault& fault : faults) fault.place = fault.place.empty() ? "piece" : "piece." + fault.place;
            throw Error(ErrorKind::input, std::move(faults));
        }
        std::vector<Comparison> comparisons;
        for (const Expectation& expected : c.expect) {
            comparisons.push_back(blank(c, expected));
            comparisons.back().problem =
                e.faults().empty() ? "could not be computed" : in_own_units(e.faults().front().what);
        }
        return comparisons;
    }
    return compare(c, result);
}

bool all_ok(const std::vector<Comparison>& comparisons) {
    return std::all_of(comparisons.begin(), comparisons.end(), [](const Comparison& c) { return c.ok; });
}

} // namespace hollowtop::validation
