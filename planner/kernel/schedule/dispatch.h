/* Dispatch rules: a schedule built forward in time, one decision after the other.
 *
 * Whenever a base can go on, one of the operations that could be next on it is taken. The
 * decoder of the search places them, so that rules and search count alike.
 *
 * A base may have a line: work that it takes up in a given order, whichever of it is ready first.
 * Before others take up work, they leave people to the lines who could otherwise not go on.
 *
 * RANKED takes the smallest rank, with the mounted state first if asked to. ATCS is the apparent
 * tardiness cost with set-ups (Lee, Bhaskaran and Pinedo, IIE Transactions 29, 1997), after what
 * has a rank below 0. PATIENT
 * takes the cheapest changeover that leaves room for what is due: on every base all work due by
 * any date, with the changeovers that it is likely to need, must still fit into the hours until
 * then. A base that others feed may wait for work that mounts what it has, while there is room.
 */
#ifndef DISPATCH_H
#define DISPATCH_H

#include "mount.h"
#include "shop.h"
#include "times.h"

enum { RANKED, ATCS, PATIENT };
enum {
  LEVELS = 6 /* attributes of a state that are counted */
};
static const f64 PRESSED = 1e5, OUTSIDE = 1e6; /* above any changeover */
static const f64 NO_DUE = 1e6; /* more room than this: nothing is due, so nobody would come */

typedef struct {
  i32 kind;
  i32 stay;                  /* RANKED: first what the first attribute is mounted for */
  const i32 *rank;           /* by mode, for RANKED, ties of PATIENT, and below 0 for ATCS */
  i32 cyclic;                /* PATIENT: on a tie go on in the order of ranks, else by due date */
  const i32 *line_first, *line; /* by base: modes of its line, bases + 1 of the firsts */
  f64 look_ahead, set_up;    /* ATCS, in minutes */
  f64 share, tour, reserve;  /* changeovers to come: a share of the work, and of a tour through
                                the states still needed; minutes kept free besides */
  f64 window, growth;        /* look at what is due so long after the first, and a share of now */
  f64 idle;                  /* what a minute of waiting is worth in changeovers; 0: never wait */
  f64 batch;                 /* what is due so long after the first may go whatever the room */
  f64 behind;                /* 1: such work only when there is no room for any other */
  f64 hold;                  /* room with which a base that is fed waits; 0: never */
} Rule;

typedef struct {
  i32 buckets, fixeds;
  const i32 *due;          /* by operation */
  const f64 *value;        /* by mode: logarithm of weight over duration */
  const i32 *due_rank;     /* by mode */
  const f64 *share;        /* by mode: its minutes over the number of modes of its operation */
  const i32 *bucket;       /* by mode: of its due date, among those of its base */
  const f64 *until;        /* by base and bucket: working minutes until the due dates in it */
  const f64 *work;         /* by base and bucket: minutes of all that is due in it */
  const i32 *used;         /* by base: how many buckets it has */
  const i32 *hours;        /* by base: its calendar */
  const i32 *fed;          /* by base: whether most of its work comes from other bases */
  const i32 *fixed;        /* fixed operations by their start */
  const i32 *state_first;  /* by base: its first state, bases + 1 of them */
  const i32 *member_first; /* by state: its first member, states + 1 of them */
  const i32 *member;       /* modes by state and due date */
  const i32 *state_node;   /* by state: LEVELS nodes of the tree of states, or NOWHERE */
  const i32 *node_first;   /* by base: its first node, bases + 1 of them */
  const f64 *node_minutes; /* what it takes to enter the node */
  const i32 *state;        /* by mode */
  i32 *change, *known;     /* by state: its changeover, and for which mounting of the base */
  i32 *mounting, *last_state; /* by base: how often it was changed, and to what */
  i32 *pool, *pooled, *place; /* by base its open modes; how many; where each is */
  i32 *ready, *waits;
  i32 *passed;             /* by base: the first bucket with work left */
  i32 *clock;              /* by base: until when it has decided to wait */
  i32 *head;               /* by base: the first of its line that may not be placed yet */
  i32 *last_rank;          /* by base: of what was placed last */
  i32 *member_next;        /* by state: the first member that may not be placed yet */
  i32 *node_bucket;        /* by node: of the first due date for which it is needed */
  f64 *left;               /* by base and bucket: work not placed yet */
  f64 *room;               /* by bucket: room before it; at the end that of all */
  f64 *tour;               /* by bucket: minutes of the nodes first needed in it */
} Work;

