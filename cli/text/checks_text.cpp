// SPDX-License-Identifier: MIT
#include "cli/text/checks_text.hpp"

#include "solver/check/season_told.hpp"
#include "solver/checks/checks.hpp"

namespace hollowtop::cli {

std::string checks_document() {
    std::string text = "# Checks\n\nMade from the table in solver/checks/checks.cpp; a test compares.\n\n"
                       "Every check runs in every situation that it applies to: utilisation = demand / "
                       "capacity, and a top meets the limits set where "
                       "none is\nabove 1. With `--sources`, `check` says for each row how its capacity came "
                       "about, factor by factor; the result's "
                       "`basis` always does.\nHow the demands are computed: [method.md](method.md). \"from "
                       "memory\" means that the source was not at "
                       "hand to be read again.\n\n"
                       "| check | demand | capacity | source of the capacity | tends to govern |\n| --- | "
                       "--- | --- | --- | --- |\n";
    const auto add = [&](const Check& check) {
        text += std::string("| ") + check.name + " | " + check.demand + " | " + check.capacity + " | " +
                check.source + " | " + check.governs + " |\n";
    };
    for (const Check& check : table_of_checks()) add(check);
    for (const Check& row : table_of_season_rows()) add(row);
    text += "\nFactors between a published strength and what is allowed, on the handbook basis: the weakest "
            "5 % of pieces (mean x (1 - 1.645 COV)), "
            "ten years\nof load and safety (ASTM D245), the grade's strength ratio, and the duration of the "
            "shortest load; on the class basis k_mod / "
            "gamma_M.\nA first bounce without a limit set, and what else is marked as advice, never fails a "
            "top.\n";
    return text;
}

} // namespace hollowtop::cli
