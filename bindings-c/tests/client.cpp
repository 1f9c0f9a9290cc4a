// A C++17 program that knows the installed headers alone: what neckwright.hpp promises beyond the C functions under it. Ends with
// 0 where all went as it should. Compiles with exceptions and without; its other unit is always without (client_stopping.cpp).
#include <neckwright.hpp>

#include <cmath>
#include <cstdio>
#include <cstring>
#include <type_traits>
#include <vector>

namespace nw = neckwright;

// In client_stopping.cpp, where `.value()` stops the program.
int stopping_unit();

static int failed;

static void expect(bool good, const char* what) {
    if (good) return;
    std::fprintf(stderr, "client: %s\n", what);
    failed = 1;
}

// ---- what may not compile -------------------------------------------------------------------------------------------

#define ASKS(name, call)                                                                                                           \
    template <class T, class = void>                                                                                               \
    struct name : std::false_type {};                                                                                              \
    template <class T>                                                                                                             \
    struct name<T, std::void_t<decltype(std::declval<T>().call)>> : std::true_type {};
ASKS(AsksJson, json())
ASKS(AsksText, text(""))
ASKS(AsksName, name("", 0))
ASKS(AsksView, view())
ASKS(AsksTitle, title(0))
ASKS(AsksSolid, name(0))
ASKS(AsksMessages, text())
ASKS(AsksFault, operator[](0))
ASKS(AsksArrow, operator->())

// Texts live as long as the handle they were read from: not of a temporary.
static_assert(AsksJson<nw::Document&>::value && !AsksJson<nw::Document>::value);
static_assert(AsksJson<const nw::Document&>::value && AsksJson<nw::Readings>::value, "bytes of their own may be asked of any");
static_assert(AsksText<nw::Document&>::value && !AsksText<nw::Document>::value);
static_assert(AsksName<nw::Document&>::value && !AsksName<nw::Document>::value);
static_assert(AsksView<nw::Bytes&>::value && !AsksView<nw::Bytes>::value);
static_assert(AsksTitle<nw::Sheets&>::value && !AsksTitle<nw::Sheets>::value);
static_assert(AsksSolid<nw::Solids&>::value && !AsksSolid<nw::Solids>::value);
static_assert(AsksMessages<nw::Error&>::value && !AsksMessages<nw::Error>::value);
static_assert(AsksFault<nw::Error&>::value && !AsksFault<nw::Error>::value);
static_assert(AsksArrow<nw::Expected<nw::Neck>&>::value && !AsksArrow<nw::Expected<nw::Neck>>::value);
// A yes or no is not asked by `if (answer)`.
static_assert(std::is_same_v<decltype(std::declval<nw::Neck&>().within(std::declval<nw::Neck&>(), 0.1)), nw::Expected<bool>>);
static_assert(std::is_same_v<decltype(std::declval<nw::Document&>().boolean("")), nw::Expected<bool>>);
static_assert(!std::is_constructible_v<bool, nw::Expected<bool>> && std::is_constructible_v<bool, nw::Expected<double>>);

// Numbers in braces are no span, which they would not outlive; nor is a null pointer with a size.
#define MADE_OF(name, ...)                                                                                                         \
    template <class T, class = void>                                                                                               \
    struct name : std::false_type {};                                                                                              \
    template <class T>                                                                                                             \
    struct name<T, std::void_t<decltype(T __VA_ARGS__)>> : std::true_type {};
