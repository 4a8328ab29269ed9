/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes that keep a file mostly well-formed, so that libFuzzer gets behind the XML parser: a value, a line or a word
 * of one place put into another. */
#include "fuzz.h"

#include <string.h>

size_t LLVMFuzzerMutate (uint8_t *data, size_t size, size_t most);
size_t LLVMFuzzerCustomMutator (uint8_t *data, size_t size, size_t most, unsigned int seed);

typedef struct { size_t start, end; } Piece;

static unsigned int
next (unsigned int *seed)
{
  *seed = *seed * 1664525u + 1013904223u;
  return *seed >> 8;
}

static int
is_bound (uint8_t c, const char *bounds)
{
  return strchr (bounds, c) != NULL;
}

/* A random stretch between two of the bounds. */
static Piece
pick (const uint8_t *data, size_t size, const char *bounds, unsigned int *seed)
{
  Piece piece = { next (seed) % size, 0 };

  piece.end = piece.start;
  while (piece.start > 0 && !is_bound (data[piece.start - 1], bounds))
    piece.start--;
  while (piece.end < size && !is_bound (data[piece.end], bounds))
    piece.end++;
  return piece;
}

/* Puts one piece in the place of another, or before it. */
static size_t
splice (uint8_t *data, size_t size, size_t most, Piece from, Piece to, int keep)
{
  uint8_t copy[4096];
  size_t n = from.end - from.start, out = keep ? 0 : to.end - to.start;

  if (n > sizeof copy || size - out + n > most)
    return size;
  memcpy (copy, data + from.start, n);
  memmove (data + to.start + n, data + to.start + out, size - to.start - out);
  memcpy (data + to.start, copy, n);
  return size - out + n;
}

size_t
LLVMFuzzerCustomMutator (uint8_t *data, size_t size, size_t most, unsigned int seed)
{
  static const char *const bounds[] = { "\"", "\n", " \n\"", " \n\"<>.=", "<", "<>" };
  unsigned int rounds = next (&seed) % 3 != 0 ? 1 : 3;

  if (size == 0 || next (&seed) % 4 == 0)
    return LLVMFuzzerMutate (data, size, most);
  while (rounds-- > 0 && size > 0) {
    const char *bound = bounds[next (&seed) % (sizeof bounds / sizeof *bounds)];
    Piece from = pick (data, size, bound, &seed), to = pick (data, size, bound, &seed);
    if (next (&seed) % 5 == 0)
      from.end = from.start;
    size = splice (data, size, most, from, to, next (&seed) % 4 == 0);
  }
  return size;
}
