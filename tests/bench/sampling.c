/* The same joint sampling in C, block for block: what the machine can do. Reads a plan written by sampling.ts, prints
   milliseconds and the counts. cc -O3 sampling.c -lm */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define BLOCK 512

static uint32_t mixed(uint32_t a, uint32_t b) {
  uint32_t h = ((a ^ (a >> 16)) * 0x85ebca6bu) ^ ((b + 0x9e3779b9u) * 0xc2b2ae35u);
  h = (h ^ (h >> 13)) * 0xc2b2ae35u;
  h = (h ^ (h >> 15)) * 0x85ebca6bu;
  return h ^ (h >> 16);
}

static void sobol_into(uint32_t *out, int n, const uint32_t *v, uint32_t from, uint32_t shift) {
  uint32_t x = shift, gray = from ^ (from >> 1);
  for (int b = 0; b < 32; b++) if ((gray >> b) & 1) x ^= v[b];
  for (int i = 0; i < n; i++) { out[i] = x; x ^= v[__builtin_ctz(~(from + i))]; }
}

static void random_into(uint32_t *out, int n, uint32_t seed, uint32_t d0, uint32_t from) {
  uint32_t a = mixed(seed, d0 * 4 + 1), b = mixed(a, from), c = mixed(b, d0), d = mixed(c, seed) | 1;
  for (int i = -4; i < n; i++) {
    if (i >= 0) out[i] = a + d;
    uint32_t t = b << 9;
    c ^= a; d ^= b; b ^= c; a ^= d; c ^= t; d = (d << 11) | (d >> 21);
  }
}

static void normal_into(double *out, const uint32_t *points, int n, const double *t) {
  for (int i = 0; i < n; i++) {
    int32_t k = (int32_t)points[i], side = k >> 31;
    uint32_t d = (uint32_t)(k ^ side) + 64;
    int w = 25 - __builtin_clz(d);
    const double *c = t + ((((uint32_t)w << 6) | ((d >> w) & 63)) << 2);
    double u = (int32_t)(d & ((1u << w) - 1));
    out[i] = (((c[0] * u + c[1]) * u + c[2]) * u + c[3]) * (-1 - 2 * side);
  }
}

static void even_into(double *out, const uint32_t *points, int n) {
  double width = sqrt(12);
  for (int i = 0; i < n; i++) out[i] = ((points[i] + 0.5) * (1.0 / 4294967296.0) - 0.5) * width;
}

static void *take(FILE *f, size_t bytes) {
  void *p = malloc(bytes ? bytes : 1);
  if (fread(p, 1, bytes, f) != bytes) exit(1);
  return p;
}

int main(int argc, char **argv) {
  FILE *f = argc > 1 ? fopen(argv[1], "rb") : 0;
  if (!f) return 1;
  int32_t *h = take(f, 10 * 4);
  int causes = h[0], rows = h[1], nnz = h[2], findings = h[3], dimensions = h[4], blocks = h[5], replicates = h[6], clusters = h[8], table = h[9];
  uint32_t seed = (uint32_t)h[7];
  uint32_t *v = take(f, (size_t)dimensions * 32 * 4);
  int32_t *even = take(f, (size_t)causes * 4), *dimension = take(f, (size_t)causes * 4), *start = take(f, (size_t)(rows + 1) * 4), *split = take(f, (size_t)rows * 4);
  int32_t *cause = take(f, (size_t)nnz * 4), *row = take(f, (size_t)findings * 4), *order = take(f, (size_t)findings * 4), *group = take(f, (size_t)(clusters + 1) * 4);
  if ((10 + dimensions * 32 + 2 * causes + 2 * rows + 1 + nnz + 2 * findings + clusters + 1) % 2) free(take(f, 4));
  double *weight = take(f, (size_t)nnz * 8), *base = take(f, (size_t)rows * 8), *bounds = take(f, (size_t)findings * 32), *inverse = take(f, (size_t)table * 8);
  double *z = malloc((size_t)causes * BLOCK * 8), value[BLOCK];
  uint32_t points[BLOCK];
  double least = 1e99, goes = 0, fit = 0;
  long beyond = 0, outside = 0;
  for (int go = 0; go < 3; go++) {
    struct timespec t0, t1;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t0);
    beyond = outside = 0;
    goes = fit = 0;
    for (int k = 0; k < blocks * replicates; k++) {
      uint32_t own = mixed(seed, k / blocks + 1), from = (uint32_t)(k % blocks) * BLOCK;
      for (int c = 0; c < causes; c++) {
        if (dimension[c] >= 0) sobol_into(points, BLOCK, v + 32 * dimension[c], from, mixed(own, c));
        else random_into(points, BLOCK, own, c, from);
        if (even[c]) even_into(z + (size_t)c * BLOCK, points, BLOCK);
        else normal_into(z + (size_t)c * BLOCK, points, BLOCK, inverse);
      }
      double all = 1, allFit = 1;
      uint8_t act[BLOCK] = {0}, fits[BLOCK] = {0};
      for (int g = 0; g <= clusters; g++) {
        int to = g < clusters ? group[g + 1] : findings;
        for (int q = group[g]; q < to; q++) {
          int o = order[q], r = row[o];
          double held = 0;
          for (int j = split[r]; j < start[r + 1]; j++) held += weight[j] * z[(size_t)cause[j] * BLOCK];
          for (int i = 0; i < BLOCK; i++) value[i] = base[r];
          for (int j = start[r]; j < split[r]; j++) {
            const double *x = z + (size_t)cause[j] * BLOCK, w = weight[j];
            for (int i = 0; i < BLOCK; i++) value[i] += w * x[i];
          }
          double a0 = bounds[4 * o] - 1e-9, a1 = bounds[4 * o + 1] + 1e-9, f0 = bounds[4 * o + 2] - 1e-9, f1 = bounds[4 * o + 3] + 1e-9;
          if (g < clusters) for (int i = 0; i < BLOCK; i++) {
            act[i] |= value[i] < a0 - held || value[i] > a1 - held;
            fits[i] |= value[i] < f0 - held || value[i] > f1 - held;
          }
          for (int j = split[r]; j < start[r + 1]; j++) {
            const double *x = z + (size_t)cause[j] * BLOCK, w = weight[j];
            for (int i = 0; i < BLOCK; i++) value[i] += w * x[i];
          }
          for (int i = 0; i < BLOCK; i++) {
            beyond += value[i] < a0 || value[i] > a1;
            outside += value[i] < f0 || value[i] > f1;
          }
        }
        if (g == clusters) break;
        int a = 0, b = 0;
        for (int i = 0; i < BLOCK; i++) { a += act[i]; b += fits[i]; }
        memset(act, 0, BLOCK);
        memset(fits, 0, BLOCK);
        all *= 1 - a / (double)BLOCK;
        allFit *= 1 - b / (double)BLOCK;
      }
      goes += all * BLOCK;
      fit += allFit * BLOCK;
    }
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t1);
    double ms = (t1.tv_sec - t0.tv_sec) * 1e3 + (t1.tv_nsec - t0.tv_nsec) / 1e6;
    if (ms < least) least = ms;
  }
  printf("%.3f %ld %ld %.9f %.9f\n", least, beyond, outside, goes, fit);
  return 0;
}
