#include "operations.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A result with room for `count` values. */
static double *add_result(Results *results, const char *name, size_t count) {
    double *values = calloc(count + 1, sizeof *values);
    if (values == NULL || results->count == MOST_RESULTS) {
        fputs("no room for another result\n", stderr);
        exit(2);
    }
    results->list[results->count++] = (Result){name, values, count};
    return values;
}

static uint32_t fret_positions_mm(const Case *one, Results *results, NwError **error_out) {
    uint32_t count = given_count(one, "fret_count");
    double *positions_mm = add_result(results, "positions", count);
    return nw_fret_positions_mm(given_number(one, "scale_mm"), count, given_count(one, "divisions"),
                                positions_mm, count, error_out);
}

/* ---- necks ---------------------------------------------------------------------------------------------------- */

/* Goes on only after success: `code` and `error_out` are the operation's own. */
#define TRY(call)                                                                                              \
    do {                                                                                                       \
        code = (call);                                                                                         \
        if (code != NW_OK) {                                                                                   \
            goto done;                                                                                         \
        }                                                                                                      \
    } while (0)

/* An argument as it stands in the case; freed by the caller. */
static char *given_text(const Case *one, const char *name) {
    const Entry *entry = case_entry(one, "given", name);
    size_t size = 0;
    char *text = NULL;
    if (entry == NULL) {
        fprintf(stderr, "%s: no argument %s\n", one->title, name);
        exit(2);
    }
    size = strlen(entry->last) + strlen(entry->more) + 2;
    text = calloc(size, 1);
    if (text == NULL) {
        fputs("out of memory\n", stderr);
        exit(2);
    }
    snprintf(text, size, "%s%s%s", entry->last, *entry->more == 0 ? "" : "\n", entry->more);
    return text;
}

/* A member of every element of a list in a document. */
static uint32_t add_list(Results *results, const char *name, const NwDocument *document, const char *list,
                         const char *each, NwError **error_out) {
    size_t count = 0;
    uint32_t code = nw_document_count(document, list, &count, error_out);
    return code != NW_OK ? code
                         : nw_document_numbers(document, list, each, add_result(results, name, count), count,
                                               error_out);
}

/* One number, or none where the document has null in its place. */
static uint32_t add_if_there(Results *results, const char *name, const NwDocument *document, const char *whole,
                             const char *pointer, NwError **error_out) {
    uint32_t kind = NW_VALUE_NULL;
    uint32_t code = nw_document_kind(document, whole, &kind, error_out);
    if (code == NW_OK && kind == NW_VALUE_NULL) {
        add_result(results, name, 0);
        return NW_OK;
    }
    return code != NW_OK ? code : nw_document_number(document, pointer, add_result(results, name, 1), error_out);
}

/* A member of every element of a list that has it, and not null instead of what holds it. */
static uint32_t add_where_there(Results *results, const char *name, const NwDocument *document, const char *list,
                                const char *whole, const char *each, NwError **error_out) {
    size_t count = 0;
    double *numbers = NULL;
    Result *result = NULL;
    uint32_t code = nw_document_count(document, list, &count, error_out);
    if (code != NW_OK) {
        return code;
    }
    numbers = add_result(results, name, count);
    result = &results->list[results->count - 1];
    result->count = 0;
    for (size_t i = 0; i < count && code == NW_OK; i++) {
        char pointer[64];
        uint32_t kind = NW_VALUE_NULL;
        snprintf(pointer, sizeof pointer, "%s/%zu%s", list, i, whole);
        code = nw_document_kind(document, pointer, &kind, error_out);
        if (code == NW_OK && kind != NW_VALUE_NULL) {
            snprintf(pointer, sizeof pointer, "%s/%zu%s", list, i, each);
            code = nw_document_number(document, pointer, &numbers[result->count++], error_out);
        }
    }
    return code;
}

static uint32_t read_specification(const NwNeck *neck, const Case *one, Results *results,
                                   NwError **error_out) {
    NwDocument *document = NULL;
    uint32_t code = nw_neck_specification(neck, &document, error_out);
    (void)one;
    if (code == NW_OK) {
        TRY(nw_document_number(document, "/nut/width", add_result(results, "nut_width", 1), error_out));
        TRY(nw_document_number(document, "/frets/count", add_result(results, "fret_count", 1), error_out));
    }
done:
    nw_document_free(document);
    return code;
}

