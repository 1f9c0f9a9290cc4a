/* Memory that does not grow, and a neck that many threads read at once: rounds FOLDER [threads COUNT]
   With glibc the heap that is in use is counted to the byte, elsewhere the process's memory is looked at. What a thread keeps by
   for its next allocations counts as in use there: run it with GLIBC_TUNABLES=glibc.malloc.tcache_count=0.
   Prints the line "N passed, N failed". */
#include "trial.h"

#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#if defined(__GLIBC__) && (__GLIBC__ > 2 || __GLIBC_MINOR__ >= 33)
#include <malloc.h>
#define COUNTS_HEAP 1
#else
#define COUNTS_HEAP 0
#endif

/* A million rounds of readings. A neck takes a hundred times as long: a million of them would take minutes, and where bytes are
   counted a single one that is kept shows after a few. */
enum { CHEAP_ROUNDS = 1000000, NECK_ROUNDS = 20000, EACH_ROUNDS = 4, THREADS = 64, STATIONS = 200 };

static World world;

#if COUNTS_HEAP
/* Bytes that are allocated and not freed. */
static long in_use(void) {
    struct mallinfo2 now = mallinfo2();
    return (long)(now.uordblks + now.hblkhd);
}
static const long MAY_GROW = 0;
#else
/* Memory of the process, in bytes; 0 where the system does not tell. */
static long in_use(void) {
    FILE *file = fopen("/proc/self/status", "r");
    char line[256];
    long kib = 0;
    while (file != NULL && fgets(line, sizeof line, file) != NULL) {
        if (sscanf(line, "VmRSS: %ld", &kib) == 1) {
            break;
        }
    }
    if (file != NULL) {
        fclose(file);
    }
    return 1024 * kib;
}
static const long MAY_GROW = 256 * 1024;
#endif

/* Makes readings, asks them, frees them; and an error. */
static int cheap(void) {
    NwReadings *readings = NULL;
    NwError *error = NULL;
    size_t count = 0;
    int good = nw_readings_from_csv("at,quantity,value\nfret 1,thickness,21\n", &readings, &error) == NW_OK &&
               nw_readings_count(readings, &count, &error) == NW_OK && count == 1;
    nw_readings_free(readings);
    good = good && nw_readings_from_csv("", &readings, &error) != NW_OK && *nw_error_text(error) != 0;
    nw_error_free(error);
    return good;
}

static int neck(void) {
    NwNeck *neck = NULL;
    double x_mm = 100.0, thickness_mm = 0.0;
    int good = nw_neck_from_json("{}", &neck, NULL) == NW_OK &&
               nw_neck_thickness_mm(neck, &x_mm, 1, &thickness_mm, NULL) == NW_OK && thickness_mm > 18.0;
    nw_neck_free(neck);
    return good;
}

static void no_growth(const char *what, int (*round)(void), long rounds) {
    long before, after;
    int good = 1;
    char told[128];
    for (long i = 0; i < rounds / 10; i++) {
        good &= round();
    }
    before = in_use();
    for (long i = 0; i < rounds; i++) {
        good &= round();
    }
    after = in_use();
    snprintf(told, sizeof told, "%ld rounds: %ld bytes before, %ld after", rounds, before, after);
    trial_expect(good, what, "a round that went wrong", "");
    trial_expect(before > 0 && after - before <= MAY_GROW, what, told, "");
    fprintf(stderr, "%s: %s\n", what, told);
}

static void call_once(const Function *f) {
    Trial t;
    trial_begin(&t, &world, f);
    trial_call(&t, NW_OK, NULL, "a round");
    trial_end(&t);
}

/* Every function with good arguments, and what it makes freed: necks, plans, solids, meshes, sheets, files, documents. */
static void no_function_keeps_memory(void) {
    for (size_t i = 0; i < FUNCTION_COUNT; i++) {
        const Function *f = &FUNCTIONS[i];
        long before;
        char told[64];
        call_once(f);
        call_once(f);
        before = in_use();
        for (int times = 0; times < EACH_ROUNDS; times++) {
            call_once(f);
        }
        snprintf(told, sizeof told, "%ld bytes kept after %d calls", in_use() - before, (int)EACH_ROUNDS);
        trial_expect(in_use() - before <= MAY_GROW, f->name, told, "");
    }
}

/* What a thread reads off the neck. */
typedef struct {
    double numbers[5 * STATIONS];
    double moments[6 * WORLD_STATIONS];
    uint64_t sum; /* of the bytes of documents and files */
    int failed;
} Reading;

static uint64_t hashed(uint64_t sum, const void *data, size_t size) {
    const unsigned char *bytes = data;
    for (size_t i = 0; i < size; i++) {
        sum = (sum ^ bytes[i]) * 0x100000001b3ull;
    }
    return sum;
}

