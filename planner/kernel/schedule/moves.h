/* Moves: what one random step changes. */
#ifndef MOVES_H
#define MOVES_H

#include "beside.h"
#include "edit.h"
#include "guess.h"
#include "late.h"
#include "shop.h"
#include "sift.h"
#include "trade.h"

/* Of 100 merges: to the nearest work that mounts the same; of those without another alternative,
 * with the rest of the campaign, of which with all of it. Of 100 other moves: between two of them.
 * Of 100 for late jobs: with all passes, of which what stands before them goes behind. */
enum { NEAREST = 75, TOGETHER = 85, WHOLE = 90, BETWEEN = 50, ADVANCE = 50, BEHIND = 30 };
/* While nothing is late, of 100 moves: of that one of two operations which takes longer to set up. Of
 * 100 campaigns: longer than a run, of which as long as what its operation begins. Of 100 merges: with
 * all that is mounted alike, or up to so many with all but what is cheapest to change. */
enum { DEARER = 50, LONGER = 60, BEGUN = 50, ALL = 40, ALMOST = 76 };
/* Of 100 moves for late jobs: room is made for them on one base and used on others. Among how many
 * operations of a base what has time is looked for, and how many working minutes that is at least. */
enum { RELIEVED = 50, AHEAD = 24, SPARE_MIN = 100 };
enum { SIFTED = 50 }; /* of 100 moves while nothing is late: to a place that is looked for */
enum { TRADED = 5 };  /* of 100 of work that other bases can do, where nobody is needed: with another */
enum { AROUND = 12 }; /* operations of a base among which the length of a campaign is looked for */
enum { REACH = 300 }; /* operations of a base among which the nearest is looked for */

/* Below which changeover work belongs to one campaign: a run has none inside, the work on one OD
 * those of belts, that of one family those of ODs. */
static i32 some_limit(i32 op) {
  if (S->now.terms[LATENESS] || below(100) >= LONGER) return 1;
  if (below(100) < BEGUN) return max(1, S->now.change[op]);
  int forward = below(2);
  for (i32 steps = below(AROUND); steps > 0; steps--) {
    i32 other = beside(op, forward);
    if (other == NONE) break;
    op = other;
  }
  return max(1, S->now.change[op]);
}

/* The first and the last operation of the campaign that this one is in, short of fixed work. */
static i32 first_of(i32 op, i32 limit) {
  while (S->now.change[op] < limit) {
    i32 before = beside(op, 0);
    if (before == NONE || S->op[before].flags & FIXED) break;
    op = before;
  }
  return op;
}

static i32 last_of(i32 op, i32 limit) {
  for (i32 next = S->next[op]; next != NONE && S->now.change[next] < limit; next = S->next[op])
    op = next;
  return op;
}

/* The operation and those after it on its base: `most` of them, or to the end of the campaign. */
static i32 gather(i32 first, i32 most, i32 limit, i32 *block) {
  i32 n = 0;
  block[n++] = first;
  for (i32 op = S->next[first]; op != NONE && n < most; op = S->next[op]) {
    if (S->op[op].flags & FIXED || S->now.change[op] >= limit) break;
    block[n++] = op;
  }
  return n;
}

static void undo_switches(void) {
  while (switches > 0) {
    i32 op = switched[--switches];
    S->cand.mode[op] = S->now.mode[op];
  }
}

