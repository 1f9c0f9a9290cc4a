/* neckwright for C. The contract of every function is in bindings-c/README.md.
   Generated from the sources; change those. SPDX-License-Identifier: MIT OR Apache-2.0 */

#ifndef NECKWRIGHT_H
#define NECKWRIGHT_H

#include <stddef.h>
#include <stdint.h>

/**
 * Success.
 */
#define NW_OK 0

/**
 * The text is not JSON.
 */
#define NW_SYNTAX 1

/**
 * A key that no specification has.
 */
#define NW_UNKNOWN_KEY 2

/**
 * A value of another type than the field takes.
 */
#define NW_WRONG_TYPE 3

/**
 * A text that can't be read as a length, an angle, a station or a ratio.
 */
#define NW_UNREADABLE 4

/**
 * A number outside its bounds.
 */
#define NW_OUT_OF_RANGE 5

/**
 * A field that has to be given here and is not.
 */
#define NW_MISSING 6

/**
 * Two fields that can't both hold.
 */
#define NW_CONFLICT 7

/**
 * A document, text or list that is too large.
 */
#define NW_TOO_LARGE 8

/**
 * A document written for a later format than this library reads.
 */
#define NW_NEWER_FORMAT 9

/**
 * Numbers that are each in bounds but make no neck together.
 */
#define NW_GEOMETRY 10

/**
 * A station that is not on the neck.
 */
#define NW_OUTSIDE_NECK 11

/**
 * A buffer of the wrong size.
 */
#define NW_BUFFER 12

/**
 * A cut that comes nearer to the finished neck than its allowance.
 */
#define NW_TOO_DEEP 13

/**
 * A piece of timber that does not hold the neck.
 */
#define NW_TOO_SMALL 14

/**
 * A pointer is null that may not be.
 */
#define NW_NULL_POINTER 1000

/**
 * A text is not UTF-8.
 */
#define NW_NOT_UTF8 1001

/**
 * An error of this library; please report it.
 */
#define NW_PANIC 1002

/**
 * All the faults found in one call. Made by the call that failed; freed by `nw_error_free`.
 */
typedef struct NwError NwError;

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

/**
 * The short stable name of a code, "unknown" for a number that is none.
 */
const char *nw_code_name(uint32_t code);

/**
 * How many faults the handle keeps; 0 for a null handle.
 */
size_t nw_error_count(const NwError *error);

/**
 * How many more faults were found than the handle keeps.
 */
size_t nw_error_more(const NwError *error);

/**
 * All the messages, one fault a line; an empty text for a null handle.
 */
const char *nw_error_text(const NwError *error);

/**
 * The code of fault number `i`, counted from 0; `NW_OK` where there is no such fault.
 */
uint32_t nw_error_code(const NwError *error, size_t i);

/**
 * The lowest value allowed; minus infinity where there is none.
 */
double nw_error_lowest(const NwError *error, size_t i);

/**
 * The highest value allowed; infinity where there is none.
 */
double nw_error_highest(const NwError *error, size_t i);

/**
 * The field's path in the specification (`shaft.thickness[2].at`) or the argument's name; may be empty.
 */
const char *nw_error_path(const NwError *error,
                          size_t i);

/**
 * The value given, as text; empty where nothing was given.
 */
const char *nw_error_value(const NwError *error, size_t i);

/**
 * The unit of the value and of the bounds; may be empty.
 */
const char *nw_error_unit(const NwError *error, size_t i);

/**
 * What is wrong, or why the bound is where it is.
 */
const char *nw_error_reason(const NwError *error, size_t i);

/**
 * What to do about it; may be empty.
 */
const char *nw_error_remedy(const NwError *error, size_t i);

/**
 * The whole message of one fault: path, value, reason, range and remedy.
 */
const char *nw_error_message(const NwError *error, size_t i);

/**
 * Frees the handle and every text read from it; a null handle is left alone.
 */
void nw_error_free(NwError *error);

/**
 * The distances of frets 1 to `fret_count` from the nut, in mm, into the first `fret_count` elements of `positions_mm`.
 *
 * `scale_mm` is the length of the open string, `divisions` the number of equal steps in an octave (12 for the usual
 * temperament). `capacity` is the number of elements that `positions_mm` has room for, at least `fret_count`.
 *
 * Fails with `NW_OUT_OF_RANGE` for an argument out of its bounds (the error names the bounds), with `NW_BUFFER`,
 * `NW_NULL_POINTER` or `NW_PANIC`.
 */
uint32_t nw_fret_positions_mm(double scale_mm,
                              uint32_t fret_count,
                              uint32_t divisions,
                              double *positions_mm,
                              size_t capacity,
                              NwError **error_out);

/**
 * The version of this interface, such as "0.1.0".
 */
const char *nw_version(void);

/**
 * The version of the library that this interface translates, such as "0.1.0".
 */
const char *nw_core_version(void);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* NECKWRIGHT_H */
