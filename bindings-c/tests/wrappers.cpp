// Every function of neckwright.hpp against the C function under it, with the good arguments of the table of calls:
// wrappers FOLDER
// Compiles with exceptions and without. Prints the line "N passed, N failed".
#include <neckwright.hpp>

extern "C" {
#include "trial.h"
}

#include <cstdio>
#include <cstring>
#include <set>
#include <string>
#include <tuple>
#include <vector>

namespace nw = neckwright;

static World w;
static std::set<std::string> tried;

// ---- what is compared of a handle -----------------------------------------------------------------------------------

static std::string all(const nw::Document& of) { return of.json().value(); }
static std::string all(const nw::Bytes& of) { return std::string(of.view()); }
static std::string all(const nw::Readings& of) { return all(of.csv().value()); }
static std::string all(const nw::Neck& of) { return all(of.specification().value()); }
static std::string all(const nw::Plan& of) { return all(of.document().value()); }
static std::string all(const nw::Inspection& of) { return all(of.document().value()); }
static std::string all(const nw::Mending& of) { return all(of.document().value()); }
static std::string all(const nw::Copied& of) { return all(of.document().value()); }
static std::string all(const nw::Sheets& of) { return all(of.svg(0).value()) + std::to_string(of.count().value()); }
static std::string all(const nw::Mesh& of) {
    const NwMeshCounts counts = of.counts().value();
    return std::to_string(counts.vertices) + " " + std::to_string(counts.triangles);
}
static std::string all(const nw::Solids& of) {
    std::string out;
    for (std::size_t i = 0; i < of.count().value(); ++i) {
        std::vector<double> at(3 * of.counts(i).value().vertices);
        of.vertices(i, at).value();
        out += of.name(i).value();
        out.append(reinterpret_cast<const char*>(at.data()), at.size() * sizeof(double));
    }
    return out;
}

// ---- one function of the table --------------------------------------------------------------------------------------

// The C function called with good arguments; what it made is freed with it.
class Reference {
public:
    explicit Reference(const char* name) : name_(name) {
        tried.insert(name);
        for (std::size_t i = 0; i < FUNCTION_COUNT; ++i) {
            if (std::strcmp(FUNCTIONS[i].name, name) == 0) function_ = &FUNCTIONS[i];
        }
        if (function_ == nullptr) {
            std::fprintf(stderr, "%s: not in the table\n", name);
            std::exit(2);
        }
        trial_begin(&trial_, &w, function_);
        trial_expect(function_->call(trial_.arguments, nullptr) == NW_OK, name, "in C", "");
    }
    Reference(const Reference&) = delete;
    Reference& operator=(const Reference&) = delete;
    ~Reference() { trial_end(&trial_); }

    // The results of a sort, in order.
    std::vector<std::size_t> of(Sort sort) const {
        std::vector<std::size_t> out;
        for (std::size_t i = 0; i < function_->count; ++i) {
            if (function_->parameters[i].sort == sort) out.push_back(i);
        }
        return out;
    }
    const void* result(std::size_t i) const { return trial_.own[i]; }
    std::size_t bytes(std::size_t i) const { return trial_.room[i]; }
    void expect(bool good, const char* what) const { trial_expect(good, name_, what, ""); }

private:
    const char* name_;
    const Function* function_ = nullptr;
    Trial trial_{};
};

template <class T>
static void same(const char* name, nw::Expected<T> ours) {
    const Reference theirs(name);
    const std::size_t at = theirs.of(OUT).at(0);
    theirs.expect(ours.has_value(), "a fault in C++");
    if (!ours.has_value()) return;
    if constexpr (std::is_same_v<T, const char*>) {
        theirs.expect(std::strcmp(*ours, *static_cast<const char* const*>(theirs.result(at))) == 0, "another text");
    } else if constexpr (std::is_same_v<T, bool>) {
        theirs.expect(*ours == (*static_cast<const std::uint32_t*>(theirs.result(at)) != 0), "another answer");
    } else if constexpr (std::is_trivially_copyable_v<T>) {
        const bool good = theirs.bytes(at) == sizeof(T) && std::memcmp(&*ours, theirs.result(at), sizeof(T)) == 0;
        theirs.expect(good, "another result");
    } else {
        T made(*static_cast<typename T::Raw* const*>(theirs.result(at)));
        theirs.expect(all(*ours) == all(made), "another result");
        made.release();
    }
}

