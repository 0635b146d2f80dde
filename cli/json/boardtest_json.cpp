// SPDX-License-Identifier: MIT
#include "cli/json/boardtest_json.hpp"

#include "cli/words/cautions.hpp"
#include "cli/words/format.hpp"
#include "solver/piece/version.hpp"

#include <nlohmann/json.hpp>

#include <cmath>

namespace hollowtop::cli {
namespace {

const char* kind_key(TestKind kind) {
    return kind == TestKind::bend ? "bend" : kind == TestKind::tone_bending ? "tone_bending" : "tone_along";
}

} // namespace

std::string name_of(ErrorFrom from) {
    switch (from) {
    case ErrorFrom::thickness:
        return "thickness";
    case ErrorFrom::width:
        return "width";
    case ErrorFrom::length:
        return "length";
    case ErrorFrom::span:
        return "span";
    case ErrorFrom::mass:
        return "weight";
    case ErrorFrom::load:
        return "loads";
    case ErrorFrom::reading:
        return "readings about their line";
    case ErrorFrom::tone:
        return "tone";
    case ErrorFrom::shear:
        return "shear modulus of the wood";
    case ErrorFrom::plate:
        return "a wide board is partly a plate";
    case ErrorFrom::meter:
        return "moisture";
    case ErrorFrom::moisture_rate:
        return "how stiffness goes with moisture";
    case ErrorFrom::static_ratio:
        return "stiffness under load against that of a tone";
    case ErrorFrom::board_is_even:
        return "the board is not alike along its length";
    }
    return {};
}

std::string measured_block(const BoardStory& story) {
    std::string values, errors;
    const auto put = [&](const char* key, double value, double share) {
        const std::string comma = values.empty() ? "" : ", ";
        values += comma + '"' + key + "\": " + fixed(value, 0);
        errors += comma + '"' + key + "\": " + fixed(std::ceil(1000 * share) / 10, 1);
    };
    if (story.together && !story.across)
        put("E_along", std::round(bending_modulus(story.together->modulus) / 10) * 10,
            story.together->uncertainty);
    if (story.density) put("density", story.density->value, story.density->error / story.density->value);
    if (values.empty()) return {};
    return "\"measured\": {" + values + ", \"uncertainty\": {" + errors + "}}";
}

std::string boardtest_json(const BoardStory& story) {
    using Json = nlohmann::ordered_json;
    Json json{{"hollowtop", 1}, {"version", program_version}, {"wood", story.wood}, {"across", story.across}};
    Json tests = Json::array();
    for (std::size_t i = 0; i < story.tests.size(); ++i) {
        const TestOutcome& test = story.tests[i];
        Json parts = Json::array();
        for (const ErrorPart& part : test.parts)
            parts.push_back({{"from", name_of(part.from)}, {"percent", 100 * part.share}});
        Json one{{"kind", kind_key(test.kind)},
                 {"name", test.name},
                 {"plain_E_MPa", test.apparent},
                 {"shear_percent", 100 * test.shear_share},
                 {"E_MPa", test.modulus},
                 {"E_12_MPa", test.modulus_12},
                 {"uncertainty_percent", 100 * test.uncertainty},
                 {"weight", story.together->weights[i]},
                 {"parts", parts}};
        if (test.isotropic) one["isotropic_E_MPa"] = *test.isotropic;
        if (test.line)
            one["line"] = {{"mm_per_N", test.line->slope},
                           {"offset_mm", test.line->offset_mm},
                           {"scatter_mm", test.line->scatter_mm},
                           {"stress_MPa", test.stress_MPa}};
        tests.push_back(std::move(one));
    }
    json["tests"] = std::move(tests);
    if (story.together) {
        json["E_MPa"] = story.together->modulus;
        json["E_12_MPa"] = story.together->modulus_12;
        json["uncertainty_percent"] = 100 * story.together->uncertainty;
        json["at_odds"] = story.together->at_odds.has_value();
    }
    if (story.density)
        json["density"] = {{"kg_m3", story.density->value},
                           {"uncertainty_percent", 100 * story.density->error / story.density->value}};
    if (story.book && story.together) {
        const Gauged& prior = story.across ? story.book->E_across : story.book->E_along;
        json["handbook"] = {{"E_12_MPa", prior.value},
                            {"uncertainty_percent", 100 * prior.error / prior.value}};
    }
    if (story.posterior)
        json["together_with_handbook"] = {
            {"E_MPa", story.posterior->value},
            {"uncertainty_percent", 100 * story.posterior->error / story.posterior->value}};
    const std::string block = measured_block(story);
    json["measured"] = block.empty() ? Json(nullptr) : Json::parse("{" + block + "}")["measured"];
    json["warnings"] = story.warnings;
    json["notes"] = story.notes;
    Json told = Json::array();
    for (const Message& caution : cautions()) told.push_back(in_own_units(caution));
    json["cautions"] = std::move(told);
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

} // namespace hollowtop::cli
