/* Exact bootstrap distribution of the correlation of the 15-school law data (Efron & Tibshirani 1993, table 3.1): every one
   of the C(29,15) = 77,558,760 multisets, without random numbers. Prints the chance of a smaller correlation than the
   sample's, and the inverse-CDF quantiles at the levels given as arguments.
     cc -O2 -o law_exact law_exact.c -lm && ./law_exact 0.05 0.95          (needs 1.3 GB and about a minute) */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { N = 15 };
static double x[N] = {576, 635, 558, 578, 666, 580, 555, 661, 651, 605, 653, 575, 545, 572, 594};
static double y[N] = {3.39, 3.30, 2.81, 3.03, 3.44, 3.07, 3.00, 3.43, 3.36, 3.13, 3.12, 2.74, 2.76, 2.88, 2.96};
static double log_factorial[N + 1];
typedef struct { double r, p; } outcome;
static outcome *outcomes;
static long count = 0;

static void draw(int k, int left, double sx, double sy, double sxx, double syy, double sxy, double log_p) {
  for (int m = (k == N - 1 ? left : 0); m <= left; m++) {
    double ax = sx + m * x[k], ay = sy + m * y[k], axx = sxx + m * x[k] * x[k], ayy = syy + m * y[k] * y[k], axy = sxy + m * x[k] * y[k];
    double lp = log_p - log_factorial[m];
    if (k < N - 1) { draw(k + 1, left - m, ax, ay, axx, ayy, axy, lp); continue; }
    double vx = axx - ax * ax / N, vy = ayy - ay * ay / N;
    if (vx < 1e-9 || vy < 1e-9) continue;   /* one school fifteen times over: no correlation */
    outcomes[count].r = (axy - ax * ay / N) / sqrt(vx * vy);
    outcomes[count++].p = exp(lp);
  }
}

static int by_r(const void *a, const void *b) {
  double p = ((const outcome *)a)->r, q = ((const outcome *)b)->r;
  return p < q ? -1 : p > q;
}

int main(int argc, char **argv) {
  double mx = 0, my = 0, sxx = 0, syy = 0, sxy = 0;
  for (int i = 1; i <= N; i++) log_factorial[i] = log_factorial[i - 1] + log(i);
  for (int i = 0; i < N; i++) { mx += x[i] / N; my += y[i] / N; }
  for (int i = 0; i < N; i++) { x[i] -= mx; y[i] -= my; sxx += x[i] * x[i]; syy += y[i] * y[i]; sxy += x[i] * y[i]; }
  double sample = sxy / sqrt(sxx * syy);
  outcomes = malloc(sizeof(outcome) * 77558760L);
  if (!outcomes) return 1;
  draw(0, N, 0, 0, 0, 0, 0, log_factorial[N] - N * log(N));
  qsort(outcomes, count, sizeof(outcome), by_r);
  double all = 0, below = 0, sum = 0, square = 0;
  for (long i = 0; i < count; i++) {
    all += outcomes[i].p; sum += outcomes[i].p * outcomes[i].r; square += outcomes[i].p * outcomes[i].r * outcomes[i].r;
    if (outcomes[i].r < sample - 1e-12) below += outcomes[i].p;
  }
  printf("quantity,level,value\nmultisets,,%ld\nestimate,,%.15g\nprobability_below,,%.12g\nstandard_error,,%.12g\n",
         count, sample, below / all, sqrt(square / all - sum * sum / all / all));
  for (int k = 1; k < argc; k++) {
    double level = atof(argv[k]), c = 0;
    for (long i = 0; i < count; i++)
      if ((c += outcomes[i].p / all) >= level - 1e-13) { printf("quantile,%s,%.12g\n", argv[k], outcomes[i].r); break; }
  }
  return 0;
}
