/* Editing the candidate's list so that it goes on respecting precedence. */
#ifndef EDIT_H
#define EDIT_H

#include "shop.h"

static inline void set(i32 p, i32 op) { S->cand.seq[p] = op, S->cand.pos[op] = p; }
static void touch(i32 from, i32 to) { low = min(low, from), high = max(high, to); }

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
  else for (i32 p = to - 1; p > arrives; p--) {
    i32 other = S->cand.seq[p];
    if (base_of(other) != base) continue;
    if (last_pred(other) <= arrives || S->op[other].flags & FIXED) break;
    from = p;
  }
  if (from == to) return;
  stamp++;
  mark(op);
  pull(from, to);
}

static void arrive_later(i32 op) {
  i32 arrives = last_pred(op), base = base_of(op), from = S->cand.pos[op], to = from;
  if (base == NOWHERE) return;
  for (i32 p = from + 1; p < S->ops; p++) {
    i32 other = S->cand.seq[p];
    if (base_of(other) != base) continue;
    if (last_pred(other) >= arrives || S->op[other].flags & FIXED) break;
    to = p;
  }
  if (from == to) return;
  stamp++;
  mark(op);
  push(from, to);
}

enum { RIPPLES = 24, BLOCK = 160 };

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
