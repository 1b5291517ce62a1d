/* Iterated local search over the order of work on one line: a single base that is always open,
 * needs nobody, and whose changeover depends only on what was done just before.
 *
 * Where only changeovers count, line/arcs.h is the descent. Neighbourhood where times do: exchange two adjacent blocks of the order, of which one is short (moving a block
 * is the same thing), or exchange two operations. Block moves: J. Xu, Z. Lu and T. C. E. Cheng,
 * Journal of Scheduling 17 (2014). A move shifts each block as a whole, so that its lateness is
 * one sum a block; the lateness of a block is convex in its shift, and the tangent at no shift
 * shows in a few additions that most moves are not worth their sums. For one start of both blocks
 * all ends of the second are judged together, in loops that a compiler makes vectors of.
 * As the blocks grow, successors of the first are labelled, and the second ends before one of
 * them: L. M. Gambardella and M. Dorigo, INFORMS Journal on Computing 12 (2000).
 *
 * The host fills one Line (all fields 4 bytes) and owns all memory. Times are minutes.
 */
#include "line/arcs.h"

static void keep_best(void) {
  if (!better(L->terms, L->best_terms)) return;
  memcpy(L->best_terms, L->terms, TERMS * sizeof(i64));
  memcpy(L->best_seq, L->seq, L->ops * sizeof(i32));
}

/* ---- what a move is worth ----------------------------------------------------------------- */

/* Weighted lateness of places [from, to) when they move by so many minutes. */
static inline i32 late_if(i32 from, i32 to, i32 shift) {
  i32 sum = 0;
  for (i32 p = from; p < to; p++) sum += max(L->late[p] + shift, 0) * L->heavy[p];
  return sum;
}

/* Minutes by which [b, c) moves when it goes before [a, b). */
static inline i32 shift_of(i32 a, i32 b) {
  return L->free[a] + change(op_before(a), L->seq[b]) - L->free[b] - L->setup[b];
}

/* Minutes by which changeovers grow when [a, b) and [b, c) change places, for each c up to `to`. */
static void judge_changes(i32 a, i32 b, i32 to) {
  i32 n = L->ops, inside = min(to + 1, n);
  const i32 *restrict seq = L->seq, *restrict setup = L->setup, *restrict second = L->second;
  const i32 *restrict from = L->change + (seq[b - 1] + 1) * L->all;
  i32 *restrict longer = L->longer;
  i32 first = change(op_before(a), seq[b]) - setup[a] - setup[b];
  for (i32 c = b + 1; c < inside; c++) longer[c] = from[seq[c]] - setup[c];
  if (to == n) longer[n] = 0;
  for (i32 c = b + 1; c <= to; c++) longer[c] += first + second[c];
}

/* The least energy that the same exchanges add: the second block exactly, the rest by tangents;
 * the number of those that may gain is returned. */
static i32 judge(i32 a, i32 b, i32 to) {
  const i32 *restrict late = L->late, *restrict heavy = L->heavy, *restrict free = L->free;
  const i32 *restrict slope = L->slope, *restrict count = L->count;
  const i32 *restrict late_before = L->late_before;
  const i32 *restrict second = L->second, *restrict longer = L->longer;
  i32 *restrict early = L->early;
  f64 *restrict worth = L->worth;
  i32 earlier = shift_of(a, b), sum = late_before[b];
  for (i32 c = b + 1; c <= to; c++) {
    sum += max(late[c - 1] + earlier, 0) * heavy[c - 1];
    early[c] = sum - late_before[c];
  }
  i32 n = L->ops, shift = earlier - free[a] - L->setup[a];
  i32 slope_a = slope[b] - slope[a], slope_n = slope[n];
  i32 count_a = count[b] - count[a], count_b = count[b], count_n = count[n];
  f64 of_late = L->energy[LATENESS], of_change = L->energy[CHANGEOVER];
  f64 of_end = L->energy[COMPLETION];
  i64 gaining = 0;
  for (i32 c = b + 1; c <= to; c++) {
    i32 later = free[c] + second[c] + shift;
    i32 lateness = early[c] + later * slope_a + longer[c] * (slope_n - slope[c]);
    i32 completion =
        later * count_a + earlier * (count[c] - count_b) + longer[c] * (count_n - count[c]);
    f64 least = of_late * lateness + of_change * longer[c] + of_end * completion;
    worth[c] = least;
    gaining += least < 0;
  }
  return (i32)gaining;
}

