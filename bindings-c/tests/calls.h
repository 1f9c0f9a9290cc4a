/* A table of every function of the header; calls.py writes it. */
#ifndef CALLS_H
#define CALLS_H

#include "kinds.h"
#include "world.h"

typedef enum {
    HANDLE,
    HANDLES, /* an array of handles */
    TEXT,
    ARRAY,  /* numbers that are read */
    BUFFER, /* numbers that are written */
    OUT,    /* one result */
    COUNT,
    CAPACITY,
    INDEX,
    CHOICE,
    WHOLE, /* another whole number */
    REAL
} Sort;

typedef struct {
    Sort sort;
    const char *name;
    int kind; /* of handles; -1 for others */
    int may_be_null;
    size_t element;   /* ARRAY, BUFFER, OUT: its bytes */
    size_t factor;    /* ARRAY, BUFFER: numbers for each one counted */
    int counted_by;   /* which argument counts it; -1 for none */
    int is_32_bits;   /* a number that is a uint32_t */
} Parameter;

typedef union {
    const void *in;
    void *out;
    size_t size;
    uint32_t choice;
    double real;
} Argument;

enum { MOST_PARAMETERS = 12 };

typedef struct {
    const char *name;
    size_t count; /* of parameters, without error_out */
    Parameter parameters[MOST_PARAMETERS];
    uint32_t (*call)(const Argument *arguments, NwError **error_out);
    void (*good)(const World *world, Argument *arguments); /* but for BUFFER and OUT, which are null */
    int slow;
} Function;

/* Functions that read an error: they can't fail. */
typedef enum { READ_TEXT, READ_SIZE, READ_CODE, READ_REAL } ReadSort;

typedef struct {
    const char *text;
    size_t size;
    uint32_t code;
    double real;
} Read;

typedef struct {
    const char *name;
    ReadSort sort;
    int is_indexed;
    Read (*read)(const void *handle, size_t i);
} Reader;

typedef struct {
    const char *name;
    void (*free)(void *handle);
} Free;

/* Functions that say something without a handle: they can't fail. The number is of no meaning to those that take none. */
typedef struct {
    const char *name;
    const char *(*call)(uint32_t number);
} Plain;

extern const Plain PLAINS[];
extern const size_t PLAIN_COUNT;
extern const Function FUNCTIONS[];
extern const size_t FUNCTION_COUNT;
extern const Reader READERS[];
extern const size_t READER_COUNT;
extern const Free FREES[KINDS];
extern const char *const KIND_NAMES[KINDS];

#endif
