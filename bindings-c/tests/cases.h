/* Reads a file of shared cases; the format is described in tests/README.md. */
#ifndef CASES_H
#define CASES_H

#include <stddef.h>
#include <stdint.h>

enum { MOST_ENTRIES = 64 };

/* A line of a case with its continuation lines: its words up to the value, and the value. */
typedef struct {
    const char *word;  /* "given", "expect", ... */
    const char *name;  /* the second word */
    const char *third; /* the third word of expect and fault, else "" */
    const char *last;  /* the tolerance of expect, the value of given, else "" */
    char *more;        /* the continuation lines, joined by line feeds */
} Entry;

typedef struct {
    size_t line;
    const char *title;
    const char *operation;
    const char *document; /* null where the case uses none */
    Entry entries[MOST_ENTRIES];
    size_t entry_count;
} Case;

typedef struct CaseFile CaseFile;

/* Ends the program with a message where the file can't be read: the runner is of no use then. */
CaseFile *case_file_open(const char *path);
/* Whether the file is for C. */
int case_file_is_for_c(const CaseFile *file);
/* The next case, null after the last. It lives until the next call. */
const Case *case_file_next(CaseFile *file);
void case_file_close(CaseFile *file);

/* The entry `word name` of a case, null where there is none. */
const Entry *case_entry(const Case *one, const char *word, const char *name);
/* The numbers of a text; a fresh array of `*count`. Ends the program where the text holds something else. */
double *numbers_of(const char *text, size_t *count);
/* The same for 16 hexadecimal digits a value. */
uint64_t *bits_of(const char *text, size_t *count);
/* An argument that is one number; one that is a count. */
double given_number(const Case *one, const char *name);
uint32_t given_count(const Case *one, const char *name);

#endif
