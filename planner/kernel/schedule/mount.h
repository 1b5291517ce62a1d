/* Pass 1: what is mounted, and the changeovers of a candidate, exactly.
 *
 * What a changeover takes follows from the order on its base alone. So only operations with another
 * predecessor on their base, or after another mounted state, are looked at.
 */
#ifndef MOUNT_H
#define MOUNT_H

#include "shop.h"

static i32 touches;       /* number of touched operations */
static i32 relinked;      /* first place before another neighbour on its base */
static i32 remounted;     /* from this place on everything is mounted as in the current plan */

static inline i32 sentinel(i32 base) { return S->ops + base; }

/* Minutes from the mounted state `before` to what the mode needs; the state is then `after`. */
static inline i32 changeover(const Mode *m, const i32 *before, i32 *after) {
  i32 sum = 0, longest = 0;
  const Need *need = S->need + m->need;
  for (i32 i = 0; i < S->slots; i++) after[i] = before[i];
  for (i32 i = 0; i < m->needs; i++) {
    i32 minutes = need[i].minutes_from[before[need[i].slot]];
    sum += minutes;
    longest = max(longest, minutes);
    after[need[i].slot] = need[i].value;
  }
  return m->needs && S->longest_counts[m->base] ? longest : sum;
}

/* The last operation or sentinel of each base before a place, from the snapshot before it. */
static void find_last(i32 place) {
  i32 k = place / S->stride;
  memcpy(S->last, S->last_at + k * S->bases, S->bases * sizeof(i32));
  for (i32 p = k * S->stride; p < place; p++) {
    i32 op = S->now.seq[p], base = S->mode[S->now.mode[op]].base;
    if (base != NOWHERE) S->last[base] = op;
  }
}

/* Mount for the operation after `before`; returns by how much its changeover grows. */
static inline i32 mount(i32 op, i32 before, i32 base) {
  i32 slots = S->slots;
  const i32 *state = (S->unlike[base] ? S->cand.mounted : S->now.mounted) + before * slots;
  i32 *after = S->cand.mounted + op * slots;
  S->cand.change[op] = changeover(mode_of(op), state, after);
  S->unlike[base] = op == changed_op || !same(after, S->now.mounted + op * slots, slots);
  S->touched[touches++] = op;
  return S->cand.change[op] - S->now.change[op];
}

/* The operation with another mode is not on a base any more. */
static inline i32 dismount(i32 op) {
  S->cand.change[op] = 0;
  S->touched[touches++] = op;
  return -S->now.change[op];
}

/* The first operation of the base after the window in the current plan, or NONE. */
static i32 find_follow(i32 base, i32 before_window) {
  i32 op = changed_op == NONE ? S->last[base] : before_window;
  do op = S->next[op];
  while (op != NONE && S->now.pos[op] <= high);
  return op;
}

/* Total changeovers of the candidate. */
static i64 mount_pass(void) {
  i64 sum = S->now.terms[CHANGEOVER];
  find_last(low);
  i32 *before_window = S->follow;
  for (i32 b = 0; b < S->bases; b++) before_window[b] = S->last[b], S->unlike[b] = 0;
  touches = 0;
  for (i32 p = low; p <= high; p++) {
    i32 op = S->cand.seq[p], base = base_of(op);
    if (base == NOWHERE) {
      if (op == changed_op) sum += dismount(op);
      continue;
    }
    i32 before = S->last[base];
    S->last[base] = op;
    if (S->unlike[base] || before != S->prev[op] || op == changed_op) sum += mount(op, before, base);
  }
  remounted = high + 1;
  for (i32 b = 0; b < S->bases; b++) {
    i32 op = S->follow[b] = find_follow(b, before_window[b]), before = S->last[b];
    for (; op != NONE && (S->unlike[b] || before != S->prev[op]); op = S->next[op]) {
      sum += mount(op, before, b);
      before = op;
      remounted = max(remounted, S->now.pos[op] + 1);
    }
    S->settled[b] = op;
  }
  return sum;
}

/* Undo what the pass left behind. */
static void unmount(void) {
  for (i32 i = 0; i < touches; i++) S->cand.change[S->touched[i]] = S->now.change[S->touched[i]];
}

/* Let `op` follow `before` on its base; marks what now stands before another operation. */
static inline void link(i32 before, i32 op) {
  if (op != NONE) S->prev[op] = before;
  if (S->next[before] == op) return;
  S->next[before] = op;
  if (before >= S->ops) return;
  mark(before);
  relinked = min(relinked, S->now.pos[before]);
}

/* Make the touched operations and the new neighbours part of the current plan, whose list is
 * already the candidate's. */
static void take_mounted(void) {
  i32 slots = S->slots, bases = S->bases, stride = S->stride;
  for (i32 i = 0; i < touches; i++) {
    i32 op = S->touched[i];
    S->now.change[op] = S->cand.change[op];
    memcpy(S->now.mounted + op * slots, S->cand.mounted + op * slots, slots * sizeof(i32));
  }
  find_last(low);
  relinked = low;
  for (i32 p = low; p <= high; p++) {
    if (p % stride == 0) memcpy(S->last_at + p / stride * bases, S->last, bases * sizeof(i32));
    i32 op = S->now.seq[p], base = base_of(op);
    if (base == NOWHERE) continue;
    link(S->last[base], op);
    S->last[base] = op;
  }
  for (i32 b = 0; b < bases; b++) link(S->last[b], S->follow[b]);
  for (i32 k = high / stride + 1; k * stride < S->ops; k++) {
    int stale = 0;
    i32 *last = S->last_at + k * bases;
    for (i32 b = 0; b < bases; b++) {
      int passed = S->follow[b] != NONE && S->now.pos[S->follow[b]] < k * stride;
      if (!passed && last[b] != S->last[b]) last[b] = S->last[b], stale = 1;
    }
    if (!stale) break;
  }
}

#endif
