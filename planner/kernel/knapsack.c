/* The bounded knapsack that prices cutting patterns, by dynamic programming over the room.
 *
 * fill        best[u] = the most value of pieces that take at most u; a bit a row and room
 * trace       the pieces behind best[u]
 * fill_few    the same when a stick may yield only so many different lengths
 * trace_few   the pieces behind it
 * suffixes    tail[i][u] = the most value of pieces i, i+1, ... in room u
 * enumerate   every pattern worth at least a threshold that no further piece fits into
 *
 * Arguments come as one block of 32-bit words, in the order of each struct below: a call with
 * many numbers costs the host more than a small table.
 *
 * A row is an item taken 1, 2, 4, ... times at once (binary splitting of its bound), so that
 * 0/1 rows reach every count up to the bound (Martello & Toth, Knapsack Problems, 1990, 3.2).
 */
#include <stdint.h>
#include <string.h>
#include <wasm_simd128.h>

#define API(name) __attribute__((export_name(#name)))
#define PAD 8 /* values below room 0 that a vector may read */
#define NEVER (-(1 << 30))

static void fill_row_narrow(int w, int v, int room, int32_t *best, uint8_t *bits) {
    for (int u = room; u >= w; u--)
        if (best[u - w] + v > best[u]) {
            best[u] = best[u - w] + v;
            bits[u >> 3] |= (uint8_t)(1 << (u & 7));
        }
}

/* Eight rooms at once, from the far end: a row of size 8 or more never reads what it wrote. */
static void fill_row(int w, int v, int room, int32_t *best, uint8_t *bits) {
    v128_t value = wasm_i32x4_splat(v);
    for (int u = room & ~7; u >= (w & ~7); u -= 8) {
        v128_t old_lo = wasm_v128_load(best + u), old_hi = wasm_v128_load(best + u + 4);
        v128_t new_lo = wasm_i32x4_add(wasm_v128_load(best + u - w), value);
        v128_t new_hi = wasm_i32x4_add(wasm_v128_load(best + u - w + 4), value);
        uint32_t lo = wasm_i32x4_bitmask(wasm_i32x4_gt(new_lo, old_lo));
        uint32_t hi = wasm_i32x4_bitmask(wasm_i32x4_gt(new_hi, old_hi));
        bits[u >> 3] = (uint8_t)(lo | hi << 4);
        wasm_v128_store(best + u, wasm_i32x4_max(old_lo, new_lo));
        wasm_v128_store(best + u + 4, wasm_i32x4_max(old_hi, new_hi));
    }
}

/* `front` has PAD values before the table, which is `room` + 1 rounded up to a multiple of 8;
 * `bits` has `stride` bytes a row. Trace starts at room `u` and takes part in the first `upto`
 * rows only: the pattern is then the best one without the other rows. */
struct table {
    int32_t rows;
    const int32_t *w, *v;
    int32_t room;
    int32_t *front;
    uint8_t *bits;
    int32_t stride;
    uint8_t *taken;
    int32_t u, upto;
};

API(fill)
void fill(const struct table *t) {
    const int32_t rows = t->rows, room = t->room, stride = t->stride;
    const int32_t *w = t->w, *v = t->v;
    int32_t *front = t->front, *best = front + PAD;
    uint8_t *bits = t->bits;
    for (int u = 0; u < PAD; u++) front[u] = NEVER;
    memset(best, 0, sizeof(int32_t) * (size_t)((room & ~7) + 8));
    for (int r = 0; r < rows; r++) {
        uint8_t *row = bits + (size_t)r * stride;
        if (w[r] >= PAD) {
            memset(row, 0, (size_t)((w[r] >> 3) < stride ? (w[r] >> 3) : stride));
            fill_row(w[r], v[r], room, best, row);
        } else {
            memset(row, 0, (size_t)stride);
            fill_row_narrow(w[r], v[r], room | 7, best, row);
        }
    }
}

API(trace)
void trace(struct table *t) {
    int u = t->u;
    for (int r = t->rows - 1; r >= 0; r--) {
        t->taken[r] = r < t->upto && (t->bits[(size_t)r * t->stride + (u >> 3)] >> (u & 7) & 1);
        if (t->taken[r]) u -= t->w[r];
    }
}

