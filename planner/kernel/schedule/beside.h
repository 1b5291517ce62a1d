/* What stands beside an operation on a base. */
#ifndef BESIDE_H
#define BESIDE_H

#include "shop.h"

/* The neighbour of an operation on its base, or NONE. */
static inline i32 beside(i32 op, int forward) {
  i32 found = forward ? S->next[op] : S->prev[op];
  return found < S->ops ? found : NONE;
}

/* The next operation on a base, seen from a place in the list; NONE if there is none. */
static i32 next_on(i32 base, i32 place, int forward) {
  for (i32 p = place + (forward ? 1 : -1); p >= 0 && p < S->ops; p += forward ? 1 : -1)
    if (base_of(S->cand.seq[p]) == base) return S->cand.seq[p];
  return NONE;
}

/* The k-th next operation on a base, or the last if there are not so many; NONE if there is none. */
static i32 neighbour(i32 op, i32 base, i32 k, int forward) {
  i32 found = base_of(op) == base ? beside(op, forward) : next_on(base, S->cand.pos[op], forward);
  while (--k > 0 && found != NONE) {
    i32 further = beside(found, forward);
    if (further == NONE) break;
    found = further;
  }
  return found;
}

#endif
