/* What functions give for a neck whose numbers are known from elsewhere: values FOLDER
   Where a number comes from is said beside it. Prints the line "N passed, N failed". */
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static World world;

static int expect(int good, const char *what) { return trial_expect(good, "values", what, ""); }

static int near(double value, double expected, double tolerance, const char *what) {
    char told[160];
    snprintf(told, sizeof told, "%s: %.17g, not %.17g", what, value, expected);
    return expect(fabs(value - expected) <= tolerance, told);
}

/* The call succeeds. */
static void ok(uint32_t code, const char *what) { expect(code == NW_OK, what); }
#define OK(call) ok(call, #call)

static double number(const NwDocument *document, const char *pointer) {
    double value = -1e300;
    ok(nw_document_number(document, pointer, &value, NULL), pointer);
    return value;
}

static const char *text(const NwDocument *document, const char *pointer) {
    const char *value = "";
    ok(nw_document_text(document, pointer, &value, NULL), pointer);
    return value;
}

static size_t size(const NwDocument *document, const char *pointer) {
    size_t count = 0;
    ok(nw_document_count(document, pointer, &count, NULL), pointer);
    return count;
}

static void positions(void) {
    double mm[24];
    NwDocument *list = NULL;
    OK(nw_fret_positions_mm(640.0, 24, 12, mm, 24, NULL));
    /* Equal temperament: x = s (1 - 2^(-n/12)). */
    for (int fret = 1; fret <= 24; fret++) {
        near(mm[fret - 1], 640.0 * (1.0 - pow(2.0, -fret / 12.0)), 1e-9, "a fret's position");
    }
    OK(nw_rounded_positions(640.0, 24, 12, 0.5, &list, NULL));
    expect(size(list, "") == 24, "a row for each fret");
    nw_document_free(list);
}

static void measures(void) {
    double value = 0.0;
    NwDocument *document = NULL;
    OK(nw_length_mm("1 11/16 in", &value, NULL));
    near(value, 27.0 / 16.0 * 25.4, 1e-12, "1 11/16 in"); /* an inch is 25.4 mm by definition */
    OK(nw_angle_deg("1 in 6", &value, NULL));
    near(value, atan(1.0 / 6.0) * 180.0 / acos(-1.0), 1e-12, "1 in 6");
    OK(nw_sagitta_mm(304.8, 20.0, &value, NULL));
    near(value, 304.8 - sqrt(304.8 * 304.8 - 400.0), 1e-10, "a circle's sagitta");
    OK(nw_sixtyfourths(43.0, NW_ROUND_DOWN, &document, NULL));
    near(number(document, "/mm"), floor(43.0 / 25.4 * 64.0) / 64.0 * 25.4, 1e-12, "a length to a 64th");
    near(number(document, "/mm") - 43.0, number(document, "/error_mm"), 1e-12, "by how much that is more");
    nw_document_free(document);
    OK(nw_scarf(15.0, 20.0, &document, NULL));
    near(number(document, "/face_mm"), 20.0 / sin(acos(-1.0) / 12.0), 1e-9, "the length of a scarf's face");
    near(number(document, "/run_mm"), 20.0 / tan(acos(-1.0) / 12.0), 1e-9, "the run of a scarf");
    nw_document_free(document);
    OK(nw_known_woods(&document, NULL));
    expect(size(document, "") > 10 && *text(document, "/0/species") != 0 && number(document, "/0/density_kg_m3") > 100.0, "woods");
    nw_document_free(document);
}