static uint32_t along(const NwNeck *neck, const Case *one, Results *results, NwError **error_out) {
    size_t n = 0, kept = 0;
    char *text = given_text(one, "x_mm");
    double *x_mm = numbers_of(text, &n);
    double *walls = NULL;
    uint32_t code = NW_OK;
    TRY(nw_neck_thickness_mm(neck, x_mm, n, add_result(results, "thickness", n), error_out));
    TRY(nw_neck_width_mm(neck, x_mm, n, add_result(results, "width", n), error_out));
    TRY(nw_neck_girth_mm(neck, x_mm, n, add_result(results, "girth", n), error_out));
    TRY(nw_neck_carve_line_mm(neck, x_mm, n, NW_SIDE_BASS, add_result(results, "carve_line_bass", n),
                              error_out));
    TRY(nw_neck_carve_line_mm(neck, x_mm, n, NW_SIDE_TREBLE, add_result(results, "carve_line_treble", n),
                              error_out));
    walls = add_result(results, "rod_wall", n);
    TRY(nw_neck_rod_wall_mm(neck, x_mm, n, walls, error_out));
    /* None where nothing is cut. */
    for (size_t i = 0; i < n; i++) {
        walls[kept] = walls[i];
        kept += walls[i] == walls[i];
    }
    results->list[results->count - 1].count = kept;
done:
    free(text);
    free(x_mm);
    return code;
}

static uint32_t section(const NwNeck *neck, const Case *one, Results *results, NwError **error_out) {
    double x_mm = given_number(one, "x_mm");
    double moments[6] = {0};
    uint32_t code = NW_OK;
    TRY(nw_neck_section_moments(neck, &x_mm, 1, NW_PART_WHOLE, moments, 6, error_out));
    memcpy(add_result(results, "area", 1), moments, sizeof *moments);
    memcpy(add_result(results, "centroid", 2), moments + 1, 2 * sizeof *moments);
    memcpy(add_result(results, "second_moments", 3), moments + 3, 3 * sizeof *moments);
    TRY(nw_neck_section_control_points(neck, x_mm, NW_SIDE_BASS,
                                       add_result(results, "control_points_bass", 8), 8, error_out));
    TRY(nw_neck_section_control_points(neck, x_mm, NW_SIDE_TREBLE,
                                       add_result(results, "control_points_treble", 8), 8, error_out));
done:
    return code;
}

static uint32_t whole(const NwNeck *neck, const Case *one, Results *results, NwError **error_out) {
    NwDocument *volumes = NULL;
    NwDocument *least = NULL;
    double *numbers = NULL;
    uint32_t code = NW_OK;
    (void)one;
    TRY(nw_neck_volume(neck, &volumes, error_out));
    numbers = add_result(results, "volumes", 2);
    TRY(nw_document_number(volumes, "/neck_wood_mm3", numbers, error_out));
    TRY(nw_document_number(volumes, "/fretboard_mm3", numbers + 1, error_out));
    numbers = add_result(results, "rod_channel", 1);
    TRY(nw_document_number(volumes, "/rod_channel_mm3", numbers, error_out));
    TRY(nw_neck_least_rod_wall(neck, &least, error_out));
    TRY(add_if_there(results, "least_rod_wall", least, "", "/value", error_out));
    TRY(add_if_there(results, "least_rod_wall_at", least, "", "/x_mm", error_out));
done:
    nw_document_free(volumes);
    nw_document_free(least);
    return code;
}

static uint32_t stages(const NwNeck *neck, const Case *one, Results *results, NwError **error_out) {
    char *stock = given_text(one, "stock");
    NwPlan *plan = NULL;
    NwDocument *document = NULL;
    uint32_t code = NW_OK;
    TRY(nw_neck_carving_plan(neck, stock, &plan, error_out));
    TRY(nw_plan_document(plan, &document, error_out));
    TRY(nw_document_number(document, "/stock_mm3", add_result(results, "stock", 1), error_out));
    TRY(add_list(results, "removed", document, "/stages", "/removed_mm3", error_out));
    TRY(add_list(results, "left", document, "/stages", "/left_mm3", error_out));
    TRY(nw_document_number(document, "/finished_mm3", add_result(results, "finished", 1), error_out));
done:
    nw_document_free(document);
    nw_plan_free(plan);
    free(stock);
    return code;
}

static uint32_t inspect(const NwNeck *neck, const Case *one, Results *results, NwError **error_out) {
    char *csv = given_text(one, "readings");
    NwReadings *readings = NULL;
    NwInspection *inspection = NULL;
    NwDocument *document = NULL;
    uint32_t code = NW_OK;
    TRY(nw_readings_from_csv(csv, &readings, error_out));
    TRY(nw_neck_inspect(neck, readings, NULL, 0, NULL, &inspection, error_out));
    TRY(nw_inspection_document(inspection, &document, error_out));
    TRY(add_where_there(results, "deviations", document, "/rows", "/finished", "/finished/mm", error_out));
    TRY(add_list(results, "low_from", document, "/low", "/x_mm/0", error_out));
    TRY(add_list(results, "low_to", document, "/low", "/x_mm/1", error_out));
    TRY(add_list(results, "low_amplitude", document, "/low", "/amplitude_mm", error_out));
    TRY(add_list(results, "low_p_value", document, "/low", "/p_value", error_out));
done:
    nw_document_free(document);
    nw_inspection_free(inspection);
    nw_readings_free(readings);
    free(csv);
    return code;
}

