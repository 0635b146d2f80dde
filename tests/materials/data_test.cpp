// SPDX-License-Identifier: MIT
// Every row of materials/data is walked: what the reader of a table takes for granted is tested here.
#include "materials/error.hpp"
#include "materials/table.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <sstream>
#include <string>

using namespace hollowtop;
using namespace hollowtop::materials;

namespace {

const std::vector<std::string> all_tables = {"woods",
                                             "woods_inch_pound",
                                             "elastic_ratios",
                                             "elastic_kin",
                                             "cross_grain_green",
                                             "wood_rules",
                                             "strength_classes",
                                             "metals",
                                             "metal_rules",
                                             "sheets",
                                             "sections",
                                             "screws",
                                             "screw_rules",
                                             "uses",
                                             "use_loads",
                                             "wood_names",
                                             "elastic_moduli",
                                             "fracture_energies",
                                             "panel_rules",
                                             "pushes",
                                             "finishes"};
const std::set<std::string> statuses = {"checked", "partly checked", "from memory", "common practice",
                                        "judgement"};

template <class Visit> void walk(const std::string& name, Visit visit) {
    const Table& all = table(name);
    REQUIRE_FALSE(all.rows.empty());
    for (const Table::Row& row : all.rows) {
        const Cells cells(all, row);
        INFO(name << ".csv:" << row.line << ": " << row.cells.front());
        visit(cells, row.cells.front());
    }
}

void within(const Cells& cells, const char* column, double low, double high) {
    INFO(column);
    if (const std::optional<double> value = cells.number(column)) {
        CHECK(*value >= low);
        CHECK(*value <= high);
    }
}

/// Is the symmetric 3 x 3 compliance of the normal stresses positive definite?
bool is_positive_definite(const WoodConstants& w) {
    const double LL = 1 / w.E_L, RR = 1 / w.E_R, TT = 1 / w.E_T, LR = -w.nu_LR / w.E_L, LT = -w.nu_LT / w.E_L,
                 RT = -w.nu_RT / w.E_R;
    const double minor = LL * RR - LR * LR;
    const double determinant = LL * (RR * TT - RT * RT) - LR * (LR * TT - RT * LT) + LT * (LR * RT - RR * LT);
    return LL > 0 && minor > 0 && determinant > 0 && w.G_LR > 0 && w.G_LT > 0 && w.G_RT > 0;
}

} // namespace

TEST_CASE("every row of every table names its source and a known status", "[materials][data]") {
    for (const std::string& name : all_tables)
        walk(name, [](const Cells& cells, const std::string&) {
            CHECK(cells.text("source").size() >= 8);
            CHECK(statuses.count(cells.text("status")) == 1);
        });
}

TEST_CASE("no id stands twice", "[materials][data]") {
    for (const std::string& name : all_tables) {
        std::set<std::string> seen;
        walk(name, [&](const Cells&, const std::string& id) {
            CHECK_FALSE(id.empty());
            CHECK(seen.insert(id).second);
        });
    }
}

TEST_CASE("the tables of species are sorted by id", "[materials][data]") {
    for (const char* name : {"woods", "woods_inch_pound", "elastic_ratios", "elastic_kin",
                             "cross_grain_green", "wood_names", "elastic_moduli"}) {
        std::string before;
        walk(name, [&](const Cells&, const std::string& id) {
            CHECK(before < id);
            before = id;
        });
    }
}

TEST_CASE("no cell holds a stray space or a word for nothing", "[materials][data]") {
    for (const std::string& name : all_tables)
        for (const Table::Row& row : table(name).rows)
            for (const std::string& cell : row.cells) {
                INFO(name << ".csv:" << row.line << ": " << cell);
                CHECK((cell.empty() || (cell.front() != ' ' && cell.back() != ' ')));
                CHECK(cell != "n/a");
                CHECK(cell != "NaN");
            }
}

TEST_CASE("every value of a rule is a number, or says that it is a formula or a text", "[materials][data]") {
    for (const char* name : {"wood_rules", "metal_rules"})
        walk(name, [](const Cells& cells, const std::string&) {
            const std::string& value = cells.text("value");
            if (value != "formula" && value != "text") CHECK_NOTHROW(cells.required("value"));
        });
}

