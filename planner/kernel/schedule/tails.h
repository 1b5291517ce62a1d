/* Latest minutes: how late the current plan may run from each operation on.
 *
 * `latest_free[op]` is the latest minute at which its base may become free for it and
 * `latest_ready[op]` the latest at which it may be ready, such that with the order as it is nothing
 * ends late, or later than it does now. They are computed backwards along the list like the tails of
 * a job shop (Carlier, EJOR 11, 1982), and exactly: one minute more makes something late. So the
 * times of a candidate need no decoding after its window.
 */
#ifndef TAILS_H
#define TAILS_H

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

/* Latest minute at which the operation may be ready so that it starts and ends by the given ones. */
static i32 ready_before(const Op *op, const Mode *m, i32 start, i32 end) {
  if (m->base == NOWHERE || m->plain || m->duration == 0) return min(start, end - m->duration);
  i32 calendar = m->attended ? S->crew[m->crew].calendar : m->calendar;
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

/* Recompute one operation's latest minutes; whether they changed. */
static int renew_tail(i32 number) {
  const Op *op = &S->op[number];
  i32 end = min(op->latest_end, ALWAYS), start = ALWAYS, next = S->next[number];
  for (i32 i = 0; i < op->jobs; i++) {
    const Job *job = &S->job[S->op_job[op->job + i]];
    if (job->weight) end = min(end, max(job->due, S->now.end[number]));
  }
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
            : op->flags & FIXED ? op->fixed_start : ready_before(op, m, start, end);
  int changed = S->latest_ready[number] != ready;
  S->latest_ready[number] = ready;
  i32 free = free_before(number, S->now.change[number]);
  changed |= S->latest_free[number] != free;
  S->latest_free[number] = free;
  return changed;
}

/* Bring the latest minutes up to date: those of the places from `from` to `to` of the list, those of
 * the marked operations from place `reach` up to `last`, and of what depends on them. */
static void renew_tails(i32 from, i32 to, i32 reach, i32 last) {
  for (i32 p = max(to, last); p >= reach; p--) {
    i32 op = S->now.seq[p];
    if ((p > to || p < from) && !marked(op)) continue;
    if (!renew_tail(op)) continue;
    i32 before = base_of(op) == NOWHERE ? S->ops : S->prev[op];
    if (before < S->ops) mark(before), reach = min(reach, S->now.pos[before]);
    const Pred *pred = S->pred + S->op[op].pred;
    for (i32 i = 0; i < S->op[op].preds; i++) {
      mark(pred[i].op);
      reach = min(reach, S->now.pos[pred[i].op]);
    }
  }
}

/* Whether this operation's times delay none of its successors from place `from` on beyond what
 * changes no lateness. */
static int delays_none(i32 number, i32 from) {
  const Op *op = &S->op[number];
  const i32 *succ = S->succ + op->succ;
  for (i32 i = 0; i < op->succs; i++) {
    if (S->cand.pos[succ[i]] < from) continue;
    const Op *after = &S->op[succ[i]];
    const Pred *pred = S->pred + after->pred;
    for (i32 j = 0; j < after->preds; j++) {
      if (pred[j].op != number) continue;
      const i32 *done = pred[j].from_start ? S->cand.start : S->cand.end;
      if (done[number] + pred[j].lag > S->latest_ready[succ[i]]) return 0;
    }
  }
  return 1;
}

/* Whether the bases become free from place `from` on early enough to change no lateness; -1 if more
 * than one operation of a base is still touched there. */
static int frees_in_time(i32 from, const i32 *free) {
  for (i32 b = 0; b < S->bases; b++) {
    i32 op = S->follow[b], settled = S->settled[b], touched = op != settled;
    for (; op != NONE && S->now.pos[op] < from; op = S->next[op]) touched &= S->next[op] != settled;
    if (op == NONE) continue;
    if (touched && S->next[op] != settled) return -1;
    i32 latest = touched ? free_before(op, S->cand.change[op]) : S->latest_free[op];
    if (free[b] > latest) return 0;
  }
  return 1;
}

#endif
