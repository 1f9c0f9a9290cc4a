#include "trial.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PATTERN = 0xa5 };

size_t trial_passed;
size_t trial_failed;

int trial_expect(int good, const char *function, const char *what, const char *detail) {
    if (good) {
        trial_passed += 1;
    } else {
        trial_failed += 1;
        fprintf(stderr, "%s: %s %s\n", function, what, detail);
    }
    return good;
}

static void *filled(size_t size) {
    void *place = malloc(size);
    if (place == NULL) {
        fputs("out of memory\n", stderr);
        exit(2);
    }
    memset(place, PATTERN, size);
    return place;
}

static int untouched(const void *place, size_t from, size_t to) {
    const unsigned char *bytes = place;
    for (size_t i = from; i < to; i++) {
        if (bytes[i] != PATTERN) {
            return 0;
        }
    }
    return 1;
}

void trial_begin(Trial *t, const World *world, const Function *function) {
    memset(t, 0, sizeof *t);
    t->world = world;
    t->function = function;
    function->good(world, t->arguments);
    for (size_t i = 0; i < function->count; i++) {
        const Parameter *p = &function->parameters[i];
        if (p->sort == OUT) {
            t->room[i] = p->element;
        } else if (p->sort == BUFFER) {
            t->room[i] = p->element * p->factor * t->arguments[p->counted_by].size;
        } else {
            continue;
        }
        t->own[i] = filled(t->room[i] + SPARE_BYTES);
        t->arguments[i].out = t->own[i];
    }
}

/* An error is there and says what went wrong. */
static int error_is_good(const Function *f, const NwError *error, uint32_t code, const char *path, const char *what) {
    return trial_expect(error != NULL, f->name, what, "no error") &&
           trial_expect(nw_error_count(error) > 0 && nw_error_code(error, 0) == code, f->name, what, "another code in the error") &&
           trial_expect(*nw_error_text(error) != 0 && *nw_error_message(error, 0) != 0, f->name, what, "no message") &&
           trial_expect(*nw_error_reason(error, 0) != 0, f->name, what, "no reason") &&
           trial_expect(strcmp(nw_code_name(code), "unknown") != 0, f->name, what, "a code without a name") &&
           trial_expect(path == NULL || strcmp(nw_error_path(error, 0), path) == 0, f->name, what, nw_error_path(error, 0));
}

uint32_t trial_call(Trial *t, uint32_t expected, const char *path, const char *what) {
    const Function *f = t->function;
    NwError *error = (NwError *)t; /* something that is not null */
    uint32_t code = f->call(t->arguments, &error);
    const char *about = code == NW_OK ? "success" : nw_code_name(code);
    if (expected == FAILURE) {
        trial_expect(code != NW_OK, f->name, what, about);
    } else if (expected != ANY_CODE) {
        trial_expect(code == expected, f->name, what, code == NW_OK ? about : nw_error_text(error));
    }
    if (code == NW_OK) {
        trial_expect(error == NULL, f->name, what, "an error on success");
    } else {
        error_is_good(f, error, code, path, what);
        nw_error_free(error);
    }
    for (size_t i = 0; i < f->count; i++) {
        if (t->own[i] != NULL) {
            size_t from = code == NW_OK ? t->room[i] : 0;
            trial_expect(untouched(t->own[i], from, t->room[i] + SPARE_BYTES), f->name, what,
                         code == NW_OK ? "wrote too much" : "wrote something");
        }
        if (code == NW_OK && f->parameters[i].sort == OUT && t->arguments[i].out == t->own[i] && f->parameters[i].element == sizeof(void *)) {
            trial_expect(*(void **)t->own[i] != NULL || f->parameters[i].kind < 0, f->name, what, "no result");
        }
    }
    return code;
}

void trial_end(Trial *t) {
    for (size_t i = 0; i < t->function->count; i++) {
        int kind = t->function->parameters[i].kind;
        if (t->own[i] == NULL) {
            continue;
        }
        if (t->function->parameters[i].sort == OUT && kind >= 0 && !untouched(t->own[i], 0, t->room[i])) {
            FREES[kind].free(*(void **)t->own[i]);
        }
        free(t->own[i]);
    }
    memset(t->own, 0, sizeof t->own);
}
