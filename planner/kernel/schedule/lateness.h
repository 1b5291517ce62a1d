/* Energy of being late or tight by place in the list, summed in a tree (Fenwick, Software: Practice
 * and Experience 24, 1994): how much of it an edit from a place on can save at most. */
#ifndef LATENESS_H
#define LATENESS_H

#include "shop.h"

/* What grows with every minute by which work ends later, and with nothing else. */
static inline f64 overdue(const i64 *terms) {
  return S->weight[LATENESS] * (f64)terms[LATENESS] + S->weight[TIGHTNESS] * (f64)terms[TIGHTNESS];
}

static void add_overdue(i32 place, f64 energy) {
  if (energy == 0) return;
  for (i32 i = place + 1; i <= S->ops; i += i & -i) S->overdue_tree[i] += energy;
}

static f64 overdue_before(i32 place) {
  f64 sum = 0;
  for (i32 i = place; i > 0; i -= i & -i) sum += S->overdue_tree[i];
  return sum;
}

/* The first place from which on nothing is late or tight. */
static i32 calm_from(void) {
  f64 left = overdue(S->now.terms);
  i32 place = 0;
  for (i32 step = 1 << (31 - __builtin_clz(S->ops)); step > 0 && left > 0; step >>= 1)
    if (place + step <= S->ops && S->overdue_tree[place + step] < left)
      place += step, left -= S->overdue_tree[place];
  return left > 0 ? place + 1 : 0;
}

#endif
