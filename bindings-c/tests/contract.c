/* What bindings-c/README.md promises, tried out. Prints the line "N passed, N failed". */
#include "neckwright.h"

#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <string.h>

static int passed;
static int failed;

static void expect(int good, const char *what) {
    if (good) {
        passed += 1;
    } else {
        failed += 1;
        fprintf(stderr, "contract: %s\n", what);
    }
}

static int all_are(const double *values, size_t count, double value) {
    for (size_t i = 0; i < count; i++) {
        if (values[i] != value) {
            return 0;
        }
    }
    return 1;
}

static void outputs_are_written_only_on_success(void) {
    double out[8] = {7, 7, 7, 7, 7, 7, 7, 7};
    NwError *error = NULL;
    expect(nw_fret_positions_mm(-1.0, 4, 12, out, 8, &error) == NW_OUT_OF_RANGE, "a negative scale");
    expect(all_are(out, 8, 7), "a failure leaves the buffer alone");
    nw_error_free(error);
    expect(nw_fret_positions_mm(640.0, 4, 12, out, 3, &error) == NW_BUFFER, "too small a buffer");
    expect(all_are(out, 8, 7), "too small a buffer is left alone");
    expect(nw_error_lowest(error, 0) == 4.0, "the error tells the size needed");
    expect(strcmp(nw_error_path(error, 0), "positions_mm") == 0, "the error names the buffer");
    nw_error_free(error);
    expect(nw_fret_positions_mm(640.0, 4, 12, out, 8, &error) == NW_OK, "a larger buffer");
    expect(error == NULL, "success sets the handle to null");
    expect(out[3] > 120 && out[3] < 140 && all_are(out + 4, 4, 7), "only the elements needed are written");
}

static void null_pointers(void) {
    double out[2] = {7, 7};
    NwError *error = NULL;
    expect(nw_fret_positions_mm(640.0, 2, 12, NULL, 2, &error) == NW_NULL_POINTER, "a null buffer");
    expect(nw_error_count(error) == 1, "a null buffer has its error");
    expect(strcmp(nw_error_text(error), "positions_mm: the pointer is null") == 0, nw_error_text(error));
    nw_error_free(error);
    expect(nw_fret_positions_mm(640.0, 0, 12, NULL, 0, NULL) == NW_OK, "no elements, no buffer");
    expect(nw_fret_positions_mm(640.0, 2, 12, NULL, 0, NULL) == NW_BUFFER, "no buffer for two elements");
    expect(nw_fret_positions_mm(640.0, 2, 12, out, 2, NULL) == NW_OK, "success without a handle");
    expect(nw_fret_positions_mm(NAN, 2, 12, out, 2, NULL) == NW_OUT_OF_RANGE, "failure without a handle");
    nw_error_free(NULL);
    expect(nw_error_count(NULL) == 0 && nw_error_more(NULL) == 0, "no faults in a null handle");
    expect(nw_error_code(NULL, 0) == NW_OK, "no code in a null handle");
    expect(*nw_error_text(NULL) == 0 && *nw_error_message(NULL, 0) == 0, "empty texts of a null handle");
    expect(isinf(nw_error_lowest(NULL, 0)) && isinf(nw_error_highest(NULL, 0)), "no bounds");
}

static void an_error_tells_everything(void) {
    NwError *error = NULL;
    double out[1];
    uint32_t code = nw_fret_positions_mm(0.0, 1, 0, out, 1, &error);
    expect(code == NW_OUT_OF_RANGE && nw_error_code(error, 0) == code, "the code of the first fault");
    expect(nw_error_count(error) == 2 && nw_error_more(error) == 0, "both faults");
    expect(strcmp(nw_error_path(error, 0), "scale_mm") == 0, "the first path");
    expect(strcmp(nw_error_path(error, 1), "divisions") == 0, "the second path");
    expect(strcmp(nw_error_value(error, 0), "0") == 0, "the value");
    expect(strcmp(nw_error_unit(error, 0), "mm") == 0, "the unit");
    expect(nw_error_lowest(error, 1) == 1.0 && nw_error_highest(error, 1) > 1.0, "the bounds");
    expect(*nw_error_reason(error, 0) != 0, "the reason");
    expect(nw_error_remedy(error, 0) != NULL, "the remedy is a text");
    expect(strstr(nw_error_text(error), nw_error_message(error, 1)) != NULL, "all messages in one text");
    expect(nw_error_code(error, 2) == NW_OK && *nw_error_path(error, 2) == 0, "no third fault");
    nw_error_free(error);
}

static void names_and_version(void) {
    unsigned major = 0;
    unsigned minor = 0;
    unsigned patch = 0;
    expect(sscanf(nw_version(), "%u.%u.%u", &major, &minor, &patch) == 3, "a version has three numbers");
    expect(sscanf(nw_core_version(), "%u.%u.%u", &major, &minor, &patch) == 3, "so has the library's");
    expect(strcmp(nw_code_name(NW_OK), "ok") == 0, "the name of success");
    expect(strcmp(nw_code_name(NW_OUT_OF_RANGE), "out_of_range") == 0, "the name of a kind");
    expect(strcmp(nw_code_name(NW_PANIC), "panic") == 0, "the name of a fault of the boundary");
    expect(strcmp(nw_code_name(4000000000u), "unknown") == 0, "a number that is no code");
}

static void *in_a_thread(void *unused) {
    (void)unused;
    for (int i = 0; i < 1000; i++) {
        double out[24];
        NwError *error = NULL;
        if (nw_fret_positions_mm(640.0, 24, 12, out, 24, &error) != NW_OK || out[11] != 320.0) {
            return "a result";
        }
        if (nw_fret_positions_mm(640.0, 24, 0, out, 24, &error) != NW_OUT_OF_RANGE ||
            strcmp(nw_error_path(error, 0), "divisions") != 0) {
            return "an error";
        }
        nw_error_free(error);
    }
    return NULL;
}

static void threads(void) {
    pthread_t list[4];
    for (int i = 0; i < 4; i++) {
        expect(pthread_create(&list[i], NULL, in_a_thread, NULL) == 0, "a thread begins");
    }
    for (int i = 0; i < 4; i++) {
        void *wrong = NULL;
        expect(pthread_join(list[i], &wrong) == 0 && wrong == NULL, "a thread sees only its own errors");
    }
}

int main(void) {
    outputs_are_written_only_on_success();
    null_pointers();
    an_error_tells_everything();
    names_and_version();
    threads();
    printf("%d passed, %d failed\n", passed, failed);
    return failed == 0 ? 0 : 1;
}
