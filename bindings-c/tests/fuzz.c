/* Random calls of every function, with damaged documents, odd numbers, pointers and sizes, on what earlier calls made:
   fuzz FOLDER ROUNDS SEED. Prints the line "N passed, N failed". */
#include "damage.h"
#include "trial.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_MADE = 4, SLOW_IN = 60 };

static World world;
/* What random calls made and later ones use: the latest of each sort. */
static void *made[KINDS];

static const struct {
    const char *function;
    const char *text;
} OPTIONS[] = {
    {"nw_neck_solids", "{\"slots\": true, \"cubic_within\": \"0.01 mm\"}"},
    {"nw_solid_mesh", "{\"chord\": \"0.5 mm\"}"},
    {"nw_neck_sheet", "{\"format\": 1}"},
    {"nw_sheets_pdf", "{\"format\": 1, \"paper\": \"a4\"}"},
    {"nw_sheets_dxf", "{\"format\": 1}"},
    {"nw_neck_inspect", "{\"format\": 1, \"alarm_rate\": 0.05}"},
    {"nw_neck_mend", "{\"format\": 1, \"least_wall\": \"3 mm\"}"},
    {"nw_neck_copy", "{\"format\": 1, \"sides\": \"alike\"}"},
};

/* A text that the argument may have been, before it is damaged. */
static const char *sound(uint64_t *dice, const Function *f, const Parameter *p, const char *good) {
    if (strcmp(p->name, "json") == 0) {
        return below(dice, 2) ? world.specification : "{}";
    }
    if (strcmp(p->name, "stock_json") == 0) {
        return world.stock;
    }
    for (size_t i = 0; i < sizeof OPTIONS / sizeof *OPTIONS; i++) {
        if (strcmp(f->name, OPTIONS[i].function) == 0 && strstr(p->name, "_json") != NULL) {
            return OPTIONS[i].text;
        }
    }
    return good;
}

/* What has to be freed after a call. */
typedef struct {
    void *list[MOST_PARAMETERS];
    size_t count;
} Bin;

static void *binned(Bin *bin, void *memory) {
    if (memory == NULL) {
        fputs("out of memory\n", stderr);
        exit(2);
    }
    bin->list[bin->count++] = memory;
    return memory;
}

static const void *some_handle(uint64_t *dice, int kind, const void *good) {
    switch (below(dice, 12)) {
    case 0: return NULL;
    case 1: return world.of[below(dice, KINDS)];
    case 2:
    case 3:
    case 4:
    case 5: return made[kind] != NULL ? made[kind] : good;
    default: return good;
    }
}

static void change(uint64_t *dice, Trial *t, size_t i, Bin *bin) {
    const Parameter *p = &t->function->parameters[i];
    Argument *a = &t->arguments[i];
    switch (p->sort) {
    case HANDLE: a->in = some_handle(dice, p->kind, a->in); break;
    case HANDLES: {
        const void **pair = binned(bin, calloc(2, sizeof *pair));
        pair[0] = some_handle(dice, p->kind, world.pair[p->kind][0]);
        pair[1] = some_handle(dice, p->kind, world.pair[p->kind][1]);
        a->in = pair;
        break;
    }
    case TEXT:
        if (below(dice, 16) == 0) {
            a->in = NULL;
        } else if (strcmp(p->name, "pointer") == 0 || strcmp(p->name, "list") == 0 || strcmp(p->name, "each") == 0) {
            const char *pointer = some_pointer(dice);
            a->in = strcpy(binned(bin, malloc(strlen(pointer) + 1)), pointer);
        } else {
            a->in = binned(bin, damaged(dice, sound(dice, t->function, p, a->in)));
        }
        break;
    case ARRAY: {
        size_t count = p->counted_by < 0 ? 6 : p->factor * t->arguments[p->counted_by].size;
        double *odd;
        if (count > 64) {
            break; /* a scan: its count changes */
        }
        odd = binned(bin, malloc(64 * sizeof *odd));
        memcpy(odd, a->in, count * sizeof *odd);
        for (size_t k = below(dice, 3); k > 0 && count > 0; k--) {
            odd[below(dice, count)] = some_real(dice);
        }
        a->in = below(dice, 16) ? odd : NULL;
        break;
    }
    case BUFFER:
    case OUT: a->out = below(dice, 16) ? a->out : NULL; break;
    /* Never more than there is room for, but what no array can hold. */
    case COUNT:
    case CAPACITY: a->size = below(dice, 8) ? below(dice, a->size + 1) : SIZE_MAX - below(dice, 3); break;
    case INDEX: a->size = below(dice, 4) ? below(dice, 60) : SIZE_MAX - below(dice, 3); break;
    case CHOICE: a->choice = below(dice, 4) ? (uint32_t)below(dice, 14) : (uint32_t)roll(dice); break;
    case WHOLE:
        if (p->is_32_bits) {
            a->choice = below(dice, 2) ? (uint32_t)below(dice, 100) : (uint32_t)roll(dice);
        } else {
            a->size = below(dice, 2) ? below(dice, 100) : (size_t)roll(dice);
        }
        break;
    case REAL: a->real = some_real(dice); break;
    }
}

