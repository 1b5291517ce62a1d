/* Annealing over one list of operations.
 *
 * The list is decoded by the rules of planner/schedule/decoder.py: operations are placed one by
 * one at the end of what their base and people do so far. A move edits a window of the list and
 * carries predecessors or successors along, so that every list respects precedence. A candidate is
 * judged in two passes from the last snapshot before the window:
 *   1. the mounted states alone, which gives its changeover minutes exactly and rejects most;
 *   2. the times, which end as soon as the candidate is known to be too bad, or as soon as the
 *      shop is in the same state as in the current list at the same place.
 *
 * The host fills one Shop (all fields 4 bytes) and owns all memory. Times are minutes.
 */
#include <math.h>
#include <stdint.h>
#include <string.h>

#define EXPORT(name) __attribute__((export_name(#name)))

typedef int32_t i32;
typedef int64_t i64;
typedef uint64_t u64;
typedef double f64;

enum { VIOLATION, LATENESS, CHANGEOVER, OVERTIME, DISTURBANCE, HOLDING, COMPLETION, TERMS };
enum { MAY_PAUSE = 1, DONE = 2, FIXED = 4, ISSUED = 8 };
enum { NOWHERE = -1, NOBODY = -1 };
enum { EITHER, AFTER, BEFORE }; /* on which side of a group's members an operation goes well */

typedef struct {
  i32 release, latest_end, flags, fixed_start, fixed_end, fixed_first, fixed_second;
  i32 issued_mode, issued_start, issued_charge;
  i32 pred, preds, succ, succs, job, jobs; /* first and number of its entries */
} Op;

typedef struct {
  i32 op, base, duration, attended, calendar, crew, crews, need, needs, group, groups, free_from;
  i32 plain; /* no people, always open */
} Mode;

typedef struct { i32 op, lag, from_start, holding; } Pred;
typedef struct { i32 first, second, calendar, free_from; } Crew;
typedef struct { i32 slot, value; const i32 *minutes_from; } Need; /* minutes by mounted value */
typedef struct { i32 span, priced, priced_end; } Calendar;
typedef struct { i32 start, end, worked; } Span;
typedef struct { i32 start, end, price; } Priced;
typedef struct { i32 due, weight; } Job;
typedef struct { i32 member, members, side; } Group; /* modes that mount the same, or nearly */

/* A complete schedule, or the part of a candidate that differs from it. */
typedef struct {
  i32 *seq, *pos;         /* the list, and where each operation is in it */
  i32 *mode;              /* mode of each operation */
  i32 *change;            /* changeover minutes of each operation */
  i32 *start, *end;
  i32 *mounted_at;        /* snapshots: before every stride-th place the mounted state, ... */
  i32 *free_at;           /* ... when bases and people are free, ... */
  i64 *terms_at;          /* ... and the terms so far */
  i64 *terms;
} Plan;

typedef struct {
  i32 ops, movables, slots, bases, people, stride, block_shift, blocks, timeless, jobs;
  const Op *op;
  const Mode *mode;
  const Pred *pred;
  const i32 *succ;
  const i32 *op_job;
  const Job *job;
  const Crew *crew;
  const Need *need;
  const i32 *longest_counts; /* by base */
  const Calendar *calendar;
  const Span *span;
  const i32 *span_index; /* by calendar and block: first span that ends after the block begins */
  const Priced *priced;
  const i32 *movable;
  const i32 *op_mode; /* first mode by operation, ops + 1 of them */
  const i32 *base_mode; /* modes by base ... */
  const i32 *base_mode_first; /* ... and where each base's begin, bases + 1 of them */
  const i32 *mode_group;
  const Group *group;
  const i32 *member;
  const i32 *mounted; /* at the start */
  const i64 *level;   /* levels x TERMS weights */
  i32 levels;
  Plan now, cand;
  i32 *best_seq, *best_mode;
  i64 *best_terms;
  i32 *mark, *moved, *differs, *mounted_now, *free_now;
  f64 *weight; /* energy of one minute of each term */
} Shop;

