/* Where only changeovers count: descents led by cheap changeovers. A move makes two operations
 * neighbours that follow each other for less than what is taken apart there, and is the best of
 * the exchanges of two adjacent blocks that do so, or turns a stretch round. Lists of near
 * neighbours: S. Lin and B. W. Kernighan, Operations Research 21 (1973). Only places, changeovers
 * and their sum are kept, and only what differs is worked out again.
 */
#ifndef ARCS_H
#define ARCS_H

#include "order.h"

static i32 touched_from, touched_to; /* where the order may differ from kept_seq */
static i32 waiting_count;            /* operations in L->queue: what may gain around them */

static inline i32 op_at(i32 place) { return place < L->ops ? L->seq[place] : -1; }
static inline i32 setup_at(i32 place) { return place < L->ops ? L->setup[place] : 0; }
/* Minutes to what comes after, which may be nothing. */
static inline i32 change_to(i32 before, i32 after) { return after < 0 ? 0 : change(before, after); }

static void rouse(i32 place) {
  if (place < 0 || place >= L->ops || L->awake[L->seq[place]]) return;
  L->awake[L->seq[place]] = 1;
  L->queue[waiting_count++] = L->seq[place];
}

/* Places and changeovers anew where [from, to) has another order. */
static void rechange(i32 from, i32 to, int rousing) {
  i32 end = min(to + 1, L->ops);
  for (i32 p = from; p < end; p++) {
    i32 op = L->seq[p], setup = change(op_before(p), op);
    L->pos[op] = p;
    if (rousing && setup != L->setup[p]) rouse(p - 1), rouse(p);
    L->terms[CHANGEOVER] += setup - L->setup[p];
    L->setup[p] = setup;
  }
  energy_now = energy_of(0, L->terms[CHANGEOVER], 0);
  tried += 2 * (to - from);
}

static void touch(i32 from, i32 to) {
  rechange(from, to, 1);
  touched_from = min(touched_from, from), touched_to = max(touched_to, to);
  rouse(from - 1), rouse(from), rouse(to - 1), rouse(to);
}

static void swap_blocks(i32 a, i32 b, i32 c) {
  i32 middle = a + c - b;
  memcpy(L->moved, L->seq + a, (b - a) * sizeof(i32));
  memmove(L->seq + a, L->seq + b, (c - b) * sizeof(i32));
  memcpy(L->seq + middle, L->moved, (b - a) * sizeof(i32));
  touch(a, c);
  rouse(middle - 1), rouse(middle);
}

/* The last place before `before` for which the operation at `place` waits; -1 if none. */
static inline i32 last_awaited(i32 place, i32 before) {
  i32 op = L->seq[place], last = -1;
  tried += 1 + L->pred_first[op + 1] - L->pred_first[op];
  for (i32 i = L->pred_first[op]; i < L->pred_first[op + 1]; i++) {
    i32 p = L->pos[L->pred[i]];
    if (p < before) last = max(last, p);
  }
  return last;
}

/* The first place from `from` on that waits for the operation at `place`; the end if none. */
static inline i32 first_waiting(i32 place, i32 from) {
  i32 op = L->seq[place], first = L->ops;
  tried += 1 + waiting(op);
  for (i32 s = L->succ_first[op]; s < L->succ_first[op + 1]; s++) {
    i32 p = L->pos[L->succ[s]];
    if (p >= from) first = min(first, p);
  }
  return first;
}

/* Exchange [a, b) and [b, c) for the best c, if that gains. */
static int best_end(i32 a, i32 b) {
  i32 to = L->ops, last = L->seq[b - 1], first = L->seq[a], best = 0, at = 0;
  tried += ROW;
  if (last_awaited(b, b) >= a) return 0;
  for (i32 p = b - 1; p >= a && to > b; p--) to = min(to, first_waiting(p, b));
  i32 fixed = change(op_before(a), L->seq[b]) - L->setup[a] - L->setup[b];
  tried += to - b;
  for (i32 c = b + 1; c <= to; c++) {
    i32 longer = fixed + change(L->seq[c - 1], first) + change_to(last, op_at(c)) - setup_at(c);
    if (longer < best) best = longer, at = c;
  }
  return at ? swap_blocks(a, b, at), 1 : 0;
}

/* The same for the best a. */
static int best_begin(i32 b, i32 c) {
  i32 from = 0, last = L->seq[c - 1], first = L->seq[b], best = 0, at = -1;
  tried += ROW;
  if (first_waiting(b - 1, b) < c) return 0;
  for (i32 p = b; p < c && from < b; p++) from = max(from, last_awaited(p, b) + 1);
  i32 fixed = change_to(L->seq[b - 1], op_at(c)) - L->setup[b] - setup_at(c);
  tried += b - from;
  for (i32 a = from; a < b; a++) {
    i32 longer = fixed + change(last, L->seq[a]) + change(op_before(a), first) - L->setup[a];
    if (longer < best) best = longer, at = a;
  }
  return at >= 0 ? swap_blocks(at, b, c), 1 : 0;
}

