// neckwright for C++17: the functions of neckwright.h as types that free what they hold.
//
// Every function that can fail returns an Expected. By choice: ask it (`if (neck)`, `neck.error()`), or call `.value()`, which
// throws neckwright::Failure where exceptions are on and stops the program where they are off. Nothing here allocates but the
// throwing of a Failure; what the library makes is held by the handles below. What a function does, its units, ranges and
// faults are told beside the C function of the same name in neckwright.h.
//
// Whether `.value()` throws is what the compiler's switch says, or NECKWRIGHT_EXCEPTIONS, defined as 1 or 0 before this header.
// Units of one program may differ in it: their types have different names to the linker, so that none is handed to the other.
//
// Texts and bytes that a handle keeps can't be asked of a temporary: they would be gone with it.
//
// SPDX-License-Identifier: MIT OR Apache-2.0
#ifndef NECKWRIGHT_HPP
#define NECKWRIGHT_HPP

#include "neckwright.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <exception>
#include <initializer_list>
#include <limits>
#include <memory>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#if !defined(NECKWRIGHT_EXCEPTIONS)
#if defined(__cpp_exceptions) || defined(_CPPUNWIND)
#define NECKWRIGHT_EXCEPTIONS 1
#else
#define NECKWRIGHT_EXCEPTIONS 0
#endif
#endif