MADE_OF(MadeOfNumbers, {1.0, 2.0})
MADE_OF(MadeOfWholes, {0, 5})
MADE_OF(MadeOfOne, {1.0})
MADE_OF(MadeOfBraces, ({1.0, 2.0}))
MADE_OF(MadeOfNothing, {})
MADE_OF(MadeOfAddress, {std::declval<double*>(), std::size_t(5)})
using Read = nw::Span<const double>;
static_assert(!MadeOfNumbers<Read>::value && !MadeOfWholes<Read>::value && !MadeOfOne<Read>::value && !MadeOfBraces<Read>::value);
static_assert(MadeOfNothing<Read>::value && MadeOfAddress<Read>::value && MadeOfAddress<nw::Span<double>>::value);
static_assert(std::is_constructible_v<Read, std::vector<double>&> && std::is_constructible_v<Read, const double (&)[3]>);
// A choice is one of its own kind.
static_assert(!std::is_convertible_v<std::uint32_t, nw::Side> && !std::is_convertible_v<nw::Side, nw::Part>);

// ---- what has to hold -----------------------------------------------------------------------------------------------

static void values_and_errors() {
    const nw::Neck neck = nw::neck_from_json("{\"scale\": {\"length\": \"640 mm\"}}").value();
    const double fret[1] = {12.0};
    double x_mm[1] = {0.0};
    expect(neck.station_mm(fret, x_mm) && std::abs(x_mm[0] - 320.0) <= 1e-9, "fret 12 halves the string");
    const auto none = nw::neck_from_json("{\"scale\": {\"length\": \"-1 mm\"}}");
    expect(!none && none.error().code() == NW_OUT_OF_RANGE && none.error()[0].path == "scale.length", "an error that is asked");
    double two[2];
    const auto apart = neck.thickness_mm(fret, two);
    expect(!apart && apart.error().code() == NW_BUFFER && apart.error()[0].path == "thickness_mm" && !apart.error().text().empty(),
           "spans of two lengths");
    const nw::Expected<double> constant = nw::length_mm("1 in");
    expect(constant.value() == 25.4 && *constant == 25.4, "the value of a constant Expected");
    expect(constant.value_or(1.0) == 25.4 && nw::length_mm("wide").value_or(1) == 1.0, "a value, or another");
    expect(!nw::neck_from_json("{").value_or(nw::Neck()).get(), "a handle, or none");
    const nw::Expected<nw::Neck> kept = nw::neck_from_json("{}");
    expect(kept && kept->caliper_card().has_value(), "a constant Expected of a handle");
    const nw::Neck wider = nw::neck_from_json("{\"nut\": {\"width\": 44}}").value();
    const nw::Expected<bool> answer = wider.within(*kept, 0.1);
    expect(answer.has_value() && !*answer && !answer.value(), "a neck that is not within the tolerance");
    expect(kept->within(*kept, 0.1).value(), "a neck is within any tolerance of itself");
    const nw::Error moved = nw::neck_from_json("{").error();
    expect(moved.code() == NW_SYNTAX && !moved.text().empty(), "the error of a temporary");
}

static void failures() {
#if NECKWRIGHT_EXCEPTIONS
    nw::Expected<nw::Neck> none = nw::neck_from_json("{\"scale\": {\"length\": -1}, \"nut\": {\"width\": -1}}");
    expect(none.error().size() == 2, "two faults");
    for (int times = 0; times < 2; ++times) {
        try {
            (void)none.value();
            expect(false, "no exception");
        } catch (const nw::Failure& failure) {
            const nw::Failure copy = failure;
            expect(failure.code() == none.error().code() && failure.text() == none.error().text(), "the exception's code and text");
            expect(failure.what() == none.error().text() && std::strlen(failure.what()) > 0, "what()");
            expect(copy.size() == 2 && copy.more() == 0 && copy.code_name() == "out_of_range", "a copied exception");
            for (std::size_t i = 0; i < copy.size(); ++i) {
                const nw::Fault a = copy[i], b = none.error()[i];
                expect(a.code == b.code && a.path == b.path && a.value == b.value && a.unit == b.unit && a.lowest == b.lowest &&
                           a.highest == b.highest && a.reason == b.reason && a.remedy == b.remedy && a.message == b.message,
                       "an exception's fault");
            }
        }
    }
    try {
        const double x_mm[1] = {100.0};
        double two[2];
        (void)nw::neck_from_json("{}").value().thickness_mm(x_mm, two).value();
        expect(false, "no exception of spans");
    } catch (const std::exception& failure) {
        expect(std::strlen(failure.what()) > 0, "an exception of spans without a message");
    }
#endif
}