TEST_CASE("woods are plausible: ranges of wood, density, ratios of strengths", "[materials][data]") {
    walk("woods", [](const Cells& cells, const std::string& id) {
        within(cells, "sg_12", 0.28, 0.80);
        within(cells, "mor_12_MPa", 40, 150);
        within(cells, "moe_12_MPa", 5000, 17000);
        within(cells, "comp_par_MPa", 25, 75);
        within(cells, "comp_perp_pl_MPa", 1.5, 20);
        within(cells, "shear_par_MPa", 5, 20);
        within(cells, "tension_perp_MPa", 1, 8);
        within(cells, "side_hardness_N", 1300, 10000);
        within(cells, "shrink_R_pct", 2, 8);
        within(cells, "shrink_T_pct", 3.5, 13);
        within(cells, "shrink_V_pct", 6, 20);
        within(cells, "coef_R_per_pct", 0.0006, 0.003);
        within(cells, "coef_T_per_pct", 0.0015, 0.0045);
        CHECK((cells.text("group") == "hardwood" || cells.text("group") == "softwood"));
        // Eq. 4-14 at 12 %, rounded to whole kg/m3.
        CHECK_THAT(cells.required("density_12_kg_m3"), Catch::WithinAbs(1120 * cells.required("sg_12"), 1.5));
        const double mor = cells.required("mor_12_MPa"), stiffness = find_wood(id).moe.value() / mor;
        CHECK(stiffness > 90);
        CHECK(stiffness < 190);
        CHECK(cells.required("shrink_T_pct") > cells.required("shrink_R_pct"));
        CHECK(statuses.count(cells.text("shrink_status")) == 1);
        CHECK((cells.text("coef_status").empty() == !cells.number("coef_T_per_pct").has_value()));
        if (const auto tension = cells.number("tension_perp_MPa"), shear = cells.number("shear_par_MPa");
            tension && shear) {
            CHECK(*tension / *shear > 0.15);
            CHECK(*tension / *shear < 0.65);
        }
    });
}

TEST_CASE("woods agree with the inch-pound table of the same handbook", "[materials][data][published]") {
    const double MPa_per_psi = 0.00689476;
    const Table& metric = table("woods");
    walk("woods_inch_pound", [&](const Cells& inch, const std::string& id) {
        const Cells wood = row_of(metric, id);
        const auto compare = [&](const char* ours, const char* theirs) {
            INFO(ours);
            // Half a unit of each table's last digit; butternut is printed 36.2 in one and 35.2 MPa in the
            // other.
            const double slack = id == "butternut" && std::string(ours) == "comp_par_MPa" ? 1.0 : 0.06;
            CHECK_THAT(wood.required(ours), Catch::WithinAbs(inch.required(theirs) * MPa_per_psi,
                                                             slack + 0.002 * wood.required(ours)));
        };
        compare("comp_par_MPa", "comp_par_psi");
        compare("comp_perp_pl_MPa", "comp_perp_psi");
        compare("shear_par_MPa", "shear_par_psi");
        CHECK_THAT(wood.required("moe_12_MPa"),
                   Catch::WithinAbs(inch.required("moe_1e6_psi") * 1e6 * MPa_per_psi, 65)); // 100 MPa steps
    });
}

TEST_CASE("elastic ratios are those of wood", "[materials][data]") {
    walk("elastic_ratios", [](const Cells& cells, const std::string& id) {
        within(cells, "E_T_over_E_L", 0.01, 0.12);
        within(cells, "E_R_over_E_L", 0.04, 0.22);
        within(cells, "G_LR_over_E_L", 0.03, 0.22);
        within(cells, "G_LT_over_E_L", 0.03, 0.20);
        within(cells, "G_RT_over_E_L", 0.002, 0.03);
        within(cells, "nu_LR", 0.2, 0.6);
        within(cells, "nu_LT", 0.2, 0.8);
        within(cells, "nu_RT", 0.3, 1.0);
        if (id != "redwood_old") // printed 0.089 and 0.087
            CHECK(cells.required("E_T_over_E_L") < cells.required("E_R_over_E_L"));
    });
}