/* Whether exchanging [a, b) and [b, c), which tangents are for, does gain. */
static int gains(i32 a, i32 b, i32 c) {
  i32 n = L->ops, longer = L->longer[c], earlier = shift_of(a, b);
  i32 later = L->free[c] + L->second[c] + earlier - L->free[a] - L->setup[a];
  i32 blocks = L->early[c] + late_if(a, b, later) - (L->late_before[b] - L->late_before[a]);
  i32 rest = longer * (L->slope[n] - L->slope[c]);
  i64 changes = L->terms[CHANGEOVER] + longer;
  i64 completion = L->terms[COMPLETION] + later * (L->count[b] - L->count[a]) +
                   earlier * (L->count[c] - L->count[b]) + longer * (L->count[n] - L->count[c]);
  i64 late = L->terms[LATENESS] + blocks;
  if (energy_of(late + rest, changes, completion) >= energy_now) return 0;
  rest = late_if(c, n, longer) - (L->late_before[n] - L->late_before[c]);
  return energy_of(late + rest, changes, completion) < energy_now;
}

static inline i32 late_alone(i32 op, i32 end) { return L->weight[op] * max(end - L->due[op], 0); }

/* Whether exchanging the operations at places i and j >= i + 2 gains. */
static int swap_gains(i32 i, i32 j) {
  i32 n = L->ops, x = L->seq[i], y = L->seq[j], next = L->seq[i + 1], prev = L->seq[j - 1];
  i32 end_y = L->free[i] + change(op_before(i), y) + L->minutes[y];
  i32 shift = end_y + change(y, next) - L->free[i + 1] - L->setup[i + 1];
  i32 end_x = L->free[j] + shift + change(prev, x) + L->minutes[x];
  i32 longer = change(op_before(i), y) - L->setup[i] + change(y, next) - L->setup[i + 1] +
               change(prev, x) - L->setup[j];
  if (j + 1 < n) longer += change(x, L->seq[j + 1]) - L->setup[j + 1];
  i64 changes = L->terms[CHANGEOVER] + longer;
  i64 completion = L->terms[COMPLETION] + L->counted[y] * (end_y - L->free[j + 1]) +
                   L->counted[x] * (end_x - L->free[i + 1]) +
                   shift * (L->count[j] - L->count[i + 1]) +
                   longer * (L->count[n] - L->count[j + 1]);
  i64 late = L->late_before[i] + late_alone(y, end_y) + late_alone(x, end_x);
  i64 rest = L->late_before[j] - L->late_before[i + 1] + L->late_before[n] - L->late_before[j + 1];
  rest += shift * (L->slope[j] - L->slope[i + 1]) + longer * (L->slope[n] - L->slope[j + 1]);
  if (energy_of(late + rest, changes, completion) >= energy_now) return 0;
  rest = late_if(i + 1, j, shift) + late_if(j + 1, n, longer);
  return energy_of(late + rest, changes, completion) < energy_now;
}

/* Places before this one can be exchanged with place i as far as what waits for it goes. */
static i32 swap_limit(i32 i) {
  i32 x = L->seq[i], limit = min(L->ops, i + L->reach);
  for (i32 s = L->succ_first[x]; s < L->succ_first[x + 1]; s++)
    if (L->pos[L->succ[s]] > i) limit = min(limit, L->pos[L->succ[s]]);
  return limit;
}

/* Whether the operation at place j may go as far ahead as place i. */
static int may_swap(i32 i, i32 j) {
  i32 y = L->seq[j];
  for (i32 p = L->pred_first[y]; p < L->pred_first[y + 1]; p++)
    if (L->pos[L->pred[p]] >= i) return 0;
  return 1;
}

/* ---- descent ------------------------------------------------------------------------------ */

static i32 margin; /* places around what was moved where moves may gain again */

/* Moves may gain again around [from, to). */
static void wake(i32 from, i32 to) {
  from = max(0, from - margin), to = min(L->ops, to + margin);
  for (i32 p = from; p < to; p++) L->awake[L->seq[p]] = 1;
}

static void exchange(i32 a, i32 b, i32 c) {
  memcpy(L->moved, L->seq + a, (b - a) * sizeof(i32));
  memmove(L->seq + a, L->seq + b, (c - b) * sizeof(i32));
  memcpy(L->seq + a + c - b, L->moved, (b - a) * sizeof(i32));
  retime(a);
  wake(a, c);
}

/* The last end of a second block [b, c) that no successor of the first keeps from going ahead;
 * successors of what is before place b - 1 are marked. */
