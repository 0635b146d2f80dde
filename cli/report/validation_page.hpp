// SPDX-License-Identifier: MIT
#pragma once
/// \file  The validation page: every case with its source, computed against what it is compared with, on three
/// meshes; one HTML page that needs neither network nor script.

#include "cli/report/drawing/validation_pictures.hpp"

#include <string>
#include <vector>

namespace hollowtop::cli {

std::string validation_html(const std::vector<ValidatedCase>& cases);

} // namespace hollowtop::cli
