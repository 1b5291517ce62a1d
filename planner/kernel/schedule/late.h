/* Moves for late jobs: all that one still has to do on a base goes ahead at once, or something that
 * stands before it makes room. */
#ifndef LATE_H
#define LATE_H

#include "edit.h"
#include "shop.h"

enum { RECOUNT = 512, CHAIN = 8 }; /* proposals until late jobs are counted again; most of a job's
                                      operations that move together */

static i32 lates;        /* how many were late when they were counted */
static i32 recount;      /* proposals until then */

static int ends_late(i32 op) {
  for (i32 i = 0; i < S->op[op].jobs; i++) {
    const Job *job = &S->job[S->op_job[S->op[op].job + i]];
    if (job->weight && S->now.end[op] > job->due) return 1;
  }
  return 0;
}

static void count_late(void) {
  lates = 0;
  for (i32 op = 0; op < S->ops; op++)
    if (S->op[op].jobs && ends_late(op)) S->late[lates++] = op;
  recount = RECOUNT;
}

/* An operation of a late job or of what it waits for, or -1. */
static i32 late_one(void) {
  if (S->now.terms[LATENESS] == 0) return -1;
  if (--recount <= 0) count_late();
  if (lates == 0) return -1;
  i32 op = S->late[below(lates)];
  if (!ends_late(op)) return -1;
  for (i32 back = below(6); back > 0 && S->op[op].preds; back--)
    op = S->pred[S->op[op].pred + below(S->op[op].preds)].op;
  return S->op[op].flags & (FIXED | DONE) || base_of(op) == NOWHERE ? -1 : op;
}

/* The operation and what waits for it on its base, first to last; how many. */
static i32 chain_of(i32 op, i32 *chain) {
  i32 n = 0, base = base_of(op);
  for (chain[n++] = op; n < CHAIN;) {
    const i32 *succ = S->succ + S->op[op].succ;
    i32 next = NONE;
    for (i32 i = 0; i < S->op[op].succs; i++)
      if (base_of(succ[i]) == base && !(S->op[succ[i]].flags & (FIXED | DONE))) next = succ[i];
    if (next == NONE) break;
    chain[n++] = op = next;
  }
  return n;
}

#endif
