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
    try {
        (void)nw::neck_from_json("{").value();
        return wrong("no exception");
    } catch (const nw::Failure& failure) {
        if (std::strlen(failure.what()) == 0) return wrong("an exception without a message");
    }
    return 0;
}
