/* Prints what the caliper should read at the nut and at every fret: caliper_card [SPECIFICATION.json] */
#include "neckwright.h"

#include <stdio.h>
#include <stdlib.h>

/* The whole file as a text, or null. */
static char *read_file(const char *name) {
    FILE *file = fopen(name, "rb");
    char *text = NULL;
    long size;
    if (file != NULL && fseek(file, 0, SEEK_END) == 0 && (size = ftell(file)) >= 0) {
        text = calloc((size_t)size + 1, 1);
        rewind(file);
        if (text != NULL && fread(text, 1, (size_t)size, file) != (size_t)size) {
            free(text);
            text = NULL;
        }
    }
    if (file != NULL) fclose(file);
    return text;
}

static int stop(NwError *error) {
    fprintf(stderr, "%s\n", nw_error_text(error));
    nw_error_free(error);
    return EXIT_FAILURE;
}

int main(int count, char **arguments) {
    char *given = count > 1 ? read_file(arguments[1]) : NULL;
    const char *specification = given != NULL ? given : "{\"scale\": {\"length\": \"640 mm\"}}";
    const char *columns[4] = {"/fret", "/thickness_mm", "/width_mm", "/girth_mm"};
    double values[4][64];
    NwNeck *neck = NULL;
    NwDocument *card = NULL;
    NwError *error = NULL;
    size_t rows = 0, row, column;

    if (count > 1 && given == NULL) {
        fprintf(stderr, "%s can't be read\n", arguments[1]);
        return EXIT_FAILURE;
    }
    if (nw_neck_from_json(specification, &neck, &error) != NW_OK) return stop(error);
    if (nw_neck_caliper_card(neck, &card, &error) != NW_OK) return stop(error);
    if (nw_document_count(card, "", &rows, &error) != NW_OK) return stop(error);
    for (column = 0; column < 4; ++column) {
        if (nw_document_numbers(card, "", columns[column], values[column], 64, &error) != NW_OK) return stop(error);
    }
    printf("fret  thickness    width    girth   mm\n");
    for (row = 0; row < rows; ++row) {
        printf("%4.0f  %9.2f %8.2f %8.2f\n", values[0][row], values[1][row], values[2][row], values[3][row]);
    }
    nw_document_free(card);
    nw_neck_free(neck);
    free(given);
    return EXIT_SUCCESS;
}
