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

static void normal_into(double *out, const uint32_t *points, int n) {
  for (int i = 0; i < n; i++) {
    double p = (points[i] + 0.5) * (1.0 / 4294967296.0), q = p - 0.5;
    if (q < 0.47575 && q > -0.47575) {
      double r = q * q;
      out[i] = ((((((-3.969683028665376e1 * r + 2.209460984245205e2) * r - 2.759285104469687e2) * r + 1.38357751867269e2) * r - 3.066479806614716e1) * r + 2.506628277459239) * q)
        / (((((-5.447609879822406e1 * r + 1.615858368580409e2) * r - 1.556989798598866e2) * r + 6.680131188771972e1) * r - 1.328068155288572e1) * r + 1);
    } else {
      double r = sqrt(-2 * log(q < 0 ? p : 1 - p));
      double z = (((((-7.784894002430293e-3 * r - 3.223964580411365e-1) * r - 2.400758277161838) * r - 2.549732539343734) * r + 4.374664141464968) * r + 2.938163982698783)
        / ((((7.784695709041462e-3 * r + 3.224671290700398e-1) * r + 2.445134137142996) * r + 3.754408661907416) * r + 1);
      out[i] = q < 0 ? z : -z;
    }
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
  int32_t *h = take(f, 8 * 4);
  int causes = h[0], rows = h[1], nnz = h[2], findings = h[3], sobol = h[4], blocks = h[5], replicates = h[6];
  uint32_t seed = (uint32_t)h[7];
  uint32_t *v = take(f, (size_t)sobol * 32 * 4);
  int32_t *even = take(f, (size_t)causes * 4), *start = take(f, (size_t)(rows + 1) * 4), *cause = take(f, (size_t)nnz * 4), *row = take(f, (size_t)findings * 4);
  if ((8 + sobol * 32 + causes + rows + 1 + nnz + findings) % 2) free(take(f, 4));
  double *weight = take(f, (size_t)nnz * 8), *base = take(f, (size_t)rows * 8), *bounds = take(f, (size_t)findings * 32);
  double *z = malloc((size_t)causes * BLOCK * 8), value[BLOCK];
  uint32_t points[BLOCK];
  double least = 1e99;
  long beyond = 0, clear = 0, all = 0;
  for (int go = 0; go < 5; go++) {
    struct timespec t0, t1;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t0);
    beyond = clear = all = 0;
    for (int k = 0; k < blocks * replicates; k++) {
      uint32_t own = mixed(seed, k / blocks + 1), from = (uint32_t)(k % blocks) * BLOCK;
      for (int c = 0; c < causes; c++) {
        if (c < sobol) sobol_into(points, BLOCK, v + 32 * c, from, mixed(own, c));
        else random_into(points, BLOCK, own, c, from);
        if (even[c]) even_into(z + (size_t)c * BLOCK, points, BLOCK);
        else normal_into(z + (size_t)c * BLOCK, points, BLOCK);
      }
      uint8_t beyond_any[BLOCK] = {0}, outside_any[BLOCK] = {0};
      for (int o = 0; o < findings; o++) {
        int r = row[o];
        for (int i = 0; i < BLOCK; i++) value[i] = base[r];
        for (int j = start[r]; j < start[r + 1]; j++) {
          const double *x = z + (size_t)cause[j] * BLOCK, w = weight[j];
          for (int i = 0; i < BLOCK; i++) value[i] += w * x[i];
        }
        double a0 = bounds[4 * o] - 1e-9, a1 = bounds[4 * o + 1] + 1e-9, f0 = bounds[4 * o + 2] - 1e-9, f1 = bounds[4 * o + 3] + 1e-9;
        for (int i = 0; i < BLOCK; i++) {
          uint8_t b = value[i] < a0 || value[i] > a1, u = value[i] < f0 || value[i] > f1;
          beyond += b;
          beyond_any[i] |= b;
          outside_any[i] |= u;
        }
      }
      for (int i = 0; i < BLOCK; i++) { clear += !beyond_any[i]; all += !outside_any[i]; }
    }
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t1);
    double ms = (t1.tv_sec - t0.tv_sec) * 1e3 + (t1.tv_nsec - t0.tv_nsec) / 1e6;
    if (ms < least) least = ms;
  }
  printf("%.3f %ld %ld %ld\n", least, beyond, clear, all);
  return 0;
}
