/* Every function against what Rust says: agreement FILE

   The file, which the program of the folder agreement/ writes, is a list of calls with their arguments and, of each result, what Rust's
   own function gives: every element of a buffer and every member of a struct as the hexadecimal digits of its bits, every document as
   its whole JSON, every file as its bytes, every error as all that its readers tell. A function of which nothing was held against
   Rust's fails the test. Prints the line "N passed, N failed".

   A call ends at an empty line:

       call FUNCTION
       ARGUMENT = handle NAME | handles NAME... | null | text TEXT | size NUMBER | real BITS | words BITS...
       RESULT > keep NAME | words BITS... | text TEXT | json TEXT | bytes BYTES | data BYTES
       fails CODE
       READER [I] > text TEXT | size NUMBER | real BITS

   `plain FUNCTION [NUMBER] > text TEXT` is a function that takes no handle. Texts have \n and \\ for what a line can't hold. */
#include "trial.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_KEPT = 512, MOST_LINES = 64, UNTOUCHED = 0xa5 };

typedef struct {
    char name[64];
    int kind;
    void *handle;
    int used;
} Kept;

static Kept kept[MOST_KEPT];
static size_t kept_count;
static int *compared; /* for each function: 1 after a success that was held against Rust's, 2 after a failure that was */
static int *read_by;  /* for each reader */
static int *said_by;  /* for each plain function */
static char title[256];

static void stop(const char *what, const char *which) {
    fprintf(stderr, "%s: %s: %s\n", title, what, which);
    exit(2);
}

static void *need(size_t size) {
    void *place = malloc(size + 1);
    if (place == NULL) {
        stop("out of memory", "");
    }
    return place;
}

/* ---- the file --------------------------------------------------------------------------------------------------- */

static char *whole_file(const char *path) {
    FILE *file = fopen(path, "rb");
    char *text;
    long size;
    if (file == NULL || fseek(file, 0, SEEK_END) != 0 || (size = ftell(file)) < 0 || fseek(file, 0, SEEK_SET) != 0) {
        stop("can't be read", path);
        return NULL;
    }
    text = need((size_t)size);
    if (fread(text, 1, (size_t)size, file) != (size_t)size) {
        stop("can't be read", path);
    }
    text[size] = 0;
    fclose(file);
    return text;
}

/* Cuts the first word off, and gives back what follows it. */
static char *after_word(char *text) {
    char *end = strchr(text, ' ');
    if (end == NULL) {
        return text + strlen(text);
    }
    *end = 0;
    return end + 1;
}

static void unescape(char *text) {
    char *out = text;
    for (const char *in = text; *in != 0; in++) {
        if (*in == '\\') {
            in++;
            *out++ = *in == 'n' ? '\n' : *in;
        } else {
            *out++ = *in;
        }
    }
    *out = 0;
}

static unsigned digit(char c) {
    if (c >= '0' && c <= '9') {
        return (unsigned)(c - '0');
    }
    if (c < 'a' || c > 'f') {
        stop("no hexadecimal digit", &c);
    }
    return (unsigned)(c - 'a') + 10;
}

/* Numbers by their bits, 2, 8 or 16 digits each, as they lie in memory. Gives back how many bytes. */
static size_t words(char *text, unsigned char *out) {
    size_t size = 0;
    for (char *next; *text != 0; text = next) {
        uint64_t bits = 0;
        next = after_word(text);
        for (const char *c = text; *c != 0; c++) {
            bits = bits << 4 | digit(*c);
        }
        switch (strlen(text)) {
        case 16: memcpy(out + size, &bits, 8); size += 8; break;
        case 8: { uint32_t half = (uint32_t)bits; memcpy(out + size, &half, 4); size += 4; break; }
        case 2: out[size++] = (unsigned char)bits; break;
        default: stop("no number", text);
        }
    }
    return size;
}

static size_t bytes(const char *text, unsigned char *out) {
    size_t size = strlen(text) / 2;
    for (size_t i = 0; i < size; i++) {
        out[i] = (unsigned char)(digit(text[2 * i]) << 4 | digit(text[2 * i + 1]));
    }
    return size;
}

static double real(char *text) {
    double value = 0.0;
    unsigned char room[8];
    if (words(text, room) != 8) {
        stop("no real number", text);
    }
    memcpy(&value, room, 8);
    return value;
}

static size_t size_of(const char *text) {
    char *end = NULL;
    size_t size = (size_t)strtoull(text, &end, 10);
    if (end == text || *end != 0) {
        stop("no whole number", text);
    }
    return size;
}

/* ---- comparing -------------------------------------------------------------------------------------------------- */

