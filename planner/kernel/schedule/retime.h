/* Pass 2: times follow from the neighbours on each base, the predecessors and the people who are
 * free. So only what the edit touched is timed again, and what follows from that, in the order of
 * the list, until the candidate is known to be too bad or everything is in step. */
#ifndef RETIME_H
#define RETIME_H

#include "agenda.h"
#include "delays.h"
#include "lateness.h"
#include "mount.h"
#include "people.h"
#include "tails.h"
#include "times.h"

static i32 eased;         /* the first place of work that may become earlier, or the number of operations */
static i64 rest[TERMS];   /* what all that is not timed again counts now */
static f64 may_save;      /* the most that they may save by being less late or tight */
static int calm;          /* nothing is late, tight or in violation now: nothing can become less so */

static inline void wake(i32 op, int earlier) {
  i32 place = S->cand.pos[op];
  enter(place);
  if (earlier && !calm) add(S->easing, place), eased = min(eased, place);
}

static void wake_followers(i32 number, i32 base) {
  const Plan *now = &S->now, *cand = &S->cand;
  if (cand->end[number] != now->end[number] || cand->start[number] != now->start[number]) {
    int earlier = cand->end[number] < now->end[number] || cand->start[number] < now->start[number];
    const i32 *succ = S->succ + S->op[number].succ;
    for (i32 i = 0; i < S->op[number].succs; i++) wake(succ[i], earlier);
  }
  i32 next = base == NOWHERE ? NONE : S->new_next[number];
  if (next != NONE && cand->freed[number] != now->freed[number])
    wake(next, cand->freed[number] < now->freed[number]);
}

/* Time the operation again; whether it counts anything by which the candidate may become too bad. */
static int retime(i32 number) {
  i32 base = base_of(number);
  i64 counts[TERMS] = {0}, *counted = S->cand.counted + number * TERMS, *terms = S->cand.terms;
  const i64 *was = S->now.counted + number * TERMS;
  if (base != NOWHERE) S->free_now[base] = S->cand.freed[S->new_prev[number]];
  note_seen(number);
  Placing at = place_next(number, S->cand.change[number], S->free_now, counts);
  note_hands(number, &at);
  if (base != NOWHERE) S->cand.freed[number] = S->free_now[base];
  for (i32 t = 0; t < TERMS; t++) {
    counted[t] = counts[t];
    terms[t] += counts[t] - was[t];
    rest[t] -= was[t];
  }
  S->again[agains++] = number;
  wake_followers(number, base);
  return (counts[LATENESS] != was[LATENESS]) | (counts[TIGHTNESS] != was[TIGHTNESS]) |
         ((counts[VIOLATION] | counts[OVERTIME] | counts[DISTURBANCE]) != 0);
}

/* Nothing before the first place of what may become earlier can become less late or tight. */
static void bound_saving(void) {
  f64 now = overdue(S->now.terms);
  if (now == 0 || eased == S->ops) may_save = 0;
  else may_save = eased > high ? now - overdue_before(eased) : overdue(rest) - overdue_before(low);
}

/* Time the operation at a place again; whether the candidate may have become too bad by it. Where people
 * are needed, whatever follows may become earlier: somebody else may do it. */
static int retime_at(i32 place) {
  i32 was = eased;
  strike(S->agenda, place);
  int worse = retime(S->cand.seq[place]);
  if (calm) return worse;
  strike(S->easing, place);
  if (S->people) eased = place + 1;
  else if (eased == place) eased = first_from(S->easing, place);
  if (eased != was || eased <= high) bound_saving();
  return 1;
}

/* Whether the energy stays above the limit whatever comes of the rest. What counts less than
 * changeovers is taken as it is. */
static int too_bad(f64 limit) {
  const i64 *terms = S->cand.terms;
  f64 sum = S->weight[CHANGEOVER] * (f64)terms[CHANGEOVER];
  sum += overdue(terms) - may_save;
  sum += S->weight[VIOLATION] * (f64)(terms[VIOLATION] - (eased < S->ops ? rest[VIOLATION] : 0));
  sum += S->weight[OVERTIME] * (f64)(terms[OVERTIME] - rest[OVERTIME]);
  sum += S->weight[DISTURBANCE] * (f64)(terms[DISTURBANCE] - rest[DISTURBANCE]);
  sum += S->weight[HOLDING] * (f64)S->now.terms[HOLDING];
  return sum + S->weight[COMPLETION] * (f64)S->now.terms[COMPLETION] > limit;
}

