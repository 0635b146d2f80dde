// SPDX-License-Identifier: MIT
// The JSON Schemas of what is read and written.
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"

#include <array>
#include <string_view>

namespace hollowtop::cli {
namespace {
#include "embedded_schemas.inc"

constexpr std::array<Option, 2> options{out_option, help_option};

/// "piece" of "piece.schema".
std::string name_of(const EmbeddedText& schema) {
    return std::string(schema.name.substr(0, schema.name.find('.')));
}

std::vector<std::string> names() {
    std::vector<std::string> all;
    for (const EmbeddedText& schema : embedded_texts) all.push_back(name_of(schema));
    return all;
}

Status run(const Given& given) {
    const std::string wanted = given.names.empty() ? "piece" : given.names.front();
    const Settings settings = settings_of({.names = {}, .options = given.options});
    for (const EmbeddedText& schema : embedded_texts)
        if (wanted == name_of(schema)) {
            put_text(settings, std::string(schema.text));
            return Status::passes;
        }
    const std::vector<std::string> all = names();
    throw Error(ErrorKind::input,
                Fault{in_quotes(wanted), "no such schema here",
                      "give " + listed(std::vector<std::string_view>(all.begin(), all.end()))});
}

} // namespace

extern const Command schema_command{
    .name = "schema",
    .one_line = "the JSON Schema of a piece file or of a result, for editors and scripts",
    .names = "[NAME]",
    .least_names = 0,
    .most_names = 1,
    .text =
        "Prints the JSON Schema (2020-12) of the piece file (piece, where no name is given), of what check "
        "and report write (result), or of what compare, deepest, movement, seasons, survey, boardtest and "
        "prooftest "
        "write. An editor that knows JSON Schema completes keys and marks slips: write the schema beside the "
        "pieces, and name it "
        "in a piece by \"$schema\": \"piece.schema.json\". What lies beyond a schema (does a recess lie on "
        "the "
        "top?) check says.\n"
        "Exit status: 0 printed, 2 there is no such schema, 3 it could not be written.",
    .example = "hollowtop schema --out piece.schema.json\n"
               "hollowtop schema result",
    .options = options,
    .run = run,
    .offered = names,
};

} // namespace hollowtop::cli