// Functions with buffers: `call` takes a span for each.
template <class... T, class F>
static void filled(const char* name, F call) {
    const Reference theirs(name);
    const std::vector<std::size_t> at = theirs.of(BUFFER);
    if (at.size() != sizeof...(T)) {
        theirs.expect(false, "another number of buffers");
        return;
    }
    std::size_t next = 0;
    std::tuple<std::vector<T>...> ours;
    std::apply([&](auto&... one) { (one.resize(theirs.bytes(at[next++]) / sizeof(one[0])), ...); }, ours);
    theirs.expect(std::apply([&](auto&... one) { return call(one...); }, ours).has_value(), "a fault in C++");
    next = 0;
    std::apply(
        [&](auto&... one) {
            const auto good = [&](auto& own) {
                return std::memcmp(own.data(), theirs.result(at[next++]), own.size() * sizeof(own[0])) == 0;
            };
            (theirs.expect(good(one), "another result"), ...);
        },
        ours);
}

static void done(const char* name, const nw::Expected<nw::Done>& ours) {
    const Reference theirs(name);
    theirs.expect(ours.has_value(), "a fault in C++");
}

// A handle of the world, which stays its own.
template <class H>
class Lent : public H {
public:
    explicit Lent(const void* raw) : H(const_cast<typename H::Raw*>(static_cast<const typename H::Raw*>(raw))) {}
    ~Lent() { H::release(); }
};

// ---- all of them ----------------------------------------------------------------------------------------------------

static void necks(const nw::Neck& neck, nw::Span<const double> x, nw::Span<const double> scan) {
    const Lent<nw::Readings> readings(w.of[KIND_NwReadings]), low(w.low);
    const Lent<nw::Plan> plan(w.of[KIND_NwPlan]);
    const Lent<nw::Inspection> inspection(w.of[KIND_NwInspection]);
    const double from_mm = w.x_mm[0], to_mm = w.x_mm[3];
    same("nw_neck_from_json", nw::neck_from_json("{}"));
    same("nw_neck_inspect", neck.inspect(readings, &plan, w.stage, "{}"));
    same("nw_neck_mend", neck.mend(low, "{}"));
    same("nw_neck_copy", neck.copy(readings, "{}"));
    same("nw_neck_place_cloud", neck.place_cloud(scan, w.scan_options));
    same("nw_neck_copy_cloud", neck.copy_cloud(scan, w.scan_options));
    same("nw_neck_compare", neck.compare(neck));
    same("nw_neck_within", neck.within(neck, 0.01));
    filled<double, double>("nw_neck_back_grid", [&](auto& p, auto& n) { return neck.back_grid(x, 7, p, n); });
    filled<float, float>("nw_neck_back_grid_f32", [&](auto& p, auto& n) { return neck.back_grid_f32(x, 7, p, n); });
    filled<double>("nw_neck_thickness_mm", [&](auto& out) { return neck.thickness_mm(x, out); });
    filled<double>("nw_neck_width_mm", [&](auto& out) { return neck.width_mm(x, out); });
    filled<double>("nw_neck_girth_mm", [&](auto& out) { return neck.girth_mm(x, out); });
    filled<double>("nw_neck_carve_line_mm", [&](auto& out) { return neck.carve_line_mm(x, nw::Side::treble, out); });
    filled<double>("nw_neck_rod_wall_mm", [&](auto& out) { return neck.rod_wall_mm(x, out); });
    filled<double>("nw_neck_station_mm", [&](auto& out) { return neck.station_mm({w.fret, w.count}, out); });
    filled<double>("nw_neck_fret_at", [&](auto& out) { return neck.fret_at(x, out); });
    same("nw_neck_station_of_text_mm", neck.station_of_text_mm("fret 5"));
    same("nw_neck_layout", neck.layout());
    same("nw_neck_hump", neck.hump(1, from_mm, to_mm));
    filled<double>("nw_neck_string_spacing_mm", [&](auto& out) { return neck.string_spacing_mm(1, x, out); });
    filled<double>("nw_neck_string_gap_mm", [&](auto& out) { return neck.string_gap_mm(1, x, out); });
    filled<double>("nw_neck_margins_mm", [&](auto& out) { return neck.margins_mm(x, out); });
    same("nw_neck_section_bends", neck.section_bends(from_mm));
    same("nw_neck_section_outline", neck.section_outline(from_mm, nw::Part::neck_wood));
    same("nw_neck_specification", neck.specification());
    same("nw_neck_caliper_card", neck.caliper_card());
    same("nw_neck_frets", neck.frets());
    same("nw_neck_strings", neck.strings());
    same("nw_neck_string_paths", neck.string_paths());
    same("nw_neck_markers", neck.markers());
    same("nw_neck_reach", neck.reach());
    same("nw_neck_headstock", neck.headstock());
    same("nw_neck_volute", neck.volute());
    same("nw_neck_heel", neck.heel());
    same("nw_neck_rod_cuts", neck.rod_cuts());
    same("nw_neck_volume", neck.volume());
    same("nw_neck_mass", neck.mass());
    same("nw_neck_bounds", neck.bounds());
    same("nw_neck_joints", neck.joints());
    same("nw_neck_least_thickness", neck.least_thickness());
    same("nw_neck_least_rod_wall", neck.least_rod_wall());
    same("nw_neck_least_curvature", neck.least_curvature());
    same("nw_neck_least_margin", neck.least_margin());
    same("nw_neck_warnings", neck.warnings());
    same("nw_neck_carving_plan", neck.carving_plan("{}"));
    filled<double>("nw_neck_section_moments", [&](auto& out) { return neck.section_moments(x, nw::Part::neck_wood, out); });
    filled<double>("nw_neck_section_control_points", [&](auto& out) { return neck.section_control_points(from_mm, nw::Side::treble, out); });
    same("nw_neck_section_polyline_count", neck.section_polyline_count(from_mm, nw::Part::neck_wood, 0.05));
    filled<double>("nw_neck_section_polyline",
                   [&](auto& out) { return neck.section_polyline(from_mm, nw::Part::neck_wood, 0.05, out); });
    same("nw_neck_sheet", neck.sheet(nw::Drawing::board, "{}"));
    same("nw_neck_templates", neck.templates(&plan, "{}"));
    same("nw_neck_section_sheet", neck.section_sheet(x));
    same("nw_inspection_sheets", inspection.sheets(neck));
    same("nw_neck_solids", neck.solids("{}"));
}