static int same_bytes(const char *what, const unsigned char *found, const unsigned char *expected, size_t size) {
    char told[160] = "";
    size_t i = 0;
    while (i < size && found[i] == expected[i]) {
        i++;
    }
    if (i < size) {
        snprintf(told, sizeof told, "byte %zu of %zu is %02x and not %02x", i, size, found[i], expected[i]);
    }
    return trial_expect(i == size, title, what, told);
}

static int same_text(const char *what, const char *found, const char *expected) {
    char told[400] = "";
    size_t i = 0;
    while (found[i] == expected[i] && found[i] != 0) {
        i++;
    }
    if (found[i] != expected[i]) {
        const size_t from = i < 60 ? 0 : i - 60;
        snprintf(told, sizeof told, "at %zu: ...%.120s... and not ...%.120s...", i, found + from, expected + from);
    }
    return trial_expect(found[i] == expected[i], title, what, told);
}

static Kept *kept_of(const char *name) {
    for (size_t i = kept_count; i > 0; i--) {
        if (strcmp(kept[i - 1].name, name) == 0) {
            kept[i - 1].used = 1;
            return &kept[i - 1];
        }
    }
    stop("nothing was kept by this name", name);
    return NULL;
}

/* ---- one call --------------------------------------------------------------------------------------------------- */

typedef struct {
    const Function *function;
    Argument arguments[MOST_PARAMETERS];
    int given[MOST_PARAMETERS];
    char *expected[MOST_PARAMETERS]; /* the sort and, after it, what is expected */
    void *own[MOST_PARAMETERS];      /* what was allocated for an argument */
    size_t room[MOST_PARAMETERS];    /* bytes for a result */
    char *readers[MOST_LINES];
    size_t reader_count;
    uint32_t code;
} Call;

static size_t parameter(const Function *f, const char *name) {
    for (size_t i = 0; i < f->count; i++) {
        if (strcmp(f->parameters[i].name, name) == 0) {
            return i;
        }
    }
    stop("no such argument", name);
    return 0;
}

static void argument(Call *c, char *name, char *sort, char *value) {
    const size_t i = parameter(c->function, name);
    const Parameter *p = &c->function->parameters[i];
    Argument *a = &c->arguments[i];
    c->given[i] = 1;
    if (strcmp(sort, "handle") == 0) {
        const Kept *one = kept_of(value);
        if (p->sort != HANDLE || p->kind != one->kind) {
            stop("a handle of another type", value);
        }
        a->in = one->handle;
    } else if (strcmp(sort, "handles") == 0) {
        const void **all = c->own[i] = need(sizeof(void *) * (strlen(value) + 1));
        size_t count = 0;
        for (char *next; *value != 0; value = next) {
            next = after_word(value);
            all[count++] = kept_of(value)->handle;
        }
        a->in = all;
    } else if (strcmp(sort, "null") == 0) {
        a->in = NULL;
    } else if (strcmp(sort, "text") == 0) {
        unescape(value);
        a->in = value;
    } else if (strcmp(sort, "size") == 0) {
        if (p->is_32_bits) {
            a->choice = (uint32_t)size_of(value);
        } else {
            a->size = size_of(value);
        }
    } else if (strcmp(sort, "real") == 0) {
        a->real = real(value);
    } else if (strcmp(sort, "words") == 0) {
        c->own[i] = need(strlen(value));
        words(value, c->own[i]);
        a->in = c->own[i];
    } else {
        stop("no sort of arguments", sort);
    }
}

static void make_room(Call *c) {
    for (size_t i = 0; i < c->function->count; i++) {
        const Parameter *p = &c->function->parameters[i];
        if (p->sort != BUFFER && p->sort != OUT) {
            if (!c->given[i]) {
                stop("not given", p->name);
            }
        } else if (!c->given[i]) {
            c->room[i] = p->sort == OUT ? p->element : p->element * p->factor * c->arguments[p->counted_by].size;
            c->own[i] = need(c->room[i] + SPARE_BYTES);
            memset(c->own[i], UNTOUCHED, c->room[i] + SPARE_BYTES);
            c->arguments[i].out = c->own[i];
        }
    }
}

/* A handle's whole content; the handle is freed. */
static int same_document(const char *what, NwDocument *document, char *expected) {
    const char *json = "";
    int good = trial_expect(nw_document_json(document, &json, NULL) == NW_OK, title, what, "no JSON");
    unescape(expected);
    good = same_text(what, json, expected) && good;
    nw_document_free(document);
    return good;
}