/* Keeps what a call made, now and then, in place of what was kept before. */
static void keep(uint64_t *dice, Trial *t) {
    for (size_t i = 0; i < t->function->count; i++) {
        const Parameter *p = &t->function->parameters[i];
        if (p->sort == OUT && p->kind >= 0 && below(dice, MOST_MADE) == 0) {
            void **own = t->own[i];
            void *old = made[p->kind];
            made[p->kind] = *own;
            *own = old; /* freed at the end of the trial */
            if (old == NULL) {
                free(t->own[i]);
                t->own[i] = NULL;
            }
        }
    }
}

/* Every other call is one that reads a text. */
static const Function *some_function(uint64_t *dice) {
    const int with_text = below(dice, 2) == 0;
    for (;;) {
        const Function *f = &FUNCTIONS[below(dice, FUNCTION_COUNT)];
        int has_text = 0;
        for (size_t i = 0; i < f->count; i++) {
            has_text |= f->parameters[i].sort == TEXT;
        }
        if ((has_text || !with_text) && (!f->slow || below(dice, SLOW_IN) == 0)) {
            return f;
        }
    }
}

int main(int count, char **arguments) {
    uint64_t dice = 0;
    size_t rounds = 0, good = 0;
    if (count != 4 || (rounds = strtoull(arguments[2], NULL, 10)) == 0 || (dice = strtoull(arguments[3], NULL, 10)) == 0) {
        fputs("usage: fuzz FOLDER ROUNDS SEED\n", stderr);
        return 2;
    }
    world_make(&world, arguments[1]);
    for (size_t i = 0; i < rounds; i++) {
        const Function *f = some_function(&dice);
        Bin bin = {{NULL}, 0};
        Trial t;
        char told[64];
        snprintf(told, sizeof told, "round %zu:", i);
        trial_begin(&t, &world, f);
        for (size_t at = f->count; at-- > 0;) {
            if (below(&dice, 3) == 0) {
                change(&dice, &t, at, &bin);
            }
        }
        if (trial_call(&t, ANY_CODE, NULL, told) == NW_OK) {
            good += 1;
            keep(&dice, &t);
        }
        trial_end(&t);
        while (bin.count > 0) {
            free(bin.list[--bin.count]);
        }
    }
    for (int kind = 0; kind < KINDS; kind++) {
        FREES[kind].free(made[kind]);
    }
    world_free(&world);
    fprintf(stderr, "%zu of %zu random calls succeeded\n", good, rounds);
    printf("%zu passed, %zu failed\n", trial_passed, trial_failed);
    return trial_failed == 0 ? 0 : 1;
}
