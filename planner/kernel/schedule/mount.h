/* Pass 1: what is mounted, and the changeovers of a candidate, exactly.
 *
 * What a changeover takes follows from the order on its base alone. So only operations with another
 * predecessor on their base, or after another mounted state, are looked at.
 */
#ifndef MOUNT_H
#define MOUNT_H

#include "agenda.h"
#include "shop.h"

static i32 relinks;       /* operations and sentinels with other neighbours on their base */
static i32 touches;       /* operations with another changeover, or mounted anew */
static i32 remounted;     /* from this place on everything is mounted as in the current plan */

static inline i32 sentinel(i32 base) { return S->ops + base; }

/* ---- the order on each base of the candidate ---------------------------------------------- */

static inline void note_relinked(i32 node) {
  if (S->is_relinked[node]) return;
  S->is_relinked[node] = 1;
  S->relinked[relinks++] = node;
}

/* Let `op` (or nothing) follow `before` on its base. */
static inline void link(i32 before, i32 op) {
  note_relinked(before);
  S->new_next[before] = op;
  if (op == NONE) return;
  note_relinked(op);
  S->new_prev[op] = before;
}

/* Take the operation from its base; on none it has no neighbours. */
static inline void unlink(i32 op) {
  link(S->new_prev[op], S->new_next[op]);
  note_relinked(op);
  S->new_prev[op] = sentinel(S->bases), S->new_next[op] = NONE;
}

static inline void insert(i32 op, i32 before) {
  i32 after = S->new_next[before];
  link(before, op);
  link(op, after);
}

/* Let the candidate's order on the bases be that of the current plan again. */
static void undo_links(void) {
  for (i32 i = 0; i < relinks; i++) {
    i32 node = S->relinked[i];
    S->is_relinked[node] = 0;
    S->new_next[node] = S->next[node];
    if (node < S->ops) S->new_prev[node] = S->prev[node];
  }
  relinks = 0;
}

static void take_links(void) {
  for (i32 i = 0; i < relinks; i++) {
    i32 node = S->relinked[i];
    S->is_relinked[node] = 0;
    S->next[node] = S->new_next[node];
    if (node < S->ops) S->prev[node] = S->new_prev[node];
  }
  relinks = 0;
}

/* ---- what is mounted ---------------------------------------------------------------------- */

/* The kind that is mounted on the base after an operation or sentinel of the candidate. */
static inline i32 kind_after(i32 node, i32 base) {
  return node < S->ops ? kind_of(node) : S->start_kind[base];
}

/* Minutes from the mounted state `before` to what the mode needs; the state is then `after`. */
static inline i32 changeover(const Mode *m, const i32 *before, i32 *after) {
  i32 sum = 0, longest = 0;
  const Need *need = S->need + m->need;
  for (i32 i = 0; i < S->slots; i++) after[i] = before[i];
  for (i32 i = 0; i < m->needs; i++) {
    i32 minutes = need[i].minutes_from[before[need[i].slot]];
    sum += minutes;
    longest = max(longest, minutes);
    after[need[i].slot] = need[i].value;
  }
  return m->needs && S->longest_counts[m->base] ? longest : sum;
}

/* Minutes to mount for an operation of the candidate; `differs` tells whether another state is mounted
 * after it than in the current plan. */
static inline i32 mount_for(i32 op, int *differs) {
  const Mode *m = mode_of(op);
  i32 slots = S->slots, *after = S->cand.mounted + op * slots;
  *differs = S->cand.mode[op] != S->now.mode[op];
  if (m->base == NOWHERE) return 0;
  if (S->by_kind) return m->minutes_after ? m->minutes_after[kind_after(S->new_prev[op], m->base)] : 0;
  i32 change = changeover(m, S->cand.mounted + S->new_prev[op] * slots, after);
  *differs = !same(after, S->now.mounted + op * slots, slots);
  return change;
}

/* Mount for one operation; returns by how much its changeover grows. */
static inline i32 mount(i32 op) {
  int differs;
  S->touched[touches++] = op;
  S->cand.change[op] = mount_for(op, &differs);
  if (differs && S->new_next[op] != NONE) enter(S->cand.pos[S->new_next[op]]);
  return S->cand.change[op] - S->now.change[op];
}

/* Total changeovers of the candidate. */
static i64 mount_pass(void) {
  i64 sum = S->now.terms[CHANGEOVER];
  for (i32 i = 0; i < relinks; i++) {
    i32 node = S->relinked[i];
    if (node < S->ops && S->new_prev[node] != S->prev[node]) enter(S->cand.pos[node]);
  }
  for (i32 i = 0; i < switches; i++) enter(S->cand.pos[switched[i]]);
  touches = 0;
  remounted = high + 1;
  for (i32 p = low; (p = first_from(S->agenda, p)) < S->ops;) {
    strike(S->agenda, p);
    sum += mount(S->cand.seq[p]);
    remounted = max(remounted, p + 1);
  }
  return sum;
}

/* Undo what the pass left behind. */
static void unmount(void) {
  i32 slots = S->slots;
  for (i32 i = 0; i < touches; i++) {
    i32 op = S->touched[i];
    S->cand.change[op] = S->now.change[op];
    if (S->by_kind) continue;
    memcpy(S->cand.mounted + op * slots, S->now.mounted + op * slots, slots * sizeof(i32));
  }
  touches = 0;
  undo_links();
}

static void take_mounted(void) {
  i32 slots = S->slots;
  for (i32 i = 0; i < touches; i++) {
    i32 op = S->touched[i];
    S->now.change[op] = S->cand.change[op];
    if (S->by_kind) continue;
    memcpy(S->now.mounted + op * slots, S->cand.mounted + op * slots, slots * sizeof(i32));
  }
}

#endif
