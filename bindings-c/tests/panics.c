/* Every function while the core panics, at every place where the library can be made to: panics FOLDER
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

int main(int count, char **arguments) {
    size_t all = 0;
    if (count != 2) {
        fputs("usage: panics FOLDER\n", stderr);
        return 2;
    }
    world_make(&world, arguments[1]);
    for (size_t i = 0; i < FUNCTION_COUNT; i++) {
        uint32_t found = places(&FUNCTIONS[i]);
        trial_expect(found > 0, FUNCTIONS[i].name, "never panics", "");
        all += found;
    }
    world_free(&world);
    printf("panics at %zu places of %zu functions\n%zu passed, %zu failed\n", all, FUNCTION_COUNT, trial_passed, trial_failed);
    return trial_failed == 0 ? 0 : 1;
}