static void plans(nw::Span<const double> x, nw::Span<const double> scan) {
    const Lent<nw::Plan> plan(w.of[KIND_NwPlan]);
    const std::size_t stage = w.stage;
    const double from_mm = w.x_mm[0];
    same("nw_plan_document", plan.document());
    same("nw_plan_stage_count", plan.stage_count());
    filled<double>("nw_plan_wood_area_mm2", [&](auto& out) { return plan.wood_area_mm2(stage, x, out); });
    same("nw_plan_wood_volume_mm3", plan.wood_volume_mm3(stage));
    filled<double>("nw_plan_wood_reach_mm", [&](auto& out) { return plan.wood_reach_mm(stage, out); });
    filled<double>("nw_plan_wood_depth_mm", [&](auto& out) { return plan.wood_depth_mm(stage, x, out); });
    filled<std::uint8_t>("nw_plan_wood_contains",
                         [&](auto& out) { return plan.wood_contains(stage, {scan.data(), 12}, 0.5, out); });
    same("nw_plan_wood_polyline_count", plan.wood_polyline_count(stage, from_mm, 0.05));
    filled<double>("nw_plan_wood_polyline", [&](auto& out) { return plan.wood_polyline(stage, from_mm, 0.05, out); });
    same("nw_plan_sheets", plan.sheets());
    same("nw_plan_wood_solids", plan.wood_solids(stage));
}

static void readings(const nw::Neck& neck, nw::Span<const double> x) {
    const Lent<nw::Readings> readings(w.of[KIND_NwReadings]);
    const Lent<nw::Inspection> inspection(w.of[KIND_NwInspection]);
    const Lent<nw::Mending> mending(w.of[KIND_NwMending]);
    const Lent<nw::Copied> copied(w.of[KIND_NwCopied]);
    same("nw_readings_from_csv", nw::readings_from_csv(w.csv));
    same("nw_readings_from_csv_good", nw::readings_from_csv_good(w.csv));
    same("nw_readings_from_json", nw::readings_from_json(w.readings_json));
    same("nw_readings_from_json_good", nw::readings_from_json_good(w.readings_json));
    same("nw_readings_count", readings.count());
    same("nw_readings_csv", readings.csv());
    same("nw_readings_json", readings.json());
    done("nw_readings_check_on", readings.check_on(neck));
    same("nw_inspection_document", inspection.document());
    same("nw_inspection_low_readings", inspection.low_readings(readings));
    same("nw_mending_document", mending.document());
    same("nw_mending_neck", mending.neck());
    same("nw_copied_document", copied.document());
    same("nw_copied_sharpest_next", copied.sharpest_next(2));
    filled<double>("nw_copied_thickness_uncertainty_mm", [&](auto& out) { return copied.thickness_uncertainty_mm(x, out); });
}

