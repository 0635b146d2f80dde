// SPDX-License-Identifier: MIT
#include "cli/files/built_in_page.hpp"

#if defined(HOLLOWTOP_PAGE)
// Put in by the assembler: as an array of characters two million of them would take the compiler minutes.
asm(".pushsection .rodata\n"
    ".global hollowtop_page_begin\n.hidden hollowtop_page_begin\n"
    ".global hollowtop_page_end\n.hidden hollowtop_page_end\n"
    "hollowtop_page_begin:\n.incbin \"" HOLLOWTOP_PAGE "\"\nhollowtop_page_end:\n"
    ".popsection\n");
extern "C" const char hollowtop_page_begin[], hollowtop_page_end[];
#endif

namespace hollowtop::cli {

std::string_view built_in_page() {
#if defined(HOLLOWTOP_PAGE)
    return {hollowtop_page_begin, static_cast<std::size_t>(hollowtop_page_end - hollowtop_page_begin)};
#else
    return {};
#endif
}

} // namespace hollowtop::cli
