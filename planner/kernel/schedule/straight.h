/* The list by start. Moves carry what waits for them along from place to place, and leave the list in
 * an order that has less and less to do with the hours; work that is far away in it is then carried
 * along, or pushed back, for nothing. Where nobody is needed the times stay as they are; people are
 * asked by who begins first. */
#ifndef STRAIGHT_H
#define STRAIGHT_H

#include "edit.h"

enum { STRAIGHT = 1024 }; /* moves after which the list is brought in order */

/* Whether the operation comes after all that it waits for, and its base's work before it. */
static int follows(i32 op) {
  i32 before = S->prev[op], place = S->cand.pos[op];
  if (before < S->ops && base_of(op) != NOWHERE && S->cand.pos[before] > place) return 0;
  return last_pred(op) < place;
}

static void put_back(i32 from, i32 to) {
  for (i32 p = from; p <= to; p++) set(p, S->now.seq[p]);
}

/* What has gone elsewhere is edited. */
static void note_moved(i32 p) {
  i32 op = S->cand.seq[p];
  if (op == S->now.seq[p]) return;
  touch(p, p);
  S->moved[0] = op;
  note_shifted(1);
}

/* List the operations from one place to another by their start in the current plan; 0, and no change,
 * if fixed times contradict their order. */
static int list_by_start(i32 from, i32 to) {
  for (i32 p = from; p <= to; p++) {
    i32 op = S->now.seq[p], start = S->now.start[op], q = p;
    for (; q > from && S->now.start[S->cand.seq[q - 1]] > start; q--) set(q, S->cand.seq[q - 1]);
    set(q, op);
  }
  for (i32 p = from; p <= to; p++)
    if (!follows(S->cand.seq[p])) return put_back(from, to), 0;
  for (i32 p = from; p <= to; p++) note_moved(p);
  return 1;
}

#endif