namespace neckwright {
#if NECKWRIGHT_EXCEPTIONS
inline namespace throwing {
#else
inline namespace stopping {
#endif

/// A run of elements that somebody else owns, and that have to outlive it. An empty one has no address, whatever it was made of: the C
/// functions take a null pointer for what is left out, and a vector that was cleared still has one.
///
/// Not of numbers in braces: they would be gone at the end of the line, and `{0, 5}` is a null pointer and a size as well. Give them
/// a name: `const double x_mm[] = {10.0, 20.0};`.
template <class T>
class Span {
public:
    constexpr Span() noexcept = default;
    constexpr Span(T* data, std::size_t size) noexcept : data_(size == 0 ? nullptr : data), size_(size) {}
    template <std::size_t N>
    constexpr Span(T (&array)[N]) noexcept : Span(array, N) {}
    template <std::size_t N>
    Span(T (&&array)[N]) = delete;
    Span(std::initializer_list<std::remove_const_t<T>>) = delete;
    /// Of a vector, an array, a std::span and whatever else has data() and size().
    template <class C, class = std::enable_if_t<std::is_convertible_v<
                           std::remove_pointer_t<decltype(std::declval<C&>().data())> (*)[], T (*)[]>>>
    constexpr Span(C&& of) noexcept : Span(of.data(), of.size()) {}

    /// Null where there are no elements.
    constexpr T* data() const noexcept { return data_; }
    constexpr std::size_t size() const noexcept { return size_; }
    constexpr bool empty() const noexcept { return size_ == 0; }
    constexpr T& operator[](std::size_t i) const noexcept { return data_[i]; }
    constexpr T* begin() const noexcept { return data_; }
    constexpr T* end() const noexcept { return data_ + size_; }

private:
    T* data_ = nullptr;
    std::size_t size_ = 0;
};

/// A side of the neck.
enum class Side : std::uint32_t { bass = NW_SIDE_BASS, treble = NW_SIDE_TREBLE };
/// A part of a section.
enum class Part : std::uint32_t {
    whole = NW_PART_WHOLE,
    fretboard = NW_PART_FRETBOARD,
    neck_wood = NW_PART_NECK_WOOD,
    channel = NW_PART_CHANNEL
};
/// How a length is rounded to 64ths of an inch.
enum class Rounding : std::uint32_t { nearest = NW_ROUND_NEAREST, up = NW_ROUND_UP, down = NW_ROUND_DOWN };
/// A parameter of a spline surface.
enum class Direction : std::uint32_t { along = NW_DIRECTION_ALONG, around = NW_DIRECTION_AROUND };
/// A protocol of STEP files.
enum class StepProtocol : std::uint32_t { ap242 = NW_STEP_AP242, ap214 = NW_STEP_AP214 };
/// A drawing of a neck.
enum class Drawing : std::uint32_t {
    plan = NW_SHEET_PLAN,
    side = NW_SHEET_SIDE,
    fret_strip = NW_SHEET_FRET_STRIP,
    board = NW_SHEET_BOARD,
    headstock = NW_SHEET_HEADSTOCK,
    positive_gauges = NW_SHEET_POSITIVE_GAUGES,
    negative_gauges = NW_SHEET_NEGATIVE_GAUGES,
    transitions = NW_SHEET_TRANSITIONS,
    radius_gauges = NW_SHEET_RADIUS_GAUGES
};
/// A document that the library reads.
enum class Subject : std::uint32_t {
    specification = NW_SUBJECT_SPECIFICATION,
    stock = NW_SUBJECT_STOCK,
    readings = NW_SUBJECT_READINGS,
    solid_options = NW_SUBJECT_SOLID_OPTIONS,
    mesh_options = NW_SUBJECT_MESH_OPTIONS,
    template_options = NW_SUBJECT_TEMPLATE_OPTIONS,
    paper_options = NW_SUBJECT_PAPER_OPTIONS,
    dxf_options = NW_SUBJECT_DXF_OPTIONS,
    inspection_options = NW_SUBJECT_INSPECTION_OPTIONS,
    mend_limits = NW_SUBJECT_MEND_LIMITS,
    copy_options = NW_SUBJECT_COPY_OPTIONS,
    cloud_options = NW_SUBJECT_CLOUD_OPTIONS
};
/// What is at a place of a document; there may come more.
enum class Kind : std::uint32_t {
    null = NW_VALUE_NULL,
    boolean = NW_VALUE_BOOLEAN,
    number = NW_VALUE_NUMBER,
    text = NW_VALUE_TEXT,
    list = NW_VALUE_LIST,
    object = NW_VALUE_OBJECT
};

namespace detail {

/// A choice as C takes it.
template <class E>
constexpr std::uint32_t number(E choice) noexcept {
    return static_cast<std::uint32_t>(choice);
}

/// A handle with its one way to free it.
template <class T, void (*Free)(T*)>
class Handle {
public:
    using Raw = T;
    /// Takes what the C interface gave.
    explicit Handle(T* raw = nullptr) noexcept : raw_(raw) {}
    Handle(Handle&& other) noexcept : raw_(std::exchange(other.raw_, nullptr)) {}
    Handle& operator=(Handle&& other) noexcept {
        std::swap(raw_, other.raw_);
        return *this;
    }
    Handle(const Handle&) = delete;
    Handle& operator=(const Handle&) = delete;
    ~Handle() { Free(raw_); }

    /// For the functions of neckwright.h.
    const T* get() const noexcept { return raw_; }
    /// Gives the handle away: its new owner frees it.
    T* release() noexcept { return std::exchange(raw_, nullptr); }

protected:
    T* raw_;
};

} // namespace detail

/// One fault. Its texts live as long as the error they were read from.
struct Fault {
    std::uint32_t code;
    std::string_view path, value, unit;
    double lowest, highest;
    std::string_view reason, remedy, message;
};

/// What went wrong in one call: a code, and every fault that was found.
class Error : public detail::Handle<NwError, nw_error_free> {
public:
    /// None.
    Error() noexcept = default;
    Error(std::uint32_t code, NwError* raw) noexcept : Handle(raw), code_(code) {}
    /// Of spans whose sizes do not go together, which never reach C; both texts live for ever.
    Error(const char* argument, const char* reason) noexcept : code_(NW_BUFFER), argument_(argument), reason_(reason) {}

    std::uint32_t code() const noexcept { return code_; }
    std::string_view code_name() const noexcept { return nw_code_name(code_); }
    /// All the messages, one fault a line; ends in a zero byte.
    std::string_view text() const& noexcept { return reason_ ? reason_ : nw_error_text(raw_); }
    std::string_view text() && = delete;
    std::size_t size() const noexcept { return reason_ ? 1 : nw_error_count(raw_); }
    std::size_t more() const noexcept { return nw_error_more(raw_); }
    Fault operator[](std::size_t i) const& noexcept {
        constexpr double none = std::numeric_limits<double>::infinity();
        if (reason_) return {code_, argument_, "", "", -none, none, reason_, "", reason_};
        return {nw_error_code(raw_, i),   nw_error_path(raw_, i),   nw_error_value(raw_, i),
                nw_error_unit(raw_, i),   nw_error_lowest(raw_, i), nw_error_highest(raw_, i),
                nw_error_reason(raw_, i), nw_error_remedy(raw_, i), nw_error_message(raw_, i)};
    }
    Fault operator[](std::size_t i) && = delete;

private:
    std::uint32_t code_ = NW_OK;
    const char* argument_ = nullptr;
    const char* reason_ = nullptr;
};

#if NECKWRIGHT_EXCEPTIONS
/// What `.value()` throws: all that the error told, copied, so that the error stays where it is. Its texts live as long as it
/// or a copy of it.
class Failure : public std::exception {
public:
    explicit Failure(const Error& error) : kept_(std::make_shared<const Kept>(error)) {}
    const char* what() const noexcept override { return kept_->text.c_str(); }
    std::uint32_t code() const noexcept { return kept_->code; }
    std::string_view code_name() const noexcept { return nw_code_name(kept_->code); }
    std::string_view text() const noexcept { return kept_->text; }
    std::size_t size() const noexcept { return kept_->faults.size(); }
    std::size_t more() const noexcept { return kept_->more; }
    /// Only below `size()`.
    Fault operator[](std::size_t i) const noexcept {
        const One& one = kept_->faults[i];
        return {one.code, one.path, one.value, one.unit, one.lowest, one.highest, one.reason, one.remedy, one.message};
    }

private:
    struct One {
        explicit One(const Fault& of)
            : code(of.code), lowest(of.lowest), highest(of.highest), path(of.path), value(of.value), unit(of.unit),
              reason(of.reason), remedy(of.remedy), message(of.message) {}
        std::uint32_t code;
        double lowest, highest;
        std::string path, value, unit, reason, remedy, message;
    };
    struct Kept {
        explicit Kept(const Error& error) : code(error.code()), more(error.more()), text(error.text()) {
            for (std::size_t i = 0; i < error.size(); ++i) faults.emplace_back(error[i]);
        }
        std::uint32_t code;
        std::size_t more;
        std::string text;
        std::vector<One> faults;
    };
    std::shared_ptr<const Kept> kept_;
};
#endif

/// A result, or why there is none.
///
/// An Expected<bool> can't be asked by `if (answer)`, which would be read as the answer and be true for a no as well: ask
/// `has_value()`, then `*answer`.
template <class T>
class [[nodiscard]] Expected {
public:
    Expected(T&& value) noexcept : value_(std::move(value)), error_() {}
    Expected(Error&& error) noexcept : value_(), error_(std::move(error)) {}

    bool has_value() const noexcept { return error_.code() == NW_OK; }
    template <class U = T, class = std::enable_if_t<!std::is_same_v<U, bool>>>
    explicit operator bool() const noexcept {
        return has_value();
    }
    /// The result; throws Failure, or stops the program where exceptions are off. The error stays, and can be asked again.
    T value() && {
        check();
        return std::move(value_);
    }
    T& value() & {
        check();
        return value_;
    }
    const T& value() const& {
        check();
        return value_;
    }
    const T& value() const&& = delete;
    /// The result, or something else where there is none.
    template <class U>
    T value_or(U&& other) && {
        return has_value() ? std::move(value_) : static_cast<T>(std::forward<U>(other));
    }
    template <class U>
    T value_or(U&& other) const& {
        return has_value() ? value_ : static_cast<T>(std::forward<U>(other));
    }
    /// Only where there is a result.
    T operator*() && noexcept { return std::move(value_); }
    T& operator*() & noexcept { return value_; }
    const T& operator*() const& noexcept { return value_; }
    T* operator->() & noexcept { return &value_; }
    const T* operator->() const& noexcept { return &value_; }
    T* operator->() && = delete;
    const Error& error() const& noexcept { return error_; }
    Error error() && noexcept { return std::move(error_); }

private:
    void check() const {
        if (has_value()) return;
#if NECKWRIGHT_EXCEPTIONS
        throw Failure(error_);
#else
        std::abort();
#endif
    }

    T value_;
    Error error_;
};

/// Done, where there is nothing to hand on.
struct Done {};

namespace detail {

/// Calls a function that writes one plain result.
template <class T, class F, class... A>
Expected<T> plain(F call, A... arguments) noexcept {
    T out{};
    NwError* error = nullptr;
    const std::uint32_t code = call(arguments..., &out, &error);
    if (code != NW_OK) return Error(code, error);
    return out;
}

/// Calls a function that answers yes or no.
template <class F, class... A>
Expected<bool> yes_or_no(F call, A... arguments) noexcept {
    std::uint32_t out = 0;
    NwError* error = nullptr;
    const std::uint32_t code = call(arguments..., &out, &error);
    if (code != NW_OK) return Error(code, error);
    return out != 0;
}

/// Calls a function that makes a handle.
template <class H, class F, class... A>
Expected<H> made(F call, A... arguments) noexcept {
    typename H::Raw* out = nullptr;
    NwError* error = nullptr;
    const std::uint32_t code = call(arguments..., &out, &error);
    if (code != NW_OK) return Error(code, error);
    return H(out);
}

/// Calls a function that fills buffers.
template <class F, class... A>
Expected<Done> filled(F call, A... arguments) noexcept {
    NwError* error = nullptr;
    const std::uint32_t code = call(arguments..., &error);
    if (code != NW_OK) return Error(code, error);
    return Done{};
}

constexpr std::size_t least(std::size_t a, std::size_t b) noexcept { return a < b ? a : b; }

/// The room in a buffer that may be left out.
constexpr std::size_t or_any(std::size_t size) noexcept {
    return size == 0 ? std::numeric_limits<std::size_t>::max() : size;
}

} // namespace detail

class Bytes;
class Document;
class Neck;
class Plan;
class Readings;
class Inspection;
class Mending;
class Copied;
class Solids;
class Mesh;
class Sheets;

/// The bytes of a file.
class Bytes : public detail::Handle<NwBytes, nw_bytes_free> {
public:
    using Handle::Handle;
    /// The bytes; they live as long as the handle. Empty without one.
    std::string_view view() const& noexcept {
        const std::uint8_t* data = nullptr;
        std::size_t size = 0;
        if (nw_bytes_data(raw_, &data, &size, nullptr) != NW_OK) return {};
        return {reinterpret_cast<const char*>(data), size};
    }
    std::string_view view() && = delete;
};

/// A result with many parts, read by JSON Pointers (RFC 6901).
class Document : public detail::Handle<NwDocument, nw_document_free> {
public:
    using Handle::Handle;
    Expected<const char*> json() const& noexcept;
    Expected<const char*> json() && = delete;
    Expected<Kind> kind(const char* pointer) const noexcept;
    Expected<std::size_t> count(const char* pointer) const noexcept;
    Expected<const char*> name(const char* pointer, std::size_t i) const& noexcept;
    Expected<const char*> name(const char* pointer, std::size_t i) && = delete;
    Expected<double> number(const char* pointer) const noexcept;
    Expected<bool> boolean(const char* pointer) const noexcept;
    Expected<const char*> text(const char* pointer) const& noexcept;
    Expected<const char*> text(const char* pointer) && = delete;
    Expected<Done> numbers(const char* list, const char* each, Span<double> numbers) const noexcept;
    Expected<Document> part(const char* pointer) const noexcept;
};

/// A neck. `const` use from any number of threads at once.
class Neck : public detail::Handle<NwNeck, nw_neck_free> {
public:
    using Handle::Handle;
    Expected<Inspection> inspect(const Readings& readings, const Plan* plan, std::size_t stage,
        const char* options_json = nullptr) const noexcept;
    Expected<Mending> mend(const Readings& low, const char* limits_json = nullptr) const noexcept;
    Expected<Copied> copy(const Readings& readings, const char* options_json = nullptr) const noexcept;
    Expected<Document> place_cloud(Span<const double> points_mm, const char* options_json = nullptr) const noexcept;
    Expected<Document> copy_cloud(Span<const double> points_mm, const char* options_json = nullptr) const noexcept;
    Expected<Document> compare(const Neck& other) const noexcept;
    Expected<bool> within(const Neck& other, double tolerance_mm) const noexcept;
    Expected<Done> back_grid(Span<const double> x_mm, std::size_t columns, Span<double> positions_mm,
        Span<double> normals) const noexcept;
    Expected<Done> back_grid_f32(Span<const double> x_mm, std::size_t columns, Span<float> positions_mm,
        Span<float> normals) const noexcept;
    Expected<Done> thickness_mm(Span<const double> x_mm, Span<double> thickness_mm) const noexcept;
    Expected<Done> width_mm(Span<const double> x_mm, Span<double> width_mm) const noexcept;
    Expected<Done> girth_mm(Span<const double> x_mm, Span<double> girth_mm) const noexcept;
    Expected<Done> carve_line_mm(Span<const double> x_mm, Side side, Span<double> carve_line_mm) const noexcept;
    Expected<Done> rod_wall_mm(Span<const double> x_mm, Span<double> rod_wall_mm) const noexcept;
    Expected<Done> station_mm(Span<const double> fret, Span<double> x_mm) const noexcept;
    Expected<Done> fret_at(Span<const double> x_mm, Span<double> fret) const noexcept;
    Expected<double> station_of_text_mm(const char* station) const noexcept;
    Expected<Document> layout() const noexcept;
    Expected<Document> hump(std::size_t string, double from_mm, double to_mm) const noexcept;
    Expected<Done> string_spacing_mm(std::size_t string, Span<const double> x_mm, Span<double> spacing_mm) const noexcept;
    Expected<Done> string_gap_mm(std::size_t string, Span<const double> x_mm, Span<double> gap_mm) const noexcept;
    Expected<Done> margins_mm(Span<const double> x_mm, Span<double> margins_mm) const noexcept;
    Expected<Document> section_bends(double x_mm) const noexcept;
    Expected<Document> section_outline(double x_mm, Part part) const noexcept;
    Expected<Document> specification() const noexcept;
    Expected<Document> caliper_card() const noexcept;
    Expected<Document> frets() const noexcept;
    Expected<Document> strings() const noexcept;
    Expected<Document> string_paths() const noexcept;
    Expected<Document> markers() const noexcept;
    Expected<Document> reach() const noexcept;
    Expected<Document> headstock() const noexcept;
    Expected<Document> volute() const noexcept;
    Expected<Document> heel() const noexcept;
    Expected<Document> rod_cuts() const noexcept;
    Expected<Document> volume() const noexcept;
    Expected<Document> mass() const noexcept;
    Expected<Document> bounds() const noexcept;
    Expected<Document> joints() const noexcept;
    Expected<Document> least_thickness() const noexcept;
    Expected<Document> least_rod_wall() const noexcept;
    Expected<Document> least_curvature() const noexcept;
    Expected<Document> least_margin() const noexcept;
    Expected<Document> warnings() const noexcept;
    Expected<Plan> carving_plan(const char* stock_json = nullptr) const noexcept;
    Expected<Done> section_moments(Span<const double> x_mm, Part part, Span<double> moments) const noexcept;
    Expected<Done> section_control_points(double x_mm, Side side, Span<double> control_points_mm) const noexcept;
    Expected<std::size_t> section_polyline_count(double x_mm, Part part, double chord_mm) const noexcept;
    Expected<Done> section_polyline(double x_mm, Part part, double chord_mm, Span<double> corners_mm) const noexcept;
    Expected<Sheets> sheet(Drawing drawing, const char* options_json = nullptr) const noexcept;
    Expected<Sheets> templates(const Plan* plan, const char* options_json = nullptr) const noexcept;
    Expected<Sheets> section_sheet(Span<const double> x_mm) const noexcept;
    Expected<Solids> solids(const char* options_json = nullptr) const noexcept;
};

/// A carving plan.
class Plan : public detail::Handle<NwPlan, nw_plan_free> {
public:
    using Handle::Handle;
    Expected<Document> document() const noexcept;
    Expected<std::size_t> stage_count() const noexcept;
    Expected<Done> wood_area_mm2(std::size_t stage, Span<const double> x_mm, Span<double> area_mm2) const noexcept;
    Expected<double> wood_volume_mm3(std::size_t stage) const noexcept;
    Expected<Done> wood_reach_mm(std::size_t stage, Span<double> reach_mm) const noexcept;
    Expected<Done> wood_depth_mm(std::size_t stage, Span<const double> x_mm, Span<double> depth_mm) const noexcept;
    Expected<Done> wood_contains(std::size_t stage, Span<const double> points_mm, double within_mm,
        Span<std::uint8_t> inside) const noexcept;
    Expected<std::size_t> wood_polyline_count(std::size_t stage, double x_mm, double chord_mm) const noexcept;
    Expected<Done> wood_polyline(std::size_t stage, double x_mm, double chord_mm, Span<double> corners_mm) const noexcept;
    Expected<Sheets> sheets() const noexcept;
    Expected<Solids> wood_solids(std::size_t stage) const noexcept;
};

/// Readings of instruments.
class Readings : public detail::Handle<NwReadings, nw_readings_free> {
public:
    using Handle::Handle;
    Expected<std::size_t> count() const noexcept;
    Expected<Bytes> csv() const noexcept;
    Expected<Bytes> json() const noexcept;
    Expected<Done> check_on(const Neck& neck) const noexcept;
};

/// What readings say about a neck.
class Inspection : public detail::Handle<NwInspection, nw_inspection_free> {
public:
    using Handle::Handle;
    Expected<Document> document() const noexcept;
    Expected<Readings> low_readings(const Readings& readings) const noexcept;
    Expected<Sheets> sheets(const Neck& neck) const noexcept;
};

/// What comes of mending.
class Mending : public detail::Handle<NwMending, nw_mending_free> {
public:
    using Handle::Handle;
    Expected<Document> document() const noexcept;
    Expected<Neck> neck() const noexcept;
};

/// A neck copied from readings.
class Copied : public detail::Handle<NwCopied, nw_copied_free> {
public:
    using Handle::Handle;
    Expected<Document> document() const noexcept;
    Expected<Document> sharpest_next(std::size_t most) const noexcept;
    Expected<Done> thickness_uncertainty_mm(Span<const double> x_mm, Span<double> uncertainty_mm) const noexcept;
};

/// Closed solids.
class Solids : public detail::Handle<NwSolids, nw_solids_free> {
public:
    using Handle::Handle;
    Expected<Mesh> mesh(std::size_t solid, const char* options_json = nullptr) const noexcept;
    Expected<std::size_t> count() const noexcept;
    Expected<const char*> name(std::size_t solid) const& noexcept;
    Expected<const char*> name(std::size_t solid) && = delete;
    Expected<NwSolidCounts> counts(std::size_t solid) const noexcept;
    Expected<Done> vertices(std::size_t solid, Span<double> vertices_mm) const noexcept;
    Expected<NwEdge> edge(std::size_t solid, std::size_t edge) const noexcept;
    Expected<Done> edge_spline(std::size_t solid, std::size_t edge, Span<double> knots, Span<std::uint32_t> multiplicities,
        Span<double> poles_mm, Span<double> weights) const noexcept;
    Expected<NwFace> face(std::size_t solid, std::size_t face) const noexcept;
    Expected<Done> face_knots(std::size_t solid, std::size_t face, Direction direction, Span<double> knots,
        Span<std::uint32_t> multiplicities) const noexcept;
    Expected<Done> face_poles(std::size_t solid, std::size_t face, Span<double> poles_mm, Span<double> weights) const noexcept;
    Expected<Done> face_loops(std::size_t solid, std::size_t face, Span<std::size_t> sizes, Span<std::size_t> edges,
        Span<std::uint8_t> forward) const noexcept;
    Expected<NwTrace> face_trace(std::size_t solid, std::size_t face, std::size_t trace) const noexcept;
    Expected<Done> face_trace_spline(std::size_t solid, std::size_t face, std::size_t trace, Span<double> knots,
        Span<std::uint32_t> multiplicities, Span<double> poles) const noexcept;
    Expected<Bytes> step(const char* name, StepProtocol protocol, Span<const double> colours = {}) const noexcept;
};

/// A solid as triangles.
class Mesh : public detail::Handle<NwMesh, nw_mesh_free> {
public:
    using Handle::Handle;
    Expected<NwMeshCounts> counts() const noexcept;
    Expected<Done> vertices(Span<double> positions_mm, Span<double> normals, Span<double> station_girth) const noexcept;
    Expected<Done> vertices_f32(Span<float> positions_mm, Span<float> normals, Span<float> station_girth) const noexcept;
    Expected<Done> triangles(Span<std::uint32_t> indices) const noexcept;
    Expected<Done> same_place(Span<std::uint32_t> first) const noexcept;
};

/// Drawings on paper.
class Sheets : public detail::Handle<NwSheets, nw_sheets_free> {
public:
    using Handle::Handle;
    Expected<std::size_t> count() const noexcept;
    Expected<const char*> title(std::size_t sheet) const& noexcept;
    Expected<const char*> title(std::size_t sheet) && = delete;
    Expected<Bytes> svg(std::size_t sheet) const noexcept;
};

inline Expected<const char*> Document::json() const& noexcept {
    return detail::plain<const char*>(nw_document_json, raw_);
}

inline Expected<Kind> Document::kind(const char* pointer) const noexcept {
    std::uint32_t out = 0;
    NwError* error = nullptr;
    const std::uint32_t code = nw_document_kind(raw_, pointer, &out, &error);
    if (code != NW_OK) return Error(code, error);
    return static_cast<Kind>(out);
}

inline Expected<std::size_t> Document::count(const char* pointer) const noexcept {
    return detail::plain<std::size_t>(nw_document_count, raw_, pointer);
}

inline Expected<const char*> Document::name(const char* pointer, std::size_t i) const& noexcept {
    return detail::plain<const char*>(nw_document_name, raw_, pointer, i);
}

inline Expected<double> Document::number(const char* pointer) const noexcept {
    return detail::plain<double>(nw_document_number, raw_, pointer);
}

inline Expected<bool> Document::boolean(const char* pointer) const noexcept {
    return detail::yes_or_no(nw_document_boolean, raw_, pointer);
}

inline Expected<const char*> Document::text(const char* pointer) const& noexcept {
    return detail::plain<const char*>(nw_document_text, raw_, pointer);
}

inline Expected<Done> Document::numbers(const char* list, const char* each, Span<double> numbers) const noexcept {
    return detail::filled(nw_document_numbers, raw_, list, each, numbers.data(), numbers.size());
}

inline Expected<Document> Document::part(const char* pointer) const noexcept {
    return detail::made<Document>(nw_document_part, raw_, pointer);
}

inline Expected<std::size_t> Readings::count() const noexcept {
    return detail::plain<std::size_t>(nw_readings_count, raw_);
}

inline Expected<Bytes> Readings::csv() const noexcept {
    return detail::made<Bytes>(nw_readings_csv, raw_);
}

inline Expected<Bytes> Readings::json() const noexcept {
    return detail::made<Bytes>(nw_readings_json, raw_);
}

inline Expected<Done> Readings::check_on(const Neck& neck) const noexcept {
    return detail::filled(nw_readings_check_on, raw_, neck.get());
}

inline Expected<Inspection> Neck::inspect(const Readings& readings, const Plan* plan, std::size_t stage,
    const char* options_json) const noexcept {
    return detail::made<Inspection>(nw_neck_inspect, raw_, readings.get(), plan ? plan->get() : nullptr, stage, options_json);
}

inline Expected<Document> Inspection::document() const noexcept {
    return detail::made<Document>(nw_inspection_document, raw_);
}

inline Expected<Readings> Inspection::low_readings(const Readings& readings) const noexcept {
    return detail::made<Readings>(nw_inspection_low_readings, raw_, readings.get());
}

inline Expected<Mending> Neck::mend(const Readings& low, const char* limits_json) const noexcept {
    return detail::made<Mending>(nw_neck_mend, raw_, low.get(), limits_json);
}

inline Expected<Document> Mending::document() const noexcept {
    return detail::made<Document>(nw_mending_document, raw_);
}

inline Expected<Neck> Mending::neck() const noexcept {
    return detail::made<Neck>(nw_mending_neck, raw_);
}

inline Expected<Copied> Neck::copy(const Readings& readings, const char* options_json) const noexcept {
    return detail::made<Copied>(nw_neck_copy, raw_, readings.get(), options_json);
}

inline Expected<Document> Copied::document() const noexcept {
    return detail::made<Document>(nw_copied_document, raw_);
}

inline Expected<Document> Copied::sharpest_next(std::size_t most) const noexcept {
    return detail::made<Document>(nw_copied_sharpest_next, raw_, most);
}

inline Expected<Done> Copied::thickness_uncertainty_mm(Span<const double> x_mm, Span<double> uncertainty_mm) const noexcept {
    if (uncertainty_mm.size() != x_mm.size())
        return Error("uncertainty_mm", "uncertainty_mm has to be as long as the other span");
    return detail::filled(nw_copied_thickness_uncertainty_mm, raw_, x_mm.data(), x_mm.size(), uncertainty_mm.data());
}

inline Expected<Document> Neck::place_cloud(Span<const double> points_mm, const char* options_json) const noexcept {
    if (points_mm.size() % 3 != 0) return Error("points_mm", "points_mm needs three numbers for each point");
    return detail::made<Document>(nw_neck_place_cloud, raw_, points_mm.data(), points_mm.size() / 3, options_json);
}

inline Expected<Document> Neck::copy_cloud(Span<const double> points_mm, const char* options_json) const noexcept {
    if (points_mm.size() % 3 != 0) return Error("points_mm", "points_mm needs three numbers for each point");
    return detail::made<Document>(nw_neck_copy_cloud, raw_, points_mm.data(), points_mm.size() / 3, options_json);
}

inline Expected<Document> Neck::compare(const Neck& other) const noexcept {
    return detail::made<Document>(nw_neck_compare, raw_, other.get());
}

inline Expected<bool> Neck::within(const Neck& other, double tolerance_mm) const noexcept {
    return detail::yes_or_no(nw_neck_within, raw_, other.get(), tolerance_mm);
}

inline Expected<Mesh> Solids::mesh(std::size_t solid, const char* options_json) const noexcept {
    return detail::made<Mesh>(nw_solid_mesh, raw_, solid, options_json);
}

inline Expected<NwMeshCounts> Mesh::counts() const noexcept {
    return detail::plain<NwMeshCounts>(nw_mesh_counts, raw_);
}

inline Expected<Done> Mesh::vertices(Span<double> positions_mm, Span<double> normals,
    Span<double> station_girth) const noexcept {
    return detail::filled(nw_mesh_vertices, raw_, positions_mm.data(), normals.data(), station_girth.data(),
        detail::least(detail::least(positions_mm.size() / 3, normals.size() / 3), station_girth.size() / 2));
}

inline Expected<Done> Mesh::vertices_f32(Span<float> positions_mm, Span<float> normals,
    Span<float> station_girth) const noexcept {
    return detail::filled(nw_mesh_vertices_f32, raw_, positions_mm.data(), normals.data(), station_girth.data(),
        detail::least(detail::least(positions_mm.size() / 3, normals.size() / 3), station_girth.size() / 2));
}

inline Expected<Done> Mesh::triangles(Span<std::uint32_t> indices) const noexcept {
    return detail::filled(nw_mesh_triangles, raw_, indices.data(), indices.size());
}

inline Expected<Done> Mesh::same_place(Span<std::uint32_t> first) const noexcept {
    return detail::filled(nw_mesh_same_place, raw_, first.data(), first.size());
}

inline Expected<Done> Neck::back_grid(Span<const double> x_mm, std::size_t columns, Span<double> positions_mm,
    Span<double> normals) const noexcept {
    return detail::filled(nw_neck_back_grid, raw_, x_mm.data(), x_mm.size(), columns, positions_mm.data(), normals.data(),
        detail::least(positions_mm.size() / 3, normals.size() / 3));
}

inline Expected<Done> Neck::back_grid_f32(Span<const double> x_mm, std::size_t columns, Span<float> positions_mm,
    Span<float> normals) const noexcept {
    return detail::filled(nw_neck_back_grid_f32, raw_, x_mm.data(), x_mm.size(), columns, positions_mm.data(), normals.data(),
        detail::least(positions_mm.size() / 3, normals.size() / 3));
}

inline Expected<Done> Neck::thickness_mm(Span<const double> x_mm, Span<double> thickness_mm) const noexcept {
    if (thickness_mm.size() != x_mm.size()) return Error("thickness_mm", "thickness_mm has to be as long as the other span");
    return detail::filled(nw_neck_thickness_mm, raw_, x_mm.data(), x_mm.size(), thickness_mm.data());
}

inline Expected<Done> Neck::width_mm(Span<const double> x_mm, Span<double> width_mm) const noexcept {
    if (width_mm.size() != x_mm.size()) return Error("width_mm", "width_mm has to be as long as the other span");
    return detail::filled(nw_neck_width_mm, raw_, x_mm.data(), x_mm.size(), width_mm.data());
}

inline Expected<Done> Neck::girth_mm(Span<const double> x_mm, Span<double> girth_mm) const noexcept {
    if (girth_mm.size() != x_mm.size()) return Error("girth_mm", "girth_mm has to be as long as the other span");
    return detail::filled(nw_neck_girth_mm, raw_, x_mm.data(), x_mm.size(), girth_mm.data());
}

inline Expected<Done> Neck::carve_line_mm(Span<const double> x_mm, Side side,
    Span<double> carve_line_mm) const noexcept {
    if (carve_line_mm.size() != x_mm.size()) return Error("carve_line_mm", "carve_line_mm has to be as long as the other span");
    return detail::filled(nw_neck_carve_line_mm, raw_, x_mm.data(), x_mm.size(), detail::number(side),
        carve_line_mm.data());
}

inline Expected<Done> Neck::rod_wall_mm(Span<const double> x_mm, Span<double> rod_wall_mm) const noexcept {
    if (rod_wall_mm.size() != x_mm.size()) return Error("rod_wall_mm", "rod_wall_mm has to be as long as the other span");
    return detail::filled(nw_neck_rod_wall_mm, raw_, x_mm.data(), x_mm.size(), rod_wall_mm.data());
}

inline Expected<Done> Neck::station_mm(Span<const double> fret, Span<double> x_mm) const noexcept {
    if (x_mm.size() != fret.size()) return Error("x_mm", "x_mm has to be as long as the other span");
    return detail::filled(nw_neck_station_mm, raw_, fret.data(), fret.size(), x_mm.data());
}

inline Expected<Done> Neck::fret_at(Span<const double> x_mm, Span<double> fret) const noexcept {
    if (fret.size() != x_mm.size()) return Error("fret", "fret has to be as long as the other span");
    return detail::filled(nw_neck_fret_at, raw_, x_mm.data(), x_mm.size(), fret.data());
}

inline Expected<double> Neck::station_of_text_mm(const char* station) const noexcept {
    return detail::plain<double>(nw_neck_station_of_text_mm, raw_, station);
}

inline Expected<Document> Neck::layout() const noexcept {
    return detail::made<Document>(nw_neck_layout, raw_);
}

inline Expected<Document> Neck::hump(std::size_t string, double from_mm, double to_mm) const noexcept {
    return detail::made<Document>(nw_neck_hump, raw_, string, from_mm, to_mm);
}

inline Expected<Done> Neck::string_spacing_mm(std::size_t string, Span<const double> x_mm,
    Span<double> spacing_mm) const noexcept {
    if (spacing_mm.size() != x_mm.size()) return Error("spacing_mm", "spacing_mm has to be as long as the other span");
    return detail::filled(nw_neck_string_spacing_mm, raw_, string, x_mm.data(), x_mm.size(), spacing_mm.data());
}

inline Expected<Done> Neck::string_gap_mm(std::size_t string, Span<const double> x_mm, Span<double> gap_mm) const noexcept {
    if (gap_mm.size() != x_mm.size()) return Error("gap_mm", "gap_mm has to be as long as the other span");
    return detail::filled(nw_neck_string_gap_mm, raw_, string, x_mm.data(), x_mm.size(), gap_mm.data());
}

inline Expected<Done> Neck::margins_mm(Span<const double> x_mm, Span<double> margins_mm) const noexcept {
    return detail::filled(nw_neck_margins_mm, raw_, x_mm.data(), x_mm.size(), margins_mm.data(), margins_mm.size());
}

inline Expected<Document> Neck::section_bends(double x_mm) const noexcept {
    return detail::made<Document>(nw_neck_section_bends, raw_, x_mm);
}

inline Expected<Document> Neck::section_outline(double x_mm, Part part) const noexcept {
    return detail::made<Document>(nw_neck_section_outline, raw_, x_mm, detail::number(part));
}

inline Expected<Document> Neck::specification() const noexcept {
    return detail::made<Document>(nw_neck_specification, raw_);
}

inline Expected<Document> Neck::caliper_card() const noexcept {
    return detail::made<Document>(nw_neck_caliper_card, raw_);
}

inline Expected<Document> Neck::frets() const noexcept {
    return detail::made<Document>(nw_neck_frets, raw_);
}

inline Expected<Document> Neck::strings() const noexcept {
    return detail::made<Document>(nw_neck_strings, raw_);
}

inline Expected<Document> Neck::string_paths() const noexcept {
    return detail::made<Document>(nw_neck_string_paths, raw_);
}

inline Expected<Document> Neck::markers() const noexcept {
    return detail::made<Document>(nw_neck_markers, raw_);
}

inline Expected<Document> Neck::reach() const noexcept {
    return detail::made<Document>(nw_neck_reach, raw_);
}

inline Expected<Document> Neck::headstock() const noexcept {
    return detail::made<Document>(nw_neck_headstock, raw_);
}

inline Expected<Document> Neck::volute() const noexcept {
    return detail::made<Document>(nw_neck_volute, raw_);
}

inline Expected<Document> Neck::heel() const noexcept {
    return detail::made<Document>(nw_neck_heel, raw_);
}

inline Expected<Document> Neck::rod_cuts() const noexcept {
    return detail::made<Document>(nw_neck_rod_cuts, raw_);
}

inline Expected<Document> Neck::volume() const noexcept {
    return detail::made<Document>(nw_neck_volume, raw_);
}

inline Expected<Document> Neck::mass() const noexcept {
    return detail::made<Document>(nw_neck_mass, raw_);
}

inline Expected<Document> Neck::bounds() const noexcept {
    return detail::made<Document>(nw_neck_bounds, raw_);
}

inline Expected<Document> Neck::joints() const noexcept {
    return detail::made<Document>(nw_neck_joints, raw_);
}

inline Expected<Document> Neck::least_thickness() const noexcept {
    return detail::made<Document>(nw_neck_least_thickness, raw_);
}

inline Expected<Document> Neck::least_rod_wall() const noexcept {
    return detail::made<Document>(nw_neck_least_rod_wall, raw_);
}

inline Expected<Document> Neck::least_curvature() const noexcept {
    return detail::made<Document>(nw_neck_least_curvature, raw_);
}

inline Expected<Document> Neck::least_margin() const noexcept {
    return detail::made<Document>(nw_neck_least_margin, raw_);
}

inline Expected<Document> Neck::warnings() const noexcept {
    return detail::made<Document>(nw_neck_warnings, raw_);
}

inline Expected<Plan> Neck::carving_plan(const char* stock_json) const noexcept {
    return detail::made<Plan>(nw_neck_carving_plan, raw_, stock_json);
}

inline Expected<Document> Plan::document() const noexcept {
    return detail::made<Document>(nw_plan_document, raw_);
}

inline Expected<std::size_t> Plan::stage_count() const noexcept {
    return detail::plain<std::size_t>(nw_plan_stage_count, raw_);
}

inline Expected<Done> Plan::wood_area_mm2(std::size_t stage, Span<const double> x_mm, Span<double> area_mm2) const noexcept {
    if (area_mm2.size() != x_mm.size()) return Error("area_mm2", "area_mm2 has to be as long as the other span");
    return detail::filled(nw_plan_wood_area_mm2, raw_, stage, x_mm.data(), x_mm.size(), area_mm2.data());
}

inline Expected<double> Plan::wood_volume_mm3(std::size_t stage) const noexcept {
    return detail::plain<double>(nw_plan_wood_volume_mm3, raw_, stage);
}

inline Expected<Done> Plan::wood_reach_mm(std::size_t stage, Span<double> reach_mm) const noexcept {
    return detail::filled(nw_plan_wood_reach_mm, raw_, stage, reach_mm.data(), reach_mm.size());
}

inline Expected<Done> Plan::wood_depth_mm(std::size_t stage, Span<const double> x_mm, Span<double> depth_mm) const noexcept {
    if (depth_mm.size() != x_mm.size()) return Error("depth_mm", "depth_mm has to be as long as the other span");
    return detail::filled(nw_plan_wood_depth_mm, raw_, stage, x_mm.data(), x_mm.size(), depth_mm.data());
}

inline Expected<Done> Plan::wood_contains(std::size_t stage, Span<const double> points_mm, double within_mm,
    Span<std::uint8_t> inside) const noexcept {
    if (points_mm.size() % 3 != 0) return Error("points_mm", "points_mm needs three numbers for each point");
    if (inside.size() != points_mm.size() / 3) return Error("inside", "inside needs one element for each point");
    return detail::filled(nw_plan_wood_contains, raw_, stage, points_mm.data(), points_mm.size() / 3, within_mm, inside.data());
}

inline Expected<std::size_t> Plan::wood_polyline_count(std::size_t stage, double x_mm, double chord_mm) const noexcept {
    return detail::plain<std::size_t>(nw_plan_wood_polyline_count, raw_, stage, x_mm, chord_mm);
}

inline Expected<Done> Plan::wood_polyline(std::size_t stage, double x_mm, double chord_mm,
    Span<double> corners_mm) const noexcept {
    return detail::filled(nw_plan_wood_polyline, raw_, stage, x_mm, chord_mm, corners_mm.data(), corners_mm.size());
}

inline Expected<Done> Neck::section_moments(Span<const double> x_mm, Part part, Span<double> moments) const noexcept {
    return detail::filled(nw_neck_section_moments, raw_, x_mm.data(), x_mm.size(), detail::number(part), moments.data(),
        moments.size());
}

inline Expected<Done> Neck::section_control_points(double x_mm, Side side,
    Span<double> control_points_mm) const noexcept {
    return detail::filled(nw_neck_section_control_points, raw_, x_mm, detail::number(side), control_points_mm.data(),
        control_points_mm.size());
}

inline Expected<std::size_t> Neck::section_polyline_count(double x_mm, Part part, double chord_mm) const noexcept {
    return detail::plain<std::size_t>(nw_neck_section_polyline_count, raw_, x_mm, detail::number(part), chord_mm);
}

inline Expected<Done> Neck::section_polyline(double x_mm, Part part, double chord_mm,
    Span<double> corners_mm) const noexcept {
    return detail::filled(nw_neck_section_polyline, raw_, x_mm, detail::number(part), chord_mm, corners_mm.data(),
        corners_mm.size());
}

inline Expected<Sheets> Neck::sheet(Drawing drawing, const char* options_json) const noexcept {
    return detail::made<Sheets>(nw_neck_sheet, raw_, detail::number(drawing), options_json);
}

inline Expected<Sheets> Neck::templates(const Plan* plan, const char* options_json) const noexcept {
    return detail::made<Sheets>(nw_neck_templates, raw_, plan ? plan->get() : nullptr, options_json);
}

inline Expected<Sheets> Neck::section_sheet(Span<const double> x_mm) const noexcept {
    return detail::made<Sheets>(nw_neck_section_sheet, raw_, x_mm.data(), x_mm.size());
}

inline Expected<Sheets> Plan::sheets() const noexcept {
    return detail::made<Sheets>(nw_plan_sheets, raw_);
}

inline Expected<Sheets> Inspection::sheets(const Neck& neck) const noexcept {
    return detail::made<Sheets>(nw_inspection_sheets, raw_, neck.get());
}

inline Expected<std::size_t> Sheets::count() const noexcept {
    return detail::plain<std::size_t>(nw_sheets_count, raw_);
}

inline Expected<const char*> Sheets::title(std::size_t sheet) const& noexcept {
    return detail::plain<const char*>(nw_sheets_title, raw_, sheet);
}

inline Expected<Bytes> Sheets::svg(std::size_t sheet) const noexcept {
    return detail::made<Bytes>(nw_sheets_svg, raw_, sheet);
}

inline Expected<Solids> Neck::solids(const char* options_json) const noexcept {
    return detail::made<Solids>(nw_neck_solids, raw_, options_json);
}

inline Expected<Solids> Plan::wood_solids(std::size_t stage) const noexcept {
    return detail::made<Solids>(nw_plan_wood_solids, raw_, stage);
}

inline Expected<std::size_t> Solids::count() const noexcept {
    return detail::plain<std::size_t>(nw_solids_count, raw_);
}

inline Expected<const char*> Solids::name(std::size_t solid) const& noexcept {
    return detail::plain<const char*>(nw_solid_name, raw_, solid);
}

inline Expected<NwSolidCounts> Solids::counts(std::size_t solid) const noexcept {
    return detail::plain<NwSolidCounts>(nw_solid_counts, raw_, solid);
}

inline Expected<Done> Solids::vertices(std::size_t solid, Span<double> vertices_mm) const noexcept {
    return detail::filled(nw_solid_vertices, raw_, solid, vertices_mm.data(), vertices_mm.size());
}

inline Expected<NwEdge> Solids::edge(std::size_t solid, std::size_t edge) const noexcept {
    return detail::plain<NwEdge>(nw_solid_edge, raw_, solid, edge);
}

inline Expected<Done> Solids::edge_spline(std::size_t solid, std::size_t edge, Span<double> knots,
    Span<std::uint32_t> multiplicities, Span<double> poles_mm, Span<double> weights) const noexcept {
    return detail::filled(nw_solid_edge_spline, raw_, solid, edge, knots.data(), multiplicities.data(),
        detail::least(knots.size(), multiplicities.size()), poles_mm.data(), weights.data(), detail::least(poles_mm.size() / 3,
            detail::or_any(weights.size())));
}

inline Expected<NwFace> Solids::face(std::size_t solid, std::size_t face) const noexcept {
    return detail::plain<NwFace>(nw_solid_face, raw_, solid, face);
}

inline Expected<Done> Solids::face_knots(std::size_t solid, std::size_t face, Direction direction, Span<double> knots,
    Span<std::uint32_t> multiplicities) const noexcept {
    return detail::filled(nw_solid_face_knots, raw_, solid, face, detail::number(direction), knots.data(), multiplicities.data(),
        detail::least(knots.size(), multiplicities.size()));
}

inline Expected<Done> Solids::face_poles(std::size_t solid, std::size_t face, Span<double> poles_mm,
    Span<double> weights) const noexcept {
    return detail::filled(nw_solid_face_poles, raw_, solid, face, poles_mm.data(), weights.data(),
        detail::least(poles_mm.size() / 3, detail::or_any(weights.size())));
}

inline Expected<Done> Solids::face_loops(std::size_t solid, std::size_t face, Span<std::size_t> sizes, Span<std::size_t> edges,
    Span<std::uint8_t> forward) const noexcept {
    return detail::filled(nw_solid_face_loops, raw_, solid, face, sizes.data(), sizes.size(), edges.data(), forward.data(),
        detail::least(edges.size(), forward.size()));
}

inline Expected<NwTrace> Solids::face_trace(std::size_t solid, std::size_t face, std::size_t trace) const noexcept {
    return detail::plain<NwTrace>(nw_solid_face_trace, raw_, solid, face, trace);
}

inline Expected<Done> Solids::face_trace_spline(std::size_t solid, std::size_t face, std::size_t trace, Span<double> knots,
    Span<std::uint32_t> multiplicities, Span<double> poles) const noexcept {
    return detail::filled(nw_solid_face_trace_spline, raw_, solid, face, trace, knots.data(), multiplicities.data(),
        detail::least(knots.size(), multiplicities.size()), poles.data(), poles.size() / 2);
}

inline Expected<Bytes> Solids::step(const char* name, StepProtocol protocol, Span<const double> colours) const noexcept {
    if (colours.size() % 3 != 0) return Error("colours", "colours needs three numbers for each solid, or none");
    return detail::made<Bytes>(nw_solids_step, raw_, name, detail::number(protocol), colours.data(), colours.size() / 3);
}

/// The version of the C interface, and of the library in it.
inline std::string_view version() noexcept { return nw_version(); }
inline std::string_view core_version() noexcept { return nw_core_version(); }

inline Expected<Readings> readings_from_csv(const char* text) noexcept {
    return detail::made<Readings>(nw_readings_from_csv, text);
}

inline Expected<Readings> readings_from_csv_good(const char* text) noexcept {
    return detail::made<Readings>(nw_readings_from_csv_good, text);
}

inline Expected<Readings> readings_from_json(const char* text) noexcept {
    return detail::made<Readings>(nw_readings_from_json, text);
}

inline Expected<Readings> readings_from_json_good(const char* text) noexcept {
    return detail::made<Readings>(nw_readings_from_json_good, text);
}

inline Expected<Done> fret_positions_mm(double scale_mm, std::uint32_t fret_count, std::uint32_t divisions,
    Span<double> positions_mm) noexcept {
    return detail::filled(nw_fret_positions_mm, scale_mm, fret_count, divisions, positions_mm.data(), positions_mm.size());
}

inline Expected<Done> fret_positions_of_cents_mm(Span<const double> cents, double scale_mm, std::uint32_t fret_count,
    Span<double> positions_mm) noexcept {
    return detail::filled(nw_fret_positions_of_cents_mm, cents.data(), cents.size(), scale_mm, fret_count, positions_mm.data(),
        positions_mm.size());
}

inline Expected<Done> fret_positions_of_ratios_mm(Span<const double> ratios, double scale_mm, std::uint32_t fret_count,
    Span<double> positions_mm) noexcept {
    return detail::filled(nw_fret_positions_of_ratios_mm, ratios.data(), ratios.size(), scale_mm, fret_count,
        positions_mm.data(), positions_mm.size());
}

inline Expected<double> length_mm(const char* text) noexcept {
    return detail::plain<double>(nw_length_mm, text);
}

inline Expected<double> angle_deg(const char* text) noexcept {
    return detail::plain<double>(nw_angle_deg, text);
}

inline Expected<Document> sixtyfourths(double length_mm, Rounding rounding) noexcept {
    return detail::made<Document>(nw_sixtyfourths, length_mm, detail::number(rounding));
}

inline Expected<Document> rounded_positions(double scale_mm, std::uint32_t fret_count, std::uint32_t divisions,
    double grid_mm) noexcept {
    return detail::made<Document>(nw_rounded_positions, scale_mm, fret_count, divisions, grid_mm);
}

inline Expected<double> sagitta_mm(double radius_mm, double y_mm) noexcept {
    return detail::plain<double>(nw_sagitta_mm, radius_mm, y_mm);
}

inline Expected<Document> scarf(double angle_deg, double stock_mm) noexcept {
    return detail::made<Document>(nw_scarf, angle_deg, stock_mm);
}

inline Expected<Done> usual_gauges_mm(std::uint32_t count, Span<double> gauges_mm) noexcept {
    return detail::filled(nw_usual_gauges_mm, count, gauges_mm.data(), gauges_mm.size());
}

inline Expected<Document> known_woods() noexcept {
    return detail::made<Document>(nw_known_woods);
}

inline Expected<Document> known_shapes() noexcept {
    return detail::made<Document>(nw_known_shapes);
}

inline Expected<Bytes> meshes_stl(Span<const NwMesh* const> meshes, const char* name,
    Span<const double> colours = {}) noexcept {
    if (colours.size() % 3 != 0) return Error("colours", "colours needs three numbers for each mesh, or none");
    return detail::made<Bytes>(nw_meshes_stl, meshes.data(), meshes.size(), name, colours.data(), colours.size() / 3);
}

inline Expected<Bytes> meshes_threemf(Span<const NwMesh* const> meshes, const char* name,
    Span<const double> colours = {}) noexcept {
    if (colours.size() % 3 != 0) return Error("colours", "colours needs three numbers for each mesh, or none");
    return detail::made<Bytes>(nw_meshes_threemf, meshes.data(), meshes.size(), name, colours.data(), colours.size() / 3);
}

inline Expected<Bytes> meshes_gltf(Span<const NwMesh* const> meshes, const char* name,
    Span<const double> colours = {}) noexcept {
    if (colours.size() % 3 != 0) return Error("colours", "colours needs three numbers for each mesh, or none");
    return detail::made<Bytes>(nw_meshes_gltf, meshes.data(), meshes.size(), name, colours.data(), colours.size() / 3);
}

inline Expected<Neck> neck_from_json(const char* json) noexcept {
    return detail::made<Neck>(nw_neck_from_json, json);
}

inline Expected<Bytes> sheets_dxf(Span<const NwSheets* const> sheets, const char* options_json = nullptr) noexcept {
    return detail::made<Bytes>(nw_sheets_dxf, sheets.data(), sheets.size(), options_json);
}

inline Expected<Bytes> sheets_pdf(Span<const NwSheets* const> sheets, const char* options_json = nullptr) noexcept {
    return detail::made<Bytes>(nw_sheets_pdf, sheets.data(), sheets.size(), options_json);
}

inline Expected<Document> schema(Subject subject) noexcept {
    return detail::made<Document>(nw_schema, detail::number(subject));
}

inline Expected<Document> bounds(Subject subject) noexcept {
    return detail::made<Document>(nw_bounds, detail::number(subject));
}

} // inline namespace
} // namespace neckwright

#endif // NECKWRIGHT_HPP
