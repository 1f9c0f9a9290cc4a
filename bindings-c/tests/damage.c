#include "damage.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SPARE = 256 };

uint64_t roll(uint64_t *dice) {
    *dice ^= *dice >> 12;
    *dice ^= *dice << 25;
    *dice ^= *dice >> 27;
    return *dice * 0x2545f4914f6cdd1dull;
}

size_t below(uint64_t *dice, size_t n) { return (size_t)(roll(dice) >> 11) % n; }

/* Values that have broken readers of JSON, of numbers and of lengths before. */
static const char *const NASTY[] = {
    "0", "-0.0", "-1", "61", "1e308", "-1e308", "5e-324", "1e400", "NaN", "Infinity", "18446744073709551616", "4294967296", "0.1e",
    "01", "null", "true", "\"\"", "[]", "{}", "[[[[]]]]", "{\"\":0}", "\"nut\"", "\"fret 0\"", "\"fret 60\"", "\"fret -1\"",
    "\"fret 7.5\"", "\"1/0 in\"", "\"1 1/64 in\"", "\"99999999999999999999 in\"", "\"-5 mm\"", "\"1e308 cm\"", "\"\\u0000\"",
    "\"\\ud800\"", "\"\xff\"", "\"\xe2\x82\"", "\"10\xc2\xb0\"", "\"3:2\"", "\"C\"", "\"left\"", "\"scarf\"", "640", "2", "0.5",
};

static int in_value(char c) { return c != '\0' && strchr("{}[],: \n\"", c) == NULL; }

/* Where a number or a word of the text is; `*length` is 0 where there is none. */
static char *some_value(uint64_t *dice, char *text, size_t *length) {
    size_t size = strlen(text);
    char *from;
    *length = 0;
    if (size == 0) {
        return text;
    }
    from = text + below(dice, size);
    while (*from != '\0' && !in_value(*from)) {
        from++;
    }
    while (from > text && in_value(from[-1])) {
        from--;
    }
    while (in_value(from[*length])) {
        *length += 1;
    }
    if (from > text && from[-1] == '"' && from[*length] == '"') {
        from -= 1;
        *length += 2;
    }
    return from;
}

static void replace(char *at, size_t length, const char *by) {
    size_t size = strlen(by);
    memmove(at + size, at + length, strlen(at + length) + 1);
    memcpy(at, by, size);
}

char *damaged(uint64_t *dice, const char *text) {
    size_t size = strlen(text), length = 0;
    char *copy = calloc(2 * size + 4 * SPARE, 1);
    if (copy == NULL) {
        fputs("out of memory\n", stderr);
        exit(2);
    }
    memcpy(copy, text, size);
    for (size_t times = below(dice, 4); times > 0; times--) {
        size = strlen(copy);
        char *at = some_value(dice, copy, &length);
        char *place = copy + (size > 0 ? below(dice, size) : 0);
        switch (below(dice, 8)) {
        case 0:
        case 1:
        case 2:
        case 3: replace(at, length, NASTY[below(dice, sizeof NASTY / sizeof *NASTY)]); break;
        case 4: *place = '\0'; break;
        case 5: *place = (char)roll(dice); break;
        case 6: replace(at, length, ""); break;
        default: replace(place, 0, below(dice, 2) ? "," : "}");
        }
    }
    return copy;
}

const char *some_pointer(uint64_t *dice) {
    static const char *const tokens[] = {"/0", "/1", "/21", "/22", "/x_mm", "/rod_wall_mm", "/carve_line_mm", "/bass", "/fret", "/frets",
                                         "/zero_fret", "/shaft", "/thickness", "/species", "/", "//", "/~0", "/~1", "/~", "~2", "/00",
                                         "/-1", "/18446744073709551616", "/\xc3\xa9", "/\xff", "0", " "};
    static char pointer[256];
    pointer[0] = '\0';
    for (size_t times = below(dice, 5); times > 0; times--) {
        strcat(pointer, tokens[below(dice, sizeof tokens / sizeof *tokens)]);
    }
    return pointer;
}

double some_real(uint64_t *dice) {
    const double odd[] = {NAN, INFINITY, -INFINITY, 1e308, -1e308, 5e-324, -0.0, 0.0, -1.0, 1e-6, 1e9};
    uint64_t bits = roll(dice);
    double any;
    switch (below(dice, 4)) {
    case 0: return odd[below(dice, sizeof odd / sizeof *odd)];
    case 1: memcpy(&any, &bits, sizeof any); return any;
    case 2: return (double)below(dice, 1000) / 100.0;
    default: return (double)below(dice, 70000) / 100.0 - 160.0;
    }
}
