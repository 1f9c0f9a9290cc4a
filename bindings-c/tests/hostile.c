/* Every function of the header with everything wrong that can be said of its arguments by their sorts: hostile FOLDER [quick]
   `quick` leaves out those calls of slow functions that get past their arguments. Prints the line "N passed, N failed". */
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static World world;
static int quick;

/* A call with argument `at` changed. */
static void with(const Function *f, size_t at, Argument value, uint32_t expected, const char *path, const char *what) {
    Trial t;
    char told[128];
    snprintf(told, sizeof told, "%s: %s:", f->parameters[at].name, what);
    trial_begin(&t, &world, f);
    t.arguments[at] = value;
    trial_call(&t, expected, path, told);
    trial_end(&t);
}

static void good(const Function *f) {
    Trial t;
    trial_begin(&t, &world, f);
    trial_call(&t, NW_OK, NULL, "good arguments:");
    trial_end(&t);
    /* And without a place for an error, with a good argument and with a bad one. */
    trial_begin(&t, &world, f);
    trial_expect(f->call(t.arguments, NULL) == NW_OK, f->name, "good arguments", "without error_out");
    trial_end(&t);
    for (size_t i = 0; i < f->count; i++) {
        if (f->parameters[i].sort == HANDLE && !f->parameters[i].may_be_null) {
            trial_begin(&t, &world, f);
            t.arguments[i].in = NULL;
            trial_expect(f->call(t.arguments, NULL) == NW_NULL_POINTER, f->name, "null", "without error_out");
            trial_end(&t);
        }
    }
}

static void null(const Function *f, size_t at) {
    const Parameter *p = &f->parameters[at];
    Argument none = {NULL};
    if (p->sort != OUT && p->sort != BUFFER && p->sort != HANDLE && p->sort != HANDLES && p->sort != TEXT && p->sort != ARRAY) {
        return;
    }
    with(f, at, none, p->may_be_null ? NW_OK : NW_NULL_POINTER, p->may_be_null ? NULL : p->name, "null");
}

static void wrong_handles(const Function *f, size_t at) {
    const Parameter *p = &f->parameters[at];
    for (int kind = 0; kind < KINDS; kind++) {
        Argument other;
        const void *pair[2];
        if (kind == p->kind) {
            continue;
        }
        other.in = world.of[kind];
        if (p->sort == HANDLE) {
            with(f, at, other, NW_WRONG_HANDLE, p->name, KIND_NAMES[kind]);
        } else if (p->sort == HANDLES) {
            pair[0] = world.pair[p->kind][0];
            pair[1] = world.of[kind];
            other.in = pair;
            with(f, at, other, NW_WRONG_HANDLE, p->name, KIND_NAMES[kind]);
            pair[1] = NULL;
            with(f, at, other, NW_NULL_POINTER, p->name, "null among the handles");
        }
    }
}

static void texts(const Function *f, size_t at) {
    /* A byte that begins nothing, a surrogate, one that is longer than it need be, one that is cut off (RFC 3629). */
    static const char *const bad[] = {"{\"\xff\": 1}", "\xed\xa0\x80", "\xc0\xaf", "/\xe2\x82", "\xf5\x80\x80\x80"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        Argument text;
        text.in = bad[i];
        with(f, at, text, NW_NOT_UTF8, f->parameters[at].name, "not UTF-8");
    }
    /* Deep and long: no stack may run over. */
    static const char *const deep[] = {"[", "{\"a\":", "/0", "\"", "9", "-", " ", "a,", "\n"};
    for (size_t i = 0; i < sizeof deep / sizeof *deep && !quick; i++) {
        static char many[400001];
        const size_t size = strlen(deep[i]);
        Argument text;
        for (size_t k = 0; k < sizeof many - 1; k++) {
            many[k] = deep[i][k % size];
        }
        text.in = many;
        with(f, at, text, ANY_CODE, NULL, "deep or long");
    }
}

static const size_t ABSURD[] = {SIZE_MAX, SIZE_MAX - 1, SIZE_MAX / 2 + 1, SIZE_MAX / 2, SIZE_MAX / 4, SIZE_MAX / 8};