/* 64-bit FNV-1a, as two numbers of 32 bits. */
static void add_sum(Results *results, const char *name, const uint8_t *bytes, size_t size) {
    uint64_t sum = UINT64_C(0xcbf29ce484222325);
    double *halves = add_result(results, name, 2);
    for (size_t i = 0; i < size; i++) {
        sum = (sum ^ bytes[i]) * UINT64_C(0x100000001b3);
    }
    halves[0] = (double)(sum >> 32);
    halves[1] = (double)(sum & UINT64_C(0xffffffff));
}

/* The sum of a file, which is freed. */
static uint32_t add_file(Results *results, const char *name, NwBytes *bytes, NwError **error_out) {
    const uint8_t *data = NULL;
    size_t size = 0;
    uint32_t code = nw_bytes_data(bytes, &data, &size, error_out);
    if (code == NW_OK) {
        add_sum(results, name, data, size);
    }
    nw_bytes_free(bytes);
    return code;
}

static uint32_t files(const NwNeck *neck, const Case *one, Results *results, NwError **error_out) {
    static const double brown[6] = {0.5, 0.25, 0.125, 0.5, 0.25, 0.125};
    NwSolids *solids = NULL;
    NwMesh *meshes[2] = {NULL, NULL};
    const NwMesh *shown[2] = {NULL, NULL};
    NwMeshCounts counts[2];
    NwBytes *bytes = NULL;
    double *numbers = NULL;
    double *places = NULL;
    double *normals = NULL;
    size_t count = 0;
    uint32_t code = NW_OK;
    (void)one;
    TRY(nw_neck_solids(neck, NULL, &solids, error_out));
    TRY(nw_solids_step(solids, "neck", NW_STEP_AP242, brown, 2, &bytes, error_out));
    TRY(add_file(results, "step", bytes, error_out));
    for (size_t i = 0; i < 2; i++) {
        TRY(nw_solid_mesh(solids, i, NULL, &meshes[i], error_out));
        TRY(nw_mesh_counts(meshes[i], &counts[i], error_out));
        shown[i] = meshes[i];
        count += counts[i].vertices;
    }
    TRY(nw_meshes_stl(shown, 2, "neck", brown, 2, &bytes, error_out));
    TRY(add_file(results, "stl", bytes, error_out));
    TRY(nw_meshes_threemf(shown, 2, "neck", brown, 2, &bytes, error_out));
    TRY(add_file(results, "threemf", bytes, error_out));
    TRY(nw_meshes_gltf(shown, 2, "neck", brown, 2, &bytes, error_out));
    TRY(add_file(results, "gltf", bytes, error_out));
    numbers = add_result(results, "mesh_counts", 4);
    places = calloc(3 * count + 1, sizeof *places);
    normals = calloc(5 * count + 1, sizeof *normals);
    if (places == NULL || normals == NULL) {
        fputs("out of memory\n", stderr);
        exit(2);
    }
    for (size_t i = 0, from = 0; i < 2; from += counts[i].vertices, i++) {
        numbers[2 * i] = (double)counts[i].vertices;
        numbers[2 * i + 1] = (double)counts[i].triangles;
        TRY(nw_mesh_vertices(meshes[i], places + 3 * from, normals, normals + 3 * count, counts[i].vertices,
                             error_out));
    }
    /* The bytes as they lie in memory: the sums are those of machines with the least byte first. */
    add_sum(results, "mesh_places", (const uint8_t *)places, 3 * count * sizeof *places);
done:
    free(places);
    free(normals);
    nw_mesh_free(meshes[0]);
    nw_mesh_free(meshes[1]);
    nw_solids_free(solids);
    return code;
}

typedef uint32_t OfNeck(const NwNeck *neck, const Case *one, Results *results, NwError **error_out);

static const struct {
    const char *name;
    OfNeck *call;
} OF_NECKS[] = {
    {"read_specification", read_specification},
    {"neck_along", along},
    {"neck_section", section},
    {"neck_whole", whole},
    {"neck_stages", stages},
    {"neck_inspect", inspect},
    {"neck_files", files},
};

uint32_t perform(const Case *one, Results *results, NwError **error_out) {
    results->count = 0;
    if (strcmp(one->operation, "fret_positions_mm") == 0) {
        return fret_positions_mm(one, results, error_out);
    }
    for (size_t i = 0; i < sizeof OF_NECKS / sizeof *OF_NECKS; i++) {
        if (strcmp(one->operation, OF_NECKS[i].name) == 0) {
            NwNeck *neck = NULL;
            uint32_t code = nw_neck_from_json(one->document, &neck, error_out);
            if (code == NW_OK) {
                code = OF_NECKS[i].call(neck, one, results, error_out);
            }
            nw_neck_free(neck);
            return code;
        }
    }
    fprintf(stderr, "unknown operation %s\n", one->operation);
    exit(2);
}

void results_free(Results *results) {
    for (size_t i = 0; i < results->count; i++) {
        free(results->list[i].values);
    }
    results->count = 0;
}
