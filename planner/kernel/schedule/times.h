/* How operations are placed, and what they then add to the terms. */
#ifndef TIMES_H
#define TIMES_H

#include "hours.h"
#include "shop.h"

typedef struct { i32 start, attended_end, end, first, second, changed; i32 calendar; } Placing;

static inline void run(const Op *op, const Mode *m, i32 calendar, i32 earliest, Placing *at) {
  if (m->duration == 0) {
    at->start = at->attended_end = at->end = earliest;
  } else if (op->flags & MAY_PAUSE) {
    at->start = fit(m->attended ? calendar : m->calendar, earliest, 1);
    at->attended_end = advance(calendar, at->start, m->attended);
    at->end = advance(m->calendar, at->attended_end, m->duration - m->attended);
  } else {
    for (;;) {
      i32 start = m->attended ? fit(calendar, earliest, m->attended) : earliest;
      earliest = fit(m->calendar, start, m->duration);
      if (earliest == start) break;
    }
    at->start = earliest;
    at->attended_end = earliest + m->attended;
    at->end = earliest + m->duration;
  }
}

/* Earliest completion over all crews; on a tie the people who have been idle the shortest. */
static inline void place(const Op *op, const Mode *m, i32 change, i32 ready, const i32 *free,
                         Placing *best) {
  const i32 *people = free + S->bases;
  i32 base_free = max(free[m->base], m->free_from);
  static const Crew nobody = {NOBODY, NOBODY, 0, 0};
  const Crew *crew = S->crew + m->crew;
  i32 crews = m->crews, alone = change == 0 && m->attended == 0;
  if (alone) crew = &nobody, crews = 1;
  i64 best_key = INT64_MAX;
  for (i32 c = 0; c < crews; c++) {
    Placing at = {.first = crew[c].first, .second = crew[c].second};
    at.calendar = alone ? m->calendar : crew[c].calendar;
    i32 from = max(base_free, crew[c].free_from), idle = 0;
    if (at.first >= 0) from = max(from, people[at.first]), idle -= people[at.first];
    if (at.second >= 0) from = max(from, people[at.second]), idle -= people[at.second];
    at.changed = change ? fit(at.calendar, from, change) + change : from;
    run(op, m, at.calendar, max(at.changed, ready), &at);
    i64 key = ((i64)at.end << 32) + idle;
    if (key < best_key) best_key = key, *best = at;
  }
}

static inline void place_plain(const Mode *m, i32 change, i32 ready, const i32 *free, Placing *at) {
  at->calendar = m->calendar;
  at->changed = max(free[m->base], m->free_from) + change;
  at->start = max(at->changed, ready);
  at->end = at->attended_end = at->start + m->duration;
}

static inline i32 ready_at(const Op *op) {
  i32 ready = max(op->release, 0);
  const Pred *pred = S->pred + op->pred;
  for (i32 i = 0; i < op->preds; i++) {
    const i32 *before = pred[i].from_start ? S->cand.start : S->cand.end;
    ready = max(ready, before[pred[i].op] + pred[i].lag);
  }
  return ready;
}

static void count_fixed(const Op *op, const Mode *m, i32 change, i32 ready, const i32 *free,
                        Placing *at, i64 *terms) {
  const i32 *people = free + S->bases;
  i32 busy = free[m->base];
  at->first = op->fixed_first, at->second = op->fixed_second, at->calendar = m->calendar;
  if (at->first >= 0) busy = max(busy, people[at->first]);
  if (at->second >= 0) busy = max(busy, people[at->second]);
  at->start = at->changed = op->fixed_start;
  at->end = at->attended_end = op->fixed_end;
  terms[VIOLATION] += max(0, busy + change - at->start) + max(0, ready - at->start);
}

static void count(const Op *op, i32 mode, i32 change, const Placing *at, i64 *terms) {
  const Mode *m = &S->mode[mode];
  if (!(op->flags & DONE)) terms[VIOLATION] += max(0, at->end - op->latest_end);
  if (m->base != NOWHERE && S->calendar[at->calendar].priced_end) {
    terms[OVERTIME] += price(at->calendar, at->changed - change, at->changed) +
                       price(at->calendar, at->start, at->attended_end);
  }
  if (m->base != NOWHERE && S->calendar[m->calendar].priced_end)
    terms[OVERTIME] += price(m->calendar, at->attended_end, at->end);
  if (op->flags & ISSUED) {
    i32 shift = at->start - op->issued_start;
    if (shift < 0) shift = -shift;
    terms[DISTURBANCE] += (shift || mode != op->issued_mode ? op->issued_charge : 0) + shift / 60;
  }
  const Pred *pred = S->pred + op->pred;
  for (i32 i = 0; i < op->preds; i++)
    if (pred[i].holding)
      terms[HOLDING] += (i64)pred[i].holding * max(0, at->start - S->cand.end[pred[i].op]);
  for (i32 i = 0; i < op->jobs; i++) {
    const Job *job = &S->job[S->op_job[op->job + i]];
    terms[LATENESS] += (i64)job->weight * max(0, at->end - job->due);
    terms[COMPLETION] += max(0, at->end);
    i64 spent = min(at->end - job->aim, job->spare), spare = job->spare;
    if (spent > 0) terms[TIGHTNESS] += job->weight * (100 * spent * spent / (spare * spare));
  }
}

static inline void occupy(const Mode *m, const Placing *at, i32 *free) {
  i32 *people = free + S->bases;
  free[m->base] = max(free[m->base], at->end);
  if (at->first >= 0) people[at->first] = max(people[at->first], at->attended_end);
  if (at->second >= 0) people[at->second] = max(people[at->second], at->attended_end);
}

static inline Placing place_next(i32 number, i32 change, i32 *free, i64 *terms) {
  const Op *op = &S->op[number];
  i32 mode = S->cand.mode[number];
  const Mode *m = &S->mode[mode];
  Placing at = {.first = NOBODY, .second = NOBODY};
  i32 ready = ready_at(op);
  if (op->flags & DONE) {
    at.start = op->fixed_start, at.end = op->fixed_end;
  } else if (m->base == NOWHERE) {
    at.start = ready, at.end = ready + m->duration;
  } else {
    if (op->flags & FIXED) count_fixed(op, m, change, ready, free, &at, terms);
    else if (m->plain) place_plain(m, change, ready, free, &at);
    else place(op, m, change, ready, free, &at);
    occupy(m, &at, free);
  }
  S->cand.start[number] = at.start;
  S->cand.end[number] = at.end;
  count(op, mode, change, &at, terms);
  return at;
}

#endif
