/* When a sum of two decaying exponentials leaves a band. */
#include "engine.h"

#define ON_LEVEL 1e-9 /* a start this near a level stands on it: only a later return counts */

static inline double value(double x, pull p, spent e) { return x + p.fast * e.fast + p.slow * e.slow; }

static inline double slope(const modes *m, pull p, spent e) {
  return p.fast * (1.0 - m->kf * e.fast) + p.slow * (1.0 - m->ks * e.slow);
}

/* The zero between low and high, where x only rises or only falls: Newton from the parabola that starts as x does, or
   from the chord where that misses; halving if it strays. */
static double zero(const modes *m, double gap, pull p, double low, double at_low, double high, double at_high,
                   double within) {
  double start = p.fast + p.slow, bend = 0.5 * (m->kf * p.fast + m->ks * p.slow);
  double under = start * start + 4.0 * bend * gap;
  double t = under > 0.0 ? -2.0 * gap / (start + copysign(sqrt(under), start)) : low;
  if (!(low < t && t < high)) t = low + (high - low) * at_low / (at_low - at_high);
  for (int tries = 0; tries < 60; tries++) {
    spent e = spend(m, t);
    double v = value(gap, p, e), steep = slope(m, p, e);
    double next = steep != 0.0 ? t - v / steep : low;
    if (fabs(next - t) < within) return next;
    if ((v < 0.0) == (at_high < 0.0)) high = t;
    else low = t;
    if (!(low < next && next < high)) next = 0.5 * (low + high);
    t = next;
  }
  return high;
}

/* The level crossed between low and high, x going one way only. */
static double one_way(const modes *m, double x, pull p, band b, double low, double x_low, double high, double x_high,
                      double within) {
  double level;
  if (x_high >= b.above && x_low < b.above - ON_LEVEL) level = b.above;
  else if (x_high <= b.below && x_low > b.below + ON_LEVEL) level = b.below;
  else return NEVER;
  return zero(m, x - level, p, low, x_low - level, high, x_high - level, within);
}

double leaves(const modes *m, double x, pull p, band b, double t_end, spent end, double within) {
  double x_end = value(x, p, end), first = p.fast + p.slow, last = slope(m, p, end);
  bool inside = b.below < x_end && x_end < b.above;
  if (!(first * last < 0.0)) /* no turn before the end */
    return inside ? NEVER : one_way(m, x, p, b, 0.0, x, t_end, x_end, within);
  if (inside && (first > 0.0 ? b.above >= NEVER : b.below <= -NEVER)) return NEVER; /* turns away from the level */
  double turn = log(-p.fast / p.slow) / (m->kf - m->ks), x_turn = value(x, p, spend(m, turn));
  double found = one_way(m, x, p, b, 0.0, x, turn, x_turn, within);
  return found < NEVER ? found : one_way(m, x, p, b, turn, x_turn, t_end, x_end, within);
}
