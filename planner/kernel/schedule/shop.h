/* What the host fills and what the search keeps: one Shop, all of whose fields are 4 bytes. */
#ifndef SHOP_H
#define SHOP_H

#include "../common.h"

enum { VIOLATION, LATENESS, CHANGEOVER, OVERTIME, DISTURBANCE, HOLDING, COMPLETION, TIGHTNESS,
       TERMS };
enum { MAY_PAUSE = 1, DONE = 2, FIXED = 4, ISSUED = 8 };
enum { NOWHERE = -1, NOBODY = -1, NONE = -1 };
enum { BLOCK = 160 };     /* operations that an edit moves together, at most */
enum { EITHER, AFTER, BEFORE }; /* on which side of a group's members an operation goes well */
enum { NEVER = -1, ALWAYS = 1 << 28 }; /* latest minutes: too late already, no limit */

typedef struct {
  i32 release, latest_end, flags, fixed_start, fixed_end, fixed_first, fixed_second;
  i32 issued_mode, issued_start, issued_charge;
  i32 pred, preds, succ, succs, job, jobs; /* first and number of its entries */
} Op;

typedef struct {
  i32 op, base, duration, attended, calendar, crew, crews, need, needs, group, groups, free_from;
  i32 plain; /* no people, always open */
  i32 kind;  /* of all that is mounted, and ... */
  const i32 *minutes_after; /* ... minutes from every kind, if kinds alone tell them, ... */
  const i32 *minutes_before; /* ... and those to every kind */
} Mode;

typedef struct { i32 op, lag, from_start, holding; } Pred;
typedef struct { i32 first, second, calendar, free_from; } Crew;
typedef struct { i32 slot, value; const i32 *minutes_from; } Need; /* slot of its base; minutes by
                                                                      mounted value */
typedef struct { i32 span, priced, priced_end; } Calendar;
typedef struct { i32 start, end, worked, priced; } Span; /* the first overtime that ends after it begins */
typedef struct { i32 start, end, price; } Priced;
typedef struct { i32 due, weight, aim, spare; } Job;
typedef struct { i32 member, members, side; } Group; /* modes that mount the same, or nearly */

typedef struct { i32 first, second, until; } Hands; /* who does an operation, and until when */

/* A complete schedule, or the part of a candidate that differs from it. The first operation of a
 * base follows a sentinel, numbered after the operations, that mounts what is mounted at the
 * start. */
typedef struct {
  i32 *seq, *pos;         /* the list, and where each operation is in it */
  i32 *mode;              /* mode of each operation */
  i32 *change;            /* changeover minutes of each operation */
  i32 *mounted;           /* what is mounted on its base after each operation or sentinel */
  i32 *start, *end;
  i32 *freed;             /* when its base is free after each operation or sentinel, and what ... */
  i64 *counted;           /* ... each operation adds to the terms */
  i32 *worked;            /* working minutes of its station until its base is free after each */
  i32 *seen;              /* when each of the people is free before each operation */
  Hands *hands;
  i64 *terms;
} Plan;

typedef struct {
  i32 ops, movables, slots, bases, people, block_shift, blocks, timeless, jobs;
  i32 by_kind;  /* all changeovers follow from kinds: what is mounted is not kept */
  i32 simple;   /* nobody is needed, and no charges: lateness follows from when bases are free */
  const Op *op;
  const Mode *mode;
  const Pred *pred;
  const i32 *succ;
  const i32 *op_job;
  const Job *job;
  const Crew *crew;
  const Need *need;
  const i32 *longest_counts; /* by base */
  const i32 *start_kind;     /* by base: the kind that is mounted at the start */
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
  const u32 *is_member; /* by group a bit for each mode, in so many words: */
  i32 member_words;
  const i64 *level;   /* levels x TERMS weights */
  i32 levels;
  Plan now, cand;
  i32 *prev, *next;       /* neighbours on the same base in the current plan, ... */
  i32 *new_prev, *new_next; /* ... and in the candidate */
  i32 *relinked, *is_relinked; /* operations and sentinels whose neighbours may differ */
  i32 *latest_worked;     /* by mode: those at which it must end to be in time, had it the shop alone */
  i32 *latest_free;       /* the latest that its base may become free for the operation, and ... */
  i32 *latest_ready;      /* ... it ready, so that nothing becomes late or later */
  i32 *best_seq, *best_mode;
  i64 *best_terms;
  i32 *mark, *moved, *free_now;
  i32 *touched;           /* operations with another changeover or mounted state */
  i32 *last;              /* by base: the last operation that an edit has brought in order */
  u64 *agenda;            /* what a pass has to look at; empty between passes */
  u64 *easing;            /* of what is to be timed again, what may become earlier */
  i32 *again, *passed;    /* operations timed again, and those only passed by */
  i32 *shifted, *is_shifted; /* operations that an edit has moved in the list */
  f64 *overdue_tree;      /* energy of being late or tight by place */
  i32 *late;              /* last operations of jobs that were late */
  f64 *weight; /* energy of one minute of each term */
} Shop;

static Shop shop;        /* a copy: what it says stays where the compiler knows it */
static Shop *const S = &shop;
static i32 stamp;         /* marks equal to it are set */
static i32 low, high;     /* window of the list that the candidate changes */
static i32 switches;      /* operations of the candidate with another mode, ... */
static i32 switched[BLOCK]; /* ... and which */
static f64 energy_now;
static f64 energy_limit;  /* a candidate is taken if its energy is at most this */
static i64 accepted, improved;

static inline int same(const i32 *a, const i32 *b, i32 n) {
  for (i32 i = 0; i < n; i++)
    if (a[i] != b[i]) return 0;
  return 1;
}

static inline void mark(i32 op) { S->mark[op] = stamp; }
static inline int marked(i32 op) { return S->mark[op] == stamp; }

static inline const Mode *mode_of(i32 op) { return &S->mode[S->cand.mode[op]]; }
static inline i32 base_of(i32 op) { return mode_of(op)->base; }
static inline i32 kind_of(i32 op) { return mode_of(op)->kind; }

/* The mode of the operation on the base; NONE if it cannot be done there. */
static inline i32 mode_on(i32 op, i32 base) {
  for (i32 k = S->op_mode[op]; k < S->op_mode[op + 1]; k++)
    if (S->mode[k].base == base) return k;
  return NONE;
}

static inline f64 energy_of(const i64 *terms) {
  f64 sum = 0;
  for (i32 t = 0; t < TERMS; t++) sum += S->weight[t] * (f64)terms[t];
  return sum;
}

static int better(const i64 *a, const i64 *b) {
  return lower(a, b, S->level, S->levels, TERMS);
}

#endif