/* Begin with the terms of the current plan, with other changeovers in all. */
static void begin_retiming(i64 changes) {
  memcpy(S->cand.terms, S->now.terms, TERMS * sizeof(i64));
  memcpy(rest, S->now.terms, sizeof rest);
  S->cand.terms[CHANGEOVER] = changes;
  calm = overdue(S->now.terms) == 0 && S->now.terms[VIOLATION] == 0;
  agains = 0;
}

enum { UNSURE, GOOD, BAD };

/* What the latest minutes tell where everything before this place has been timed again, and from
 * there on only times differ. */
static int foresee(i32 place, f64 limit) {
  int delayed = 0;
  for (i32 p = place; !delayed && (p = first_from(S->agenda, p)) < S->ops; p++) {
    i32 op = S->cand.seq[p];
    delayed = ready_at(&S->op[op]) > S->latest_ready[op] ||
              (base_of(op) != NOWHERE && S->cand.freed[S->new_prev[op]] > S->latest_free[op]);
  }
  f64 late = overdue(S->now.terms), energy = energy_of(S->cand.terms);
  int only_later = eased == S->ops || late == 0 || late == overdue_before(place);
  if (!delayed && energy <= limit) return GOOD;
  if (delayed) energy += least_late;
  return only_later && energy > limit ? BAD : UNSURE;
}

/* Times of what differs in the candidate; 0 if its energy is above `limit`. */
static int retime_pass(f64 limit) {
  int foreseen = !(simple && tails_known);
  i32 edge = foreseen ? S->ops : max(max(high + 1, remounted), calm_from());
  eased = S->ops;
  for (i32 i = 0; i < touches; i++) wake(S->touched[i], 1);
  if (S->people) begin_people();
  bound_saving();
  for (i32 p = next_place(low); p < S->ops; p = next_place(p + 1)) {
    i32 op = S->cand.seq[p];
    if (astray && !has(S->agenda, p) && !concerned(op)) {
      pass(op);
      continue;
    }
    if (p >= edge && !foreseen) {
      int verdict = foresee(p, limit);
      if (verdict == BAD) return 0;
      if (verdict == GOOD) limit = INFINITY;
      foreseen = 1;
    }
    if (retime_at(p) && too_bad(limit)) return 0;
  }
  return energy_of(S->cand.terms) <= limit;
}

/* Forget the candidate's times. */
static void untime(void) {
  empty(S->agenda);
  empty(S->easing);
  for (i32 i = 0; i < agains; i++) {
    i32 op = S->again[i];
    S->cand.start[op] = S->now.start[op];
    S->cand.end[op] = S->now.end[op];
    S->cand.freed[op] = S->now.freed[op];
  }
  agains = 0;
}

/* Count what the candidate edits or times again in or out of the tree. */
static void tally(f64 sign) {
  if (overdue(S->now.terms) == 0 && overdue(S->cand.terms) == 0) return;
  for (i32 p = low; p <= high; p++)
    add_overdue(p, sign * overdue(S->now.counted + S->now.seq[p] * TERMS));
  for (i32 i = 0; i < agains; i++) {
    i32 op = S->again[i], p = S->now.pos[op];
    if (p > high) add_overdue(p, sign * overdue(S->now.counted + op * TERMS));
  }
}

/* Make the times part of the current plan. */
static void take_times(void) {
  for (i32 i = 0; i < agains; i++) {
    i32 op = S->again[i];
    S->now.start[op] = S->cand.start[op];
    S->now.end[op] = S->cand.end[op];
    if (switches || S->now.freed[op] != S->cand.freed[op]) {
      S->now.freed[op] = S->cand.freed[op];
      note_worked(op);
    }
    memcpy(S->now.counted + op * TERMS, S->cand.counted + op * TERMS, TERMS * sizeof(i64));
  }
  take_people();
}

/* Bring the latest minutes up to date after the candidate was taken, but for its times: they depend
 * on changeovers, on what follows, and on how late the work is. */
static int is_late(i32 number, i32 end) {
  const Op *op = &S->op[number];
  for (i32 i = 0; i < op->jobs; i++)
    if (end > S->job[S->op_job[op->job + i]].due) return 1;
  return 0;
}

static void enter_tails(void) {
  for (i32 i = 0; i < touches; i++) enter(S->now.pos[S->touched[i]]);
  for (i32 i = 0; i < relinks; i++)
    if (S->relinked[i] < S->ops) enter(S->now.pos[S->relinked[i]]);
  for (i32 i = 0; i < agains; i++) {
    i32 op = S->again[i], end = S->cand.end[op];
    if (S->op[op].jobs && end != S->now.end[op] && is_late(op, max(end, S->now.end[op])))
      enter(S->now.pos[op]);
  }
}

#endif
