/* What every kernel of the run order has: short names of types, dice that are the same
 * everywhere, and which of two results is better. */
#pragma once

#include <math.h>
#include <stdint.h>
#include <string.h>

#define EXPORT(name) __attribute__((export_name(#name)))

typedef int32_t i32;
typedef uint32_t u32;
typedef int64_t i64;
typedef uint64_t u64;
typedef double f64;

static u64 random_state;

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

/* Whether `a` is below `b`, level by level, each of them weighted sums of the terms. */
static inline int lower(const i64 *a, const i64 *b, const i64 *level, i32 levels, i32 terms) {
  for (i32 l = 0; l < levels; l++, level += terms) {
    i64 x = 0, y = 0;
    for (i32 t = 0; t < terms; t++) x += level[t] * a[t], y += level[t] * b[t];
    if (x != y) return x < y;
  }
  return 0;
}
