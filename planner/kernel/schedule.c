/* Annealing over one list of operations.
 *
 * The list is decoded by the rules of planner/schedule/decoder.py: operations are placed one by
 * one at the end of what their base and people do so far. A move edits a window of the list and
 * carries predecessors or successors along, so that every list respects precedence. A candidate is
 * judged in two passes:
 *   1. the mounted states alone, which gives its changeover minutes exactly and rejects most;
 *   2. the times from the last snapshot before the window on, which end as soon as the candidate is
 *      known to be too bad or good enough, or the shop is in the same state as in the current plan.
 *
 * The host fills one Shop (all fields 4 bytes) and owns all memory. Times are minutes.
 */
#include "schedule/dispatch.h"
#include "schedule/edit.h"
#include "schedule/hours.h"
#include "schedule/mount.h"
#include "schedule/moves.h"
#include "schedule/shop.h"
#include "schedule/tails.h"
#include "schedule/times.h"

/* ---- taking a candidate, or not ----------------------------------------------------------- */

static void take_list(void) {
  for (i32 p = low; p <= high; p++) {
    S->now.seq[p] = S->cand.seq[p];
    S->now.pos[S->cand.seq[p]] = p;
  }
  if (changed_op != NONE) S->now.mode[changed_op] = S->cand.mode[changed_op];
}

static void take_snapshots(i32 from) {
  i32 width = S->bases + S->people, k = from;
  i64 shift[TERMS], any = 0;
  for (; k * S->stride < retimed; k++) {
    memcpy(S->now.terms_at + k * TERMS, S->cand.terms_at + k * TERMS, TERMS * sizeof(i64));
    memcpy(S->now.free_at + k * width, S->cand.free_at + k * width, width * sizeof(i32));
  }
  for (i32 t = 0; t < TERMS; t++) any |= shift[t] = S->cand.terms[t] - S->now.terms[t];
  for (; any && k * S->stride < S->ops; k++)
    for (i32 t = 0; t < TERMS; t++) S->now.terms_at[k * TERMS + t] += shift[t];
}

static int is_late(i32 number, i32 end) {
  const Op *op = &S->op[number];
  for (i32 i = 0; i < op->jobs; i++)
    if (end > S->job[S->op_job[op->job + i]].due) return 1;
  return 0;
}

/* Take the times; marks what is or was late and tells the last place of such, or NONE. */
static i32 take_times(i32 from) {
  i32 last = NONE;
  for (i32 p = from * S->stride; p < retimed; p++) {
    i32 op = S->now.seq[p], end = S->cand.end[op];
    if (S->op[op].jobs && end != S->now.end[op] && is_late(op, max(end, S->now.end[op])))
      mark(op), last = p;
    S->now.start[op] = S->cand.start[op];
    S->now.end[op] = end;
  }
  return last;
}

static void take(void) {
  i32 from = low / S->stride, last = NONE;
  take_list();
  stamp++;
  take_mounted();
  if (!S->timeless) {
    take_snapshots(from);
    last = take_times(from);
  }
  memcpy(S->now.terms, S->cand.terms, TERMS * sizeof(i64));
  if (!simple) return;
  find_calm();
  if (S->now.terms[VIOLATION]) {
    tails_known = 0;
  } else if (tails_known) {
    for (i32 i = 0; i < touches; i++) mark(S->touched[i]);
    renew_tails(low, high, relinked, max(last, remounted - 1));
  } else {
    renew_tails(0, S->ops - 1, 0, NONE);
    tails_known = 1;
  }
}

static void leave(void) {
  for (i32 p = low; p <= high; p++) {
    S->cand.seq[p] = S->now.seq[p];
    S->cand.pos[S->now.seq[p]] = p;
  }
  if (changed_op != NONE) S->cand.mode[changed_op] = S->now.mode[changed_op];
  unmount();
}

static void keep_best(void) {
  if (!better(S->now.terms, S->best_terms)) return;
  improved++;
  memcpy(S->best_terms, S->now.terms, TERMS * sizeof(i64));
  memcpy(S->best_seq, S->now.seq, S->ops * sizeof(i32));
  memcpy(S->best_mode, S->now.mode, S->ops * sizeof(i32));
}