static void solids() {
    const Lent<nw::Solids> solids(w.of[KIND_NwSolids]);
    const Lent<nw::Mesh> mesh(w.of[KIND_NwMesh]);
    const NwMesh* const pair[2] = {static_cast<const NwMesh*>(w.pair[KIND_NwMesh][0]),
                                   static_cast<const NwMesh*>(w.pair[KIND_NwMesh][1])};
    const std::size_t edge = w.spline_edge, face = w.spline_face, traced = w.traced_face;
    same("nw_solid_mesh", solids.mesh(0, "{}"));
    same("nw_solids_count", solids.count());
    same("nw_solid_name", solids.name(0));
    same("nw_solid_counts", solids.counts(0));
    filled<double>("nw_solid_vertices", [&](auto& out) { return solids.vertices(0, out); });
    same("nw_solid_edge", solids.edge(0, 1));
    filled<double, std::uint32_t, double, double>("nw_solid_edge_spline", [&](auto& knots, auto& times, auto& poles, auto& by) {
        return solids.edge_spline(0, edge, knots, times, poles, by);
    });
    same("nw_solid_face", solids.face(0, 1));
    filled<double, std::uint32_t>("nw_solid_face_knots",
                                  [&](auto& knots, auto& times) { return solids.face_knots(0, face, nw::Direction::around, knots, times); });
    filled<double, double>("nw_solid_face_poles",
                           [&](auto& poles, auto& weights) { return solids.face_poles(0, face, poles, weights); });
    filled<std::size_t, std::size_t, std::uint8_t>("nw_solid_face_loops", [&](auto& sizes, auto& edges, auto& forward) {
        return solids.face_loops(0, face, sizes, edges, forward);
    });
    same("nw_solid_face_trace", solids.face_trace(0, traced, 0));
    filled<double, std::uint32_t, double>("nw_solid_face_trace_spline", [&](auto& knots, auto& times, auto& poles) {
        return solids.face_trace_spline(0, traced, 0, knots, times, poles);
    });
    same("nw_solids_step", solids.step("neck", nw::StepProtocol::ap214, w.colours));
    same("nw_mesh_counts", mesh.counts());
    filled<double, double, double>("nw_mesh_vertices", [&](auto& p, auto& n, auto& s) { return mesh.vertices(p, n, s); });
    filled<float, float, float>("nw_mesh_vertices_f32", [&](auto& p, auto& n, auto& s) { return mesh.vertices_f32(p, n, s); });
    filled<std::uint32_t>("nw_mesh_triangles", [&](auto& out) { return mesh.triangles(out); });
    filled<std::uint32_t>("nw_mesh_same_place", [&](auto& out) { return mesh.same_place(out); });
    same("nw_meshes_stl", nw::meshes_stl(pair, "neck", w.colours));
    same("nw_meshes_threemf", nw::meshes_threemf(pair, "neck", w.colours));
    same("nw_meshes_gltf", nw::meshes_gltf(pair, "neck", w.colours));
}

static void paper() {
    const Lent<nw::Sheets> sheets(w.of[KIND_NwSheets]);
    const NwSheets* const pair[2] = {static_cast<const NwSheets*>(w.pair[KIND_NwSheets][0]),
                                     static_cast<const NwSheets*>(w.pair[KIND_NwSheets][1])};
    same("nw_sheets_count", sheets.count());
    same("nw_sheets_title", sheets.title(0));
    same("nw_sheets_svg", sheets.svg(0));
    same("nw_sheets_dxf", nw::sheets_dxf(pair, "{}"));
    same("nw_sheets_pdf", nw::sheets_pdf(pair, "{}"));
}

