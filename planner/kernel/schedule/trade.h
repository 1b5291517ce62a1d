/* Two bases that trade what they do in a stretch of time. What stands before and after it on one then
 * stands before and after what the other did, so that up to four changeovers differ and hardly a time:
 * what parts of their routes are to vehicles (E. Taillard, P. Badeau, M. Gendreau, F. Guertin and
 * J.-Y. Potvin, Transportation Science 31, 1997). Only where kinds tell the changeovers. */
#ifndef TRADE_H
#define TRADE_H

#include "beside.h"
#include "delays.h"
#include "sift.h"
#include "straight.h"

/* What a base does from `first` to `last`, between `before` and `next`; nothing if it is of 0. */
typedef struct { i32 base, before, first, last, next, count; } Stretch;

/* Changeover minutes of an operation, if there is one, behind another where both are done on the base. */
static i32 change_there(i32 before, i32 op, i32 base) {
  const i32 *minutes = op == NONE ? NULL : S->mode[mode_on(op, base)].minutes_after;
  if (!minutes) return 0;
  return minutes[before < S->ops ? S->mode[mode_on(before, base)].kind : S->start_kind[base]];
}

static inline i32 change_of(i32 op) { return op == NONE ? 0 : S->now.change[op]; }

/* By how much the changeovers of a base grow when it does the other stretch instead of its own. */
static i32 growth_with(const Stretch *own, const Stretch *other) {
  i32 growth = -change_of(own->next) - (own->count ? change_of(own->first) : 0), before = own->before;
  if (other->count) {
    growth += change_there(before, other->first, own->base);
    before = other->last;
  }
  return growth + change_there(before, own->next, own->base);
}

/* One more operation goes to the other base; 0 if it cannot, or would end too late even had it the shop
 * to itself from then on. */
static int lengthen(Stretch *own, const Stretch *other) {
  i32 op = own->next, mode = mode_on(op, other->base);
  if (mode == NONE || !S->mode[mode].minutes_after) return 0;
  i32 later = worked_after(other->before, &S->mode[mode]) - worked_after(own->before, mode_of(op));
  if (S->now.worked[op] + later > S->latest_worked[mode]) return 0;
  own->last = op, own->next = S->next[op], own->count++;
  return 1;
}

static Stretch nothing_after(i32 base, i32 before) {
  i32 first = S->next[before];
  return (Stretch){.base = base, .before = before, .first = first, .last = NONE, .next = first};
}

static inline int begins_after(i32 op, i32 minute) { return op == NONE || S->now.start[op] > minute; }

/* The last operation or sentinel of a base that begins before the minute. */
static i32 last_before(i32 base, i32 place, i32 minute) {
  i32 found = next_on(base, place, 0), next;
  if (found == NONE) found = sentinel(base);
  while (found < S->ops && S->now.start[found] >= minute) found = S->prev[found];
  while (!begins_after(next = S->next[found], minute - 1)) found = next;
  return found;
}

/* Lengthen both, by start; where to end is one by lot of all places that the changeovers allow. */
static int find_end(Stretch *one, Stretch *two) {
  Stretch a = *one, b = *two;
  i32 room = room_left(), found = 0;
  while (a.count + b.count < BLOCK) {
    int first = b.next == NONE || (a.next != NONE && S->now.start[a.next] <= S->now.start[b.next]);
    if ((first ? a : b).next == NONE || !(first ? lengthen(&a, &b) : lengthen(&b, &a))) break;
    i32 begun = S->now.start[first ? a.last : b.last], growth = growth_with(&a, &b) + growth_with(&b, &a);
    if (!begins_after(a.next, begun) || !begins_after(b.next, begun)) continue;
    if (growth > room || (growth == 0 && below(EQUAL))) continue;
    if (below(++found) == 0) *one = a, *two = b;
  }
  return found;
}

/* The places in the list from what stands before the stretch to what stands after it. */
static void widen(const Stretch *s, i32 *from, i32 *to) {
  i32 first = s->count ? s->first : s->next, last = s->next != NONE ? s->next : s->last;
  if (s->before < S->ops) first = s->before;
  if (last == NONE) last = s->before < S->ops ? s->before : NONE;
  if (last == NONE) return;
  *from = min(*from, S->now.pos[first]), *to = max(*to, S->now.pos[last]);
}

/* The base does the other stretch in place of its own. */
static void take_over(const Stretch *own, const Stretch *other) {
  i32 before = own->before, op = other->first;
  for (i32 i = 0; i < other->count; i++, op = S->next[op]) {
    link(before, op);
    S->cand.mode[op] = mode_on(op, own->base);
    switched[switches++] = op;
    touch(S->cand.pos[op], S->cand.pos[op]);
    before = op;
  }
  link(before, own->next);
}

/* Let the operation's base trade with another one from the operation on; 0 if nothing came of it. */
static int trade(i32 op, i32 base) {
  if (base == NOWHERE || base_of(op) == NOWHERE || base == base_of(op)) return 0;
  i32 start = S->now.start[op], from = S->ops, to = -1;
  Stretch own = nothing_after(base_of(op), S->prev[op]);
  Stretch other = nothing_after(base, last_before(base, S->now.pos[op], start));
  if (own.before < S->ops && S->now.start[own.before] >= start) return 0;
  if (!find_end(&own, &other)) return 0;
  widen(&own, &from, &to), widen(&other, &from, &to);
  if (!list_by_start(from, to)) return 0;
  take_over(&own, &other), take_over(&other, &own);
  return 1;
}

#endif