static Work *W;
static i32 placed;
static i32 pressed; /* the first bucket for which there is no room left, or -1 */
static f64 batch_end; /* what is due until then may go whatever the room */
static f64 horizon;   /* what is due later is not looked at */
static i64 dispatch_terms[TERMS];

static void put_next(i32 mode);

static inline i32 *pool_of(i32 base) { return W->pool + S->base_mode_first[base]; }

/* What is mounted on a base: kept as the state after its sentinel of the candidate. */
static inline i32 *mounted_on(i32 base) { return S->cand.mounted + sentinel(base) * S->slots; }

/* Changeover of the mode now, remembered by state while the base stays as it is. */
static i32 change_to(const Mode *m) {
  i32 state = W->state[m - S->mode];
  if (W->known[state] == W->mounting[m->base]) return W->change[state];
  i32 sum = 0, longest = 0;
  const Need *need = S->need + m->need;
  const i32 *mounted = mounted_on(m->base);
  for (i32 i = 0; i < m->needs; i++) {
    i32 minutes = need[i].minutes_from[mounted[need[i].slot]];
    sum += minutes;
    longest = max(longest, minutes);
  }
  W->known[state] = W->mounting[m->base];
  return W->change[state] = m->needs && S->longest_counts[m->base] ? longest : sum;
}

/* ---- what is open ------------------------------------------------------------------------- */

static void open(i32 op) {
  W->ready[op] = ready_at(&S->op[op]);
  for (i32 m = S->op_mode[op]; m < S->op_mode[op + 1]; m++)
    if (S->mode[m].base == NOWHERE) return put_next(m);
  for (i32 m = S->op_mode[op]; m < S->op_mode[op + 1]; m++) {
    i32 base = S->mode[m].base;
    W->place[m] = W->pooled[base];
    pool_of(base)[W->pooled[base]++] = m;
    W->clock[base] = min(W->clock[base], W->ready[op]);
  }
}

static void close(i32 op) {
  for (i32 m = S->op_mode[op]; m < S->op_mode[op + 1]; m++) {
    i32 base = S->mode[m].base, *pool = pool_of(base), last = pool[--W->pooled[base]];
    pool[W->place[m]] = last;
    W->place[last] = W->place[m];
    W->place[m] = -1;
    W->left[base * W->buckets + W->bucket[m]] -= W->share[m];
  }
}

static void put_next(i32 mode) {
  const Mode *m = &S->mode[mode];
  i32 op = m->op, change = 0;
  if (m->base != NOWHERE) change = changeover(m, mounted_on(m->base), mounted_on(m->base));
  S->cand.mode[op] = mode;
  S->cand.pos[op] = placed;
  S->cand.seq[placed++] = op;
  dispatch_terms[CHANGEOVER] += change;
  place_next(op, change, S->free_now, dispatch_terms);
  if (m->base != NOWHERE) {
    if (W->state[mode] != W->last_state[m->base]) W->mounting[m->base]++;
    W->last_state[m->base] = W->state[mode];
    close(op);
  }
  const i32 *succ = S->succ + S->op[op].succ;
  for (i32 i = 0; i < S->op[op].succs; i++)
    if (--W->waits[succ[i]] == 0) open(succ[i]);
}

/* When the base can take up something; INT32_MAX if nothing is open. */
static i32 next_minute(i32 base) {
  i32 *pool = pool_of(base), first = INT32_MAX, free = max(S->free_now[base], W->clock[base]);
  for (i32 i = 0; i < W->pooled[base] && first > free; i++)
    first = min(first, W->ready[S->mode[pool[i]].op]);
  return max(free, first);
}