/* What the specification says, read off the neck. */
static void neck(const NwNeck *one) {
    const double nut = 0.0, frets[2] = {1.0, 12.0};
    double x_mm[2], value[2], back[2], carve_mm;
    NwDocument *card = NULL, *spec = NULL, *volume = NULL;
    OK(nw_neck_width_mm(one, &nut, 1, value, NULL));
    near(value[0], 27.0 / 16.0 * 25.4, 1e-9, "the nut's width");
    OK(nw_neck_station_mm(one, frets, 2, x_mm, NULL));
    near(x_mm[1], 320.0, 1e-9, "fret 12 halves the string");
    OK(nw_neck_fret_at(one, x_mm, 2, back, NULL));
    near(back[0], 1.0, 1e-9, "a station's fret");
    OK(nw_neck_thickness_mm(one, x_mm, 2, value, NULL));
    near(value[0], 0.86 * 25.4, 1e-9, "the thickness at fret 1");
    near(value[1], 0.90 * 25.4, 1e-9, "the thickness at fret 12");
    OK(nw_neck_carve_line_mm(one, x_mm, 1, NW_SIDE_BASS, &carve_mm, NULL));
    expect(carve_mm > 0.0 && carve_mm < value[0], "the carve line lies between crown and spine");
    OK(nw_neck_girth_mm(one, x_mm, 1, back, NULL));
    expect(back[0] > 2.0 * value[0] && back[0] < 2.0 * value[0] + 60.0, "the girth goes down, across and up");
    OK(nw_neck_caliper_card(one, &card, NULL));
    expect(size(card, "") == 23, "nut and 22 frets");
    near(number(card, "/12/thickness_mm"), value[1], 0.0, "the card's thickness at fret 12");
    nw_document_free(card);
    OK(nw_neck_specification(one, &spec, NULL));
    near(number(spec, "/scale/length"), 640.0, 0.0, "the scale");
    expect(strcmp(text(spec, "/hand"), "right") == 0, "a right-handed neck");
    /* It makes the same neck. */
    {
        const char *json = NULL;
        NwNeck *again = NULL;
        uint32_t same = 0;
        NwDocument *apart = NULL;
        OK(nw_document_json(spec, &json, NULL));
        OK(nw_neck_from_json(json, &again, NULL));
        OK(nw_neck_within(one, again, 1e-9, &same, NULL));
        expect(same == 1, "the specification makes the same neck");
        OK(nw_neck_compare(one, again, &apart, NULL));
        near(number(apart, "/greatest/difference_mm"), 0.0, 0.0, "nothing between a neck and itself");
        nw_document_free(apart);
        nw_neck_free(again);
    }
    nw_document_free(spec);
    OK(nw_neck_volume(one, &volume, NULL));
    expect(number(volume, "/neck_wood_mm3") > number(volume, "/fretboard_mm3"), "volumes");
    nw_document_free(volume);
}

/* The section's area by its moments and by its polygon, whose corners lie on it: a little less. */
static void sections(const NwNeck *one) {
    double moments[6], corners_mm[2 * 4096], twice = 0.0, points[8];
    size_t count = 0;
    OK(nw_neck_section_moments(one, world.x_mm, 1, NW_PART_WHOLE, moments, 6, NULL));
    OK(nw_neck_section_polyline_count(one, world.x_mm[0], NW_PART_WHOLE, 1e-4, &count, NULL));
    OK(nw_neck_section_polyline(one, world.x_mm[0], NW_PART_WHOLE, 1e-4, corners_mm, 2 * 4096, NULL));
    for (size_t i = 0; i + 1 < count; i++) {
        const double *a = corners_mm + 2 * i, *b = a + 2;
        twice += a[0] * b[1] - a[1] * b[0];
    }
    near(fabs(twice) / 2.0, moments[0], 0.02, "the section's area by its polygon");
    OK(nw_neck_section_control_points(one, world.x_mm[0], NW_SIDE_TREBLE, points, 8, NULL));
    near(points[6], 0.0, 1e-12, "the back's last control point lies on the spine");
}

/* Every edge bounds two faces, once each way: the solid is closed. */
static void solids(const NwSolids *all) {
    size_t *times = calloc(2 * world.solid.edges, sizeof *times), total = 0;
    const char *name = "";
    expect(times != NULL, "room");
    for (size_t i = 0; i < world.solid.faces; i++) {
        NwFace face;
        size_t *edges, sizes[64];
        uint8_t *forward;
        OK(nw_solid_face(all, 0, i, &face, NULL));
        edges = calloc(face.steps, sizeof *edges);
        forward = calloc(face.steps, sizeof *forward);
        OK(nw_solid_face_loops(all, 0, i, sizes, 64, edges, forward, face.steps, NULL));
        for (size_t k = 0; k < face.steps; k++) {
            times[2 * edges[k] + (forward[k] ? 1 : 0)] += 1;
        }
        free(edges);
        free(forward);
    }
    for (size_t i = 0; i < 2 * world.solid.edges; i++) {
        total += times[i] == 1;
    }
    expect(total == 2 * world.solid.edges, "every edge is gone along once each way");
    free(times);
    OK(nw_solid_name(all, 1, &name, NULL));
    expect(*name != 0, "a solid's name");
}

