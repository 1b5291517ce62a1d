/* How operations are placed, and what they then add to the terms. */
#ifndef TIMES_H
#define TIMES_H

#include "hours.h"
#include "shop.h"

typedef struct { i32 start, attended_end, end, first, second, changed; i32 calendar; } Placing;

/* Work that may pause: it begins with the first open minute. Of one calendar, working minutes tell when
 * it ends without another look for them. */
static inline void run_with_pauses(const Mode *m, i32 calendar, i32 earliest, Placing *at) {
  i32 begun = m->attended ? calendar : m->calendar;
  const Span *s = span_at(begun, earliest);
  at->start = max(earliest, s->start);
  i32 worked = s->worked + at->start - s->start;
  at->attended_end = when_worked(s, worked + m->attended);
  at->end = begun == m->calendar
                ? when_worked(s, worked + m->duration)
                : advance(m->calendar, at->attended_end, m->duration - m->attended);
}

static inline void run(const Op *op, const Mode *m, i32 calendar, i32 earliest, Placing *at) {
  if (m->duration == 0) {
    at->start = at->attended_end = at->end = earliest;
  } else if (op->flags & MAY_PAUSE) {
    run_with_pauses(m, calendar, earliest, at);
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

/* From when a crew and the base are free. */
static inline i32 crew_free(const Crew *crew, i32 base_free, const i32 *people) {
  i32 from = max(base_free, crew->free_from);
  if (crew->first >= 0) from = max(from, people[crew->first]);
  return crew->second >= 0 ? max(from, people[crew->second]) : from;
}

/* Until when its people are busy, added up. */
static inline i64 crew_busy(const Crew *crew, const i32 *people) {
  return (crew->first >= 0 ? people[crew->first] : 0) + (i64)(crew->second >= 0 ? people[crew->second] : 0);
}

static inline i32 change_end(i32 calendar, i32 from, i32 change) {
  return change ? fit(calendar, from, change) + change : from;
}

/* By the only crew that there is. */
static inline void place_crew(const Op *op, const Mode *m, const Crew *crew, i32 change, i32 ready,
                              i32 base_free, const i32 *people, Placing *at) {
  at->calendar = crew->calendar, at->first = crew->first, at->second = crew->second;
  at->changed = change_end(at->calendar, crew_free(crew, base_free, people), change);
  run(op, m, at->calendar, max(at->changed, ready), at);
}

/* Earliest completion over all crews; on a tie the people who have been idle the shortest. Of crews
 * with the same hours the one that is free first ends first, and those tie with it who are ready when
 * it starts. */
static inline void place(const Op *op, const Mode *m, i32 change, i32 ready, const i32 *free,
                         Placing *best) {
  const i32 *people = free + S->bases;
  i32 base_free = max(free[m->base], m->free_from);
  const Crew nobody = {NOBODY, NOBODY, m->calendar, 0}, *crew = S->crew + m->crew;
  const Crew *last = crew + m->crews;
  if (change == 0 && m->attended == 0) crew = &nobody, last = crew + 1;
  if (last - crew == 1) return place_crew(op, m, crew, change, ready, base_free, people, best);
  i64 most_busy = 0;
  best->end = INT32_MAX;
  while (crew < last) {
    Placing at = {.calendar = crew->calendar};
    const Crew *first = crew, *chosen = NULL;
    i32 from = INT32_MAX;
    for (; crew < last && crew->calendar == at.calendar; crew++)
      from = min(from, crew_free(crew, base_free, people));
    i32 first_changed = change_end(at.calendar, from, change);
    run(op, m, at.calendar, max(first_changed, ready), &at);
    if (at.end > best->end) continue;
    if (at.end < best->end) most_busy = -1;
    for (const Crew *c = first; c < crew; c++) {
      i32 own = crew_free(c, base_free, people);
      if (own + change > at.start) continue;
      i64 busy = crew_busy(c, people);
      if (busy <= most_busy) continue;
      i32 changed = own == from ? first_changed : change_end(at.calendar, own, change);
      if (changed > at.start) continue;
      at.changed = changed, most_busy = busy, chosen = c;
    }
    if (!chosen) continue;
    at.first = chosen->first, at.second = chosen->second;
    *best = at;
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

static inline void count_fixed(const Op *op, const Mode *m, i32 change, i32 ready, const i32 *free,
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

static inline void count(const Op *op, i32 mode, i32 change, const Placing *at, i64 *terms) {
  const Mode *m = &S->mode[mode];
  if (!(op->flags & DONE)) terms[VIOLATION] += max(0, at->end - op->latest_end);
  if (m->base != NOWHERE && has_overtime(at->calendar)) {
    terms[OVERTIME] += price(at->calendar, at->changed - change, at->changed) +
                       price(at->calendar, at->start, at->attended_end);
  }
  if (m->base != NOWHERE && has_overtime(m->calendar))
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