/* ---- room --------------------------------------------------------------------------------- */

static i32 worked(i32 calendar, i32 minute) {
  const Span *s = span_at(calendar, minute);
  return s->worked + max(minute, s->start) - s->start;
}

/* The states that the base still has to visit are a tree, attribute by attribute: every node is
 * entered once, at the latest for the first due date below it. */
static void measure_tour(i32 base) {
  memset(W->tour, 0, W->used[base] * sizeof(f64));
  i32 first = W->node_first[base], end = W->node_first[base + 1];
  for (i32 x = first; x < end; x++) W->node_bucket[x] = W->used[base];
  for (i32 s = W->state_first[base]; s < W->state_first[base + 1]; s++) {
    i32 next = W->member_next[s];
    while (next < W->member_first[s + 1] && S->cand.pos[S->mode[W->member[next]].op] >= 0) next++;
    W->member_next[s] = next;
    if (next == W->member_first[s + 1]) continue;
    const i32 *node = W->state_node + s * LEVELS;
    for (i32 l = 0; l < LEVELS && node[l] != NOWHERE; l++)
      W->node_bucket[node[l]] = min(W->node_bucket[node[l]], W->bucket[W->member[next]]);
  }
  for (i32 x = first; x < end; x++)
    if (W->node_bucket[x] < W->used[base]) W->tour[W->node_bucket[x]] += W->node_minutes[x];
}

/* By how many minutes all that is due before each bucket could be begun later. Where there is not
 * room for all changeovers to come, as large a part of them is expected as there is room for; due
 * dates before the first that is open count no more. */
static void measure_room(const Rule *rule, i32 base, i32 minute) {
  const f64 *until = W->until + base * W->buckets, *left = W->left + base * W->buckets;
  f64 now = worked(W->hours[base], minute), work = 0, extra = rule->reserve, part = 1;
  const i32 *pool = pool_of(base);
  i32 first = W->buckets;
  for (i32 i = 0; i < W->pooled[base]; i++) first = min(first, W->bucket[pool[i]]);
  if (rule->tour > 0) measure_tour(base);
  while (W->passed[base] < W->used[base] && left[W->passed[base]] < 0.5) W->passed[base]++;
  for (i32 k = W->passed[base]; k < W->used[base]; k++) {
    if (left[k] < 0.5) continue;
    work += left[k];
    extra += left[k] * rule->share + rule->tour * W->tour[k];
    if (k >= first) part = fmin(part, fmax(0, until[k] - now - work) / fmax(extra, 1));
  }
  f64 needed = now + part * rule->reserve, least = INFINITY;
  pressed = -1;
  for (i32 k = W->passed[base]; k < W->used[base]; k++) {
    W->room[k] = least;
    if (left[k] < 0.5) continue;
    needed += left[k] + part * (left[k] * rule->share + rule->tour * W->tour[k]);
    if (k < first) continue;
    if (until[k] - needed < least) least = until[k] - needed;
    if (least < 1 && pressed < 0) pressed = k;
  }
  W->room[W->buckets] = least;
}

static void measure_ends(const Rule *rule, i32 base, i32 minute) {
  const i32 *pool = pool_of(base);
  i32 first = INT32_MAX;
  for (i32 i = 0; i < W->pooled[base]; i++) first = min(first, W->due[S->mode[pool[i]].op]);
  batch_end = first + rule->batch;
  horizon = max(first, minute) + rule->window + rule->growth * minute;
}

/* ---- which is next ------------------------------------------------------------------------ */

typedef struct { f64 first; i32 second; } Key;

static inline int before(Key a, Key b) {
  return a.first != b.first ? a.first < b.first : a.second < b.second;
}

static Key ranked_key(const Rule *rule, i32 mode) {
  const Mode *m = &S->mode[mode];
  const Need *need = S->need + m->need;
  int differs = rule->stay && m->needs && mounted_on(m->base)[need->slot] != need->value;
  return (Key){differs, rule->rank[mode]};
}

