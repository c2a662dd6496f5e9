/* Decaying exponentials: x(t) = x0 + fast E(kf, t) + slow E(ks, t), E(k, t) = (1 - exp(-k t)) / k. */
#ifndef DECAY_H
#define DECAY_H

#include <math.h>
#include <stdbool.h>

#define NEVER 1e30 /* a time or level that never comes */

/* Two heat stores joined by a conductance: decay rates, weights of the modes, capacities, and the integrals of the
   modes over the longest step (once, and once more); and how much steeper a node moves beyond the knots of its
   segment: its capacity over the one there. */
typedef struct {
  double kf, ks, w1, w2, b1, b2, c1, c2, ef, sf, es, ss, up1, down1, up2, down2;
} modes;

typedef struct {
  double once, twice; /* the integral of exp(-k t) over 0..t, and the integral of that */
} decayed;

/* What the two modes add to a node per unit of their integrals, K/s. */
typedef struct {
  double fast, slow;
} pull;

/* How far each mode has come by a time. */
typedef struct {
  double fast, slow;
} spent;

static inline double least(double a, double b) { return b < a ? b : a; }
static inline double most(double a, double b) { return b > a ? b : a; }

static inline decayed decay(double k, double t) {
  double x = k * t;
  if (x < 0.02) { /* 1 - exp(-x) would lose digits */
    double once = 1.0 - x * (1 / 2. - x * (1 / 6. - x * (1 / 24. - x * (1 / 120. - x * (1 / 720.)))));
    double twice = 1 / 2. - x * (1 / 6. - x * (1 / 24. - x * (1 / 120. - x * (1 / 720. - x * (1 / 5040.)))));
    return (decayed){t * once, t * t * twice};
  }
  double once = (1.0 - exp(-x)) / k;
  return (decayed){once, (t - once) / k};
}

/* The integral of `twice` over 0..t. */
static inline double third(double k, double t, double twice) {
  double x = k * t;
  if (x < 0.02) return t * t * t * (1 / 6. - x * (1 / 24. - x * (1 / 120. - x * (1 / 720. - x * (1 / 5040.)))));
  return (0.5 * t * t - twice) / k;
}

static inline spent spend(const modes *m, double t) { return (spent){decay(m->kf, t).once, decay(m->ks, t).once}; }

static inline pull pull_first(const modes *m, double f1, double f2) {
  return (pull){m->w1 * f1 + m->b1 * f2, m->w2 * f1 - m->b1 * f2};
}

static inline pull pull_second(const modes *m, double f1, double f2) {
  return (pull){m->w2 * f2 + m->b2 * f1, m->w1 * f2 - m->b2 * f1};
}

/* The levels next below and next above a temperature. */
typedef struct {
  double below, above;
} band;

/* Narrow the band around x by a level, unless x stands on it. */
static inline band nearer(band b, double level, double x) {
  if (level > x + LEVEL_K) b.above = least(b.above, level);
  else if (level < x - LEVEL_K) b.below = most(b.below, level);
  return b;
}

/* Whether x stays in the band up to t by its steepest alone: it never moves faster than both its parts at the start. */
static inline bool stays(double x, pull p, band b, double t) {
  double reach = (fabs(p.fast) + fabs(p.slow)) * t;
  return x - reach > b.below && x + reach < b.above;
}

/* First time in (0, t_end] at which x leaves the band, NEVER if it stays; `end` is how far the modes are at t_end.
   The result is met within the square of `within` times the decay rate. */
double leaves(const modes *m, double x, pull p, band b, double t_end, spent end, double within);

#endif
