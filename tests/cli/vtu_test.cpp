// SPDX-License-Identifier: MIT
#include "cli/report/drawing/vtu.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <limits>

using namespace hollowtop;
using namespace hollowtop::cli;

namespace {

Fields one_cell() {
    return {.points = {{0, 0}, {10, 0}, {10, 5}, {0, 5}},
            .cells = {{0, 1, 2, 3}},
            .point_values = {{.name = "movement_mm, a < b & \"c\"", .values = {0, 0.5, 1.25, -0.0}}}};
}

} // namespace

TEST_CASE("fields are written as the format asks, point by point", "[cli]") {
    CHECK(to_vtu(one_cell()) == R"(<?xml version="1.0"?>
<VTKFile type="UnstructuredGrid" version="0.1" byte_order="LittleEndian">
<UnstructuredGrid>
<Piece NumberOfPoints="4" NumberOfCells="1">
<Points>
<DataArray type="Float64" NumberOfComponents="3" format="ascii">
0 0 0
10 0 0
10 5 0
0 5 0
</DataArray>
</Points>
<Cells>
<DataArray type="Int32" Name="connectivity" format="ascii">
0 1 2 3
</DataArray>
<DataArray type="Int32" Name="offsets" format="ascii">
4
</DataArray>
<DataArray type="UInt8" Name="types" format="ascii">
9
</DataArray>
</Cells>
<PointData>
<DataArray type="Float64" Name="movement_mm, a &lt; b &amp; &quot;c&quot;" format="ascii">
0
0.5
1.25
0
</DataArray>
</PointData>
</Piece>
</UnstructuredGrid>
</VTKFile>
)");
}

TEST_CASE("fields with a value that is not finite are not written", "[cli]") {
    Fields fields = one_cell();
    fields.point_values[0].values[2] = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(to_vtu(fields), Error);
}
