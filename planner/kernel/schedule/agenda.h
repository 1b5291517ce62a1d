/* Places of the list that are still to be looked at, as bits, so that the next is found at once. The bit
 * after the last place is always set: there every search ends. */
#ifndef AGENDA_H
#define AGENDA_H

#include "shop.h"

static inline int has(const u64 *agenda, i32 place) { return agenda[place >> 6] >> (place & 63) & 1; }
static inline void add(u64 *agenda, i32 place) { agenda[place >> 6] |= 1ull << (place & 63); }
static inline void strike(u64 *agenda, i32 place) { agenda[place >> 6] &= ~(1ull << (place & 63)); }

/* The first place from this one on; the number of operations if there is none. */
static inline i32 first_from(const u64 *agenda, i32 place) {
  i32 w = place >> 6;
  u64 bits = agenda[w] & ~0ull << (place & 63);
  while (!bits) bits = agenda[++w];
  return (w << 6) + __builtin_ctzll(bits);
}

/* The last place up to this one; -1 if there is none. */
static inline i32 last_to(const u64 *agenda, i32 place) {
  i32 w = place >> 6;
  u64 bits = agenda[w] & ~0ull >> (63 - (place & 63));
  while (!bits && w > 0) bits = agenda[--w];
  return bits ? (w << 6) + 63 - __builtin_clzll(bits) : -1;
}

static void empty(u64 *agenda) {
  for (i32 w = 0; w <= S->ops >> 6; w++) agenda[w] = 0;
  add(agenda, S->ops);
}

static inline void enter(i32 place) { add(S->agenda, place); }

#endif
