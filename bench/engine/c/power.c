/* Carrying through what runs: to the stores, the legs, the fuel. */
#include "engine.h"

/* Burn fuel and keep the accounts up to t, at the rates that held until now. */
void advance_power(const home *h, outage *o, double t) {
  double dt = t - o->power_at;
  if (dt <= 0.0) return;
  accounts *a = &o->sum_up;
  o->power_at = t;
  if (!o->running) return;
  double burned = o->rate * dt, energy = (o->sum.wa + o->sum.wb) * dt;
  o->fuel -= burned;
  a->fuel += burned;
  a->run_s += dt;
  a->night_s += h->slot[o->slot].night * dt;
  a->energy += energy;
  a->load_j += energy;
  a->wait_s += o->waiting_n * dt;
}

/* A load has started or stopped: tell the store that it works for. */
static void carry(const home *h, outage *o, int j) {
  const load *x = &h->load[j];
  bool running = has(o->run, j);
  if (x->task >= 0) go_to_task(o, x->task, running);
  switch (x->kind) {
  case COLD: switch_cold(h, o, x->which, running); break;
  case LEVEL: set_level(h, o, x->which, o->level[x->which].in, running); break;
  case HEATER:
  case BLOWER: o->reheated = true; break;
  default: break;
  }
}

/* Highest running currents (squared, times volts squared) and the highest power. */
static inline void note_peaks(outage *o) {
  accounts *a = &o->sum_up;
  legs s = o->sum;
  double w = s.wa - s.wb, q = s.qa - s.qb;
  a->peak_a2 = most(a->peak_a2, s.wa * s.wa + s.qa * s.qa);
  a->peak_b2 = most(a->peak_b2, s.wb * s.wb + s.qb * s.qb);
  a->peak_n2 = most(a->peak_n2, w * w + q * q);
  a->peak_w = most(a->peak_w, s.wa + s.wb);
}

static void sum_loads(const home *h, outage *o) {
  legs s = {0};
  double heat = 0.0;
  for (set left = o->run; left; left &= left - 1) {
    const load *x = &h->load[first_of(left)];
    s = (legs){s.wa + x->run.wa, s.qa + x->run.qa, s.wb + x->run.wb, s.qb + x->run.qb};
    heat += x->indoor_w;
  }
  o->sum = s;
  if (heat == o->loads_w) return;
  o->loads_w = heat;
  o->reheated = true;
}

static void note_waiting(outage *o) {
  set waiting = o->want & o->live & ~o->run;
  o->sum_up.waits += __builtin_popcountll(waiting & ~o->waited);
  o->waited = (o->waited | waiting) & ~o->run;
  o->waiting_n = __builtin_popcountll(waiting);
}

static void set_rates(const home *h, outage *o) {
  o->rate = o->running ? h->machine.fuel_a + h->machine.fuel_b * (o->sum.wa + o->sum.wb) : 0.0;
  o->due[AT_DRY] = o->rate > 0.0 && o->fuel < 0.1 * NEVER ? o->now + most(0.0, o->fuel) / o->rate : NEVER;
}

/* Decide anew what runs, and carry it through to every store and the fuel. */
void settle(const home *h, outage *o) {
  advance_power(h, o, o->now);
  advance_medical(h, o, o->now);
  o->due[AT_DONE] = NEVER;
  call_chargers(h, o);
  call_tasks(h, o);
  o->next = 0;
  if (o->running) choose(h, o);
  set changed = o->next ^ o->run;
  o->run = o->next;
  sum_loads(h, o);
  for (; changed; changed &= changed - 1) carry(h, o, first_of(changed));
  note_waiting(o);
  note_peaks(o);
  set_rates(h, o);
  foretell_chargers(h, o);
  if (h->boiler.there) heat_tank(h, o); /* its call may have changed though no load did */
  run_tasks(h, o);
}
