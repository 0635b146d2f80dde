// SPDX-License-Identifier: MIT
#include "cli/words/cautions.hpp"

#include <vector>

namespace hollowtop::cli {
namespace {

Amounts mm(double length) { return amount(length, Unit::mm); }

const std::vector<Message>& always() {
    static const std::vector<Message> all{
        "This is a calculation, not a test: load the finished top with known weights before it is "
        "delivered.",
        "For furniture only: not for floors, stairs, guards, changing tables or shelves over "
        "beds. Where a code or a permit applies, the local code and a licensed engineer decide.",
        "A table is not a ladder: nobody is counted as standing or jumping on it unless the piece "
        "lists such a load.",
        "Handbook values are means of a species, and your boards may be weaker or softer: weigh "
        "them, bend them.",
        "Not seen here: knots, shake, pith, insect holes, old metal, glue joints, the base and "
        "its joints, a fall, fire, hot pots, glass or stone on the top.",
        "Wood moves with the seasons however thin it is: let the top move on its supports, let it "
        "rest between roughing and the last pass, and seal the recess the same day and like the "
        "rest.",
        "A hollowed top is still heavy: lift it with two or more; a top that stands on its edge falls.",
        "Bare steel stains oak and other woods rich in tannin; rags with oil finish can catch "
        "fire by themselves: spread them out to dry."};
    return all;
}

const std::vector<Message>& with_a_recess() {
    static const std::vector<Message> all{
        said("Router, the show face: set the depth from that face, try it on an offcut, keep the last "
             "{} for a last pass. Measure the board first: {} less board is {} less skin.",
             mm(1), mm(1), mm(1)),
        "Router, your hands: no pass deeper than half the bit's width, feed against its turning, "
        "clamp the work, both hands on; end grain grabs. Protect eyes, ears and lungs.",
        said("Screws: keep tip and pilot hole {} clear of the show face, {} at the very least, and out "
             "of a skin thinner than {} (common practice).",
             mm(5), mm(3), mm(12))};
    return all;
}

} // namespace

std::span<const Message> cautions() { return always(); }
std::span<const Message> router_cautions() { return with_a_recess(); }

} // namespace hollowtop::cli
