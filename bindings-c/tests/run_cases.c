/* Runs the shared cases in C: run_cases FILE... Prints one line per failure and the line "N passed, N failed". */
#include "operations.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *path;

static int complain(const Case *one, const char *what, const char *about) {
    fprintf(stderr, "%s:%zu: %s: %s %s\n", path, one->line, one->title, what, about);
    return 0;
}

static int check_values(const Case *one, const Entry *entry, const Results *results) {
    const Entry *pinned = case_entry(one, "bits", entry->name);
    const Result *result = NULL;
    size_t count = 0;
    size_t bit_count = 0;
    size_t one_tolerance = 0;
    int good = 1;
    for (size_t i = 0; i < results->count; i++) {
        if (strcmp(results->list[i].name, entry->name) == 0) {
            result = &results->list[i];
        }
    }
    if (result == NULL || pinned == NULL) {
        return complain(one, result == NULL ? "no result" : "no bits of", entry->name);
    }
    double *values = numbers_of(entry->more, &count);
    double *tolerance = numbers_of(entry->last, &one_tolerance);
    uint64_t *bits = bits_of(pinned->more, &bit_count);
    if (one_tolerance != 1 || count != result->count || bit_count != result->count) {
        good = complain(one, "other number of values:", entry->name);
    }
    for (size_t i = 0; good && i < count; i++) {
        char text[128];
        uint64_t got = 0;
        memcpy(&got, &result->values[i], sizeof got);
        snprintf(text, sizeof text, "%s[%zu] = %.17g instead of %.17g", entry->name, i, result->values[i],
                 values[i]);
        /* Written so that a result that is no number fails. */
        if (!(fabs(result->values[i] - values[i]) <= tolerance[0])) {
            good = complain(one, "outside the tolerance:", text);
        } else if (got != bits[i]) {
            good = complain(one, "other bits:", text);
        }
    }
    free(values);
    free(tolerance);
    free(bits);
    return good;
}

static int check_fault(const Case *one, const Entry *entry, const NwError *error, size_t i) {
    if (strcmp(nw_code_name(nw_error_code(error, i)), entry->name) != 0) {
        return complain(one, "other kind:", nw_code_name(nw_error_code(error, i)));
    }
    if (strcmp(nw_error_path(error, i), entry->third) != 0) {
        return complain(one, "other path:", nw_error_path(error, i));
    }
    if (strcmp(nw_error_message(error, i), entry->more) != 0) {
        return complain(one, "other message:", nw_error_message(error, i));
    }
    return 1;
}

static int check(const Case *one) {
    Results results = {0};
    NwError *error = NULL;
    size_t faults = 0;
    size_t values = 0;
    int good = 1;
    uint32_t code = perform(one, &results, &error);
    if ((code == NW_OK) != (error == NULL)) {
        good = complain(one, "the code and the handle disagree:", nw_code_name(code));
    }
    for (size_t i = 0; good && i < one->entry_count; i++) {
        const Entry *entry = &one->entries[i];
        if (strcmp(entry->word, "expect") == 0) {
            values += 1;
            good = code == NW_OK ? check_values(one, entry, &results)
                                 : complain(one, "unexpected fault:", nw_error_text(error));
        } else if (strcmp(entry->word, "fault") == 0) {
            good = code != NW_OK ? check_fault(one, entry, error, faults)
                                 : complain(one, "a fault was expected:", entry->third);
            faults += 1;
        }
    }
    if (good && faults != nw_error_count(error)) {
        good = complain(one, "other number of faults:", nw_error_text(error));
    }
    if (good && (values == 0) == (faults == 0)) {
        good = complain(one, "a case expects either values or faults", "");
    }
    if (good && faults > 0 && code != nw_error_code(error, 0)) {
        good = complain(one, "the code is not that of the first fault:", nw_code_name(code));
    }
    nw_error_free(error);
    results_free(&results);
    return good;
}

int main(int count, char **paths) {
    size_t passed = 0;
    size_t failed = 0;
    for (int i = 1; i < count; i++) {
        CaseFile *file = case_file_open(paths[i]);
        const Case *one = NULL;
        path = paths[i];
        while ((one = case_file_next(file)) != NULL && case_file_is_for_c(file)) {
            if (check(one)) {
                passed += 1;
            } else {
                failed += 1;
            }
        }
        case_file_close(file);
    }
    printf("%zu passed, %zu failed\n", passed, failed);
    return passed > 0 && failed == 0 ? 0 : 1;
}
