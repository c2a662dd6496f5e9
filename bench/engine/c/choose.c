/* Which loads get power: what runs goes on while it fits; the rest is let in by priority, one motor at a time. */
#include "engine.h"

static inline legs plus(legs a, legs b) { return (legs){a.wa + b.wa, a.qa + b.qa, a.wb + b.wb, a.qb + b.qb}; }
static inline legs less(legs a, legs b) { return (legs){a.wa - b.wa, a.qa - b.qa, a.wb - b.wb, a.qb - b.qb}; }
static inline double va2(double w, double q) { return w * w + q * q; }

static inline bool fits(const machine *m, legs s) {
  return s.wa + s.wb <= m->run_w && most(s.wa, s.wb) <= m->leg_w && va2(s.wa, s.qa) <= m->leg_va2 &&
         va2(s.wb, s.qb) <= m->leg_va2;
}

static inline bool starts(const machine *m, legs s) {
  return s.wa + s.wb <= m->start_w && va2(s.wa + s.wb, s.qa + s.qb) <= m->start_va2 &&
         most(va2(s.wa, s.qa), va2(s.wb, s.qb)) <= m->leg_start_va2;
}

static inline bool can_start(const home *h, const outage *o, const load *x) {
  return fits(&h->machine, plus(o->sum, x->run)) && (!x->motor || starts(&h->machine, plus(o->sum, x->start)));
}

/* Switch off running loads of a lower class, the least first, until the load can start; all or nothing. */
static bool make_room(const home *h, outage *o, const load *x) {
  legs before = o->sum;
  set off = 0;
  for (set left = o->next & x->lower; left; left &= ~only(last_of(left))) {
    int i = last_of(left);
    off |= only(i);
    o->sum = less(o->sum, h->load[i].run);
    if (can_start(h, o, x)) {
      o->next &= ~off;
      return true;
    }
  }
  o->sum = before;
  return false;
}

/* Let new loads start in order of priority; a motor waits for the one before it to run up. */
static void admit(const home *h, outage *o, set starting) {
  for (; starting; starting &= starting - 1) {
    int j = first_of(starting);
    const load *x = &h->load[j];
    if (x->motor && o->busy_until > o->now + 1e-9) {
      o->due[AT_BUSY] = o->busy_until;
      continue;
    }
    bool tight = !can_start(h, o, x);
    if (tight && !make_room(h, o, x)) continue;
    if (x->motor) {
      legs s = plus(o->sum, x->start);
      o->sum_up.peak_start2 = most(o->sum_up.peak_start2, va2(s.wa + s.wb, s.qa + s.qb));
      o->busy_until = o->now + x->run_up_s;
      if (tight) o->due[AT_BUSY] = o->busy_until; /* what made room may come back then */
    }
    o->next |= only(j);
    o->sum = plus(o->sum, x->run);
  }
}

void choose(const home *h, outage *o) {
  set asked = o->want & o->live;
  o->sum = (legs){0};
  o->next = 0;
  for (set left = asked & o->run; left; left &= left - 1) {
    int j = first_of(left);
    legs s = plus(o->sum, h->load[j].run);
    if (!fits(&h->machine, s)) continue;
    o->next |= only(j);
    o->sum = s;
  }
  if (asked & ~o->run) admit(h, o, asked & ~o->run);
}