static void *read_neck(void *to) {
    Reading *r = to;
    const NwNeck *one = world.of[KIND_NwNeck];
    const NwPlan *plan = world.of[KIND_NwPlan];
    double x_mm[STATIONS];
    for (int i = 0; i < STATIONS; i++) {
        x_mm[i] = world.reach_mm[0] + (world.reach_mm[1] - world.reach_mm[0]) * i / (STATIONS - 1.0);
    }
    r->sum = 0xcbf29ce484222325ull;
    for (int times = 0; times < 4; times++) {
        NwDocument *documents[4] = {NULL};
        NwSheets *sheets = NULL;
        NwBytes *svg = NULL;
        NwError *error = NULL;
        const uint8_t *data = NULL;
        double none;
        size_t size = 0;
        r->failed |= nw_neck_thickness_mm(one, x_mm, STATIONS, r->numbers, NULL) != NW_OK;
        r->failed |= nw_neck_width_mm(one, x_mm, STATIONS, r->numbers + STATIONS, NULL) != NW_OK;
        r->failed |= nw_neck_girth_mm(one, x_mm, STATIONS, r->numbers + 2 * STATIONS, NULL) != NW_OK;
        r->failed |= nw_neck_rod_wall_mm(one, x_mm, STATIONS, r->numbers + 3 * STATIONS, NULL) != NW_OK;
        r->failed |= nw_plan_wood_area_mm2(plan, world.stage, x_mm, STATIONS, r->numbers + 4 * STATIONS, NULL) != NW_OK;
        r->failed |= nw_neck_section_moments(one, world.x_mm, world.count, NW_PART_WHOLE, r->moments, 6 * world.count, NULL) != NW_OK;
        r->failed |= nw_neck_caliper_card(one, &documents[0], NULL) != NW_OK;
        r->failed |= nw_neck_volume(one, &documents[1], NULL) != NW_OK;
        r->failed |= nw_neck_least_rod_wall(one, &documents[2], NULL) != NW_OK;
        r->failed |= nw_plan_document(plan, &documents[3], NULL) != NW_OK;
        for (int i = 0; i < 4; i++) {
            const char *json = "";
            r->failed |= nw_document_json(documents[i], &json, NULL) != NW_OK;
            r->sum = hashed(r->sum, json, strlen(json));
            nw_document_free(documents[i]);
        }
        r->failed |= nw_neck_sheet(one, NW_SHEET_PLAN, NULL, &sheets, NULL) != NW_OK;
        r->failed |= nw_sheets_svg(sheets, 0, &svg, NULL) != NW_OK || nw_bytes_data(svg, &data, &size, NULL) != NW_OK;
        r->sum = hashed(r->sum, data, size);
        nw_bytes_free(svg);
        nw_sheets_free(sheets);
        /* Errors are each thread's own. */
        none = 1e6 + (double)times;
        r->failed |= nw_neck_thickness_mm(one, &none, 1, &none, &error) != NW_OVERLAP;
        nw_error_free(error);
        r->failed |= nw_neck_thickness_mm(one, &none, 1, r->numbers, NULL) != NW_OUTSIDE_NECK;
    }
    return NULL;
}

static void threads(int count) {
    static Reading list[THREADS], alone;
    pthread_t running[THREADS];
    read_neck(&alone);
    trial_expect(!alone.failed, "threads", "a call failed", "");
    for (int i = 0; i < count; i++) {
        if (pthread_create(&running[i], NULL, read_neck, &list[i]) != 0) {
            fputs("a thread does not begin\n", stderr);
            exit(2);
        }
    }
    for (int i = 0; i < count; i++) {
        pthread_join(running[i], NULL);
        trial_expect(memcmp(&list[i], &alone, sizeof alone) == 0, "threads", "other bits in a thread", "");
    }
}

int main(int count, char **arguments) {
    int at_once = THREADS;
    if (count == 4 && strcmp(arguments[2], "threads") == 0) {
        at_once = atoi(arguments[3]);
    }
    if ((count != 2 && count != 4) || at_once < 1 || at_once > THREADS) {
        fprintf(stderr, "usage: rounds FOLDER [threads COUNT], 1 to %d\n", (int)THREADS);
        return 2;
    }
    if (COUNTS_HEAP && count == 2 && getenv("GLIBC_TUNABLES") == NULL) {
        fputs("rounds: GLIBC_TUNABLES=glibc.malloc.tcache_count=0 is needed to count\n", stderr);
        return 2;
    }
    world_make(&world, arguments[1]);
    threads(at_once);
    if (count == 2) {
        no_function_keeps_memory();
        no_growth("readings", cheap, CHEAP_ROUNDS);
        no_growth("a neck", neck, NECK_ROUNDS);
    }
    world_free(&world);
    printf("%zu passed, %zu failed\n", trial_passed, trial_failed);
    return trial_failed == 0 ? 0 : 1;
}
