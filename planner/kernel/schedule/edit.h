/* Editing the candidate's list so that it goes on respecting precedence. */
#ifndef EDIT_H
#define EDIT_H

#include "mount.h"
#include "shop.h"

static inline void set(i32 p, i32 op) { S->cand.seq[p] = op, S->cand.pos[op] = p; }
static i32 shifts;        /* operations that the edit has moved in the list */

static void touch(i32 from, i32 to) { low = min(low, from), high = max(high, to); }

/* The first `count` of `moved` get other neighbours in the list. */
static void note_shifted(i32 count) {
  for (i32 i = 0; i < count; i++) {
    i32 op = S->moved[i];
    if (!S->is_shifted[op]) S->is_shifted[op] = 1, S->shifted[shifts++] = op;
  }
}

static void forget_shifted(void) {
  for (i32 i = 0; i < shifts; i++) S->is_shifted[S->shifted[i]] = 0;
  shifts = 0;
}

/* On each base, bring the moved operations, the first of them last in `moved`, forward to where
 * they are in the list now. */
static void relink_earlier(i32 moved) {
  for (i32 b = 0; b < S->bases; b++) S->last[b] = NONE;
  while (moved-- > 0) {
    i32 op = S->moved[moved], base = base_of(op);
    if (base == NOWHERE) continue;
    i32 before = S->last[base] == NONE ? S->new_prev[op] : S->last[base];
    while (before < S->ops && S->cand.pos[before] > S->cand.pos[op]) before = S->new_prev[before];
    S->last[base] = op;
    if (before != S->new_prev[op]) unlink(op), insert(op, before);
  }
}

/* The same backward, with the first of them first in `moved`. */
static void relink_later(i32 moved) {
  for (i32 b = 0; b < S->bases; b++) S->last[b] = NONE;
  while (moved-- > 0) {
    i32 op = S->moved[moved], base = base_of(op);
    if (base == NOWHERE) continue;
    i32 after = S->last[base] == NONE ? S->new_next[op] : S->last[base], before = op;
    if (after == S->last[base] && after != NONE) before = S->new_prev[after];
    for (; after != NONE && S->cand.pos[after] < S->cand.pos[op]; after = S->new_next[after])
      before = after;
    S->last[base] = op;
    if (before != op) unlink(op), insert(op, before);
  }
}

/* Bring the marked operations in [from, to], and what they wait for, to the front of it. */
static void pull(i32 from, i32 to) {
  i32 moved = 0, p = to;
  for (i32 q = to; q >= from; q--) {
    i32 op = S->cand.seq[q];
    if (!marked(op)) {
      set(p--, op);
      continue;
    }
    S->moved[moved++] = op;
    const Pred *pred = S->pred + S->op[op].pred;
    for (i32 i = 0; i < S->op[op].preds; i++) mark(pred[i].op);
  }
  for (i32 i = 0; i < moved; i++) set(p--, S->moved[i]);
  touch(from, to);
  note_shifted(moved);
  relink_earlier(moved);
}

/* Bring the marked operations in [from, to], and what waits for them, to the back of it. */
static void push(i32 from, i32 to) {
  i32 moved = 0, p = from;
  for (i32 q = from; q <= to; q++) {
    i32 op = S->cand.seq[q];
    if (!marked(op)) {
      set(p++, op);
      continue;
    }
    S->moved[moved++] = op;
    const i32 *succ = S->succ + S->op[op].succ;
    for (i32 i = 0; i < S->op[op].succs; i++) mark(succ[i]);
  }
  for (i32 i = 0; i < moved; i++) set(p++, S->moved[i]);
  touch(from, to);
  note_shifted(moved);
  relink_later(moved);
}

/* The place of the last operation that this one waits for. */
static i32 last_pred(i32 op) {
  i32 last = -1;
  const Pred *pred = S->pred + S->op[op].pred;
  for (i32 i = 0; i < S->op[op].preds; i++) last = max(last, S->cand.pos[pred[i].op]);
  return last;
}

/* Ripple: bring a successor into the order on its base in which the work now arrives there. */
static void arrive_earlier(i32 op) {
  i32 arrives = last_pred(op), base = base_of(op), to = S->cand.pos[op], from = to;
  if (base == NOWHERE) from = arrives + 1;
  else for (i32 p = S->new_prev[op]; p < S->ops && S->cand.pos[p] > arrives; p = S->new_prev[p]) {
    if (last_pred(p) <= arrives || S->op[p].flags & FIXED) break;
    from = S->cand.pos[p];
  }
  if (from == to) return;
  stamp++;
  mark(op);
  pull(from, to);
}

static void arrive_later(i32 op) {
  i32 arrives = last_pred(op), base = base_of(op), from = S->cand.pos[op], to = from;
  if (base == NOWHERE) return;
  for (i32 p = S->new_next[op]; p != NONE; p = S->new_next[p]) {
    if (last_pred(p) >= arrives || S->op[p].flags & FIXED) break;
    to = S->cand.pos[p];
  }
  if (from == to) return;
  stamp++;
  mark(op);
  push(from, to);
}

enum { RIPPLES = 24 };

/* Let the later operations of the moved work follow it. */
static void ripple(const i32 *block, i32 count, int earlier) {
  i32 queue[RIPPLES], n = 0, base = base_of(block[0]);
  int same_base = S->bases > 1 && below(2);
  for (i32 b = 0; b < count && n < RIPPLES; b++) {
    const i32 *succ = S->succ + S->op[block[b]].succ;
    for (i32 i = 0; i < S->op[block[b]].succs && n < RIPPLES; i++) queue[n++] = succ[i];
  }
  for (i32 q = 0; q < n; q++) {
    i32 op = queue[q];
    if (S->op[op].flags & (FIXED | DONE) || (base_of(op) == base && !same_base)) continue;
    if (earlier) arrive_earlier(op);
    else arrive_later(op);
    const i32 *succ = S->succ + S->op[op].succ;
    for (i32 i = 0; i < S->op[op].succs && n < RIPPLES; i++) queue[n++] = succ[i];
  }
}

#endif
