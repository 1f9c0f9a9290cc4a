/* Dice, and documents that are damaged with them. */
#ifndef DAMAGE_H
#define DAMAGE_H

#include <stddef.h>
#include <stdint.h>

/* The next 64 bits of a xorshift generator: the same from the same seed, everywhere. */
uint64_t roll(uint64_t *dice);
/* A number below `n`, which is not 0. */
size_t below(uint64_t *dice, size_t n);
/* A copy of a text with up to three damages, which the caller frees. */
char *damaged(uint64_t *dice, const char *text);
/* A JSON Pointer or something like one; lives until the next call. */
const char *some_pointer(uint64_t *dice);
/* A number that a caller may get wrong. */
double some_real(uint64_t *dice);

#endif