/* The mesh's volume by the divergence theorem against the neck's own, less channel and tuner holes. */
static void meshes(const NwNeck *one) {
    const NwMesh *mesh = world.of[KIND_NwMesh];
    double *numbers = calloc(8 * world.mesh.vertices, sizeof *numbers), six = 0.0, exact;
    float *single = calloc(8 * world.mesh.vertices, sizeof *single);
    uint32_t *corners = calloc(3 * world.mesh.triangles, sizeof *corners), *first = calloc(world.mesh.vertices, sizeof *first);
    NwDocument *volume = NULL;
    size_t n = world.mesh.vertices;
    int same = 1;
    expect(numbers != NULL && single != NULL && corners != NULL && first != NULL, "room");
    OK(nw_mesh_vertices(mesh, numbers, numbers + 3 * n, numbers + 6 * n, n, NULL));
    OK(nw_mesh_vertices_f32(mesh, single, single + 3 * n, single + 6 * n, n, NULL));
    OK(nw_mesh_triangles(mesh, corners, 3 * world.mesh.triangles, NULL));
    OK(nw_mesh_same_place(mesh, first, n, NULL));
    for (size_t i = 0; i < 8 * n; i++) {
        same &= single[i] == (float)numbers[i];
    }
    expect(same, "single precision is the double rounded");
    for (size_t i = 0; i < n; i++) {
        same &= memcmp(numbers + 3 * i, numbers + 3 * first[i], 3 * sizeof *numbers) == 0;
    }
    expect(same, "vertices of one place are in one place");
    for (size_t i = 0; i < world.mesh.triangles; i++) {
        const double *a = numbers + 3 * corners[3 * i], *b = numbers + 3 * corners[3 * i + 1], *c = numbers + 3 * corners[3 * i + 2];
        six += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
    }
    OK(nw_neck_volume(one, &volume, NULL));
    exact = number(volume, "/neck_wood_mm3");
    /* Within the chord times the surface, of which there is no more than 0.15 m². */
    expect(fabs(six / 6.0 - exact) < world.mesh.chord_mm * 150000.0, "the mesh's volume");
    nw_document_free(volume);
    free(numbers);
    free(single);
    free(corners);
    free(first);
}

/* A file begins as its format says. */
static void file(NwBytes *bytes, const char *magic, const char *holds, size_t expected, const char *what) {
    const uint8_t *data = NULL;
    size_t length = 0;
    int found = 0;
    OK(nw_bytes_data(bytes, &data, &length, NULL));
    expect(length > 100 && memcmp(data, magic, strlen(magic)) == 0, what);
    expect(expected == 0 || length == expected, "a file's size");
    for (size_t i = 0; i + strlen(holds) <= length && !found; i++) {
        found = memcmp(data + i, holds, strlen(holds)) == 0;
    }
    expect(found, holds);
    nw_bytes_free(bytes);
}