static Key atcs_key(const Rule *rule, i32 mode, i32 minute) {
  if (rule->rank[mode] < 0) return (Key){-INFINITY, rule->rank[mode]};
  const Mode *m = &S->mode[mode];
  f64 slack = max(0, W->due[m->op] - m->duration - minute);
  f64 exponent = slack / rule->look_ahead + change_to(m) / rule->set_up;
  return (Key){exponent - W->value[mode], W->due_rank[mode]};
}

static Key patient_key(const Rule *rule, i32 mode, i32 minute) {
  const Mode *m = &S->mode[mode];
  i32 change = change_to(m), wait = max(0, W->ready[m->op] - minute - change);
  i32 due = W->due[m->op], bucket = W->bucket[mode];
  f64 cost = change + rule->idle * wait;
  if (due > horizon || W->room[bucket] < change + wait + m->duration)
    cost += bucket <= pressed || due <= batch_end ? rule->behind * PRESSED : OUTSIDE + 1e3 * bucket;
  if (!rule->cyclic) return (Key){cost, W->due_rank[mode]};
  i32 turn = rule->rank[mode] - W->last_rank[m->base];
  return (Key){cost, turn < 0 ? turn + S->op_mode[S->ops] : turn};
}

/* The first of the base's line that is ready; -1 if none is. */
static i32 next_in_line(const Rule *rule, i32 base, i32 minute) {
  const i32 *line = rule->line, end = rule->line_first[base + 1];
  while (W->head[base] < end && S->cand.pos[S->mode[line[W->head[base]]].op] >= 0) W->head[base]++;
  for (i32 i = W->head[base]; i < end; i++)
    if (W->place[line[i]] >= 0 && W->ready[S->mode[line[i]].op] <= minute) return line[i];
  return -1;
}

static i32 choose(const Rule *rule, i32 base, i32 minute) {
  i32 *pool = pool_of(base), best = next_in_line(rule, base, minute);
  if (best >= 0) return best;
  int waits = rule->kind == PATIENT && rule->idle > 0;
  Key least = {0, 0};
  for (i32 i = 0; i < W->pooled[base]; i++) {
    i32 mode = pool[i];
    if (!waits && W->ready[S->mode[mode].op] > minute) continue;
    Key key = rule->kind == RANKED ? ranked_key(rule, mode)
              : rule->kind == ATCS ? atcs_key(rule, mode, minute)
                                   : patient_key(rule, mode, minute);
    if (best < 0 || before(key, least)) least = key, best = mode;
  }
  return best;
}

/* The next fixed operation of the base, if it can go now and `mode` would be in its way. */
static i32 fixed_before(i32 mode) {
  const Mode *m = &S->mode[mode];
  const Op *op = &S->op[m->op];
  for (i32 f = 0; f < W->fixeds; f++) {
    i32 fixed = S->op_mode[W->fixed[f]];
    if (S->mode[fixed].base != m->base || W->place[fixed] < 0) continue;
    i32 change = change_to(m);
    Placing at = {.end = op->fixed_end};
    if (!(op->flags & FIXED)) place(op, m, change, W->ready[m->op], S->free_now, &at);
    return at.end + change_to(&S->mode[fixed]) > S->op[W->fixed[f]].fixed_start ? fixed : mode;
  }
  return mode;
}

/* Place an operation by this mode now, all that it waits for before it. */
static void force(i32 mode) {
  i32 op = S->mode[mode].op;
  if (S->cand.pos[op] >= 0) return;
  const Pred *pred = S->pred + S->op[op].pred;
  for (i32 i = 0; i < S->op[op].preds; i++) force(S->op_mode[pred[i].op]);
  if (S->cand.pos[op] < 0) put_next(mode);
}

static Placing placed_now(i32 mode) {
  const Mode *m = &S->mode[mode];
  Placing at = {.first = NOBODY, .second = NOBODY};
  place(&S->op[m->op], m, change_to(m), W->ready[m->op], S->free_now, &at);
  return at;
}