static void sizes(const Function *f, size_t at) {
    const Parameter *p = &f->parameters[at];
    for (size_t i = 0; i < sizeof ABSURD / sizeof *ABSURD; i++) {
        Argument size;
        size.size = ABSURD[i];
        if (p->sort == COUNT) {
            with(f, at, size, NW_TOO_LARGE, NULL, "absurdly many");
        } else {
            with(f, at, size, ANY_CODE, NULL, "absurdly much room");
        }
    }
    if (p->sort == CAPACITY) {
        Trial t;
        trial_begin(&t, &world, f);
        t.arguments[at].size -= 1;
        trial_call(&t, NW_BUFFER, NULL, "one too few:");
        trial_end(&t);
        trial_begin(&t, &world, f);
        t.arguments[at].size = 0;
        trial_call(&t, NW_BUFFER, NULL, "no room:");
        for (size_t i = 0; i < f->count; i++) {
            if (f->parameters[i].counted_by == (int)at) {
                t.arguments[i].out = NULL;
            }
        }
        trial_call(&t, NW_BUFFER, NULL, "no room and null:");
        trial_end(&t);
        /* More room than is needed: the rest is left alone. */
        trial_begin(&t, &world, f);
        t.arguments[at].size += 1;
        trial_call(&t, NW_OK, NULL, "one to spare:");
        trial_end(&t);
    } else {
        Trial t;
        trial_begin(&t, &world, f);
        t.arguments[at].size = 0;
        for (size_t i = 0; i < f->count; i++) {
            if (f->parameters[i].counted_by == (int)at && f->parameters[i].sort != BUFFER) {
                t.arguments[i].in = NULL;
            }
        }
        for (size_t i = 0; i < f->count; i++) {
            t.room[i] = f->parameters[i].counted_by == (int)at ? 0 : t.room[i];
        }
        trial_call(&t, ANY_CODE, NULL, "none, from null:");
        trial_end(&t);
    }
}

/* A buffer laid over the first number of every array that is read, and of every other buffer. */
static void overlaps(const Function *f, size_t at) {
    for (size_t i = 0; i < f->count; i++) {
        const Parameter *other = &f->parameters[i];
        Trial t;
        if (i == at || (other->sort != ARRAY && (other->sort != BUFFER || i > at))) {
            continue;
        }
        trial_begin(&t, &world, f);
        if (other->sort == BUFFER) {
            t.arguments[at].out = t.arguments[i].out;
        } else {
            t.arguments[i].in = t.arguments[at].out;
        }
        trial_call(&t, NW_OVERLAP, NULL, "a buffer over another argument:");
        trial_end(&t);
    }
}

/* What is no number is told, with what was given: but where the function's own comment says what it answers. */
static uint32_t of_no_number(const Function *f, double value) {
    return isnan(value) && strcmp(f->name, "nw_neck_within") != 0 ? FAILURE : ANY_CODE;
}

static void numbers(const Function *f, size_t at) {
    const double reals[] = {NAN, INFINITY, -INFINITY, 1e308, -1e308, 5e-324, -0.0, 0.0, -1.0};
    const size_t wholes[] = {0, 1, 2, SIZE_MAX, SIZE_MAX / 2 + 1, SIZE_MAX / 8, UINT32_MAX};
    const Parameter *p = &f->parameters[at];
    Argument value;
    if (p->sort == REAL) {
        for (size_t i = 0; i < sizeof reals / sizeof *reals; i++) {
            value.real = reals[i];
            with(f, at, value, of_no_number(f, reals[i]), NULL, "an odd number");
        }
    } else if (p->sort == WHOLE) {
        for (size_t i = 0; i < sizeof wholes / sizeof *wholes; i++) {
            Trial t;
            trial_begin(&t, &world, f);
            if (p->is_32_bits) {
                t.arguments[at].choice = (uint32_t)wholes[i];
            } else {
                t.arguments[at].size = wholes[i];
            }
            trial_call(&t, ANY_CODE, NULL, "an odd number:");
            trial_end(&t);
        }
    } else if (p->sort == INDEX) {
        value.size = SIZE_MAX - 1;
        with(f, at, value, strcmp(f->name, "nw_neck_inspect") == 0 ? ANY_CODE : NW_NOTHING_THERE, p->name, "no such one");
        value.size = SIZE_MAX / 2 + 1;
        with(f, at, value, NW_NOTHING_THERE, p->name, "no such one");
    } else if (p->sort == CHOICE) {
        for (uint32_t choice = 0; choice < 16; choice++) {
            value.choice = choice;
            with(f, at, value, ANY_CODE, NULL, "a choice");
        }
        value.choice = UINT32_MAX;
        with(f, at, value, NW_UNKNOWN_CHOICE, p->name, "no such choice");
    }
}

