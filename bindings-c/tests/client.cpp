// A C++17 program that knows the installed headers alone; ends with 0 where all went as it should.
#include <neckwright.hpp>

#include <cmath>
#include <cstdio>
#include <cstring>

namespace nw = neckwright;

static int wrong(const char* what) {
    std::fprintf(stderr, "client: %s\n", what);
    return 1;
}

int main() {
    const nw::Neck neck = nw::neck_from_json("{\"scale\": {\"length\": \"640 mm\"}}").value();
    const double fret[1] = {12.0};
    double x_mm[1] = {0.0};
    if (!neck.station_mm(fret, x_mm) || std::abs(x_mm[0] - 320.0) > 1e-9) return wrong("fret 12 halves the string");
    const auto none = nw::neck_from_json("{\"scale\": {\"length\": \"-1 mm\"}}");
    if (none || none.error().code() != NW_OUT_OF_RANGE || none.error()[0].path != "scale.length") return wrong("an error that is asked");
    double two[2];
    const auto apart = neck.thickness_mm(fret, two);
    if (apart || apart.error().code() != NW_BUFFER || apart.error()[0].path != "thickness_mm" || apart.error().text().empty()) {
        return wrong("spans of two lengths");
    }
    const nw::Solids solids = neck.solids().value();
    const double red[3] = {1.0, 0.0, 0.0};
    const double both[6] = {1.0, 0.0, 0.0, 0.0, 0.0, 1.0};
    const auto short_of_colours = solids.step("neck", NW_STEP_AP242, red);
    if (short_of_colours || short_of_colours.error()[0].path != "colours") return wrong("colours of one solid of two");
    if (solids.step("neck", NW_STEP_AP242, both).value().view().substr(0, 13) != "ISO-10303-21;") return wrong("a STEP file");
    try {
        (void)nw::neck_from_json("{").value();
        return wrong("no exception");
    } catch (const nw::Failure& failure) {
        if (std::strlen(failure.what()) == 0) return wrong("an exception without a message");
    }
    return 0;
}
