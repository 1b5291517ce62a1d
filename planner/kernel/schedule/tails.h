/* Latest minutes: how late the current plan may run from each operation on.
 *
 * `latest_free[op]` is the latest minute at which its base may become free for it and
 * `latest_ready[op]` the latest at which it may be ready, such that with the order as it is nothing
 * ends late, or later than it does now. They are computed backwards along the list like the tails of
 * a job shop (Carlier, EJOR 11, 1982), and exactly: one minute more makes something late. So a
 * candidate is judged by the times of its window alone.
 */
#ifndef TAILS_H
#define TAILS_H

#include "agenda.h"
#include "hours.h"
#include "shop.h"

static int simple;        /* the shop is, and the energy counts nothing below the changeovers */
static int tails_known;
static f64 least_late;    /* energy of the least lateness that there can be */

/* Latest minute at which the base may become free when the operation needs `change` minutes. */
static i32 free_before(i32 number, i32 change) {
  const Op *op = &S->op[number];
  const Mode *m = mode_of(number);
  i32 ready = S->latest_ready[number];
  if (m->base == NOWHERE) return ALWAYS;
  i32 next = S->next[number], free = ready - change;
  if (op->flags & FIXED) return next == NONE ? free : min(free, S->latest_free[next]);
  if (m->plain || change == 0) return free;
  return fit_before(S->crew[m->crew].calendar, free, change);
}

/* Latest minute at which the operation may be ready so that it starts and ends by the given ones, when
 * its people have the given hours. */
static i32 ready_before(const Op *op, const Mode *m, i32 calendar, i32 start, i32 end) {
  if (m->base == NOWHERE || m->plain || m->duration == 0) return min(start, end - m->duration);
  if (!m->attended) calendar = m->calendar;
  if (op->flags & MAY_PAUSE && calendar == m->calendar) {
    i32 latest = retreat(calendar, end, m->duration);
    return latest <= start ? max(latest, NEVER) : fit_before(calendar, start, 1);
  }
  if (op->flags & MAY_PAUSE) {
    i32 attended_end = retreat(m->calendar, end, m->duration - m->attended);
    i32 latest = min(start, retreat(calendar, attended_end, m->attended));
    return fit_before(calendar, latest, 1);
  }
  i32 latest = min(start, end - m->duration);
  for (;;) {
    i32 open = fit_before(m->calendar, latest, m->duration);
    latest = m->attended ? fit_before(calendar, open, m->attended) : open;
    if (latest == open) return latest;
  }
}

/* By when an operation must end so that no job ends late, or later than the given minute. */
static i32 due_by(i32 number, i32 late) {
  const Op *op = &S->op[number];
  i32 end = min(op->latest_end, ALWAYS);
  for (i32 i = 0; i < op->jobs; i++) {
    const Job *job = &S->job[S->op_job[op->job + i]];
    if (job->weight) end = min(end, max(job->due, late));
  }
  return end;
}

/* Recompute one operation's latest minutes; whether they changed. */
static int renew_tail(i32 number) {
  const Op *op = &S->op[number];
  i32 end = due_by(number, S->now.end[number]), start = ALWAYS, next = S->next[number];
  const i32 *succ = S->succ + op->succ;
  for (i32 i = 0; i < op->succs; i++) {
    const Op *after = &S->op[succ[i]];
    const Pred *pred = S->pred + after->pred;
    for (i32 j = 0; j < after->preds; j++)
      if (pred[j].op == number) {
        i32 *latest = pred[j].from_start ? &start : &end;
        *latest = min(*latest, S->latest_ready[succ[i]] - pred[j].lag);
      }
  }
  const Mode *m = mode_of(number);
  if (m->base != NOWHERE && next != NONE) end = min(end, S->latest_free[next]);
  i32 ready = op->flags & DONE ? ALWAYS
            : op->flags & FIXED ? op->fixed_start : ready_before(op, m, S->crew[m->crew].calendar, start, end);
  int changed = S->latest_ready[number] != ready;
  S->latest_ready[number] = ready;
  i32 free = free_before(number, S->now.change[number]);
  changed |= S->latest_free[number] != free;
  S->latest_free[number] = free;
  return changed;
}

/* Bring the latest minutes of the entered operations up to date, and of what depends on them. */
static void renew_tails(void) {
  for (i32 p = S->ops - 1; (p = last_to(S->agenda, p)) >= 0;) {
    strike(S->agenda, p);
    i32 op = S->now.seq[p];
    if (!renew_tail(op)) continue;
    if (base_of(op) != NOWHERE && S->prev[op] < S->ops) enter(S->now.pos[S->prev[op]]);
    const Pred *pred = S->pred + S->op[op].pred;
    for (i32 i = 0; i < S->op[op].preds; i++) enter(S->now.pos[pred[i].op]);
  }
}

#endif