TEST_CASE("every wood has constants, its own or a kin's, and they are positive definite",
          "[materials][data]") {
    for (const Wood& wood : woods())
        for (const double moisture : {6.0, 12.0, 20.0}) {
            INFO(wood.id << " at " << moisture);
            const WoodConstants constants = wood_constants(wood, moisture);
            CHECK(is_positive_definite(constants));
            for (double rings = 0; rings <= 90; rings += 15) {
                const PlaneConstants plane = turned_by_rings(constants, rings);
                CHECK(plane.E2 > 0);
                CHECK(plane.E2 < plane.E1);
                CHECK(plane.nu12 * plane.nu12 < plane.E1 / plane.E2);
                CHECK(plane.G12 > 0);
                CHECK(plane.G13 > 0);
                CHECK(plane.G23 > 0);
            }
        }
}

TEST_CASE("kin are woods that have ratios, for woods that need them", "[materials][data]") {
    const Table& ratios = table("elastic_ratios");
    const auto has_row = [&](const std::string& id) {
        return std::any_of(ratios.rows.begin(), ratios.rows.end(),
                           [&](const Table::Row& row) { return row.cells.front() == id; });
    };
    walk("elastic_kin", [&](const Cells& cells, const std::string& id) {
        CHECK_NOTHROW(row_of(table("woods"), id));
        CHECK(has_row(cells.text("kin")));
        CHECK_FALSE(cells.text("why").empty());
        if (cells.text("borrows") == "all") {
            CHECK_FALSE(has_row(id));
        } else if (cells.text("borrows") == "Poisson ratios") {
            CHECK_FALSE(has_row(id));
            CHECK(row_of(table("elastic_moduli"), id).number("E_R_MPa").has_value());
        } else {
            REQUIRE(cells.text("borrows") == "G_LT");
            CHECK_FALSE(row_of(ratios, id).number("G_LT_over_E_L").has_value());
        }
    });
}

TEST_CASE("moduli that a source gives as such come whole and with their own source", "[materials][data]") {
    walk("elastic_moduli", [](const Cells& cells, const std::string& id) {
        CHECK_FALSE(
            row_of(table("woods"), id).number("moe_12_MPa").has_value()); // one home for the bending modulus
        CHECK(cells.required("bending_moe_MPa") > 5000);
        const bool has = cells.number("E_R_MPa").has_value();
        for (const char* column : {"E_T_MPa", "G_LR_MPa", "G_LT_MPa", "G_RT_MPa"})
            CHECK(cells.number(column).has_value() == has);
        CHECK(cells.text("source_across").empty() != has);
        CHECK(statuses.count(has ? cells.text("status_across") : "checked") == 1);
        if (has) CHECK(cells.required("E_R_MPa") > cells.required("E_T_MPa"));
    });
}

TEST_CASE("names of the trade are of woods in the table, and shadow none of their ids", "[materials][data]") {
    walk("wood_names", [](const Cells& cells, const std::string& name) {
        const std::string& kind = cells.text("kind");
        CHECK((kind == "means" || kind == "choice" || kind == "related"));
        std::istringstream ids(cells.text("woods"));
        int n = 0;
        bool usual_is_one = cells.text("usual").empty();
        for (std::string id; ids >> id; ++n) {
            CHECK_NOTHROW(row_of(table("woods"), id));
            usual_is_one = usual_is_one || id == cells.text("usual");
        }
        CHECK(usual_is_one);
        CHECK((kind == "means" ? n == 1 : kind == "choice" ? n > 1 : n > 0));
        for (const Wood& wood : woods()) CHECK(name != wood.common_name);
    });
}

TEST_CASE("the weaker direction across the grain follows from the old green table",
          "[materials][data][published]") {
    // Record (1914), Table III: mean of weaker / mean is 0.873 for the hardwoods, 0.917 for the softwoods.
    double sum[2] = {0, 0};
    int count[2] = {0, 0};
    walk("cross_grain_green", [&](const Cells& cells, const std::string&) {
        const double T = cells.required("stress_T_dir_psi"), R = cells.required("stress_R_dir_psi");
        CHECK_THAT(cells.required("stress_T_dir_MPa"),
                   Catch::WithinAbs(T * 0.00689476, 0.006)); // two printed decimals
        CHECK_THAT(cells.required("weaker_over_mean"),
                   Catch::WithinAbs(std::min(T, R) / ((T + R) / 2), 0.0006));
        const int soft = cells.text("group") == "softwood";
        sum[soft] += std::min(T, R) / ((T + R) / 2);
        ++count[soft];
    });
    CHECK_THAT(rule("wood_rules", "xg_weak_dir_hardwood").value, Catch::WithinAbs(sum[0] / count[0], 0.0006));
    CHECK_THAT(rule("wood_rules", "xg_weak_dir_softwood").value, Catch::WithinAbs(sum[1] / count[1], 0.0006));
}