static void files(void) {
    const NwMesh *const *pair = (const NwMesh *const *)world.pair[KIND_NwMesh];
    const NwSheets *const *sheets = (const NwSheets *const *)world.pair[KIND_NwSheets];
    NwMeshCounts second;
    NwBytes *bytes = NULL;
    OK(nw_mesh_counts(pair[1], &second, NULL));
    /* ISO 10303-21, clause 5; AP214's schema by its name. */
    OK(nw_solids_step(world.of[KIND_NwSolids], "neck", NW_STEP_AP214, NULL, 0, &bytes, NULL));
    file(bytes, "ISO-10303-21;", "AUTOMOTIVE_DESIGN", 0, "STEP");
    /* Binary STL: 80 bytes, a count, 50 bytes a triangle. */
    OK(nw_meshes_stl(pair, 2, "neck", NULL, 0, &bytes, NULL));
    file(bytes, "", "neck", 84 + 50 * (world.mesh.triangles + second.triangles), "STL");
    /* 3MF is a ZIP archive with this part; glTF 2.0, binary form. */
    OK(nw_meshes_threemf(pair, 2, "neck", world.colours, 2, &bytes, NULL));
    file(bytes, "PK\3\4", "3D/3dmodel.model", 0, "3MF");
    OK(nw_meshes_gltf(pair, 2, "neck", NULL, 0, &bytes, NULL));
    file(bytes, "glTF\2", "\"asset\"", 0, "glTF");
    OK(nw_sheets_svg(sheets[0], 0, &bytes, NULL));
    file(bytes, "<", "http://www.w3.org/2000/svg", 0, "SVG");
    OK(nw_sheets_dxf(sheets, 2, NULL, &bytes, NULL));
    file(bytes, "", "ENTITIES", 0, "DXF");
    OK(nw_sheets_pdf(sheets, 2, NULL, &bytes, NULL));
    file(bytes, "%PDF-", "%%EOF", 0, "PDF");
}

static void plan(const NwPlan *one) {
    NwDocument *document = NULL;
    double before = 0.0, after = 0.0, reach_mm[2], depth_mm;
    size_t stages = 0;
    OK(nw_plan_document(one, &document, NULL));
    OK(nw_plan_stage_count(one, &stages, NULL));
    expect(size(document, "/stages") == stages && stages > 5, "stages");
    OK(nw_plan_wood_volume_mm3(one, NW_STAGE_START, &before, NULL));
    near(before, number(document, "/stock_mm3"), 0.0, "the stock");
    for (size_t i = 0; i < stages; i++) {
        OK(nw_plan_wood_volume_mm3(one, i, &after, NULL));
        expect(after <= before, "wood only ever goes");
        before = after;
    }
    near(after, number(document, "/finished_mm3"), 1e-6 * after, "what is left after the last stage");
    nw_document_free(document);
    OK(nw_plan_wood_reach_mm(one, NW_STAGE_START, reach_mm, 2, NULL));
    expect(reach_mm[0] < 0.0 && reach_mm[1] > 320.0, "the blank's reach");
    OK(nw_plan_wood_depth_mm(one, stages - 1, world.x_mm, 1, &depth_mm, NULL));
    {
        const double inside[6] = {world.x_mm[0], 0.0, -depth_mm + 0.01, world.x_mm[0], 0.0, -depth_mm - 0.01};
        uint8_t answer[2] = {7, 7};
        OK(nw_plan_wood_contains(one, stages - 1, inside, 2, 0.0, answer, NULL));
        expect(answer[0] == 1 && answer[1] == 0, "just inside the wood and just outside");
    }
}

