/* Hours: when minutes fit, forwards and backwards. A calendar's last span has no end. */
#ifndef HOURS_H
#define HOURS_H

#include "shop.h"

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

/* When so many working minutes of the calendar are over, in this span or a later one. */
static inline i32 when_worked(const Span *s, i32 minutes) {
  while (minutes > s->worked + s->end - s->start) s++;
  return s->start + minutes - s->worked;
}

static inline i32 advance(i32 calendar, i32 start, i32 length) {
  if (length == 0) return start;
  const Span *s = span_at(calendar, start);
  return when_worked(s, s->worked + max(start, s->start) - s->start + length);
}

static inline int has_overtime(i32 calendar) {
  return S->calendar[calendar].priced < S->calendar[calendar].priced_end;
}

/* What the overtime from one minute to another costs. */
static i64 price(i32 calendar, i32 start, i32 end) {
  if (start >= end) return 0;
  i64 sum = 0;
  const Priced *last = S->priced + S->calendar[calendar].priced_end;
  const Priced *p = S->priced + span_at(calendar, max(start, 0))->priced;
  for (; p < last && p->start < end; p++) {
    i32 overlap = min(end, p->end) - max(start, p->start);
    if (overlap > 0) sum += (i64)overlap * p->price;
  }
  return sum;
}

/* Latest start of unbroken minutes that is not after `latest`, or NEVER. */
static inline i32 fit_before(i32 calendar, i32 latest, i32 length) {
  if (latest < 0) return NEVER;
  const Span *first = S->span + S->calendar[calendar].span, *s = span_at(calendar, latest);
  if (s->start <= latest && latest + length <= s->end) return latest;
  if (s->start > latest && s-- == first) return NEVER;
  while (s->end - s->start < length)
    if (s-- == first) return NEVER;
  return s->end - length;
}

/* Latest minute from which `length` minutes advance to no later than `end`, or NEVER. */
static inline i32 retreat(i32 calendar, i32 end, i32 length) {
  if (length == 0 || end < 0) return end;
  const Span *s = span_at(calendar, end);
  i32 target = s->worked + max(0, end - s->start) - length;
  if (target < 0) return NEVER;
  while (s->worked > target) s--;
  return s->start + target - s->worked;
}

#endif