/* Terms of the edited window into cand.terms; 0 if its energy is above `limit`. */
static int evaluate(f64 limit) {
  i64 changes = mount_pass();
  if (S->timeless) {
    memcpy(S->cand.terms, S->now.terms, TERMS * sizeof(i64));
    S->cand.terms[CHANGEOVER] = changes;
    return energy_of(S->cand.terms) <= limit;
  }
  i64 least[TERMS];
  memcpy(least, S->now.terms_at + low / S->stride * TERMS, sizeof least);
  least[CHANGEOVER] = changes;
  if (energy_of(least) > limit) return 0;
  return time_pass(changes, limit) && energy_of(S->cand.terms) <= limit;
}

/* Judge the edited window; take it if its energy is at most `limit`. */
static int judge(f64 limit) {
  if (!evaluate(limit)) return leave(), 0;
  take();
  energy_now = energy_of(S->cand.terms);
  return 1;
}

/* ---- what the host calls ------------------------------------------------------------------ */

EXPORT(load) void load(Shop *shop) { S = shop; }

static void find_least_late(void) {
  i32 weight = 0;
  for (i32 i = 0; i < S->jobs; i++)
    if (S->job[i].weight && (!weight || S->job[i].weight < weight)) weight = S->job[i].weight;
  least_late = S->weight[VIOLATION];
  if (weight && weight * S->weight[LATENESS] < least_late) least_late = weight * S->weight[LATENESS];
}

/* Links and mounted states of the list in now.seq. */
static void mount_all(void) {
  i32 slots = S->slots;
  S->now.terms[CHANGEOVER] = 0;
  for (i32 b = 0; b < S->bases; b++) S->last[b] = sentinel(b), S->next[sentinel(b)] = NONE;
  for (i32 p = 0; p < S->ops; p++) {
    if (p % S->stride == 0)
      memcpy(S->last_at + p / S->stride * S->bases, S->last, S->bases * sizeof(i32));
    i32 op = S->now.seq[p], base = base_of(op), before = base == NOWHERE ? NONE : S->last[base];
    S->next[op] = NONE;
    S->now.change[op] = S->cand.change[op] = 0;
    if (base == NOWHERE) continue;
    S->prev[op] = before, S->next[before] = op, S->last[base] = op;
    i32 change = changeover(mode_of(op), S->now.mounted + before * slots, S->now.mounted + op * slots);
    S->now.change[op] = S->cand.change[op] = change;
    S->now.terms[CHANGEOVER] += change;
  }
}

/* Begin from the list in now.seq and the modes in now.mode; its terms are then in now.terms. */
EXPORT(restart) void restart(u64 seed) {
  i32 width = S->bases + S->people;
  random_state = seed;
  accepted = improved = 0;
  recount = calm = 0;
  memset(S->now.free_at, 0, width * sizeof(i32));
  memset(S->now.terms_at, 0, TERMS * sizeof(i64));
  memset(S->now.terms, 0, TERMS * sizeof(i64));
  for (i32 p = 0; p < S->ops; p++) {
    i32 op = S->now.seq[p];
    set(p, op);
    S->now.pos[op] = p;
    S->cand.mode[op] = S->now.mode[op];
  }
  find_least_late();
  simple = S->simple && !S->timeless && !(S->weight[HOLDING] + S->weight[COMPLETION] +
                                          S->weight[TIGHTNESS] > 0);
  tails_known = 0;
  low = 0, high = S->ops - 1, changed_op = NONE;
  mount_all();
  mount_pass();
  time_pass(S->now.terms[CHANGEOVER], INFINITY);
  take();
  energy_now = energy_of(S->now.terms);
}

/* Forget the best; the current plan becomes it. */
EXPORT(forget) void forget(void) {
  memcpy(S->best_terms, S->now.terms, TERMS * sizeof(i64));
  memcpy(S->best_seq, S->now.seq, S->ops * sizeof(i32));
  memcpy(S->best_mode, S->now.mode, S->ops * sizeof(i32));
}

/* `iterations` moves while the temperature falls geometrically from `hot` to `cold`; `merges` of
 * 100 moves put an operation beside one that mounts the same. */
EXPORT(anneal) i64 anneal(i32 iterations, f64 hot, f64 cold, i32 merges) {
  f64 temperature = hot, cooling = pow(cold / hot, 64.0 / iterations);
  energy_now = energy_of(S->now.terms);
  for (i32 i = 0; i < iterations; i++) {
    if (i % 64 == 63) temperature *= cooling;
    if (!propose(merges)) continue;
    if (judge(energy_now - temperature * log(unit()))) {
      accepted++;
      keep_best();
    }
  }
  return accepted;
}