TEST_CASE("the least share of tension across the grain is that of the table of woods", "[materials][data]") {
    double least[2] = {1, 1};
    for (const Wood& wood : woods())
        if (wood.tension_perp && wood.mor)
            least[wood.softwood] = std::min(least[wood.softwood], *wood.tension_perp / *wood.mor);
    CHECK_THAT(rule("wood_rules", "xg_ratio_min_hardwood").value,
               Catch::WithinAbs(least[0], 0.0005)); // three decimals
    CHECK_THAT(rule("wood_rules", "xg_ratio_min_softwood").value, Catch::WithinAbs(least[1], 0.0005));
}

TEST_CASE("strength classes follow EN 384 from their modulus", "[materials][data][published]") {
    double before[2] = {0, 0};
    walk("strength_classes", [&](const Cells& cells, const std::string& name) {
        const bool hard = name.front() == 'D';
        const double E = cells.required("E_m0_mean");
        CHECK(std::stod(name.substr(1)) == cells.required("f_mk"));
        CHECK_THAT(cells.required("E_90_mean"),
                   Catch::WithinAbs(E / (hard ? 15 : 30), 7)); // printed to 10 MPa
        CHECK_THAT(cells.required("G_mean"), Catch::WithinAbs(E / 16, 7));
        CHECK(cells.required("rho_k") < cells.required("rho_mean"));
        CHECK(cells.required("f_mk") > before[hard]);
        before[hard] = cells.required("f_mk");
    });
}

TEST_CASE("metals have a shear modulus that fits E and nu, and yield before they break",
          "[materials][data]") {
    walk("metals", [](const Cells& cells, const std::string&) {
        const double E = cells.required("E_MPa"), nu = cells.required("nu");
        if (const auto G = cells.number("G_MPa"))
            CHECK_THAT(*G, Catch::WithinRel(E / 2 / (1 + nu), 0.02)); // rounded in the sources
        within(cells, "density_kg_m3", 2600, 8600);
        within(cells, "alpha_per_K", 1e-5, 2.5e-5);
        if (const auto f_y = cells.number("f_y_MPa"), f_u = cells.number("f_u_MPa"); f_y && f_u)
            CHECK(*f_y < *f_u);
    });
}

TEST_CASE("sheets read as numbers or ranges in every cell", "[materials][data]") {
    walk("sheets", [](const Cells& cells, const std::string&) {
        for (const char* column : {"thickness_mm", "density_kg_m3", "E_along_MPa", "E_across_MPa",
                                   "f_m_along_MPa", "f_m_across_MPa"}) {
            INFO(column);
            std::optional<Range> range;
            CHECK_NOTHROW(range = cells.range(column));
            if (range && range->low && range->high) CHECK(*range->low <= *range->high);
        }
        CHECK_NOTHROW(cells.number("thickness_tol_mm"));
    });
}

TEST_CASE("sections weigh what their area says", "[materials][data]") {
    walk("sections", [](const Cells& cells, const std::string&) {
        // 7850 kg/m3; both are rounded to three digits, and the small inch angles to two.
        CHECK_THAT(cells.required("pub_mass_kg_m"),
                   Catch::WithinRel(0.785 * cells.required("pub_A_cm2"), 0.021));
        for (const char* column :
             {"h_mm", "b_mm", "t_mm", "calc_A_cm2", "calc_Ix_cm4", "calc_Iy_cm4", "pub_cx_cm", "pub_cy_cm"})
            CHECK(cells.required(column) > 0);
        CHECK(cells.required("h_mm") >= cells.required("b_mm"));
    });
}

TEST_CASE("screws have a root thinner than their thread", "[materials][data]") {
    walk("screws", [](const Cells& cells, const std::string&) {
        if (const auto root = cells.number("root_mm")) {
            CHECK(*root / cells.required("d_mm") > 0.55);
            CHECK(*root / cells.required("d_mm") < 0.85);
        }
    });
}