/* Undo what has been changed so far. */
static void give_up(void) {
  undo_switches();
  undo_links();
  low = S->ops, high = -1;
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
  i32 from = earlier ? at + (after ? 1 : 0) : first, to = earlier ? last : at - (after ? 0 : 1);
  if (pointless(block, count, target, after, from, to)) return give_up();
  if (earlier) pull(from, to);
  else push(from, to);
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

/* The nearest member of the group on the operation's base beyond those that it is among. */
static i32 nearest_alike(i32 op, i32 group) {
  int forward = below(2), apart = 0;
  const u32 *is_member = S->is_member + group * S->member_words;
  for (i32 other = beside(op, forward), steps = 0; other != NONE && steps < REACH; steps++) {
    i32 mode = S->cand.mode[other];
    int alike = is_member[mode >> 5] >> (mode & 31) & 1;
    if (alike && apart) return other;
    if (!alike) apart = 1;
    other = beside(other, forward);
  }
  return NONE;
}

/* The group to look for: of all that is mounted, of all but what is cheapest to change, or any. */
static i32 some_group(const Mode *m) {
  i32 roll = below(100), almost = S->now.terms[LATENESS] ? ALL : ALMOST;
  i32 which = roll < ALL ? 0 : roll < almost ? min(1, m->groups - 1) : below(m->groups);
  return S->mode_group[m->group + which];
}

/* An operation that mounts the same (or little else), on a base where `op` can be done too; sets
 * the mode for it and the side on which to go. */
static i32 alike(i32 op, i32 *mode, i32 *side) {
  const Mode *m = mode_of(op);
  if (m->groups == 0) return NONE;
  i32 which = some_group(m);
  const Group *g = &S->group[which];
  *side = g->side == EITHER ? AFTER + below(2) : g->side;
  if (g->side == EITHER && below(100) < NEAREST)
    return *mode = S->cand.mode[op], nearest_alike(op, which);
  i32 other = S->mode[S->member[g->member + below(g->members)]].op;
  for (i32 k = S->op_mode[op]; k < S->op_mode[op + 1]; k++)
    if (S->mode[k].base == base_of(other)) return *mode = k, other;
  return NONE;
}

/* An operation to move. */
static i32 some_operation(void) {
  i32 op = S->movable[below(S->movables)];
  if (S->now.terms[LATENESS] || below(100) >= DEARER) return op;
  i32 other = S->movable[below(S->movables)];
  return S->now.change[other] > S->now.change[op] ? other : op;
}

static void set_mode(i32 op, i32 mode) {
  if (S->cand.mode[op] == mode) return;
  i32 old = base_of(op), base = S->mode[mode].base, p = S->cand.pos[op];
  touch(p, p);
  S->cand.mode[op] = mode;
  switched[switches++] = op;
  if (old == base) return;
  if (old != NOWHERE) unlink(op);
  if (base == NOWHERE) return;
  do p--;
  while (p >= 0 && base_of(S->cand.seq[p]) != base);
  insert(op, p < 0 ? sentinel(base) : S->cand.seq[p]);
}

/* Give one operation the mode, and the others of its block one on the same base unless they are done
 * there already; 0 if one of them cannot be. */
static int set_modes(const i32 *block, i32 count, i32 op, i32 mode) {
  i32 base = S->mode[mode].base;
  for (i32 b = 0; b < count; b++)
    if (mode_on(block[b], base) == NONE) return 0;
  for (i32 b = 0; b < count; b++)
    if (block[b] == op) set_mode(op, mode);
    else if (base_of(block[b]) != base) set_mode(block[b], mode_on(block[b], base));
  return 1;
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
  if (pointless_exchange(x, y)) return;
  i32 from = S->cand.pos[x], to = S->cand.pos[y];
  stamp++, mark(y), pull(from, to);
  stamp++, mark(x), push(S->cand.pos[x], to);
  if (follow) ripple(&y, 1, 1), ripple(&x, 1, 0);
}

/* All passes of a late job at once ahead of earlier work on their base, or one before them behind. */
static int advance_late(i32 op) {
  i32 chain[CHAIN], count = chain_of(op, chain), base = base_of(op), follow = below(4) > 0;
  i32 target = neighbour(op, base, some_distance(), 0);
  if (target < 0) return 0;
  if (below(100) < BEHIND && !(S->op[target].flags & FIXED)) {
    move_block(&target, 1, chain[below(count)], 1, follow);
  } else {
    if (below(100) < BETWEEN) target = first_of(target, 1);
    move_block(chain, count, target, 0, follow);
  }
  return high >= low;
}

/* Of what stands before a late job on its base and has time, up to three go behind it, and what is still
 * to be done for the job elsewhere goes ahead there by up to two places: neither helps without the other. */
static int relieve(i32 op) {
  i32 chain[CHAIN], last = chain[chain_of(op, chain) - 1], from = -1, left = below(4);
  stamp++;
  for (i32 other = S->prev[op], steps = 0; other < S->ops && steps < AHEAD && left > 0; steps++) {
    i32 spare = S->latest_worked[S->cand.mode[other]] - S->now.worked[other];
    if (S->op[other].flags & (FIXED | DONE)) break;
    if (spare >= SPARE_MIN && below(2)) mark(other), from = S->cand.pos[other], left--;
    other = S->prev[other];
  }
  if (from >= 0) push(from, S->cand.pos[last]);
  for (i32 next = last; S->op[next].succs;) {
    next = S->succ[S->op[next].succ + below(S->op[next].succs)];
    if (S->op[next].flags & (FIXED | DONE)) break;
    if (base_of(next) == NOWHERE) continue;
    i32 before = next;
    for (i32 steps = below(3); steps > 0; steps--) {
      i32 other = S->new_prev[before];
      if (other >= S->ops || S->op[other].flags & (FIXED | DONE)) break;
      before = other;
    }
    if (before == next) continue;
    stamp++, mark(next);
    pull(S->cand.pos[before], S->cand.pos[next]);
  }
  return high >= low;
}

/* Whether places are worth looking for: nothing is late, and changeovers count. */
static int unhurried(void) {
  const i64 *terms = S->now.terms;
  return !S->timeless && terms[LATENESS] + terms[VIOLATION] == 0 && S->weight[CHANGEOVER] > 0;
}

static int tradable(i32 op) {
  return !S->people && S->op_mode[op + 1] - S->op_mode[op] > 1 && unhurried();
}

static i32 some_base(i32 op) {
  return S->mode[S->op_mode[op] + below(S->op_mode[op + 1] - S->op_mode[op])].base;
}

/* An operation, a run or a campaign to a place where it goes well, on its base or another. */
static int sift(i32 op) {
  i32 block[BLOCK], count = 1, limit = 1, mode = other_mode(op), base = S->mode[mode].base;
  Sift s;
  if (base == NOWHERE || base_of(op) == NOWHERE) return 0;
  block[0] = op;
  if (below(100) < TOGETHER) {
    limit = some_limit(op);
    count = gather(below(100) < WHOLE ? first_of(op, limit) : op, BLOCK, limit, block);
  }
  stamp++;
  for (i32 b = 0; b < count; b++) mark(block[b]);
  leave_place(&s, block, count);
  if (base == base_of(op)) {
    begin_sift(&s, block, count);
    sift_later(&s);
    sift_earlier(&s);
  } else if (set_modes(block, count, op, mode)) {
    begin_sift(&s, block, count);
    sift_elsewhere(&s, base);
  }
  if (!s.found) return give_up(), 0;
  move_block(block, count, s.target, s.after, below(3) > 0);
  return high >= low;
}

/* Edit the candidate list by one random move; 0 if nothing came of it. */
static int propose(i32 merges) {
  i32 block[BLOCK], count = 1;
  low = S->ops, high = -1, switches = 0;
  i32 late = below(4) == 0 ? late_one() : -1;
  if (late >= 0 && S->bases > 1 && below(100) < RELIEVED) return relieve(late);
  if (late >= 0 && below(100) < ADVANCE) return advance_late(late);
  i32 op = late >= 0 ? late : some_operation(), limit = 1;
  if (tradable(op) && below(100) < TRADED) return trade(op, some_base(op));
  if (unhurried() && below(100) < SIFTED) return sift(op);
  int follow = below(3) > 0;
  if (late < 0 && below(100) < merges) {
    i32 mode, side, other = alike(op, &mode, &side);
    if (other < 0 || other == op) return 0;
    block[0] = op;
    if (below(100) < TOGETHER) {
      limit = some_limit(op);
      count = gather(below(100) < WHOLE ? first_of(op, limit) : op, BLOCK, limit, block);
    }
    if (mode != S->cand.mode[op] && !set_modes(block, count, op, mode)) return 0;
    move_block(block, min(count, BLOCK), other, side == AFTER, follow);
    return high >= low;
  }
  block[0] = op;
  i32 mode = other_mode(op), base = S->mode[mode].base;
  if (base == NOWHERE) return set_mode(op, mode), high >= low;
  int near = below(10) < 7, forward = late < 0 && below(2);
  i32 target = near ? neighbour(op, base, some_distance(), forward) : anywhere(base);
  if (S->people && below(8) == 0) target = S->cand.seq[below(S->ops)]; /* who is asked first */
  int switching = mode != S->cand.mode[op];
  if (!switching && (target < 0 || target == op)) return high >= low;
  i32 kind = below(10);
  if (kind == 0 && !switching) return exchange(op, target, follow), high >= low;
  if (kind < 4) limit = some_limit(op), count = gather(first_of(op, limit), BLOCK, limit, block);
  else if (kind == 4) count = gather(op, 1 + some_distance(), INT32_MAX, block);
  if (switching && !set_modes(block, count, op, mode)) return 0;
  if (target < 0 || target == op) return high >= low;
  int after = S->cand.pos[target] > S->cand.pos[op];
  if (base_of(target) == base && below(100) < BETWEEN)
    target = after ? last_of(target, limit) : first_of(target, limit);
  move_block(block, min(count, BLOCK), target, after, follow);
  return high >= low;
}

#endif