static void bench(const NwNeck *one) {
    const NwReadings *readings = world.of[KIND_NwReadings];
    NwReadings *again = NULL;
    NwDocument *document = NULL;
    NwNeck *mended = NULL;
    NwBytes *csv = NULL, *twice = NULL;
    const uint8_t *a = NULL, *b = NULL;
    size_t count = 0, length = 0, other = 0;
    double sigma = 0.0;
    char *text_of_csv;
    OK(nw_readings_count(readings, &count, NULL));
    expect(count == 30, "the readings in the file");
    OK(nw_readings_check_on(readings, one, NULL));
    OK(nw_readings_csv(readings, &csv, NULL));
    OK(nw_bytes_data(csv, &a, &length, NULL));
    text_of_csv = calloc(length + 1, 1);
    memcpy(text_of_csv, a, length);
    OK(nw_readings_from_csv(text_of_csv, &again, NULL));
    OK(nw_readings_csv(again, &twice, NULL));
    OK(nw_bytes_data(twice, &b, &other, NULL));
    expect(length == other && memcmp(a, b, length) == 0, "readings are read back as they were");
    free(text_of_csv);
    nw_readings_free(again);
    nw_bytes_free(csv);
    nw_bytes_free(twice);
    OK(nw_readings_from_csv_good("at,quantity,value\nfret 1,thickness,21\nfret 2,thickness,x\n", &again, NULL));
    OK(nw_readings_count(again, &count, NULL));
    expect(count == 1, "the sound reading of two");
    nw_readings_free(again);
    OK(nw_inspection_document(world.of[KIND_NwInspection], &document, NULL));
    expect(size(document, "/rows") == 30 && size(document, "/low") > 0, "rows and low patches");
    nw_document_free(document);
    OK(nw_mending_document(world.of[KIND_NwMending], &document, NULL));
    expect(strcmp(text(document, "/outcome"), "mended") == 0 && number(document, "/result/removed_mm3") > 0.0, "a mended neck");
    nw_document_free(document);
    OK(nw_mending_neck(world.of[KIND_NwMending], &mended, NULL));
    nw_neck_free(mended);
    OK(nw_copied_thickness_uncertainty_mm(world.of[KIND_NwCopied], world.x_mm, 1, &sigma, NULL));
    expect(sigma > 0.0 && sigma < 1.0, "how sharp the copy is");
    OK(nw_copied_sharpest_next(world.of[KIND_NwCopied], 2, &document, NULL));
    expect(size(document, "/readings") == 2, "what to read next");
    nw_document_free(document);
    /* A scan of the neck itself is placed on it. */
    OK(nw_neck_place_cloud(one, world.points_mm, world.point_count, world.scan_options, &document, NULL));
    expect(number(document, "/rms_mm") < 0.01, "a scan without noise fits");
    nw_document_free(document);
}

static void documents_and_tables(void) {
    NwDocument *document = NULL;
    const char *name = NULL;
    uint32_t kind = 9, flag = 9;
    double numbers[64];
    for (uint32_t subject = NW_SUBJECT_SPECIFICATION; subject <= NW_SUBJECT_CLOUD_OPTIONS; subject++) {
        if (subject <= NW_SUBJECT_READINGS) {
            OK(nw_schema(subject, &document, NULL));
            expect(strcmp(text(document, "/$schema"), "https://json-schema.org/draft/2020-12/schema") == 0, "a schema of 2020-12");
            nw_document_free(document);
        }
        if (subject != NW_SUBJECT_READINGS) {
            OK(nw_bounds(subject, &document, NULL));
            expect(size(document, "") > 0 && *text(document, "/0/path") != 0, "a table of bounds");
            nw_document_free(document);
        }
    }
    document = world.with_boolean;
    OK(nw_document_kind(document, "/frets", &kind, NULL));
    expect(kind == NW_VALUE_OBJECT, "an object");
    OK(nw_document_kind(document, "/frets/count", &kind, NULL));
    expect(kind == NW_VALUE_NUMBER, "a number");
    OK(nw_document_boolean(document, "/frets/zero_fret", &flag, NULL));
    expect(flag == 0, "no zero fret");
    OK(nw_document_name(document, "", 0, &name, NULL));
    expect(strcmp(name, "format") == 0, "the first member's name");
    OK(nw_document_numbers(world.of[KIND_NwDocument], "", "/x_mm", numbers, 64, NULL));
    near(numbers[12], 320.0, 1e-9, "a column of a table");
}

int main(int count, char **arguments) {
    if (count != 2) {
        fputs("usage: values FOLDER\n", stderr);
        return 2;
    }
    world_make(&world, arguments[1]);
    positions();
    measures();
    neck(world.of[KIND_NwNeck]);
    sections(world.of[KIND_NwNeck]);
    solids(world.of[KIND_NwSolids]);
    meshes(world.of[KIND_NwNeck]);
    files();
    plan(world.of[KIND_NwPlan]);
    bench(world.of[KIND_NwNeck]);
    documents_and_tables();
    world_free(&world);
    printf("%zu passed, %zu failed\n", trial_passed, trial_failed);
    return trial_failed == 0 ? 0 : 1;
}