static Shop *S;
static u64 random_state;
static i32 stamp;         /* marks equal to it are set */
static i32 low, high;     /* window of the list that the candidate changes */
static i32 changed_op, changed_mode; /* the candidate's operation with another mode, or -1 */
static f64 energy_now;
static i64 accepted, improved;

/* ---- small things ------------------------------------------------------------------------- */

static inline i32 max(i32 a, i32 b) { return a > b ? a : b; }
static inline i32 min(i32 a, i32 b) { return a < b ? a : b; }

/* splitmix64: Steele, Lea and Flood, OOPSLA 2014 */
static inline u64 random64(void) {
  u64 z = (random_state += 0x9e3779b97f4a7c15ull);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ull;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebull;
  return z ^ (z >> 31);
}
static inline i32 below(i32 n) { return (i32)((random64() >> 32) * (u64)n >> 32); }
static inline f64 unit(void) { return (f64)((random64() >> 11) + 1) * 0x1p-53; }

static inline const Mode *mode_of(i32 op) { return &S->mode[S->cand.mode[op]]; }
static inline i32 base_of(i32 op) { return mode_of(op)->base; }

static f64 energy_of(const i64 *terms) {
  f64 sum = 0;
  for (i32 t = 0; t < TERMS; t++) sum += S->weight[t] * (f64)terms[t];
  return sum;
}

static int better(const i64 *a, const i64 *b) {
  for (i32 l = 0; l < S->levels; l++) {
    const i64 *w = S->level + l * TERMS;
    i64 x = 0, y = 0;
    for (i32 t = 0; t < TERMS; t++) x += w[t] * a[t], y += w[t] * b[t];
    if (x != y) return x < y;
  }
  return 0;
}

/* ---- hours -------------------------------------------------------------------------------- */

static inline const Span *span_at(i32 calendar, i32 minute) {
  i32 block = min(minute >> S->block_shift, S->blocks - 1);
  const Span *s = S->span + S->span_index[calendar * S->blocks + block];
  while (s->end <= minute) s++;
  return s;
}

/* Earliest start of unbroken minutes; the last span has no end. */
static inline i32 fit(i32 calendar, i32 earliest, i32 length) {
  const Span *s = span_at(calendar, earliest);
  i32 start = max(earliest, s->start);
  while (start + length > s->end) start = (++s)->start;
  return start;
}

static inline i32 advance(i32 calendar, i32 start, i32 length) {
  if (length == 0) return start;
  const Span *s = span_at(calendar, start);
  i32 target = s->worked + max(start, s->start) - s->start + length;
  while (target > s->worked + s->end - s->start) s++;
  return s->start + target - s->worked;
}

static i64 price(i32 calendar, i32 start, i32 end) {
  i64 sum = 0;
  const Calendar *c = &S->calendar[calendar];
  for (i32 i = c->priced; i < c->priced_end; i++) {
    const Priced *p = &S->priced[i];
    i32 overlap = min(end, p->end) - max(start, p->start);
    if (overlap > 0) sum += (i64)overlap * p->price;
  }
  return sum;
}

/* ---- pass 1: mounted states --------------------------------------------------------------- */

static inline i32 changeover(const Mode *m, i32 *mounted) {
  i32 sum = 0, longest = 0;
  const Need *need = S->need + m->need;
  for (i32 i = 0; i < m->needs; i++) {
    i32 minutes = need[i].minutes_from[mounted[need[i].slot]];
    sum += minutes;
    longest = max(longest, minutes);
    mounted[need[i].slot] = need[i].value;
  }
  return m->needs && S->longest_counts[m->base] ? longest : sum;
}

static int same(const i32 *a, const i32 *b, i32 n) {
  for (i32 i = 0; i < n; i++)
    if (a[i] != b[i]) return 0;
  return 1;
}

/* Changeovers of the candidate from snapshot `from` on until the state is that of the current
 * list again; returns the total and where it stopped. */