static i32 reach_of(i32 b, i32 last) {
  i32 op = L->seq[b - 1], to = b;
  for (i32 s = L->succ_first[op]; s < L->succ_first[op + 1]; s++) L->mark[L->succ[s]] = stamp;
  if (!L->succ_first[L->all]) return last;
  while (to < last && L->mark[L->seq[to]] != stamp) to++;
  return to;
}

/* Whether the last of [a, b) is the first or one of its heirs; its successors are then heirs too. */
static int inherits(i32 a, i32 b) {
  i32 op = L->seq[b - 1];
  if (b - 1 > a && L->heir[op] != stamp) return 0;
  for (i32 s = L->succ_first[op]; s < L->succ_first[op + 1]; s++) L->heir[L->succ[s]] = stamp;
  return 1;
}

/* Take the first exchange of blocks from place a on that gains; 0 if none does. None can where
 * nothing but heirs of the operation at a is left. */
static int improve_blocks(i32 a) {
  i32 n = L->ops, heirs = L->heirs[L->seq[a]] + 1, seen = a + 1;
  stamp++;
  for (i32 b = a + 1; b < min(n, a + L->reach); b++) {
    heirs -= inherits(a, b);
    if (heirs == n - b) break;
    i32 to = reach_of(b, min(n, b - a <= L->block ? a + L->reach : b + L->block));
    tried += to - b + ROW + waiting(L->seq[b - 1]) / 2;
    for (; seen < to; seen++) L->second[seen + 1] = change(L->seq[seen], L->seq[a]);
    judge_changes(a, b, to);
    i32 hopes = judge(a, b, to);
    for (i32 c = b + 1; hopes && c <= to; c++) {
      if (L->worth[c] >= 0) continue;
      if (gains(a, b, c)) return exchange(a, b, c), 1;
      hopes--;
    }
  }
  return 0;
}

static int improve_swaps(i32 i) {
  for (i32 j = i + 2, limit = swap_limit(i); j < limit; j++) {
    tried++;
    if (!may_swap(i, j) || !swap_gains(i, j)) continue;
    i32 op = L->seq[i];
    L->seq[i] = L->seq[j], L->seq[j] = op;
    return retime(i), wake(i, j + 1), 1;
  }
  return 0;
}

static i32 numbered; /* places in `order` */

static void number_places(void) {
  if (numbered == L->ops) return;
  numbered = L->ops;
  for (i32 i = 0; i < numbered; i++) L->order[i] = i;
}

/* Go down to an order that no move from a place awake improves, places in random turn. */
static void go_down(void) {
  i32 n = L->ops;
  number_places();
  tried += n + DESCENT;
  for (i32 i = n - 1; i > 0; i--) {
    i32 j = below(i + 1), place = L->order[i];
    L->order[i] = L->order[j], L->order[j] = place;
  }
  for (i32 turn = 0, since = 0; since < n; turn = (turn + 1) % n, since++) {
    i32 place = L->order[turn], op = L->seq[place];
    if (!L->awake[op]) continue;
    if (improve_blocks(place) || improve_swaps(place)) since = -1;
    else L->awake[op] = 0;
  }
}

/* ---- leaving a local optimum -------------------------------------------------------------- */

static void change_order(i32 from, i32 to) {
  if (!L->timed) return touch(from, to);
  retime(from);
  wake(from, to);
}

/* Bring what is marked in [from, to], and what it waits for, to the front of it. */
static void pull(i32 from, i32 to) {
  i32 moved = 0, p = to;
  for (i32 q = to; q >= from; q--) {
    i32 op = L->seq[q];
    if (L->mark[op] != stamp) {
      L->seq[p--] = op;
      continue;
    }
    L->moved[moved++] = op;
    for (i32 i = L->pred_first[op]; i < L->pred_first[op + 1]; i++) L->mark[L->pred[i]] = stamp;
  }
  for (i32 i = 0; i < moved; i++) L->seq[p--] = L->moved[i];
  change_order(from, to + 1);
}

/* Bring what is marked in [from, to], and what waits for it, to the back of it. */
static void push(i32 from, i32 to) {
  i32 moved = 0, p = from;
  for (i32 q = from; q <= to; q++) {
    i32 op = L->seq[q];
    if (L->mark[op] != stamp) {
      L->seq[p++] = op;
      continue;
    }
    L->moved[moved++] = op;
    for (i32 i = L->succ_first[op]; i < L->succ_first[op + 1]; i++) L->mark[L->succ[i]] = stamp;
  }
  for (i32 i = 0; i < moved; i++) L->seq[p++] = L->moved[i];
  change_order(from, to + 1);
}

