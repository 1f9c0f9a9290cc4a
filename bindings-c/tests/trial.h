/* One call of a function of the table, and whether it kept the contract. */
#ifndef TRIAL_H
#define TRIAL_H

#include "calls.h"

typedef struct {
    const World *world;
    const Function *function;
    Argument arguments[MOST_PARAMETERS];
    size_t room[MOST_PARAMETERS]; /* bytes behind BUFFER and OUT; 0 for others */
    void *own[MOST_PARAMETERS];   /* what was allocated for them */
} Trial;

/* Good arguments, every result's place filled with a pattern. */
void trial_begin(Trial *trial, const World *world, const Function *function);
/* Calls it and looks whether the contract was kept: on success no error, nothing written but what is needed; on failure an error
   with code and message, and nothing written. `expected` is the code, or ANY_CODE, or FAILURE for any but success; `path` what the
   first fault names, or null. Counts what failed. Returns the code. */
uint32_t trial_call(Trial *trial, uint32_t expected, const char *path, const char *what);
/* Frees what the call made and the places of results; begin again after it. */
void trial_end(Trial *trial);

/* Writes more elements than the argument counts are behind every buffer. */
enum { SPARE_BYTES = 64 };
#define ANY_CODE 0xfffffffeu
#define FAILURE 0xffffffffu

extern size_t trial_passed;
extern size_t trial_failed;

/* Counts, and tells of a failure. */
int trial_expect(int good, const char *function, const char *what, const char *detail);

#endif
