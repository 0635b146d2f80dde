// SPDX-License-Identifier: MIT
#include "materials/duration.hpp"

#include "materials/error.hpp"
#include "materials/table.hpp"

namespace hollowtop {

const char* to_word(Duration duration) {
    switch (duration) {
    case Duration::permanent:
        return "permanent";
    case Duration::long_term:
        return "long";
    case Duration::medium:
        return "medium";
    case Duration::short_term:
        return "short";
    case Duration::hour:
        return "hour";
    case Duration::minutes:
        return "minutes";
    case Duration::instantaneous:
        return "instantaneous";
    }
    throw Error(ErrorKind::not_computable, Fault{"", "no such duration", ""});
}

namespace materials {
namespace {

const char* duration_row(Duration duration) {
    switch (duration) {
    case Duration::permanent:
        return "CD_permanent";
    case Duration::long_term:
        return "CD_10_years";
    case Duration::medium:
        return "CD_2_months";
    case Duration::short_term:
        return "CD_7_days";
    case Duration::hour:
        return "CD_1_hour";
    case Duration::minutes:
    case Duration::instantaneous:
        return "CD_10_minutes";
    }
    throw Error(ErrorKind::not_computable, Fault{"", "no such duration", ""});
}

void require_service_class(int service_class) {
    if (service_class < 1 || service_class > 3)
        throw Error(ErrorKind::input,
                    Fault{"allowables.service_class", std::to_string(service_class) + " is no service class",
                          "give 1 (heated rooms), 2 (under cover) or 3 (outdoors)"});
}

} // namespace

Sourced duration_factor(Duration duration) { return rule("wood_rules", duration_row(duration)); }

Sourced k_mod(Duration duration, int service_class) {
    require_service_class(service_class);
    const std::string group =
        service_class == 3 ? "SC3_" : "SC12_"; // the table gives classes 1 and 2 the same values
    const Duration in_table = duration == Duration::hour      ? Duration::short_term
                              : duration == Duration::minutes ? Duration::instantaneous
                                                              : duration;
    return rule("wood_rules", "kmod_solid_" + group + to_word(in_table));
}

Sourced k_def(int service_class) {
    require_service_class(service_class);
    return rule("wood_rules", "kdef_solid_timber_SC" + std::to_string(service_class));
}

} // namespace materials
} // namespace hollowtop
