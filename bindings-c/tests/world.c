#include "world.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void stop(const char *what, const NwError *error) {
    fprintf(stderr, "%s: %s\n", what, nw_error_text(error));
    exit(2);
}

/* Every call of this file has to succeed. */
#define MUST(call)                                      \
    do {                                                \
        NwError *error = NULL;                          \
        if ((call) != NW_OK) stop(#call, error);        \
    } while (0)

static void *need(void *memory) {
    if (memory == NULL) {
        fputs("out of memory\n", stderr);
        exit(2);
    }
    return memory;
}

static char *read_file(const char *folder, const char *name) {
    char path[4096];
    char *text = need(calloc(1 << 16, 1));
    FILE *file;
    snprintf(path, sizeof path, "%s/%s", folder, name);
    file = fopen(path, "rb");
    if (file == NULL || fread(text, 1, (1 << 16) - 1, file) == 0) {
        fprintf(stderr, "%s can't be read\n", path);
        exit(2);
    }
    fclose(file);
    return text;
}

/* The bytes as a text, which the caller frees. */
static char *text_of(NwBytes *bytes) {
    const uint8_t *data = NULL;
    size_t size = 0;
    char *text;
    MUST(nw_bytes_data(bytes, &data, &size, &error));
    text = need(calloc(size + 1, 1));
    memcpy(text, data, size);
    return text;
}

static void stations(World *w, const NwNeck *neck) {
    NwDocument *reach = NULL;
    double shaft_mm[2];
    MUST(nw_neck_reach(neck, &reach, &error));
    MUST(nw_document_numbers(reach, "/shaft_mm", "", shaft_mm, 2, &error));
    MUST(nw_document_numbers(reach, "/neck_mm", "", w->reach_mm, 2, &error));
    nw_document_free(reach);
    w->count = WORLD_STATIONS;
    for (size_t i = 0; i < w->count; i++) {
        w->x_mm[i] = shaft_mm[0] + (shaft_mm[1] - shaft_mm[0]) * ((double)i + 1.0) / (WORLD_STATIONS + 1.0);
        w->fret[i] = 1.5 * (double)i;
    }
    for (size_t i = 0; i < 12; i++) {
        w->cents[i] = 100.0 * (double)(i + 1);
        w->ratios[i] = i == 11 ? 2.0 : pow(2.0, (double)(i + 1) / 12.0);
    }
}

static void solids(World *w, const NwNeck *neck) {
    NwSolids *solids = NULL;
    NwMesh *meshes[2] = {NULL, NULL};
    int face = 0, trace = 0, edge = 0;
    MUST(nw_neck_solids(neck, NULL, &solids, &error));
    MUST(nw_solid_counts(solids, 0, &w->solid, &error));
    for (size_t i = 0; i < w->solid.edges && !edge; i++) {
        MUST(nw_solid_edge(solids, 0, i, &w->edge, &error));
        edge = w->edge.curve == NW_CURVE_SPLINE;
        w->spline_edge = i;
    }
    for (size_t i = 0; i < w->solid.faces; i++) {
        NwFace one;
        MUST(nw_solid_face(solids, 0, i, &one, &error));
        if (one.surface == NW_SURFACE_SPLINE && !face) {
            face = 1;
            w->face = one;
            w->spline_face = i;
        }
        if (one.traces > 0 && !trace) {
            trace = 1;
            w->traced_face = i;
            MUST(nw_solid_face_trace(solids, 0, i, 0, &w->trace, &error));
        }
    }
    if (!face || !trace || !edge) {
        fputs("no spline among the solid's faces, edges or traces\n", stderr);
        exit(2);
    }
    for (size_t i = 0; i < 2; i++) {
        MUST(nw_solid_mesh(solids, i, "{\"chord\": \"1 mm\"}", &meshes[i], &error));
        w->pair[KIND_NwMesh][i] = meshes[i];
    }
    MUST(nw_mesh_counts(meshes[0], &w->mesh, &error));
    w->of[KIND_NwSolids] = solids;
    w->of[KIND_NwMesh] = meshes[0];
}

static void add_point(World *w, double x, double y, double z) {
    const double point[3] = {x, y, z};
    if (w->point_count == WORLD_MOST_POINTS) {
        fputs("too many points\n", stderr);
        exit(2);
    }
    memcpy(w->points_mm + 3 * w->point_count++, point, sizeof point);
}

/* Points around a section, no further apart than 1.5 mm. */
static void scan_section(World *w, const NwNeck *neck, double x_mm) {
    static double corners_mm[2 * 1024];
    size_t count = 0;
    MUST(nw_neck_section_polyline_count(neck, x_mm, NW_PART_WHOLE, 0.01, &count, &error));
    MUST(nw_neck_section_polyline(neck, x_mm, NW_PART_WHOLE, 0.01, corners_mm, 2 * 1024, &error));
    for (size_t i = 0; i + 1 < count; i++) {
        const double *a = corners_mm + 2 * i, *b = a + 2;
        const double steps = ceil(hypot(b[0] - a[0], b[1] - a[1]) / 1.5);
        for (double k = 0.0; k < steps; k += 1.0) {
            add_point(w, x_mm, a[0] + (b[0] - a[0]) * k / steps, a[1] + (b[1] - a[1]) * k / steps);
        }
    }
}

/* A scan of the whole neck: its sections, and the corners of its mesh, which lie on the ends too. */
static void scan(World *w, const NwNeck *neck) {
    double *positions_mm = need(calloc(8 * w->mesh.vertices, sizeof(double)));
    w->scan_options = "{\"hand\": \"as base\", \"sample\": 2000, \"rounds\": 1, \"stations\": 20, \"around\": 6}";
    w->points_mm = need(calloc((size_t)3 * WORLD_MOST_POINTS, sizeof(double)));
    MUST(nw_mesh_vertices(w->of[KIND_NwMesh], positions_mm, positions_mm + 3 * w->mesh.vertices, positions_mm + 6 * w->mesh.vertices,
                          w->mesh.vertices, &error));
    for (size_t i = 0; i < w->mesh.vertices; i++) {
        add_point(w, positions_mm[3 * i], positions_mm[3 * i + 1], positions_mm[3 * i + 2]);
    }
    free(positions_mm);
    for (double x_mm = w->reach_mm[0] + 0.5; x_mm < w->reach_mm[1]; x_mm += 6.0) {
        scan_section(w, neck, x_mm);
    }
}

static void bench(World *w, const NwNeck *neck) {
    NwReadings *readings = NULL;
    NwBytes *json = NULL;
    NwPlan *plan = NULL;
    NwInspection *inspection = NULL;
    NwMending *mending = NULL;
    NwCopied *copied = NULL;
    MUST(nw_readings_from_csv(w->csv, &readings, &error));
    MUST(nw_readings_json(readings, &json, &error));
    w->readings_json = text_of(json);
    MUST(nw_neck_carving_plan(neck, w->stock, &plan, &error));
    MUST(nw_plan_stage_count(plan, &w->stage, &error));
    w->stage /= 2;
    MUST(nw_plan_wood_polyline_count(plan, w->stage, w->x_mm[0], 0.05, &w->wood_corners, &error));
    MUST(nw_neck_inspect(neck, readings, NULL, 0, NULL, &inspection, &error));
    MUST(nw_inspection_low_readings(inspection, readings, &w->low, &error));
    MUST(nw_neck_mend(neck, w->low, NULL, &mending, &error));
    MUST(nw_neck_copy(neck, readings, NULL, &copied, &error));
    w->of[KIND_NwReadings] = readings;
    w->of[KIND_NwBytes] = json;
    w->of[KIND_NwPlan] = plan;
    w->of[KIND_NwInspection] = inspection;
    w->of[KIND_NwMending] = mending;
    w->of[KIND_NwCopied] = copied;
}

static void paper(World *w, const NwNeck *neck) {
    NwSheets *sheets[2] = {NULL, NULL};
    MUST(nw_neck_sheet(neck, NW_SHEET_FRET_STRIP, NULL, &sheets[0], &error));
    MUST(nw_neck_section_sheet(neck, w->x_mm, 2, &sheets[1], &error));
    w->of[KIND_NwSheets] = sheets[0];
    w->pair[KIND_NwSheets][0] = sheets[0];
    w->pair[KIND_NwSheets][1] = sheets[1];
}

void world_make(World *w, const char *folder) {
    const double colours[6] = {0.7, 0.45, 0.3, 0.25, 0.15, 0.1};
    NwNeck *neck = NULL;
    NwDocument *card = NULL;
    NwError *made = NULL;
    memset(w, 0, sizeof *w);
    memcpy(w->colours, colours, sizeof colours);
    w->specification = read_file(folder, "evening_class.json");
    w->csv = read_file(folder, "evening_class_readings.csv");
    w->stock = read_file(folder, "evening_class_stock.json");
    MUST(nw_neck_from_json(w->specification, &neck, &error));
    stations(w, neck);
    solids(w, neck);
    scan(w, neck);
    bench(w, neck);
    paper(w, neck);
    MUST(nw_neck_section_polyline_count(neck, w->x_mm[0], NW_PART_NECK_WOOD, 0.05, &w->section_corners, &error));
    MUST(nw_neck_caliper_card(neck, &card, &error));
    MUST(nw_document_count(card, "", &w->card_rows, &error));
    MUST(nw_known_woods(&w->with_text, &error));
    MUST(nw_neck_specification(neck, &w->with_boolean, &error));
    w->a_boolean = "/frets/zero_fret";
    if (nw_neck_from_json("{", &neck, &made) != NW_SYNTAX) {
        stop("a text that is no JSON", made);
    }
    w->of[KIND_NwNeck] = neck;
    w->of[KIND_NwDocument] = card;
    w->of[KIND_NwError] = made;
}

void world_free(World *w) {
    nw_neck_free(w->of[KIND_NwNeck]);
    nw_document_free(w->of[KIND_NwDocument]);
    nw_error_free(w->of[KIND_NwError]);
    nw_readings_free(w->of[KIND_NwReadings]);
    nw_bytes_free(w->of[KIND_NwBytes]);
    nw_plan_free(w->of[KIND_NwPlan]);
    nw_inspection_free(w->of[KIND_NwInspection]);
    nw_mending_free(w->of[KIND_NwMending]);
    nw_copied_free(w->of[KIND_NwCopied]);
    nw_solids_free(w->of[KIND_NwSolids]);
    for (int i = 0; i < 2; i++) {
        nw_mesh_free((NwMesh *)w->pair[KIND_NwMesh][i]);
        nw_sheets_free((NwSheets *)w->pair[KIND_NwSheets][i]);
    }
    nw_readings_free(w->low);
    nw_document_free(w->with_text);
    nw_document_free(w->with_boolean);
    free(w->specification);
    free(w->csv);
    free(w->readings_json);
    free(w->stock);
    free(w->points_mm);
}
