// SPDX-License-Identifier: MIT
#include "cli/read/piece_parts.hpp"
#include "cli/words/quantity.hpp"
#include "solver/moisture/room_air.hpp"

#include <array>
#include <cmath>
#include <utility>

namespace hollowtop::cli {
namespace {

constexpr std::array durations{Duration::permanent,    Duration::long_term, Duration::medium,
                               Duration::short_term,   Duration::hour,      Duration::minutes,
                               Duration::instantaneous};

Duration read_duration(const Cursor& object) {
    std::array<std::string_view, durations.size()> words{};
    for (std::size_t i = 0; i < durations.size(); ++i) words[i] = to_word(durations[i]);
    std::size_t index = 3; // a load is short where nothing is said
    object.word("duration", words, index);
    return durations[index];
}

LoadFor read_for(const Cursor& object) {
    static constexpr std::array<std::string_view, 3> words{"everyday", "strength", "stability"};
    constexpr std::array purposes{LoadFor::everyday, LoadFor::strength, LoadFor::stability};
    std::size_t index = 0;
    object.word("for", words, index);
    return purposes[index];
}

std::optional<Rectangle> read_over(const Cursor& object) {
    Rectangle over;
    if (!object.rectangle("over", over)) return std::nullopt;
    return over;
}

bool is_worst(const Cursor& object) {
    const auto at = object.find("at");
    return at && at->value().kind == JsonValue::Kind::text && at->value().text == "worst";
}

AreaLoad read_area(const Cursor& object) {
    AreaLoad load;
    object.only({"name", "kind", "duration", "for", "pressure", "over"});
    object.pressure("pressure", load.pressure, required);
    load.over = read_over(object);
    return load;
}

PatchLoad read_patch(const Cursor& object, const Top& top) {
    PatchLoad load;
    object.only({"name", "kind", "duration", "for", "force", "at", "size", "over"});
    object.force("force", load.force, required);
    constexpr const char* way = R"(write a point as [x, y], or "worst")";
    load.at = {.x = top.length / 2, .y = top.width / 2};
    if (is_worst(object)) {
        load.travels = true;
        load.over = read_over(object);
    } else {
        if (object.has("over"))
            object.fault_at("over", R"(this goes with "at": "worst")",
                            "leave it out, or let the load travel");
        const auto at = object.find("at");
        if (!at)
            object.fault_at("at", "this key is missing", way);
        else if (at->value().kind == JsonValue::Kind::text)
            at->fault("this is no place", way);
        else
            object.point("at", load.at);
    }
    Point size;
    if (object.point("size", size, required)) {
        load.size_x = size.x;
        load.size_y = size.y;
        if (size.x < 0 || size.y < 0)
            object.fault_at("size", "a size is not negative", "write it as [along x, along y]");
    }
    return load;
}

LineLoad read_line_load(const Cursor& object) {
    LineLoad load;
    object.only({"name", "kind", "duration", "for", "force", "from", "to", "at", "over"});
    object.force("force", load.force, required);
    object.point("from", load.from, required);
    object.point("to", load.to, required);
    load.travels = is_worst(object);
    if (load.travels)
        load.over = read_over(object);
    else if (object.has("over"))
        object.fault_at("over", R"(this goes with "at": "worst")", "leave it out, or let the load travel");
    if (object.has("at") && !load.travels)
        object.fault_at("at", R"(a line lies between "from" and "to")", R"(leave it out, or write "worst")");
    return load;
}

Point read_size(const Cursor& object, const char* key) {
    Point size;
    if (object.point(key, size, required) && (size.x < 0 || size.y < 0))
        object.fault_at(key, "a size is not negative", "write it as [along x, along y]");
    return size;
}

ClampLoad read_clamp(const Cursor& object) {
    ClampLoad load;
    object.only({"name", "kind", "duration", "for", "force", "at", "towards", "arm", "above", "below"});
    object.force("force", load.force, required);
    object.point("at", load.at, required);
    object.point("towards", load.hangs_at, required);
    double arm = 0;
    if (object.length("arm", arm, positive)) { // then "towards" says the way alone
        const Point way{load.hangs_at.x - load.at.x, load.hangs_at.y - load.at.y};
        const double length = std::hypot(way.x, way.y);
        if (length > 0)
            load.hangs_at = {load.at.x + arm * way.x / length, load.at.y + arm * way.y / length};
        else
            object.fault_at("towards", R"(this is the same place as "at")",
                            "give the place over which the weight hangs, or one on the way there");
    }
    const Point above = read_size(object, "above"), below = read_size(object, "below");
    load.above_x = above.x;
    load.above_y = above.y;
    load.below_x = below.x;
    load.below_y = below.y;
    return load;
}

void read_limit(const Cursor& object, std::string_view key, MovementLimit& limit) {
    const auto there = object.find(key);
    if (!there) return;
    const JsonValue& value = there->value();
    if (value.kind == JsonValue::Kind::text && value.text.find("span") != std::string::npos) {
        if (const auto divisor = there->parsed([&] { return parse_span_divisor(value.text); }))
            limit = {.is_share_of_span = true, .divisor = *divisor, .is_stated = true};
        return;
    }
    double length = 0;
    if (object.length(key, length, positive))
        limit = {.is_share_of_span = false, .length = length, .is_stated = true};
}

std::optional<Air> read_air(const Cursor& object) {
    if (!object.only({"temperature", "humidity"})) return std::nullopt;
    Air air;
    object.celsius("temperature", air.temperature_C, {.required = true, .least = -40, .most = 100});
    object.percent("humidity", air.humidity_percent,
                   {.required = true, .least = 0, .most = 100, .above_least = true});
    return air;
}

std::optional<Air> read_air(const Cursor& object, std::string_view key) {
    const auto there = object.find(key);
    return there ? read_air(*there) : std::nullopt;
}

} // namespace

Load read_load(const Cursor& object, const Top& top, std::size_t number) {
    static constexpr std::array<std::string_view, 4> kinds{"area", "patch", "line", "clamp"};
    Load load{.name = "load " + std::to_string(number), .kind = AreaLoad{}};
    std::size_t kind = 0;
    if (object.value().kind != JsonValue::Kind::object) {
        object.only({});
        return load;
    }
    if (!object.word("kind", kinds, kind, required)) return load;
    object.text("name", load.name);
    load.duration = read_duration(object);
    load.judged_for = read_for(object);
    if (kind == 0) load.kind = read_area(object);
    if (kind == 1) load.kind = read_patch(object, top);
    if (kind == 2) load.kind = read_line_load(object);
    if (kind == 3) load.kind = read_clamp(object);
    return load;
}

Limits read_limits(const Cursor& object) {
    Limits limits;
    if (!object.only({"sag", "sag_years", "flatness", "flatness_years", "dish", "frequency"})) return limits;
    read_limit(object, "sag", limits.sag);
    read_limit(object, "sag_years", limits.sag_years);
    for (const auto& [key, limit] :
         {std::pair{"flatness", &limits.flatness}, {"flatness_years", &limits.flatness_years}})
        if (double length = 0; object.length(key, length, positive)) *limit = length;
    if (object.length("dish", limits.dish.length, positive)) limits.dish.is_stated = true;
    double frequency = 0;
    if (object.hertz("frequency", frequency, positive)) limits.frequency_Hz = frequency;
    return limits;
}

Allowables read_allowables(const Cursor& object, bool of_sheet) {
    static constexpr std::array<std::string_view, 2> bases{"handbook", "class"};
    Allowables allowables;
    std::size_t basis = 0;
    if (object.value().kind != JsonValue::Kind::object) {
        object.only({});
        return allowables;
    }
    if (!object.word("basis", bases, basis, required)) return allowables;
    if (basis == 0) {
        object.only({"basis", "grade_ratio"});
        allowables.grade_is_stated = object.number("grade_ratio", allowables.grade_ratio,
                                                   {.least = 0, .most = 1, .above_least = true});
        return allowables;
    }
    allowables.basis = AllowablesBasis::strength_class;
    object.only({"basis", "class", "service_class"});
    if (!of_sheet && !object.has("class"))
        object.fault_at("class", "this key is missing", R"(write the strength class, such as "D30")");
    object.text("class", allowables.strength_class);
    object.whole_number("service_class", allowables.service_class, {.least = 1, .most = 3});
    return allowables;
}

Climate read_climate(const Cursor& object) {
    Climate climate;
    if (!object.only({"low", "high", "years", "months", "shop", "move_in"})) return climate;
    climate.low = read_air(object, "low");
    climate.high = read_air(object, "high");
    object.number("years", climate.years, {.least = 0, .most = 200, .above_least = true});
    climate.shop = read_air(object, "shop");
    if (const auto months = object.find("months")) {
        const std::vector<Cursor> items = months->items();
        for (const Cursor& month : items)
            if (const auto air = read_air(month)) climate.months.push_back(*air);
        constexpr std::size_t in_a_year = 12;
        if (items.size() != in_a_year)
            months->fault("a year has twelve months, and these are " + std::to_string(items.size()),
                          "give the air of each, from January on");
        if (climate.low || climate.high)
            months->fault(R"(this does not go with "low" or "high")", "keep the one or the other");
    }
    std::size_t month = 0;
    if (object.word("move_in", month_words, month)) climate.move_in = static_cast<int>(month) + 1;
    return climate;
}

} // namespace hollowtop::cli