static void documents() {
    const Lent<nw::Document> card(w.of[KIND_NwDocument]), with_text(w.with_text), with_boolean(w.with_boolean);
    const Lent<nw::Bytes> bytes(w.of[KIND_NwBytes]);
    same("nw_document_json", card.json());
    same("nw_document_kind", card.kind("/1/x_mm"));
    same("nw_document_count", card.count(""));
    same("nw_document_name", card.name("/1", 1));
    same("nw_document_number", card.number("/1/x_mm"));
    same("nw_document_boolean", with_boolean.boolean(w.a_boolean));
    same("nw_document_text", with_text.text("/0/species"));
    filled<double>("nw_document_numbers", [&](auto& out) { return card.numbers("", "/x_mm", out); });
    same("nw_document_part", card.part("/1/x_mm"));
    const Reference theirs("nw_bytes_data");
    theirs.expect(bytes.view() == w.readings_json, "other bytes");
}

static void without_a_neck() {
    filled<double>("nw_fret_positions_mm", [&](auto& out) { return nw::fret_positions_mm(640.0, 22, 12, out); });
    filled<double>("nw_fret_positions_of_cents_mm",
                   [&](auto& out) { return nw::fret_positions_of_cents_mm(w.cents, 640.0, 22, out); });
    filled<double>("nw_fret_positions_of_ratios_mm",
                   [&](auto& out) { return nw::fret_positions_of_ratios_mm(w.ratios, 640.0, 22, out); });
    same("nw_length_mm", nw::length_mm("1 11/16 in"));
    same("nw_angle_deg", nw::angle_deg("1 in 6"));
    same("nw_sixtyfourths", nw::sixtyfourths(43.0, nw::Rounding::up));
    same("nw_rounded_positions", nw::rounded_positions(640.0, 22, 12, 0.5));
    same("nw_sagitta_mm", nw::sagitta_mm(305.0, 20.0));
    same("nw_scarf", nw::scarf(12.0, 20.0));
    filled<double>("nw_usual_gauges_mm", [&](auto& out) { return nw::usual_gauges_mm(6, out); });
    same("nw_known_woods", nw::known_woods());
    same("nw_known_shapes", nw::known_shapes());
    same("nw_schema", nw::schema(nw::Subject::stock));
    same("nw_bounds", nw::bounds(nw::Subject::stock));
}

// The readers of an error, which can't fail and are not in the table.
static void errors() {
    const nw::Expected<nw::Neck> none = nw::neck_from_json("{\"scale\": {\"length\": -1}, \"nut\": {\"widht\": 43}}");
    NwNeck* neck = nullptr;
    NwError* raw = nullptr;
    const std::uint32_t code = nw_neck_from_json("{\"scale\": {\"length\": -1}, \"nut\": {\"widht\": 43}}", &neck, &raw);
    const nw::Error& error = none.error();
    bool good = error.code() == code && error.size() == nw_error_count(raw) && error.size() > 0;
    good = good && error.more() == nw_error_more(raw) && error.text() == nw_error_text(raw);
    for (std::size_t i = 0; i < error.size(); ++i) {
        const nw::Fault one = error[i];
        good = good && one.code == nw_error_code(raw, i) && one.path == nw_error_path(raw, i);
        good = good && one.value == nw_error_value(raw, i);
        good = good && one.unit == nw_error_unit(raw, i) && one.lowest == nw_error_lowest(raw, i);
        good = good && one.highest == nw_error_highest(raw, i) && one.reason == nw_error_reason(raw, i);
        good = good && one.remedy == nw_error_remedy(raw, i) && one.message == nw_error_message(raw, i);
    }
    trial_expect(good, "nw_error_...", "another error", "");
    nw_error_free(raw);
    trial_expect(nw::version() == nw_version() && nw::core_version() == nw_core_version(), "nw_version", "another version", "");
}

int main(int count, char** arguments) {
    if (count != 2) {
        std::fputs("usage: wrappers FOLDER\n", stderr);
        return 2;
    }
    world_make(&w, arguments[1]);
    {
        const Lent<nw::Neck> neck(w.of[KIND_NwNeck]);
        const nw::Span<const double> x(w.x_mm, w.count), scan(w.points_mm, 3 * w.point_count);
        necks(neck, x, scan);
        plans(x, scan);
        readings(neck, x);
        solids();
        paper();
        documents();
        without_a_neck();
        errors();
    }
    for (std::size_t i = 0; i < FUNCTION_COUNT; ++i) {
        trial_expect(tried.count(FUNCTIONS[i].name) == 1, FUNCTIONS[i].name, "not tried in C++", "");
    }
    world_free(&w);
    std::printf("%zu functions\n%zu passed, %zu failed\n", tried.size(), trial_passed, trial_failed);
    return trial_failed == 0 ? 0 : 1;
}
