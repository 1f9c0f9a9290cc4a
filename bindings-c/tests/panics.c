/* Every function while the core panics, at every place where the library can be made to: panics FOLDER [quick]
   `quick` leaves out the functions that take long.
   For the library with the feature `test-panics` alone. Prints the line "N passed, N failed". */
#include "trial.h"

#include <stdio.h>
#include <string.h>

uint32_t nw_test_panic(uint32_t at);

static World world;

/* Panics at the places number 1, 2, ... of a call until it gets by without; how many there were. */
static uint32_t places(const Function *f) {
    for (uint32_t at = 1;; at++) {
        NwError *error = NULL;
        char told[64];
        Trial t;
        uint32_t code;
        snprintf(told, sizeof told, "a panic at place %u:", (unsigned)at);
        /* Twice: what is written is looked at by the trial, and what is said here. */
        trial_begin(&t, &world, f);
        nw_test_panic(at);
        code = trial_call(&t, ANY_CODE, "", told);
        nw_test_panic(0);
        trial_end(&t);
        if (code == NW_OK) {
            return at - 1;
        }
        trial_expect(code == NW_PANIC, f->name, told, nw_code_name(code));
        trial_begin(&t, &world, f);
        nw_test_panic(at);
        trial_expect(f->call(t.arguments, &error) == NW_PANIC && strstr(nw_error_text(error), "a test asked for this") != NULL, f->name,
                     told, nw_error_text(error));
        nw_test_panic(at);
        trial_expect(f->call(t.arguments, NULL) == NW_PANIC, f->name, told, "without error_out");
        nw_test_panic(0);
        nw_error_free(error);
        trial_end(&t);
    }
}

/* A bad argument while the library can be made to panic: the making of the error's own handle is such a place, and has to become a
   code as well. */
static void faults(const Function *f) {
    for (uint32_t at = 1; at < 100; at++) {
        NwError *error = NULL;
        Trial t;
        uint32_t code = NW_OK, without = NW_OK, left;
        const char *what = "a bad argument while panicking:";
        size_t handle = 0;
        while (handle < f->count && f->parameters[handle].sort != HANDLE && f->parameters[handle].sort != TEXT) {
            handle++;
        }
        if (handle == f->count || f->parameters[handle].may_be_null) {
            return;
        }
        trial_begin(&t, &world, f);
        t.arguments[handle].in = NULL;
        nw_test_panic(at);
        code = f->call(t.arguments, &error);
        left = nw_test_panic(0);
        trial_expect(code == NW_PANIC || code == NW_NULL_POINTER, f->name, what, nw_code_name(code));
        trial_expect(code == NW_PANIC || nw_error_code(error, 0) == code, f->name, what, "another error");
        trial_expect(error == NULL || *nw_error_text(error) != 0, f->name, what, "no text");
        nw_error_free(error);
        nw_test_panic(at);
        without = f->call(t.arguments, NULL);
        nw_test_panic(0);
        trial_expect(without == NW_PANIC || without == NW_NULL_POINTER, f->name, what, "without error_out");
        trial_end(&t);
        if (left != 0) {
            return;
        }
    }
}

int main(int count, char **arguments) {
    size_t all = 0, tried = 0;
    int quick = count == 3 && strcmp(arguments[2], "quick") == 0;
    if (count != 2 && !quick) {
        fputs("usage: panics FOLDER [quick]\n", stderr);
        return 2;
    }
    world_make(&world, arguments[1]);
    for (size_t i = 0; i < FUNCTION_COUNT; i++) {
        uint32_t found;
        if (quick && FUNCTIONS[i].slow) {
            continue;
        }
        found = places(&FUNCTIONS[i]);
        tried += 1;
        trial_expect(found > 0, FUNCTIONS[i].name, "never panics", "");
        faults(&FUNCTIONS[i]);
        all += found;
    }
    world_free(&world);
    printf("panics at %zu places of %zu functions\n%zu passed, %zu failed\n", all, tried, trial_passed, trial_failed);
    return trial_failed == 0 ? 0 : 1;
}
