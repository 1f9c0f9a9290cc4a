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

uint32_t perform(const Case *one, Results *results, NwError **error_out) {
    results->count = 0;
    if (strcmp(one->operation, "fret_positions_mm") == 0) {
        return fret_positions_mm(one, results, error_out);
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
