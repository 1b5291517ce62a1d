/* People: who does each operation, and when everybody was free before it.
 *
 * An operation of a candidate is placed as in the current plan unless its base, its predecessors or
 * somebody who may do it are free at other minutes. So after an operation that is done by others, or
 * until another minute, the list is walked; what comes next is placed again where somebody who may
 * do it is free at another minute than in the current plan. As soon as everybody is free when they
 * were before an operation that has kept its order among the others, nobody is astray any more.
 */
#ifndef PEOPLE_H
#define PEOPLE_H

#include "agenda.h"
#include "edit.h"
#include "shop.h"
#include "times.h"

static int astray;        /* somebody may be free at another minute than in the current plan */
static i32 passes;        /* operations passed by while somebody is */
static i32 agains;        /* operations timed again */

static inline i32 *free_people(void) { return S->free_now + S->bases; }

/* Minutes of all people, one by one: there are few. */
static inline void copy_people(i32 *to, const i32 *from) {
#pragma clang loop vectorize(disable)
  for (i32 i = 0; i < S->people; i++) to[i] = from[i];
}

/* The people of an operation are busy until they have done it. */
static inline void keep_busy(const Hands *hands) {
  i32 *free = free_people();
  if (hands->first >= 0) free[hands->first] = max(free[hands->first], hands->until);
  if (hands->second >= 0) free[hands->second] = max(free[hands->second], hands->until);
}

/* When people are free at a place before which the operation has kept its place and people. */
static void find_people(i32 place) {
  if (place == 0) {
    memset(free_people(), 0, S->people * sizeof(i32));
    return;
  }
  i32 before = S->cand.seq[place - 1];
  copy_people(free_people(), S->now.seen + before * S->people);
  keep_busy(S->now.hands + before);
}

static inline int sees_the_same(i32 op) {
  return same(free_people(), S->now.seen + op * S->people, S->people);
}

/* Whether anybody who may do the operation is free at another minute. */
static inline int concerned(i32 op) {
  const Mode *m = mode_of(op);
  const i32 *free = free_people(), *was = S->now.seen + op * S->people;
  const Crew *crew = S->crew + m->crew;
  if (m->base == NOWHERE) return 0;
  for (i32 c = 0; c < m->crews; c++) {
    i32 first = crew[c].first, second = crew[c].second;
    if (first >= 0 && free[first] != was[first]) return 1;
    if (second >= 0 && free[second] != was[second]) return 1;
  }
  return 0;
}

/* Before an operation is placed: when people are free, and whether they are astray. */
static inline void note_seen(i32 op) {
  if (!S->people) return;
  astray = S->is_shifted[op] || !sees_the_same(op);
  copy_people(S->cand.seen + op * S->people, free_people());
}

/* Who does it, and until when. */
static inline void note_hands(i32 op, const Placing *at) {
  if (!S->people) return;
  S->cand.hands[op] = (Hands){at->first, at->second, at->attended_end};
  astray |= !same((i32 *)(S->cand.hands + op), (i32 *)(S->now.hands + op), 3);
}

/* Go past an operation that stays as it is. */
static inline void pass(i32 op) {
  note_seen(op);
  if (astray) S->passed[passes++] = op;
  keep_busy(S->now.hands + op);
}

/* The next place to look at, from this one on; the number of operations if there is none. */
static inline i32 next_place(i32 place) {
  if (astray) return place;
  i32 next = first_from(S->agenda, place);
  if (S->people && next != place && next < S->ops) find_people(next);
  return next;
}

/* Begin at the edited window; what the edit has moved, and what followed it, is looked at. */
static void begin_people(void) {
  astray = 0;
  passes = 0;
  find_people(low);
  for (i32 i = 0; i < shifts; i++) {
    i32 op = S->shifted[i], after = S->now.pos[op] + 1;
    enter(S->cand.pos[op]);
    if (after < S->ops && !S->is_shifted[S->now.seq[after]])
      enter(S->cand.pos[S->now.seq[after]]);
  }
}

static inline void take_seen(i32 op) {
  copy_people(S->now.seen + op * S->people, S->cand.seen + op * S->people);
}

/* Make what was noted part of the current plan. */
static void take_people(void) {
  if (!S->people) return;
  for (i32 i = 0; i < agains; i++) {
    take_seen(S->again[i]);
    S->now.hands[S->again[i]] = S->cand.hands[S->again[i]];
  }
  for (i32 i = 0; i < passes; i++) take_seen(S->passed[i]);
}

#endif