/* Move short blocks at random, with all that precedence makes go along. */
static void disturb(i32 moves, i32 longest, i32 farthest) {
  for (i32 m = 0; m < moves; m++) {
    i32 n = L->ops, length = 1 + below(longest), distance = 1 + below(farthest);
    i32 from = below(n), to = min(n, from + length);
    stamp++;
    for (i32 p = from; p < to; p++) L->mark[L->seq[p]] = stamp;
    if (below(2)) pull(max(0, from - distance), to - 1);
    else push(from, min(n - 1, to - 1 + distance));
  }
}

/* ---- what the host calls ------------------------------------------------------------------ */

EXPORT(load) void load(Line *line) {
  L = line;
  L->free[0] = L->begin;
  numbered = 0;
}

static void settle(void) {
  memcpy(L->kept_seq, L->seq, L->ops * sizeof(i32));
  energy_kept = energy_now;
}

/* Begin from the order in seq; its terms are then in terms, and it is the best. */
EXPORT(restart) void restart(u64 seed) {
  random_state = seed;
  fails = 0;
  margin = L->ops;
  if (L->timed) wake(0, L->ops);
  else memset(L->awake, 0, L->ops * sizeof(i32));
  retime(0);
  settle();
  touched_from = L->ops, touched_to = waiting_count = 0;
  energy_round = energy_now;
  memcpy(L->best_terms, L->terms, TERMS * sizeof(i64));
  memcpy(L->best_seq, L->seq, L->ops * sizeof(i32));
}

/* Go down from the current order. */
EXPORT(descend) void descend(void) {
  if (L->timed) go_down();
  else go_down_arcs_wholly();
  retime(0);
  keep_best();
  settle();
}

/* Disturb and go down until so many moves have been judged; their number is returned. A worse
 * order is gone on from as in annealing, at a temperature of `warmth` of its energy; after
 * `patience` rounds without a gain the search goes back to the best. */
EXPORT(improve) i64 improve(i64 budget, i32 moves, i32 longest, i32 farthest, f64 warmth,
                            i32 patience) {
  tried = 0;
  while (tried < budget) {
    disturb(1 + below(moves), longest, farthest);
    go_down();
    keep_best();
    if (energy_now < energy_round) energy_round = energy_now, fails = 0;
    else fails++;
    if (energy_now <= energy_kept * (1 - warmth * log(unit()))) settle();
    int back = fails > patience;
    memcpy(L->seq, back ? L->best_seq : L->kept_seq, L->ops * sizeof(i32));
    retime(0);
    if (back) settle(), energy_round = energy_now, fails = 0;
  }
  return tried;
}

/* Disturb the order in seq once, and go down with moves within `near` places of what has moved; the
 * number of those judged is returned. */
EXPORT(hop) i64 hop(i32 moves, i32 longest, i32 farthest, i32 near) {
  tried = 0;
  margin = near;
  retime(0);
  disturb(1 + below(moves), longest, farthest);
  go_down();
  return tried;
}

/* Go down in the order in seq with moves within `near` places of [from, to), where something has
 * come or gone; the number of those judged is returned. */
EXPORT(close_up) i64 close_up(i32 from, i32 to, i32 near) {
  tried = 0;
  margin = near;
  retime(0);
  wake(from, to);
  go_down();
  return tried;
}

/* Improve where only changeovers count, without going back. */
EXPORT(improve_arcs) i64 improve_arcs(i64 budget, i32 moves, i32 longest, i32 farthest,
                                      f64 warmth) {
  tried = 0;
  i64 best = L->best_terms[CHANGEOVER];
  while (tried < budget) {
    disturb(1 + below(moves), longest, farthest);
    go_down_arcs();
    if (L->terms[CHANGEOVER] < best) {
      best = L->terms[CHANGEOVER];
      memcpy(L->best_seq, L->seq, L->ops * sizeof(i32));
    }
    choose(energy_now <= energy_kept * (1 - warmth * log(unit())));
  }
  if (best < L->best_terms[CHANGEOVER]) {
    memcpy(L->seq, L->best_seq, L->ops * sizeof(i32));
    retime(0);
    memcpy(L->best_terms, L->terms, TERMS * sizeof(i64));
    memcpy(L->seq, L->kept_seq, L->ops * sizeof(i32));
    retime(0);
  }
  return tried;
}