/* The same for the best b; nothing before it may be awaited from it up to place `last`. */
static int best_middle(i32 a, i32 c) {
  i32 last = a, best = 0, at = 0, before = op_before(a), after = op_at(c);
  i32 fixed = change(L->seq[c - 1], L->seq[a]) - L->setup[a] - setup_at(c);
  tried += ROW;
  for (i32 b = a + 1; b < c; b++) {
    i32 op = L->seq[b - 1];
    tried += 1 + waiting(op);
    for (i32 s = L->succ_first[op]; s < L->succ_first[op + 1]; s++) {
      i32 p = L->pos[L->succ[s]];
      if (p < c) last = max(last, p);
    }
    if (last >= b) continue;
    i32 longer = fixed + change(before, L->seq[b]) + change_to(op, after) - L->setup[b];
    if (longer < best) best = longer, at = b;
  }
  return at ? swap_blocks(a, at, c), 1 : 0;
}

/* Turn round the order of [i, j) if that gains and nothing in it waits for another. */
static int turn(i32 i, i32 j) {
  i32 longer = change(op_before(i), L->seq[j - 1]) - L->setup[i] +
               change_to(L->seq[i], op_at(j)) - setup_at(j);
  for (i32 p = i; p < j; p++) {
    if (first_waiting(p, p) < j) return 0;
    if (p > i) longer += change(L->seq[p], L->seq[p - 1]) - L->setup[p];
  }
  if (longer >= 0) return 0;
  for (i32 p = i, q = j - 1; p < q; p++, q--) {
    i32 op = L->seq[p];
    L->seq[p] = L->seq[q], L->seq[q] = op;
  }
  return touch(i, j), 1;
}

/* Take a move that puts what is at place q right behind what is at p (-1: the start), if one
 * gains. */
static int join(i32 p, i32 q) {
  if (q < p) return best_middle(q, p + 1);
  if (best_end(p + 1, q) || turn(p + 1, q + 1)) return 1;
  return p >= 0 && (best_begin(p + 1, q) || turn(p, q));
}

/* Take a move that puts something cheap right behind what is at place p. */
static int improve_behind(i32 p) {
  const i32 *next = L->cheap_after + (p < 0 ? 0 : L->seq[p] + 1) * L->cheap;
  for (i32 k = 0; k < L->cheap && next[k] >= 0; k++) {
    if (change(p < 0 ? -1 : L->seq[p], next[k]) >= L->setup[p + 1]) return 0;
    if (join(p, L->pos[next[k]])) return 1;
  }
  return 0;
}

/* Take a move that makes what is at place p the last. */
static int improve_last(i32 p) {
  return L->setup[p + 1] > 0 && (best_begin(p + 1, L->ops) || turn(p, L->ops));
}

/* Take a move that puts what is at place p right behind something after which it is cheap. */
static int improve_ahead(i32 p) {
  i32 op = L->seq[p];
  const i32 *prev = L->cheap_before + op * L->cheap;
  for (i32 k = 0; k < L->cheap && prev[k] >= 0; k++) {
    if (change(prev[k], op) >= L->setup[p]) return 0;
    if (join(L->pos[prev[k]], p)) return 1;
  }
  return 0;
}

static int improve_around(i32 op) {
  i32 p = L->pos[op];
  tried += ROW;
  if (!p && improve_behind(-1)) return 1;
  if (p + 1 < L->ops && (improve_behind(p) || improve_last(p))) return 1;
  return improve_ahead(p);
}

/* Go down to an order that no move around what waits improves. */
static void go_down_arcs(void) {
  tried += DESCENT / 4;
  while (waiting_count) {
    i32 op = L->queue[--waiting_count];
    L->awake[op] = 0;
    while (improve_around(op)) continue;
  }
}

/* Go down to an order that no move improves: one may gain again by what has changed far away. */
static void go_down_arcs_wholly(void) {
  f64 before;
  do {
    before = energy_now;
    for (i32 p = 0; p < L->ops; p++) rouse(p);
    go_down_arcs();
  } while (energy_now < before);
}

/* Go on from the order if it is wanted, otherwise back to the one before. */
static void choose(int wanted) {
  i32 from = touched_from, size = (touched_to - from) * (i32)sizeof(i32);
  touched_from = L->ops;
  if (size <= 0) return;
  if (wanted) {
    memcpy(L->kept_seq + from, L->seq + from, size);
    energy_kept = energy_now;
  } else {
    memcpy(L->seq + from, L->kept_seq + from, size);
    rechange(from, touched_to, 0);
  }
  touched_to = 0;
}

#endif
