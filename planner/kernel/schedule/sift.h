/* Where a block would go well: of all places on a base that its changeovers allow, and where by the
 * order on that base nothing ends later than it may with the shop to itself, one by lot. Most of what
 * is proposed blindly is too dear; three times as many of these moves change anything. */
#ifndef SIFT_H
#define SIFT_H

#include "moved.h"

enum { EQUAL = 4 }; /* of places that change nothing, one in so many is thought of */

typedef struct {
  i32 first, last;      /* of the block */
  i32 gain;             /* changeover minutes that are spared where it leaves */
  i32 room;             /* by how many changeovers may grow in all */
  i32 work;             /* minutes that it takes */
  i32 latest;           /* working minutes by which it must end */
  i32 from, to;         /* places in the list between which it may go */
  i32 found, target, after;
  const i32 *to_first, *from_last; /* minutes to the block and from it by kind, where kinds tell them */
} Sift;

/* One more place, after which `spare` minutes are left to what ends latest there. */
static void offer(Sift *s, i32 growth, i32 spare, i32 target, int after) {
  if (growth > s->room || growth > spare || (growth == 0 && below(EQUAL))) return;
  if (below(++s->found) == 0) s->target = target, s->after = after;
}

/* By how much changeovers grow if the block goes between two neighbours on a base, the second or none. */
static inline i32 growth_between(const Sift *s, i32 before, i32 next) {
  i32 first, after = 0;
  if (s->to_first) {
    first = s->to_first[kind_after(before, base_of(s->first))];
    if (next != NONE) after = s->from_last[kind_of(next)] - S->now.change[next];
  } else {
    first = change_after(before, s->first);
    if (next != NONE) after = change_after(s->last, next) - S->now.change[next];
  }
  return first + after - s->gain;
}

/* By how many minutes changeovers may grow in all. */
static inline i32 room_left(void) {
  return (i32)fmin((energy_limit - energy_now) / S->weight[CHANGEOVER], 1 << 24);
}

/* The marked block of operations that follow each other on a base, where it stands. */
static void leave_place(Sift *s, const i32 *block, i32 count) {
  i32 before = S->prev[block[0]], after = S->next[block[count - 1]];
  *s = (Sift){.first = block[0], .last = block[count - 1], .gain = S->now.change[block[0]]};
  if (after != NONE) s->gain += S->now.change[after] - change_after(before, after);
  s->room = room_left();
}

/* What its operations need in the modes that they have now. */
static void begin_sift(Sift *s, const i32 *block, i32 count) {
  i32 base = base_of(s->first);
  s->latest = INT32_MAX, s->from = -1, s->to = S->ops;
  s->to_first = mode_of(s->first)->minutes_after, s->from_last = mode_of(s->last)->minutes_before;
  for (i32 b = 0; b < count; b++) {
    const Op *op = &S->op[block[b]];
    s->work += mode_of(block[b])->duration + (b ? S->now.change[block[b]] : 0);
    s->latest = min(s->latest, S->latest_worked[S->cand.mode[block[b]]]);
    for (i32 i = 0; i < op->preds; i++) {
      i32 other = S->pred[op->pred + i].op;
      if (base_of(other) == base && !marked(other)) s->from = max(s->from, S->cand.pos[other]);
    }
    for (i32 i = 0; i < op->succs; i++) {
      i32 other = S->succ[op->succ + i];
      if (base_of(other) == base && !marked(other)) s->to = min(s->to, S->cand.pos[other]);
    }
  }
}

/* Behind what follows the block on its base. */
static void sift_later(Sift *s) {
  int alike = 1; /* still in the run that the block ends in */
  for (i32 op = S->next[s->last]; op != NONE; op = S->next[op]) {
    i32 spare = s->latest - S->now.worked[op];
    if (S->op[op].flags & FIXED || S->cand.pos[op] >= s->to || spare < 0) return;
    alike &= S->now.change[op] == 0;
    if (!alike) offer(s, growth_between(s, op, S->next[op]), spare, op, 1);
  }
}

/* Before what precedes it there. */
static void sift_earlier(Sift *s) {
  int alike = S->now.change[s->first] == 0;
  i32 spare = INT32_MAX;
  for (i32 op = S->prev[s->first]; op < S->ops; op = S->prev[op]) {
    spare = min(spare, S->latest_worked[S->cand.mode[op]] - S->now.worked[op] - s->work);
    if (S->op[op].flags & FIXED || S->cand.pos[op] <= s->from || spare < 0) return;
    if (!alike) offer(s, growth_between(s, S->prev[op], op), spare, op, 0);
    alike &= S->now.change[op] == 0;
  }
}

/* On a base on which the block does not stand, from the last of its operations on. */
static void sift_elsewhere(Sift *s, i32 base) {
  i32 last = sentinel(base), spare = INT32_MAX;
  while (S->next[last] != NONE) last = S->next[last];
  for (i32 op = last; op < S->ops; op = S->prev[op]) {
    i32 left = min(spare, s->latest - S->now.worked[op]);
    if (S->cand.pos[op] < s->to && left >= 0)
      offer(s, growth_between(s, op, S->next[op]), left - s->gain, op, 1);
    spare = min(spare, S->latest_worked[S->cand.mode[op]] - S->now.worked[op] - s->work);
    if (S->op[op].flags & FIXED || S->cand.pos[op] <= s->from || spare < 0) return;
  }
}

#endif
