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

static void no_handle_is_part_of_another(void) {
    const char *specification = "{\"scale\": {\"length\": 640}}";
    double x_mm = 100.0, before_mm2 = 0.0, after_mm2 = 1.0, depth_mm = 0.0, neck_mm[2] = {0.0, 0.0};
    NwNeck *neck = NULL;
    NwPlan *plan = NULL;
    NwDocument *whole = NULL, *reach = NULL;
    NwSheets *sheets = NULL;
    NwBytes *svg = NULL;
    const uint8_t *data = NULL;
    size_t size = 0;
    expect(nw_neck_from_json(specification, &neck, NULL) == NW_OK, "a neck");
    expect(nw_neck_carving_plan(neck, NULL, &plan, NULL) == NW_OK, "a plan");
    expect(nw_neck_reach(neck, &whole, NULL) == NW_OK, "a document");
    expect(nw_plan_wood_area_mm2(plan, 3, &x_mm, 1, &before_mm2, NULL) == NW_OK && before_mm2 > 100.0, "wood of a plan");
    nw_neck_free(neck);
    expect(nw_plan_wood_area_mm2(plan, 3, &x_mm, 1, &after_mm2, NULL) == NW_OK && after_mm2 == before_mm2,
           "a plan outlives its neck");
    expect(nw_plan_wood_depth_mm(plan, 3, &x_mm, 1, &depth_mm, NULL) == NW_OK && depth_mm > 10.0,
           "and answers what was not asked yet");
    expect(nw_plan_sheets(plan, &sheets, NULL) == NW_OK, "and has its sheets");
    nw_plan_free(plan);
    expect(nw_sheets_svg(sheets, 0, &svg, NULL) == NW_OK, "sheets outlive their plan");
    nw_sheets_free(sheets);
    expect(nw_bytes_data(svg, &data, &size, NULL) == NW_OK && size > 100 && data[0] == '<', "a file outlives its sheets");
    nw_bytes_free(svg);
    expect(nw_document_part(whole, "/neck_mm", &reach, NULL) == NW_OK, "a part");
    nw_document_free(whole);
    expect(nw_document_numbers(reach, "", "", neck_mm, 2, NULL) == NW_OK && neck_mm[0] < neck_mm[1],
           "a part outlives the whole");
    nw_document_free(reach);
}

/* Texts of a handle are the same, and at the same place, whatever else is called. */
static void texts_stay(void) {
    NwDocument *woods = NULL;
    NwError *first = NULL, *second = NULL;
    const char *species = NULL, *json = NULL, *again = NULL;
    const char *name = nw_code_name(NW_SYNTAX), *version = nw_version();
    char copy[64], message[512];
    expect(nw_known_woods(&woods, NULL) == NW_OK, "the woods");
    expect(nw_document_text(woods, "/0/species", &species, NULL) == NW_OK && strlen(species) < sizeof copy, "a species");
    expect(nw_document_json(woods, &json, NULL) == NW_OK, "all as one text");
    expect(nw_length_mm("-", &(double){0.0}, &first) != NW_OK, "a fault");
    snprintf(copy, sizeof copy, "%s", species);
    snprintf(message, sizeof message, "%s", nw_error_text(first));
    for (int i = 0; i < 100; i++) {
        char pointer[32];
        const char *other = NULL;
        snprintf(pointer, sizeof pointer, "/%d/species", i % 5);
        expect(nw_document_text(woods, pointer, &other, NULL) == NW_OK, pointer);
        expect(nw_length_mm("1 elbow", &(double){0.0}, &second) != NW_OK && *nw_error_text(second) != 0, "another fault");
        nw_error_free(second);
    }
    expect(strcmp(species, copy) == 0, "a text after other calls");
    expect(nw_document_text(woods, "/0/species", &again, NULL) == NW_OK && again == species, "asked again, the same place");
    expect(nw_document_json(woods, &again, NULL) == NW_OK && again == json, "and of the whole");
    expect(strcmp(nw_error_text(first), message) == 0, "an error's text after other errors");
    nw_error_free(first);
    nw_document_free(woods);
    expect(strcmp(name, "syntax") == 0 && version == nw_version(), "texts that live for ever");
}

/* A handle that is still in `error_out` is overwritten, and is the caller's to free. */
static void a_used_error_out(void) {
    NwError *error = NULL, *kept = NULL;
    double mm = 0.0;
    expect(nw_length_mm("-", &mm, &error) != NW_OK && error != NULL, "a fault");
    kept = error;
    expect(nw_length_mm("1 elbow", &mm, &error) != NW_OK && error != NULL && error != kept, "another error in its place");
    expect(*nw_error_text(kept) != 0 && strcmp(nw_error_text(kept), nw_error_text(error)) != 0, "the first was not freed");
    nw_error_free(error);
    error = kept;
    expect(nw_length_mm("1 in", &mm, &error) == NW_OK && error == NULL && mm == 25.4, "success writes null over it");
    expect(*nw_error_text(kept) != 0, "the first is still there");
    nw_error_free(kept);
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
    no_handle_is_part_of_another();
    texts_stay();
    a_used_error_out();
    threads();
    printf("%d passed, %d failed\n", passed, failed);
    return failed == 0 ? 0 : 1;
}
