/* Places of the list that are still to be looked at, as bits, so that the next is found at once. */
#ifndef AGENDA_H
#define AGENDA_H

#include "shop.h"

typedef struct { u64 *word; i32 count; } Agenda;

static Agenda agenda; /* what a pass has to look at; empty between passes */

static inline int has(const Agenda *a, i32 place) { return a->word[place >> 6] >> (place & 63) & 1; }

static inline void add(Agenda *a, i32 place) {
  a->count += !has(a, place);
  a->word[place >> 6] |= 1ull << (place & 63);
}

static inline void strike(Agenda *a, i32 place) {
  a->count -= has(a, place);
  a->word[place >> 6] &= ~(1ull << (place & 63));
}

/* The first place from this one on; there must be one. */
static inline i32 first_from(const Agenda *a, i32 place) {
  i32 w = place >> 6;
  u64 bits = a->word[w] & ~0ull << (place & 63);
  while (!bits) bits = a->word[++w];
  return (w << 6) + __builtin_ctzll(bits);
}

/* The last place up to this one; there must be one. */
static inline i32 last_to(const Agenda *a, i32 place) {
  i32 w = place >> 6;
  u64 bits = a->word[w] & ~0ull >> (63 - (place & 63));
  while (!bits) bits = a->word[--w];
  return (w << 6) + 63 - __builtin_clzll(bits);
}

static inline void enter(i32 place) { add(&agenda, place); }

#endif