static void arrays(const Function *f, size_t at) {
    double odd[3 * 8] = {0};
    const double reals[] = {NAN, INFINITY, -INFINITY, 1e308, -1e300, 5e-324};
    Argument array;
    Trial t;
    array.in = odd;
    if (f->parameters[at].counted_by < 0 || f->slow) {
        return;
    }
    for (size_t i = 0; i < sizeof reals / sizeof *reals; i++) {
        trial_begin(&t, &world, f);
        size_t count = t.arguments[f->parameters[at].counted_by].size;
        if (count <= 8) {
            const double *given = t.arguments[at].in;
            memcpy(odd, given, count * f->parameters[at].factor * sizeof(double));
            odd[count * f->parameters[at].factor - 1] = reals[i];
            t.arguments[at] = array;
            trial_call(&t, of_no_number(f, reals[i]), NULL, "an odd number in the last place:");
        }
        trial_end(&t);
    }
}

static void one_function(const Function *f) {
    const int few = quick && f->slow;
    if (!few) {
        good(f);
    }
    for (size_t at = 0; at < f->count; at++) {
        const Sort sort = f->parameters[at].sort;
        if (few && sort != HANDLE && sort != HANDLES && sort != TEXT) {
            continue;
        }
        if (!few || !f->parameters[at].may_be_null) {
            null(f, at);
        }
        switch (sort) {
        case HANDLE:
        case HANDLES: wrong_handles(f, at); break;
        case TEXT: texts(f, at); break;
        case COUNT:
        case CAPACITY: sizes(f, at); break;
        case BUFFER: overlaps(f, at); break;
        case ARRAY: arrays(f, at); break;
        case OUT: break;
        default: numbers(f, at);
        }
    }
}

/* What reads an error: it can't fail, and says nothing of a handle that is none. */
static void readers(void) {
    for (size_t i = 0; i < READER_COUNT; i++) {
        const Reader *reader = &READERS[i];
        for (int kind = -1; kind < KINDS; kind++) {
            for (size_t n = 0; n < 3; n++) {
                const size_t index = n == 0 ? 0 : n == 1 ? 1 : SIZE_MAX;
                Read got = reader->read(kind < 0 ? NULL : world.of[kind], index);
                const char *whose = kind < 0 ? "null" : KIND_NAMES[kind];
                if (kind == KIND_NwError && (index == 0 || !reader->is_indexed)) {
                    trial_expect(reader->sort != READ_TEXT || got.text != NULL, reader->name, "a null text of", whose);
                    continue;
                }
                switch (reader->sort) {
                case READ_TEXT: trial_expect(got.text != NULL && *got.text == 0, reader->name, "no empty text of", whose); break;
                case READ_SIZE: trial_expect(got.size == 0, reader->name, "counts something in", whose); break;
                case READ_CODE: trial_expect(got.code == NW_OK, reader->name, "a code of", whose); break;
                case READ_REAL: trial_expect(isinf(got.real), reader->name, "a bound of", whose); break;
                }
            }
        }
    }
}

/* Null and handles of other sorts are left alone; that they are still there is seen when they are freed, by leaks or by a crash. */
static void frees(void) {
    for (int i = 0; i < KINDS; i++) {
        FREES[i].free(NULL);
        for (int kind = 0; kind < KINDS; kind++) {
            if (kind != i) {
                FREES[i].free(world.of[kind]);
            }
        }
        trial_passed += 1;
    }
}

int main(int count, char **arguments) {
    if (count < 2) {
        fputs("usage: hostile FOLDER [quick]\n", stderr);
        return 2;
    }
    quick = count > 2;
    world_make(&world, arguments[1]);
    readers();
    frees();
    for (size_t i = 0; i < FUNCTION_COUNT; i++) {
        one_function(&FUNCTIONS[i]);
    }
    world_free(&world);
    printf("%zu passed, %zu failed\n", trial_passed, trial_failed);
    return trial_failed == 0 ? 0 : 1;
}
