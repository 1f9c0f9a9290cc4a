/* One of everything that the library makes, from the evening class's neck, readings and stock. */
#ifndef WORLD_H
#define WORLD_H

#include "kinds.h"
#include "neckwright.h"

enum { WORLD_STATIONS = 5, WORLD_MOST_POINTS = 40000 };

typedef struct {
    void *of[KINDS];            /* a handle of each sort */
    const void *pair[KINDS][2]; /* arrays of handles, where a function takes one */
    NwReadings *low;
    NwDocument *with_text;
    NwDocument *with_boolean;
    const char *a_boolean; /* where */
    char *specification;
    char *csv;
    char *readings_json;
    char *stock;
    double x_mm[WORLD_STATIONS];
    double reach_mm[2];
    double fret[WORLD_STATIONS];
    size_t count;
    double cents[12]; /* of equal steps, and the ratios that belong to them */
    double ratios[12];
    double *points_mm;
    size_t point_count;
    const char *scan_options; /* quick ones */
    double colours[6];
    size_t stage;
    size_t card_rows;
    size_t wood_corners;
    size_t section_corners;
    size_t spline_edge;
    size_t spline_face;
    size_t traced_face;
    NwMeshCounts mesh;
    NwSolidCounts solid;
    NwEdge edge;
    NwFace face;
    NwTrace trace;
} World;

/* `folder` holds evening_class.json, evening_class_readings.csv and evening_class_stock.json. Ends the program where anything fails. */
void world_make(World *world, const char *folder);
void world_free(World *world);

#endif
