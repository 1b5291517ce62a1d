/* The line that the host fills, and the order of its work with all times. Times are minutes. */
#ifndef ORDER_H
#define ORDER_H

#include "../common.h"

/* Places timed anew in the time of judging one move, and moves judged in the time that each start
 * of both blocks (besides one for every other successor) and each descent takes anyhow. */
enum { RETIMED = 4, ROW = 4, DESCENT = 64 };
enum { LATENESS, CHANGEOVER, COMPLETION, TERMS };

typedef struct {
  i32 ops; /* in the order; where some of all are elsewhere, places of those are -1 */
  i32 all, timed, begin, block, reach, cheap, levels;
  const i32 *change; /* (all + 1) x all minutes from row to column; row 0 is the start */
  const i32 *minutes, *due, *weight, *counted; /* by operation; counted where completion counts */
  const i32 *pred_first, *pred, *succ_first, *succ;
  const i32 *heirs; /* number of all successors, near and far, in the order or not */
  /* `cheap` operations that may come right after each (row 0: the start) or right before it, by
   * minutes of changeover; -1 where there are no more */
  const i32 *cheap_after, *cheap_before;
  const i64 *level;  /* levels x TERMS weights */
  const f64 *energy; /* of one minute of each term */
  i32 *seq, *pos;
  i32 *setup, *late, *heavy; /* by place: changeover, minutes after the due date, weight */
  i32 *free;                 /* minute at which each place may begin; last, the end */
  i32 *slope, *count;        /* sums before each place: weight of what is late, counted */
  i32 *late_before;          /* weighted lateness before each place */
  i32 *second, *longer, *early; /* by end of a second block: changeover to the first, minutes
                                 * added to changeovers, and to the second block's lateness */
  f64 *worth;                   /* by end of a second block: least energy added */
  i32 *order, *awake, *queue; /* places in random turn; operations around which moves may gain */
  i32 *mark, *heir, *moved, *kept_seq, *best_seq;
  i64 *terms, *best_terms;
} Line;

static Line *L;
static i32 stamp, fails;
static f64 energy_now, energy_kept, energy_round; /* of the order; of where it goes on; best lately */
static i64 tried;

static inline f64 energy_of(i64 late, i64 changes, i64 completion) {
  return L->energy[LATENESS] * (f64)late + L->energy[CHANGEOVER] * (f64)changes +
         L->energy[COMPLETION] * (f64)completion;
}

static int better(const i64 *a, const i64 *b) {
  return lower(a, b, L->level, L->levels, TERMS);
}

static inline i32 change(i32 before, i32 after) { return L->change[(before + 1) * L->all + after]; }
static inline i32 op_before(i32 place) { return place ? L->seq[place - 1] : -1; }

/* How many operations come right after this one. */
static inline i32 waiting(i32 op) { return L->succ_first[op + 1] - L->succ_first[op]; }

/* Times and sums from a place of the order on. */
static void retime(i32 from) {
  i32 n = L->ops;
  for (i32 p = from; p < n; p++) {
    i32 op = L->seq[p];
    L->pos[op] = p;
    L->setup[p] = change(op_before(p), op);
    L->free[p + 1] = L->free[p] + L->setup[p] + L->minutes[op];
    L->late[p] = L->free[p + 1] - L->due[op];
    L->heavy[p] = L->weight[op];
    i32 late = L->late[p] > 0;
    L->slope[p + 1] = L->slope[p] + (late ? L->heavy[p] : 0);
    L->late_before[p + 1] = L->late_before[p] + (late ? L->heavy[p] * L->late[p] : 0);
    L->count[p + 1] = L->count[p] + L->counted[op];
  }
  i64 changes = 0, completion = 0;
  for (i32 p = 0; p < n; p++) {
    changes += L->setup[p];
    completion += (i64)L->counted[L->seq[p]] * L->free[p + 1];
  }
  L->terms[LATENESS] = L->late_before[n];
  L->terms[CHANGEOVER] = changes;
  L->terms[COMPLETION] = completion;
  energy_now = energy_of(L->late_before[n], changes, completion);
  tried += (n - from) / RETIMED;
}

#endif
