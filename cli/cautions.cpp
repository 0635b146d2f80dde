// SPDX-License-Identifier: MIT
#include "cli/cautions.hpp"

#include <array>

namespace hollowtop::cli {
namespace {

constexpr std::array<std::string_view, 7> always{
    "This is a calculation, not a test: load the finished top with known weights before it is delivered.",
    "For furniture only, not for floors, stairs, guards, changing tables or shelves over beds. Where a code "
    "or a permit "
    "applies, the local code and a licensed engineer decide.",
    "A table is not a ladder: nobody is counted as standing on it or jumping on it unless the piece lists "
    "such a load.",
    "Handbook values are averages of a species; your boards may be weaker. Bend or weigh them.",
    "Not seen here: knots, shake, pith, insect holes, old metal, glue joints, the base and its joints, a "
    "fall, fire, hot "
    "pots, glass or stone on the top.",
    "Wood moves with the seasons however thin it is: let the top move on its supports, rest it between "
    "roughing and "
    "the last pass, and seal the recess like the rest, the same day.",
    "A lighter top still hurts: lift with two or more, and mind that a top on its edge falls.",
};

constexpr std::array<std::string_view, 3> with_a_recess{
    "Router: set the depth from the show face, try it on an offcut, leave the last millimetre for a last "
    "pass; measure the "
    "thickness of the real board first, for 1 mm less board is 1 mm less skin.",
    "Router: no pass deeper than half the bit, feed against the turning, clamp the work, both hands on; end "
    "grain grabs. "
    "Wear eye, ear and dust protection.",
    "Keep screws out of the skin: what is left between the tip and the show face must stay visible on paper "
    "first.",
};

} // namespace

std::span<const std::string_view> cautions() { return always; }
std::span<const std::string_view> router_cautions() { return with_a_recess; }

} // namespace hollowtop::cli
