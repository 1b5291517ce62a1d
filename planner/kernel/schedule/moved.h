/* What a move takes along, told before the list is edited: it is marked, and sorted base by base. */
#ifndef MOVED_H
#define MOVED_H

#include "mount.h"

enum { TAKEN = 256 };     /* operations that a move takes along, at most */

static i32 taken[TAKEN];  /* operations that a move takes along */
static i32 sorted[TAKEN]; /* those of one base, in the order of the list */

/* Changeover minutes of the operation after `before`. */
static i32 change_after(i32 before, i32 op) {
  i32 sum = 0, longest = 0;
  const Mode *m = mode_of(op);
  if (m->minutes_after)
    return m->minutes_after[kind_after(before, m->base)];
  const Need *need = S->need + m->need;
  const i32 *mounted = S->now.mounted + before * S->slots;
  for (i32 i = 0; i < m->needs; i++) {
    i32 minutes = need[i].minutes_from[mounted[need[i].slot]];
    sum += minutes;
    longest = max(longest, minutes);
  }
  return S->longest_counts[m->base] ? longest : sum;
}

/* The marked operations, and what they wait for from place `bound` on (or what waits for them up to
 * it), into `taken` and marked; how many there are, or 0 if too many. */
static i32 take_along(const i32 *block, i32 count, int earlier, i32 bound) {
  i32 n = 0;
  if (count > TAKEN) return 0;
  for (; n < count; n++) taken[n] = block[n];
  for (i32 k = 0; k < n; k++) {
    const Op *op = &S->op[taken[k]];
    for (i32 i = 0; i < (earlier ? op->preds : op->succs); i++) {
      i32 other = earlier ? S->pred[op->pred + i].op : S->succ[op->succ + i];
      i32 place = S->cand.pos[other];
      if (marked(other) || (earlier ? place < bound : place > bound)) continue;
      if (n == TAKEN) return 0;
      mark(other);
      taken[n++] = other;
    }
  }
  return n;
}

/* Keep those of the base, in the order of the list. */
static i32 sort_taken(i32 n, i32 base) {
  i32 kept = 0;
  for (i32 i = 0; i < n; i++) {
    i32 op = taken[i], k = kept;
    if (base_of(op) != base) continue;
    for (; k > 0 && S->cand.pos[sorted[k - 1]] > S->cand.pos[op]; k--) sorted[k] = sorted[k - 1];
    sorted[k] = op;
    kept++;
  }
  return kept;
}

/* The next operation on its base that is not marked, from `at` on, which becomes it. */
static inline i32 unmarked_after(i32 *at) {
  do *at = S->next[*at];
  while (*at != NONE && marked(*at));
  return *at;
}

#endif