// What is left out is told by an empty span, also by one with an address: nothing may be written or read there.
static void what_is_left_out() {
    const nw::Solids solids = nw::neck_from_json("{}").value().solids().value();
    const NwSolidCounts counts = solids.counts(0).value();
    NwEdge edge{};
    std::size_t i = 0;
    for (; i < counts.edges && edge.curve != NW_CURVE_SPLINE; ++i) edge = solids.edge(0, i).value();
    NwFace face{};
    std::size_t f = 0;
    for (; f < counts.faces && face.surface != NW_SURFACE_SPLINE; ++f) face = solids.face(0, f).value();
    expect(edge.curve == NW_CURVE_SPLINE && face.surface == NW_SURFACE_SPLINE, "splines");
    std::vector<double> knots(edge.knots), poles(3 * edge.poles), face_poles(3 * face.poles[0] * face.poles[1]);
    std::vector<std::uint32_t> multiplicities(edge.knots);
    std::vector<double> cleared(1, 7.0);
    cleared.clear();
    expect(cleared.data() != nullptr, "a cleared vector has an address");
    expect(bool(solids.edge_spline(0, i - 1, knots, multiplicities, poles, cleared)), "an edge without weights");
    expect(bool(solids.face_poles(0, f - 1, face_poles, cleared)), "a face without weights");
    std::vector<double> guarded(face_poles.size(), 7.0);
    expect(bool(solids.edge_spline(0, i - 1, knots, multiplicities, poles, nw::Span<double>(guarded.data(), 0))), "no weights");
    expect(bool(solids.face_poles(0, f - 1, face_poles, nw::Span<double>(guarded.data(), 0))), "no weights of a face");
    for (double each : guarded) expect(each == 7.0, "weights written that were left out");
    const auto too_few = solids.face_poles(0, f - 1, face_poles, nw::Span<double>(guarded.data(), 1));
    expect(!too_few && too_few.error().code() == NW_BUFFER, "too little room for weights");

    const double red[3] = {1.0, 0.0, 0.0};
    const double both[6] = {1.0, 0.0, 0.0, 0.0, 0.0, 1.0};
    const auto of_one = solids.step("neck", nw::StepProtocol::ap242, red);
    expect(!of_one && of_one.error()[0].path == "colours", "colours of one solid of two");
    const nw::Bytes coloured = solids.step("neck", nw::StepProtocol::ap242, both).value();
    const nw::Bytes plain = solids.step("neck", nw::StepProtocol::ap242).value();
    const nw::Bytes left_out = solids.step("neck", nw::StepProtocol::ap242, nw::Span<const double>(both, 0)).value();
    expect(coloured.view().substr(0, 13) == "ISO-10303-21;", "a STEP file");
    expect(left_out.view() == plain.view() && plain.view() != coloured.view(), "colours read that were left out");
    const nw::Mesh mesh = solids.mesh(0, "{\"chord\": \"1 mm\"}").value();
    const NwMesh* const meshes[1] = {mesh.get()};
    const nw::Span<const double> none(red, 0);
    const nw::Bytes glb = nw::meshes_gltf(meshes, "neck").value();
    expect(nw::meshes_gltf(meshes, "neck", none).value().get() != nullptr, "a mesh without colours");
    const nw::Bytes without = nw::meshes_gltf(meshes, "neck", none).value();
    expect(glb.view() == without.view(), "colours of meshes read that were left out");
}

int main() {
    values_and_errors();
    failures();
    what_is_left_out();
    expect(stopping_unit() == 0, "the unit where `.value()` stops the program");
    return failed;
}