static int same_file(const char *what, NwBytes *file, const unsigned char *expected, size_t expected_size) {
    const uint8_t *data = NULL;
    size_t size = 0;
    char told[80];
    int good = trial_expect(nw_bytes_data(file, &data, &size, NULL) == NW_OK, title, what, "no bytes");
    snprintf(told, sizeof told, "%zu bytes and not %zu", size, expected_size);
    good = trial_expect(size == expected_size, title, what, told) && same_bytes(what, data, expected, size) && good;
    nw_bytes_free(file);
    return good;
}

/* Whether a result was told of, be it as expected or not. */
static int result(Call *c, size_t i) {
    const Parameter *p = &c->function->parameters[i];
    char *sort = c->expected[i], *value;
    unsigned char *room;
    size_t size, touched = p->element;
    if (sort == NULL) {
        return 0;
    }
    value = after_word(sort);
    room = need(strlen(value));
    if (strcmp(sort, "keep") == 0) {
        Kept *one = &kept[kept_count];
        if (p->kind < 0 || kept_count == MOST_KEPT || strlen(value) >= sizeof one->name) {
            stop("this can't be kept", value);
        }
        *one = (Kept){"", p->kind, *(void **)c->own[i], 0};
        memcpy(one->name, value, strlen(value) + 1);
        kept_count++;
    } else if (strcmp(sort, "words") == 0) {
        size = words(value, room);
        trial_expect(size <= c->room[i] && (p->sort != OUT || size == p->element), title, p->name, "another size than expected");
        same_bytes(p->name, c->own[i], room, size < c->room[i] ? size : c->room[i]);
        touched = size;
    } else if (strcmp(sort, "text") == 0) {
        unescape(value);
        same_text(p->name, *(const char **)c->own[i], value);
    } else if (strcmp(sort, "json") == 0 && p->kind == KIND_NwDocument) {
        same_document(p->name, *(NwDocument **)c->own[i], value);
    } else if (strcmp(sort, "bytes") == 0 && p->kind == KIND_NwBytes) {
        size = bytes(value, room);
        same_file(p->name, *(NwBytes **)c->own[i], room, size);
    } else if (strcmp(sort, "data") == 0) {
        size = bytes(value, room);
        same_bytes(p->name, *(const uint8_t **)c->own[i], room, size);
    } else {
        stop("no sort of results for this one", sort);
    }
    for (size = touched; size < c->room[i] + SPARE_BYTES && ((unsigned char *)c->own[i])[size] == UNTOUCHED;) {
        size++;
    }
    trial_expect(size == c->room[i] + SPARE_BYTES, title, p->name, "more was written than Rust's function gives");
    free(room);
    return 1;
}

static void read_error(const NwError *error, char *line) {
    char *rest = after_word(line), *sort, *value;
    size_t i = 0, k = 0;
    Read found;
    if (*rest != '>') {
        char *number = rest;
        rest = after_word(rest);
        i = size_of(number);
    }
    sort = after_word(rest);
    value = after_word(sort);
    while (k < READER_COUNT && strcmp(READERS[k].name, line) != 0) {
        k++;
    }
    if (k == READER_COUNT) {
        stop("no reader of errors", line);
    }
    found = READERS[k].read(error, i);
    read_by[k] = 1;
    if (READERS[k].sort == READ_TEXT) {
        unescape(value);
        same_text(line, found.text, value);
    } else if (READERS[k].sort == READ_REAL) {
        const double expected = real(value);
        same_bytes(line, (const unsigned char *)&found.real, (const unsigned char *)&expected, sizeof expected);
    } else {
        const size_t size = READERS[k].sort == READ_CODE ? found.code : found.size;
        trial_expect(size == size_of(value), title, line, "another number");
    }
}

static void perform(Call *c) {
    const size_t which = (size_t)(c->function - FUNCTIONS);
    NwError *error = NULL;
    int told = 1;
    uint32_t code;
    make_room(c);
    code = c->function->call(c->arguments, &error);
    if (trial_expect(code == c->code, title, nw_code_name(code), nw_error_text(error))) {
        for (size_t i = 0; code == NW_OK && i < c->function->count; i++) {
            const Sort sort = c->function->parameters[i].sort;
            if ((sort == OUT || sort == BUFFER) && !c->given[i]) {
                told &= result(c, i);
            }
        }
        for (size_t i = 0; code != NW_OK && i < c->reader_count; i++) {
            read_error(error, c->readers[i]);
        }
        if (told && code == NW_OK) {
            compared[which] |= 1;
        } else if (c->reader_count > 0) {
            compared[which] |= 2;
        }
    }
    nw_error_free(error);
    for (size_t i = 0; i < c->function->count; i++) {
        free(c->own[i]);
    }
}

