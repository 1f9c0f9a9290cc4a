/* What each operation of the shared cases calls in C. */
#ifndef OPERATIONS_H
#define OPERATIONS_H

#include "cases.h"
#include "neckwright.h"

enum { MOST_RESULTS = 8 };

typedef struct {
    const char *name;
    double *values; /* freed by results_free */
    size_t count;
} Result;

typedef struct {
    Result list[MOST_RESULTS];
    size_t count;
} Results;

/* Calls the operation of a case and returns its code. Ends the program where the operation is not known. */
uint32_t perform(const Case *one, Results *results, NwError **error_out);
void results_free(Results *results);

#endif