/* When the line's next would start while the people of another operation are busy with that. */
static i32 start_beside(const Placing *other, i32 next) {
  i32 *people = S->free_now + S->bases, was[2] = {0, 0}, who[2] = {other->first, other->second};
  for (i32 i = 0; i < 2; i++)
    if (who[i] >= 0) was[i] = people[who[i]], people[who[i]] = max(was[i], other->attended_end);
  i32 start = placed_now(next).start;
  for (i32 i = 0; i < 2; i++)
    if (who[i] >= 0) people[who[i]] = was[i];
  return start;
}

/* What a line takes up next, if this mode would keep people from it that it needs; else the mode. */
static i32 leave_people(const Rule *rule, i32 base, i32 mode) {
  const i32 *first = rule->line_first;
  if (!S->people || first[base] < first[base + 1]) return mode;
  if (rule->line_first[S->bases] == 0 || S->op[S->mode[mode].op].flags & FIXED) return mode;
  Placing mine = placed_now(mode);
  for (i32 b = 0; b < S->bases; b++) {
    if (first[b] == first[b + 1]) continue;
    i32 free = next_minute(b);
    i32 next = free < mine.attended_end ? next_in_line(rule, b, free) : -1;
    if (next >= 0 && start_beside(&mine, next) > placed_now(next).start) return next;
  }
  return mode;
}

/* Decide for the base that can go on first; 0 when nothing is open. */
static int decide(const Rule *rule) {
  i32 base = -1, minute = INT32_MAX;
  for (i32 b = 0; b < S->bases; b++) {
    i32 at = next_minute(b);
    if (at < minute) minute = at, base = b;
  }
  if (base < 0) return 0;
  if (rule->kind == PATIENT) {
    measure_room(rule, base, minute);
    measure_ends(rule, base, minute);
  }
  i32 mode = choose(rule, base, minute);
  f64 room = rule->kind == PATIENT && rule->hold > 0 && W->fed[base] ? W->room[W->buckets] : 0;
  if (room > rule->hold && room < NO_DUE && change_to(&S->mode[mode]) > 0) {
    W->clock[base] = advance(W->hours[base], minute, max(1, (i32)(room - rule->hold)));
    return 1;
  }
  W->last_rank[base] = rule->rank[mode];
  put_next(fixed_before(leave_people(rule, base, mode)));
  return 1;
}

/* Build a schedule by the rule after the `firsts` modes in `first`; its list, modes and terms are then
 * the best. */
EXPORT(dispatch) void dispatch(Work *work, const Rule *rule, const i32 *first, i32 firsts) {
  W = work;
  placed = 0;
  memset(dispatch_terms, 0, sizeof dispatch_terms);
  memset(S->free_now, 0, (S->bases + S->people) * sizeof(i32));
  for (i32 b = 0; b < S->bases; b++)
    memcpy(mounted_on(b), S->now.mounted + sentinel(b) * S->slots, S->slots * sizeof(i32));
  memcpy(W->left, W->work, S->bases * W->buckets * sizeof(f64));
  memcpy(W->member_next, W->member_first, W->state_first[S->bases] * sizeof(i32));
  memset(W->place, -1, S->op_mode[S->ops] * sizeof(i32));
  memset(W->known, -1, W->state_first[S->bases] * sizeof(i32));
  for (i32 b = 0; b < S->bases; b++) {
    W->pooled[b] = W->clock[b] = W->last_rank[b] = W->mounting[b] = W->passed[b] = 0;
    W->last_state[b] = NOWHERE;
    W->head[b] = rule->line_first[b];
  }
  for (i32 op = 0; op < S->ops; op++) S->cand.pos[op] = -1, W->waits[op] = S->op[op].preds;
  for (i32 op = 0; op < S->ops; op++)
    if (S->op[op].preds == 0) open(op);
  for (i32 f = 0; f < firsts; f++) force(first[f]);
  while (decide(rule)) {}
  memcpy(S->best_seq, S->cand.seq, S->ops * sizeof(i32));
  memcpy(S->best_mode, S->cand.mode, S->ops * sizeof(i32));
  memcpy(S->best_terms, dispatch_terms, TERMS * sizeof(i64));
}

#endif
