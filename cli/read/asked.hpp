// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the piece file says for the report alone, its optional "report": for whom the piece is, what
/// was asked, who answers for it and which revision it is. Nothing here is computed with.

#include "cli/read/cursor.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

struct Revision {
    std::string mark, date, change, by, checked;
};

/// A photograph for the report: a PNG or JPEG file beside the piece file, and what it shows.
struct Photograph {
    std::string file, caption;
};

struct Asked {
    std::string number; ///< of the piece or the order
    std::string client, project, place, maker;
    std::string wanted;  ///< the use in the client's words
    std::string outside; ///< what was agreed to lie outside this report
    std::string status;  ///< "draft", "issued" or "superseded"; empty where not said
    std::string prepared_by, checked_by;
    std::vector<Revision> revisions; ///< the last is this one
    std::vector<Photograph> pictures;
};

Asked read_asked(const Cursor& object);
/// Of a whole piece file that was read without fault; empty where it has no "report".
Asked asked_of_json(std::string_view text);

} // namespace hollowtop::cli