static void plain(char *line) {
    char *rest = after_word(line), *sort, *value;
    size_t number = 0, k = 0;
    if (*rest != '>') {
        char *digits = rest;
        rest = after_word(rest);
        number = size_of(digits);
    }
    sort = after_word(rest);
    value = after_word(sort);
    while (k < PLAIN_COUNT && strcmp(PLAINS[k].name, line) != 0) {
        k++;
    }
    if (k == PLAIN_COUNT) {
        stop("no function without a handle", line);
    }
    unescape(value);
    snprintf(title, sizeof title, "%s", line);
    said_by[k] = 1;
    same_text("", PLAINS[k].call((uint32_t)number), value);
}

/* ---- all of them ------------------------------------------------------------------------------------------------ */

static void begin(Call *c, const char *name) {
    memset(c, 0, sizeof *c);
    for (size_t i = 0; i < FUNCTION_COUNT; i++) {
        if (strcmp(FUNCTIONS[i].name, name) == 0) {
            c->function = &FUNCTIONS[i];
            return;
        }
    }
    stop("no such function", name);
}

static void line_of_call(Call *c, char *line) {
    char *rest = after_word(line), *sort;
    if (strcmp(line, "fails") == 0) {
        c->code = (uint32_t)size_of(rest);
        return;
    }
    if (strncmp(line, "nw_", 3) == 0) {
        if (c->reader_count == MOST_LINES) {
            stop("too many lines", line);
        }
        rest[-1] = ' ';
        c->readers[c->reader_count++] = line;
        return;
    }
    sort = after_word(rest);
    if (strcmp(rest, "=") == 0) {
        argument(c, line, sort, after_word(sort));
    } else {
        c->expected[parameter(c->function, line)] = sort;
    }
}

static void run(char *text) {
    Call call;
    size_t number = 1;
    int open = 0;
    for (char *line = text, *next; *line != 0; line = next, number++) {
        char *end = strchr(line, '\n');
        next = end == NULL ? line + strlen(line) : end + 1;
        if (end != NULL) {
            *end = 0;
        }
        if (*line == 0) {
            if (open) {
                perform(&call);
            }
            open = 0;
        } else if (strncmp(line, "call ", 5) == 0) {
            snprintf(title, sizeof title, "%s (line %zu)", line + 5, number);
            begin(&call, line + 5);
            open = 1;
        } else if (strncmp(line, "plain ", 6) == 0) {
            plain(line + 6);
        } else if (open) {
            line_of_call(&call, line);
        } else {
            stop("outside of a call", line);
        }
    }
}

/* A function without a result is one that checks: it has to have passed something and refused something. */
static void every_function_was_there(void) {
    for (size_t i = 0; i < FUNCTION_COUNT; i++) {
        int results = 0;
        for (size_t k = 0; k < FUNCTIONS[i].count; k++) {
            results += FUNCTIONS[i].parameters[k].sort == OUT || FUNCTIONS[i].parameters[k].sort == BUFFER;
        }
        trial_expect((compared[i] & 1) == 1 && (results > 0 || compared[i] == 3), FUNCTIONS[i].name, "nothing of it", "was held against Rust's");
    }
    for (size_t i = 0; i < READER_COUNT; i++) {
        trial_expect(read_by[i], READERS[i].name, "nothing of it", "was held against Rust's");
    }
    for (size_t i = 0; i < PLAIN_COUNT; i++) {
        trial_expect(said_by[i], PLAINS[i].name, "nothing of it", "was held against Rust's");
    }
    for (size_t i = 0; i < kept_count; i++) {
        trial_expect(kept[i].used, kept[i].name, "was kept", "and never looked at");
        FREES[kept[i].kind].free(kept[i].handle);
    }
}

int main(int count, char **arguments) {
    char *text;
    if (count != 2) {
        fputs("usage: agreement FILE\n", stderr);
        return 2;
    }
    text = whole_file(arguments[1]);
    compared = calloc(FUNCTION_COUNT, sizeof *compared);
    read_by = calloc(READER_COUNT, sizeof *read_by);
    said_by = calloc(PLAIN_COUNT, sizeof *said_by);
    if (compared == NULL || read_by == NULL || said_by == NULL) {
        stop("out of memory", "");
    }
    run(text);
    every_function_was_there();
    free(text);
    free(compared);
    free(read_by);
    free(said_by);
    printf("%zu passed, %zu failed\n", trial_passed, trial_failed);
    return trial_failed == 0 ? 0 : 1;
}