/* best[j][u]: at most j different lengths; copies[i][j][u]: how many of item i were taken. */
API(fill_few)
void fill_few(int items, const int32_t *w, const int32_t *v, const int32_t *most, int room,
              int few, int32_t *best, uint16_t *copies) {
    size_t width = (size_t)room + 1;
    memset(best, 0, sizeof(int32_t) * width * (size_t)(few + 1));
    memset(copies, 0, sizeof(uint16_t) * width * (size_t)few * (size_t)items);
    for (int i = 0; i < items; i++)
        for (int j = few; j >= 1; j--) {
            int32_t *now = best + width * (size_t)j;
            const int32_t *before = best + width * (size_t)(j - 1);
            uint16_t *count = copies + width * ((size_t)i * few + (size_t)(j - 1));
            for (int m = 1; m <= most[i] && (int64_t)m * w[i] <= room; m++)
                for (int u = m * w[i]; u <= room; u++) {
                    int32_t value = before[u - m * w[i]] + m * v[i];
                    if (value > now[u]) {
                        now[u] = value;
                        count[u] = (uint16_t)m;
                    }
                }
        }
}

API(trace_few)
int trace_few(int items, const int32_t *w, int room, int few, int u, const uint16_t *copies,
              int32_t *counts) {
    size_t width = (size_t)room + 1;
    int j = few;
    for (int i = items - 1; i >= 0; i--) {
        counts[i] = j ? copies[width * ((size_t)i * few + (size_t)(j - 1)) + (size_t)u] : 0;
        if (counts[i]) {
            u -= counts[i] * w[i];
            j--;
        }
    }
    return u;
}

API(suffixes)
void suffixes(int items, const int32_t *w, const int32_t *v, const int32_t *most, int room,
              int32_t *tail) {
    size_t width = (size_t)room + 1;
    memset(tail + width * (size_t)items, 0, sizeof(int32_t) * width);
    for (int i = items - 1; i >= 0; i--) {
        const int32_t *rest = tail + width * (size_t)(i + 1);
        int32_t *here = tail + width * (size_t)i;
        memcpy(here, rest, sizeof(int32_t) * width);
        for (int m = 1; m <= most[i] && (int64_t)m * w[i] <= room; m++) {
            int step = m * w[i], gain = m * v[i];
            for (int u = step; u <= room; u++) {
                int32_t value = rest[u - step] + gain;
                here[u] = value > here[u] ? value : here[u];
            }
        }
    }
}

/* Depth first over the items, most copies first. A branch is entered only if `tail` says that
 * it leads to a pattern of at least `threshold`. Patterns that take no more than `above` are
 * left to the cheaper slot that holds them; patterns into which another piece fits are left
 * out because the fuller pattern is listed. Returns the number of patterns, or -1 - nodes
 * when `limit` patterns or `most_nodes` nodes were not enough. */
API(enumerate)
int enumerate(int items, const int32_t *w, const int32_t *most, const int32_t *v, int room,
              int width_room, int above, int threshold, int few, const int32_t *tail,
              int32_t *counts, uint8_t *out, int limit, int most_nodes) {
    size_t width = (size_t)width_room + 1;
    int found = 0, nodes = 0, i = 0, u = room, value = 0, lengths = 0;
    int down = 1; /* 1: entering item i; 0: coming back to it */
    for (;;) {
        if (down && i == items) {
            int spare = 0; /* whether another piece would fit */
            for (int k = items - 1; k >= 0 && w[k] <= u && !spare; k--)
                spare = counts[k] < most[k] && (counts[k] || lengths < few);
            if (!spare && room - u > above) {
                if (found == limit) return -1 - nodes;
                for (int k = 0; k < items; k++) out[(size_t)found * items + k] = (uint8_t)counts[k];
                found++;
            }
            down = 0;
            i--;
        } else if (down) {
            int m = u / w[i];
            if (m > most[i]) m = most[i];
            if (lengths == few) m = 0;
            counts[i] = m + 1; /* taken back by one just below */
            u -= (m + 1) * w[i];
            value += (m + 1) * v[i];
            lengths++;
            down = 0;
        } else {
            if (i < 0) return found;
            if (counts[i] == 0) {
                i--;
                continue;
            }
            counts[i]--;
            u += w[i];
            value -= v[i];
            if (counts[i] == 0) lengths--;
            if (value + tail[width * (size_t)(i + 1) + (size_t)u] >= threshold) {
                if (++nodes > most_nodes) return -1 - nodes;
                i++;
                down = 1;
            }
        }
    }
}