static i64 mount_pass(i32 from, i32 *stopped) {
  i32 n = S->ops, slots = S->slots, stride = S->stride;
  i32 *mounted = S->mounted_now;
  memcpy(mounted, S->now.mounted_at + from * slots, slots * sizeof(i32));
  i64 sum = S->now.terms_at[from * TERMS + CHANGEOVER];
  for (i32 p = from * stride; p < n; p++) {
    if (p % stride == 0) {
      i32 k = p / stride;
      if (p > high && same(mounted, S->now.mounted_at + k * slots, slots)) {
        *stopped = p;
        return sum + S->now.terms[CHANGEOVER] - S->now.terms_at[k * TERMS + CHANGEOVER];
      }
      memcpy(S->cand.mounted_at + k * slots, mounted, slots * sizeof(i32));
      S->cand.terms_at[k * TERMS + CHANGEOVER] = sum;
    }
    i32 op = S->cand.seq[p];
    sum += S->cand.change[op] = changeover(mode_of(op), mounted);
  }
  *stopped = n;
  return sum;
}

/* ---- pass 2: times ------------------------------------------------------------------------ */

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

static inline i32 ready_at(const Op *op, i32 origin) {
  i32 ready = max(op->release, 0);
  const Pred *pred = S->pred + op->pred;
  for (i32 i = 0; i < op->preds; i++) {
    const Plan *plan = S->cand.pos[pred[i].op] >= origin ? &S->cand : &S->now;
    const i32 *before = pred[i].from_start ? plan->start : plan->end;
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

static void count(const Op *op, i32 mode, i32 change, i32 origin, const Placing *at, i64 *terms) {
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
    if (pred[i].holding) {
      const Plan *plan = S->cand.pos[pred[i].op] >= origin ? &S->cand : &S->now;
      terms[HOLDING] += (i64)pred[i].holding * max(0, at->start - plan->end[pred[i].op]);
    }
  for (i32 i = 0; i < op->jobs; i++) {
    const Job *job = &S->job[S->op_job[op->job + i]];
    terms[LATENESS] += (i64)job->weight * max(0, at->end - job->due);
    terms[COMPLETION] += max(0, at->end);
  }
}

static inline void occupy(const Mode *m, const Placing *at, i32 *free) {
  i32 *people = free + S->bases;
  free[m->base] = max(free[m->base], at->end);
  if (at->first >= 0) people[at->first] = max(people[at->first], at->attended_end);
  if (at->second >= 0) people[at->second] = max(people[at->second], at->attended_end);
}

static inline void place_next(i32 number, i32 change, i32 origin, i32 *free, i64 *terms) {
  const Op *op = &S->op[number];
  i32 mode = S->cand.mode[number];
  const Mode *m = &S->mode[mode];
  Placing at = {.first = NOBODY, .second = NOBODY};
  i32 ready = ready_at(op, origin);
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
  count(op, mode, change, origin, &at, terms);
}

/* How many later operations still wait for a time that differs from the current plan. */
static inline i32 note_difference(i32 number, i32 origin) {
  const Op *op = &S->op[number];
  i32 waiting = 0;
  const Pred *pred = S->pred + op->pred;
  for (i32 i = 0; i < op->preds; i++)
    if (S->cand.pos[pred[i].op] >= origin) waiting -= S->differs[pred[i].op];
  S->differs[number] = S->cand.end[number] != S->now.end[number] ||
                       S->cand.start[number] != S->now.start[number];
  return waiting + (S->differs[number] ? op->succs : 0);
}

/* Times of the candidate from snapshot `from` on; `changes` is its total changeover and
 * `remounted` where its mounted states are the current ones again. Returns where it stopped, or
 * -1 once its energy is above `limit`. The terms are in cand.terms. */
static i32 time_pass(i32 from, i64 changes, i32 remounted, f64 limit) {
  i32 n = S->ops, stride = S->stride, origin = from * stride, waiting = 0;
  i32 width = S->bases + S->people;
  i32 *free = S->free_now;
  i64 *terms = S->cand.terms;
  memcpy(free, S->now.free_at + from * width, width * sizeof(i32));
  memcpy(terms, S->now.terms_at + from * TERMS, TERMS * sizeof(i64));
  terms[CHANGEOVER] = changes;
  for (i32 p = origin; p < n; p++) {
    if (p % stride == 0) {
      if (energy_of(terms) > limit) return -1;
      i32 k = p / stride;
      if (p > high && p >= remounted && waiting == 0 &&
          same(free, S->now.free_at + k * width, width)) {
        for (i32 t = 0; t < TERMS; t++)
          if (t != CHANGEOVER) terms[t] += S->now.terms[t] - S->now.terms_at[k * TERMS + t];
        return p;
      }
      memcpy(S->cand.free_at + k * width, free, width * sizeof(i32));
      for (i32 t = 0; t < TERMS; t++)
        if (t != CHANGEOVER) S->cand.terms_at[k * TERMS + t] = terms[t];
    }
    i32 op = S->cand.seq[p];
    i32 change = p < remounted ? S->cand.change[op] : S->now.change[op];
    place_next(op, change, origin, free, terms);
    waiting += note_difference(op, origin);
  }
  return n;
}

/* ---- taking a candidate, or not ----------------------------------------------------------- */

static void take(i32 from, i32 remounted, i32 retimed) {
  i32 stride = S->stride, slots = S->slots, width = S->bases + S->people;
  Plan *now = &S->now, *cand = &S->cand;
  for (i32 p = low; p <= high; p++) {
    now->seq[p] = cand->seq[p];
    now->pos[cand->seq[p]] = p;
  }
  if (changed_op >= 0) now->mode[changed_op] = cand->mode[changed_op];
  i64 shift = cand->terms[CHANGEOVER] - now->terms[CHANGEOVER];
  for (i32 p = from * stride; p < remounted; p++) now->change[now->seq[p]] = cand->change[now->seq[p]];
  for (i32 k = from; k * stride < S->ops; k++) {
    i64 *terms = now->terms_at + k * TERMS, *fresh = cand->terms_at + k * TERMS;
    if (k * stride < remounted) {
      memcpy(now->mounted_at + k * slots, cand->mounted_at + k * slots, slots * sizeof(i32));
      terms[CHANGEOVER] = fresh[CHANGEOVER];
    } else {
      terms[CHANGEOVER] += shift;
    }
    for (i32 t = 0; t < TERMS; t++)
      if (t != CHANGEOVER)
        terms[t] = k * stride < retimed ? fresh[t] : terms[t] + cand->terms[t] - now->terms[t];
    if (k * stride < retimed)
      memcpy(now->free_at + k * width, cand->free_at + k * width, width * sizeof(i32));
  }
  for (i32 p = from * stride; p < retimed; p++) {
    i32 op = now->seq[p];
    now->start[op] = cand->start[op];
    now->end[op] = cand->end[op];
  }
  memcpy(now->terms, cand->terms, TERMS * sizeof(i64));
}

static void leave(void) {
  for (i32 p = low; p <= high; p++) {
    S->cand.seq[p] = S->now.seq[p];
    S->cand.pos[S->now.seq[p]] = p;
  }
  if (changed_op >= 0) S->cand.mode[changed_op] = S->now.mode[changed_op];
}

static void keep_best(void) {
  if (!better(S->now.terms, S->best_terms)) return;
  improved++;
  memcpy(S->best_terms, S->now.terms, TERMS * sizeof(i64));
  memcpy(S->best_seq, S->now.seq, S->ops * sizeof(i32));
  memcpy(S->best_mode, S->now.mode, S->ops * sizeof(i32));
}

/* Judge the edited window; take it if its energy is at most `limit`. */
static int judge(f64 limit) {
  i32 from = low / S->stride, remounted, retimed = from * S->stride;
  i64 changes = mount_pass(from, &remounted);
  i64 least[TERMS];
  memcpy(least, S->now.terms_at + from * TERMS, sizeof least);
  least[CHANGEOVER] = changes;
  if (energy_of(least) > limit) return leave(), 0;
  if (S->timeless) {
    memcpy(S->cand.terms, S->now.terms, TERMS * sizeof(i64));
    S->cand.terms[CHANGEOVER] = changes;
  } else {
    retimed = time_pass(from, changes, remounted, limit);
    if (retimed < 0) return leave(), 0;
  }
  f64 energy = energy_of(S->cand.terms);
  if (energy > limit) return leave(), 0;
  take(from, remounted, retimed);
  energy_now = energy;
  return 1;
}

/* ---- editing the list --------------------------------------------------------------------- */

static inline void set(i32 p, i32 op) { S->cand.seq[p] = op, S->cand.pos[op] = p; }
static inline void mark(i32 op) { S->mark[op] = stamp; }
static inline int marked(i32 op) { return S->mark[op] == stamp; }
static void touch(i32 from, i32 to) { low = min(low, from), high = max(high, to); }

/* Bring the marked operations in [from, to], and what they wait for, to the front of it. */
static void pull(i32 from, i32 to) {
  i32 moved = 0, p = to;
  for (i32 q = to; q >= from; q--) {
    i32 op = S->cand.seq[q];
    if (!marked(op)) {
      set(p--, op);
      continue;
    }
    S->moved[moved++] = op;
    const Pred *pred = S->pred + S->op[op].pred;
    for (i32 i = 0; i < S->op[op].preds; i++) mark(pred[i].op);
  }
  for (i32 i = 0; i < moved; i++) set(p--, S->moved[i]);
  touch(from, to);
}

/* Bring the marked operations in [from, to], and what waits for them, to the back of it. */
static void push(i32 from, i32 to) {
  i32 moved = 0, p = from;
  for (i32 q = from; q <= to; q++) {
    i32 op = S->cand.seq[q];
    if (!marked(op)) {
      set(p++, op);
      continue;
    }
    S->moved[moved++] = op;
    const i32 *succ = S->succ + S->op[op].succ;
    for (i32 i = 0; i < S->op[op].succs; i++) mark(succ[i]);
  }
  for (i32 i = 0; i < moved; i++) set(p++, S->moved[i]);
  touch(from, to);
}

/* The place of the last operation that this one waits for. */
static i32 last_pred(i32 op) {
  i32 last = -1;
  const Pred *pred = S->pred + S->op[op].pred;
  for (i32 i = 0; i < S->op[op].preds; i++) last = max(last, S->cand.pos[pred[i].op]);
  return last;
}

/* Ripple: bring a successor into the order on its base in which the work now arrives there. */
static void arrive_earlier(i32 op) {
  i32 arrives = last_pred(op), base = base_of(op), to = S->cand.pos[op], from = to;
  if (base == NOWHERE) from = arrives + 1;
  else for (i32 p = to - 1; p > arrives; p--) {
    i32 other = S->cand.seq[p];
    if (base_of(other) != base) continue;
    if (last_pred(other) <= arrives || S->op[other].flags & FIXED) break;
    from = p;
  }
  if (from == to) return;
  stamp++;
  mark(op);
  pull(from, to);
}

static void arrive_later(i32 op) {
  i32 arrives = last_pred(op), base = base_of(op), from = S->cand.pos[op], to = from;
  if (base == NOWHERE) return;
  for (i32 p = from + 1; p < S->ops; p++) {
    i32 other = S->cand.seq[p];
    if (base_of(other) != base) continue;
    if (last_pred(other) >= arrives || S->op[other].flags & FIXED) break;
    to = p;
  }
  if (from == to) return;
  stamp++;
  mark(op);
  push(from, to);
}

enum { RIPPLES = 24, BLOCK = 160 };

/* Let the later operations of the moved work follow it. */
static void ripple(const i32 *block, i32 count, int earlier) {
  i32 queue[RIPPLES], n = 0, base = base_of(block[0]);
  int same_base = S->bases > 1 && below(2);
  for (i32 b = 0; b < count && n < RIPPLES; b++) {
    const i32 *succ = S->succ + S->op[block[b]].succ;
    for (i32 i = 0; i < S->op[block[b]].succs && n < RIPPLES; i++) queue[n++] = succ[i];
  }
  for (i32 q = 0; q < n; q++) {
    i32 op = queue[q];
    if (S->op[op].flags & (FIXED | DONE) || (base_of(op) == base && !same_base)) continue;
    if (earlier) arrive_earlier(op);
    else arrive_later(op);
    const i32 *succ = S->succ + S->op[op].succ;
    for (i32 i = 0; i < S->op[op].succs && n < RIPPLES; i++) queue[n++] = succ[i];
  }
}

/* ---- moves -------------------------------------------------------------------------------- */

/* The k-th next operation on the base, seen from a place in the list; -1 if there is none. */
static i32 neighbour(i32 place, i32 base, i32 k, int forward) {
  i32 found = -1;
  for (i32 p = place + (forward ? 1 : -1); p >= 0 && p < S->ops; p += forward ? 1 : -1) {
    i32 op = S->cand.seq[p];
    if (base_of(op) != base) continue;
    found = op;
    if (--k == 0) break;
  }
  return found;
}

/* The operation and those after it on its base: `most` of them, or up to the next changeover. */
static i32 gather(i32 first, i32 most, int whole_run, i32 *block) {
  i32 n = 0, base = base_of(first);
  block[n++] = first;
  for (i32 p = S->cand.pos[first] + 1; p < S->ops && n < most; p++) {
    i32 op = S->cand.seq[p];
    if (base_of(op) != base) continue;
    if (S->op[op].flags & FIXED || (whole_run && S->now.change[op] > 0)) break;
    block[n++] = op;
  }
  return n;
}

static void move_block(const i32 *block, i32 count, i32 target, int after, int follow) {
  i32 first = S->ops, last = -1, at = S->cand.pos[target];
  stamp++;
  for (i32 b = 0; b < count; b++) {
    if (block[b] == target) return;
    mark(block[b]);
    first = min(first, S->cand.pos[block[b]]);
    last = max(last, S->cand.pos[block[b]]);
  }
  int earlier = at < first;
  if (!earlier && at < last) return;
  if (earlier) pull(at + (after ? 1 : 0), last);
  else push(first, at - (after ? 0 : 1));
  if (follow) ripple(block, count, earlier);
}

/* Another operation of the given base, anywhere in the list. */
static i32 anywhere(i32 base) {
  i32 first = S->base_mode_first[base], count = S->base_mode_first[base + 1] - first;
  for (i32 tries = 0; tries < 4; tries++) {
    i32 mode = S->base_mode[first + below(count)], op = S->mode[mode].op;
    if (S->cand.mode[op] == mode) return op;
  }
  return -1;
}

/* An operation that mounts the same (or little else), on a base where `op` can be done too; sets
 * the mode for it and the side on which to go. */
static i32 alike(i32 op, i32 *mode, i32 *side) {
  const Mode *m = mode_of(op);
  if (m->groups == 0) return -1;
  i32 which = below(2) ? 0 : below(m->groups);
  const Group *g = &S->group[S->mode_group[m->group + which]];
  i32 other = S->mode[S->member[g->member + below(g->members)]].op;
  *side = g->side == EITHER ? AFTER + below(2) : g->side;
  for (i32 k = S->op_mode[op]; k < S->op_mode[op + 1]; k++)
    if (S->mode[k].base == base_of(other)) return *mode = k, other;
  return -1;
}

/* An operation of a late job or of what it waits for, or -1. */
static i32 late_one(void) {
  if (S->now.terms[LATENESS] == 0) return -1;
  for (i32 tries = 0; tries < 6; tries++) {
    i32 op = below(S->ops);
    if (S->op[op].jobs == 0) continue;
    if (S->job[S->op_job[S->op[op].job]].due >= S->now.end[op]) continue;
    for (i32 back = below(6); back > 0 && S->op[op].preds; back--)
      op = S->pred[S->op[op].pred + below(S->op[op].preds)].op;
    return S->op[op].flags & (FIXED | DONE) || base_of(op) == NOWHERE ? -1 : op;
  }
  return -1;
}

static void set_mode(i32 op, i32 mode) {
  if (S->cand.mode[op] == mode) return;
  S->cand.mode[op] = mode;
  changed_op = op;
  touch(S->cand.pos[op], S->cand.pos[op]);
}

static i32 other_mode(i32 op) {
  i32 first = S->op_mode[op], count = S->op_mode[op + 1] - first;
  return count > 1 && below(10) < 3 ? first + below(count) : S->cand.mode[op];
}

static i32 some_distance(void) {
  static const i32 reach[8] = {1, 2, 4, 8, 8, 16, 32, 128};
  return 1 + below(reach[below(8)]);
}

static void exchange(i32 x, i32 y, int follow) {
  if (S->cand.pos[x] > S->cand.pos[y]) { i32 swap = x; x = y; y = swap; }
  i32 from = S->cand.pos[x], to = S->cand.pos[y];
  stamp++, mark(y), pull(from, to);
  stamp++, mark(x), push(S->cand.pos[x], to);
  if (follow) ripple(&y, 1, 1), ripple(&x, 1, 0);
}

/* Edit the candidate list by one random move; 0 if nothing came of it. */
static int propose(i32 merges) {
  i32 block[BLOCK], count = 1;
  low = S->ops, high = -1, changed_op = -1;
  i32 late = below(4) == 0 ? late_one() : -1;
  i32 op = late >= 0 ? late : S->movable[below(S->movables)];
  int follow = below(3) > 0;
  if (late < 0 && below(100) < merges) {
    i32 mode, side, other = alike(op, &mode, &side);
    if (other < 0 || other == op) return 0;
    if (mode == S->cand.mode[op] && below(2))
      count = below(2) ? gather(op, BLOCK, 1, block) : gather(op, 1 + some_distance(), 0, block);
    block[0] = op;
    set_mode(op, mode);
    move_block(block, min(count, BLOCK), other, side == AFTER, follow);
    return high >= low;
  }
  i32 mode = other_mode(op), base = S->mode[mode].base;
  if (base == NOWHERE) return set_mode(op, mode), high >= low;
  int near = below(10) < 7, forward = late < 0 && below(2);
  i32 target = near ? neighbour(S->cand.pos[op], base, some_distance(), forward) : anywhere(base);
  if (S->people && below(8) == 0) target = S->cand.seq[below(S->ops)]; /* who is asked first */
  int other_base = mode != S->cand.mode[op];
  if (other_base) set_mode(op, mode);
  if (target < 0 || target == op) return high >= low;
  if (!other_base) {
    i32 kind = below(10);
    if (kind == 0) return exchange(op, target, follow), high >= low;
    if (kind < 5) count = gather(op, kind == 1 ? BLOCK : 1 + some_distance(), kind < 3, block);
  }
  block[0] = op;
  move_block(block, min(count, BLOCK), target, S->cand.pos[target] > S->cand.pos[op], follow);
  return high >= low;
}

/* ---- what the host calls ------------------------------------------------------------------ */

EXPORT(load) void load(Shop *shop) { S = shop; }

/* Begin from the list in now.seq and the modes in now.mode; its terms are then in now.terms. */
EXPORT(restart) void restart(u64 seed) {
  i32 slots = S->slots, width = S->bases + S->people, stopped;
  random_state = seed;
  accepted = improved = 0;
  memset(S->now.free_at, 0, width * sizeof(i32));
  memset(S->now.terms_at, 0, TERMS * sizeof(i64));
  memset(S->now.terms, 0, TERMS * sizeof(i64));
  memcpy(S->now.mounted_at, S->mounted, slots * sizeof(i32));
  for (i32 p = 0; p < S->ops; p++) {
    i32 op = S->now.seq[p];
    set(p, op);
    S->now.pos[op] = p;
    S->cand.mode[op] = S->now.mode[op];
  }
  low = 0, high = S->ops, changed_op = -1;
  i64 changes = mount_pass(0, &stopped);
  time_pass(0, changes, S->ops, INFINITY);
  high = S->ops - 1;
  take(0, S->ops, S->ops);
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

/* Mean rise of the energy over the moves of a sample that make it worse, each undone. */
EXPORT(sample) f64 sample(i32 moves, i32 merges) {
  f64 sum = 0;
  i32 worse = 0;
  for (i32 i = 0; i < moves; i++) {
    if (!propose(merges)) continue;
    i32 from = low / S->stride, remounted;
    i64 changes = mount_pass(from, &remounted);
    if (S->timeless) {
      memcpy(S->cand.terms, S->now.terms, TERMS * sizeof(i64));
      S->cand.terms[CHANGEOVER] = changes;
    } else {
      time_pass(from, changes, remounted, INFINITY);
    }
    f64 rise = energy_of(S->cand.terms) - energy_now;
    if (rise > 0) sum += rise, worse++;
    leave();
  }
  return worse ? sum / worse : 0;
}

#include "dispatch.h"
