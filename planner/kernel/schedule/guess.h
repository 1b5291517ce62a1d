/* What moving a block would do to the changeovers, from the neighbours on its bases alone: exact where
 * every operation mounts all attributes of its base, for the block and what it takes along. Work that
 * follows it by ripples hardly ever saves what that costs: of 288,000 such moves that the block's own
 * base made too dear, on four weeks, 83 would have been taken. */
#ifndef GUESS_H
#define GUESS_H

#include "delays.h"
#include "lateness.h"
#include "moved.h"

/* By how much the changeovers of the base grow when its sorted operations, which are marked, go
 * between `before` and `after` on it. */
static i32 guess_growth(i32 n, i32 before, i32 after) {
  i32 sum = 0;
  while (before < S->ops && marked(before)) before = S->prev[before];
  while (after != NONE && marked(after)) after = S->next[after];
  for (i32 i = 0; i < n; i++) {
    i32 op = sorted[i], next = S->next[op], last = i ? sorted[i - 1] : before;
    if (last != S->prev[op]) sum += change_after(last, op) - S->now.change[op];
    if (next == NONE || next == after || marked(next)) continue;
    i32 left = S->prev[op];
    while (left < S->ops && marked(left)) left = S->prev[left];
    sum += change_after(left, next) - S->now.change[next];
  }
  if (after != NONE && S->prev[after] != sorted[n - 1])
    sum += change_after(sorted[n - 1], after) - S->now.change[after];
  return sum;
}

/* The same for what goes from another base's order to the front or the back of the edited places. */
static i32 guess_along(i32 n, int earlier, i32 bound) {
  i32 before = sorted[0], after = sorted[n - 1];
  if (earlier) {
    while (before < S->ops && S->cand.pos[before] >= bound) before = S->prev[before];
    return guess_growth(n, before, S->next[before]);
  }
  for (before = after; after != NONE && S->cand.pos[after] <= bound; after = S->next[after])
    before = after;
  return guess_growth(n, before, after);
}

enum { SPARED = 300 };    /* tightness that a move saves at most, or hardly ever more */

/* Energy that stays whatever comes of the work from a place on, without changeovers. What counts
 * less than they do is taken as it is. */
static f64 least_energy(i32 place) {
  const i64 *terms = S->now.terms;
  if (S->timeless) return 0;
  f64 tight = S->weight[TIGHTNESS] * (f64)terms[TIGHTNESS];
  f64 sum = S->weight[HOLDING] * (f64)terms[HOLDING] + S->weight[COMPLETION] * (f64)terms[COMPLETION];
  sum += fmax(0, tight - S->weight[TIGHTNESS] * SPARED);
  return sum + (overdue(terms) > tight ? fmax(0, overdue_before(place) - tight) : 0);
}

static int too_dear(i32 growth, f64 least) {
  return least + S->weight[CHANGEOVER] * (f64)(S->now.terms[CHANGEOVER] + growth) > energy_limit;
}

/* Whether the changeovers alone make it pointless to move the marked block next to `target`, where
 * the list is edited from the place `from` to `to`. */
static int pointless(const i32 *block, i32 count, i32 target, int after, i32 from, i32 to) {
  i32 base = base_of(block[0]);
  if (base_of(target) != base) return 0;
  int earlier = S->cand.pos[target] < S->cand.pos[block[0]];
  i32 all = take_along(block, count, earlier, earlier ? from : to), n = sort_taken(all, base);
  if (n == 0) return 0;
  f64 least = least_energy(from);
  i32 growth = guess_growth(n, after ? target : S->prev[target], after ? S->next[target] : target);
  if (too_dear(growth, least)) return 1;
  for (i32 b = 0; b < S->bases && n < all; b++) {
    i32 along = b == base ? 0 : sort_taken(all, b);
    if (along) growth += guess_along(along, earlier, earlier ? from : to);
    n += along;
  }
  if (too_dear(growth, least)) return 1;
  if (S->now.terms[LATENESS] || !too_dear(growth, least + least_late)) return 0;
  i32 before = after ? target : S->prev[target];
  return delays(sort_taken(all, base), earlier || switches > 0, before, to);
}

/* The same for an exchange of two operations of a base, the earlier first. */
static int pointless_exchange(i32 x, i32 y) {
  if (base_of(x) != base_of(y)) return 0;
  i32 before = S->prev[x], next = S->next[x], last = S->prev[y], after = S->next[y];
  i32 growth = change_after(before, y) - S->now.change[x] - S->now.change[y];
  if (next == y) growth += change_after(y, x);
  else growth += change_after(y, next) - S->now.change[next] + change_after(last, x);
  if (after != NONE) growth += change_after(x, after) - S->now.change[after];
  return too_dear(growth, least_energy(S->cand.pos[x]));
}

#endif
