// A unit of client.cpp's program in which `.value()` stops the program, whatever it does in the other.
#define NECKWRIGHT_EXCEPTIONS 0
#include <neckwright.hpp>

#include <type_traits>

namespace nw = neckwright;

int stopping_unit();

int stopping_unit() {
    // Another type for the linker than in a unit that throws: the two may not be taken for one another.
    static_assert(std::is_same_v<nw::Expected<nw::Neck>, nw::stopping::Expected<nw::stopping::Neck>>);
    const nw::Expected<nw::Neck> none = nw::neck_from_json("{");
    if (none || none.error().code() != NW_SYNTAX) return 1;
    return nw::neck_from_json("{}").value().caliper_card().has_value() ? 0 : 1;
}
