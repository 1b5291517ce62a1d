/* What every kernel of the run order has: short names of types, and dice that are the same
 * everywhere. */
#pragma once

#include <math.h>
#include <stdint.h>
#include <string.h>

#define EXPORT(name) __attribute__((export_name(#name)))

typedef int32_t i32;
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
