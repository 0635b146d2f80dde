// SPDX-License-Identifier: MIT
// The page: the whole program as one file for a browser.
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/files/built_in_page.hpp"
#include "cli/files/files.hpp"
#include "materials/error.hpp"

#include <array>
#include <string>

namespace hollowtop::cli {
namespace {

constexpr const char* usual_file = "hollowtop.html";
constexpr Option file_option{
    "--out", "FILE",
    "write the page to FILE (where not given: hollowtop.html, in this folder; - for standard output)", false,
    "-o"};
constexpr std::array<Option, 2> options{file_option, help_option};

Status run(const Given& given) {
    const bool is_named = given.has(file_option.name);
    const std::string out = is_named ? given.options.at(file_option.name) : usual_file;
    const std::string_view page = built_in_page();
    if (page.empty())
        throw Error(ErrorKind::not_computable,
                    Fault{"", "this program was built without the page",
                          "sh cli/page/build.sh, in the sources, makes build/page/hollowtop.html; "
                          "-DHOLLOWTOP_PAGE=build/page/hollowtop.html builds it in"});
    if (out != "-") ensure_writable(out, file_option.name);
    write_file(out, file_option.name, std::string(page));
    if (out != "-") print("wrote " + out + ": open it in a browser\n");
    return Status::passes;
}

} // namespace

extern const Command page_command{
    .name = "page",
    .one_line = "the whole program as one file that a browser opens, without network",
    .names = "",
    .least_names = 0,
    .most_names = 0,
    .text = "Writes hollowtop.html: draw a top, see it bend and have it checked on a telephone or any "
            "computer, by the same "
            "program. The file needs no network and sends nothing: what is drawn stays in the browser's own "
            "storage. What it "
            "says is meant as what check says, with the same cautions; it has one thread, so a long run "
            "takes longer than here. The last digits may differ from those of this program.\n"
            "Exit status: 0 written, 2 the command line is wrong or FILE cannot be written, 3 the program "
            "was built without "
            "the page.",
    .example = "hollowtop page\n"
               "hollowtop page --out /media/stick/hollowtop.html",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
