/* Annealing over one list of operations.
 *
 * The list is decoded by the rules of planner/schedule/decoder.py: operations are placed one by
 * one at the end of what their base and people do so far. A move edits a window of the list and
 * carries predecessors or successors along, so that every list respects precedence. A candidate is
 * judged in two passes:
 *   1. the mounted states alone, which gives its changeover minutes exactly and rejects most;
 *   2. the times of what differs, until the candidate is known to be too bad, or everything is in
 *      step with the current plan.
 *
 * The host fills one Shop (all fields 4 bytes) and owns all memory. Times are minutes.
 */
#include "schedule/dispatch.h"
#include "schedule/edit.h"
#include "schedule/hours.h"
#include "schedule/mount.h"
#include "schedule/moves.h"
#include "schedule/retime.h"
#include "schedule/shop.h"
#include "schedule/straight.h"
#include "schedule/tails.h"
#include "schedule/times.h"

/* ---- taking a candidate, or not ----------------------------------------------------------- */

static void take_list(void) {
  for (i32 p = low; p <= high; p++) {
    S->now.seq[p] = S->cand.seq[p];
    S->now.pos[S->cand.seq[p]] = p;
  }
  for (i32 i = 0; i < switches; i++) S->now.mode[switched[i]] = S->cand.mode[switched[i]];
}

static void take_retimed(void) {
  int punctual = S->cand.terms[VIOLATION] == 0;
  take_times();
  tally(1);
  if (simple && !tails_known && punctual)
    for (i32 p = 0; p < S->ops; p++) enter(p);
  tails_known = simple && punctual;
  renew_tails();
}

static void take(void) {
  tally(-1);
  take_list();
  take_mounted();
  if (tails_known && S->cand.terms[VIOLATION] == 0) enter_tails();
  take_links();
  if (!S->timeless) take_retimed();
  forget_shifted();
  memcpy(S->now.terms, S->cand.terms, TERMS * sizeof(i64));
}

static void leave(void) {
  unmount();
  untime();
  forget_shifted();
  for (i32 p = low; p <= high; p++) {
    S->cand.seq[p] = S->now.seq[p];
    S->cand.pos[S->now.seq[p]] = p;
  }
  undo_switches();
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
  if (least_energy(low) + S->weight[CHANGEOVER] * (f64)changes > limit) return 0;
  begin_retiming(changes);
  return retime_pass(limit);
}

/* Judge the edited window; take it if its energy is at most `limit`. */
static int judge(f64 limit) {
  if (!evaluate(limit)) return leave(), 0;
  take();
  energy_now = energy_of(S->cand.terms);
  return 1;
}

/* List all operations by start, as a move that is taken or not. */
static void straighten(f64 temperature) {
  low = S->ops, high = -1, switches = 0;
  energy_limit = energy_now - temperature * log(unit());
  if (list_by_start(0, S->ops - 1) && judge(energy_limit)) keep_best();
}

/* ---- what the host calls ------------------------------------------------------------------ */

EXPORT(load) void load(const Shop *given) {
  shop = *given;
  empty(S->agenda);
  empty(S->easing);
}

static void find_least_late(void) {
  i32 weight = 0;
  for (i32 i = 0; i < S->jobs; i++)
    if (S->job[i].weight && (!weight || S->job[i].weight < weight)) weight = S->job[i].weight;
  least_late = S->weight[VIOLATION];
  if (weight && weight * S->weight[LATENESS] < least_late) least_late = weight * S->weight[LATENESS];
}

/* Links and mounted states of the list in now.seq. */
static void mount_all(void) {
  i32 slots = S->slots, nodes = S->ops + S->bases;
  S->now.terms[CHANGEOVER] = 0;
  for (i32 b = 0; b < S->bases; b++) S->last[b] = sentinel(b), S->next[sentinel(b)] = NONE;
  for (i32 b = 0; b < S->bases; b++) S->now.freed[sentinel(b)] = S->cand.freed[sentinel(b)] = 0;
  for (i32 p = 0; p < S->ops; p++) {
    i32 op = S->now.seq[p], base = base_of(op), before = base == NOWHERE ? NONE : S->last[base];
    S->prev[op] = sentinel(S->bases), S->next[op] = NONE;
    S->now.change[op] = S->cand.change[op] = 0;
    if (base == NOWHERE) continue;
    S->prev[op] = before, S->next[before] = op, S->last[base] = op;
    i32 change = changeover(mode_of(op), S->now.mounted + before * slots, S->now.mounted + op * slots);
    S->now.change[op] = S->cand.change[op] = change;
    S->now.terms[CHANGEOVER] += change;
  }
  memcpy(S->new_prev, S->prev, S->ops * sizeof(i32));
  memcpy(S->new_next, S->next, nodes * sizeof(i32));
  memcpy(S->cand.mounted, S->now.mounted, nodes * slots * sizeof(i32));
}

/* Begin from the list in now.seq and the modes in now.mode; its terms are then in now.terms. */
EXPORT(restart) void restart(u64 seed) {
  random_state = seed;
  accepted = improved = 0;
  recount = 0;
  memset(S->now.terms, 0, TERMS * sizeof(i64));
  for (i32 p = 0; p < S->ops; p++) {
    i32 op = S->now.seq[p];
    set(p, op);
    S->now.pos[op] = p;
    S->cand.mode[op] = S->now.mode[op];
    S->now.freed[op] = NEVER; /* not timed yet */
  }
  find_least_late();
  simple = S->simple && !S->timeless && !(S->weight[HOLDING] + S->weight[COMPLETION] +
                                          S->weight[TIGHTNESS] > 0);
  tails_known = 0;
  low = 0, high = S->ops - 1, switches = 0;
  mount_all();
  find_latest();
  memset(S->now.counted, 0, S->ops * TERMS * sizeof(i64));
  memset(S->overdue_tree, 0, (S->ops + 1) * sizeof(f64));
  for (i32 p = 0; p < S->ops && !S->timeless; p++) enter(p);
  evaluate(INFINITY);
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
    if (i % STRAIGHT == 0) straighten(temperature);
    energy_limit = energy_now - temperature * log(unit());
    if (propose(merges) && judge(energy_limit)) {
      accepted++;
      keep_best();
    }
  }
  return accepted;
}

