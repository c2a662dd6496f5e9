/* The machine and the person at it: whether it is wanted, its fuel, and which circuits are switched on. */
#include "engine.h"

#define TINY_S 1e-6
#define TINY_M3 1e-12

/* The same spells every day; a spell may run past midnight. */
static bool by_clock(const home *h, outage *o) {
  const control *c = &h->control;
  double local = o->now - o->day_at, ask = NEVER;
  bool on = false;
  for (int i = 0; i < c->spells; i++) {
    double length = c->spell[i].to_s - c->spell[i].from_s, since = fmod(local - c->spell[i].from_s + TINY_S, DAY_S);
    if (since < 0.0) since += DAY_S;
    since -= TINY_S;
    if (since < length - TINY_S) {
      on = true;
      o->spell = i;
      o->spell_at = o->now - since;
      ask = least(ask, o->now + length - since);
    } else {
      ask = least(ask, o->now + DAY_S - since);
    }
  }
  o->due[AT_CONTROL] = ask;
  return on;
}

static double level_now_at(const level_now *u, double t) { return u->x + u->rate * (t - u->at); }

static bool in_need(const home *h, const outage *o) {
  if (o->needy) return true;
  for (int i = 0; i < h->levels; i++)
    if (level_now_at(&o->level[i], o->now) >= h->level[i].start * (1.0 - 1e-9)) return true;
  return o->air <= h->rooms.start + LEVEL_K || o->tank <= h->boiler.start + COLD_LEVEL_K;
}

static bool recovered(const home *h, const outage *o) {
  if (o->lacking) return false;
  for (int i = 0; i < h->levels; i++)
    if (level_now_at(&o->level[i], o->now) > h->level[i].stop * (1.0 + 1e-9) + 1e-12) return false;
  return o->air >= h->rooms.stop - LEVEL_K && o->tank >= h->boiler.stop - COLD_LEVEL_K;
}

/* Start when any store nears its limit, stop when all have recovered, within shortest and longest runs. */
static bool by_need(const home *h, outage *o) {
  const control *c = &h->control;
  o->due[AT_CONTROL] = NEVER;
  if (o->running) {
    double ran = o->now - o->since;
    if (ran >= c->max_run_s - TINY_S) return false;
    bool young = ran < c->min_run_s - TINY_S;
    o->due[AT_CONTROL] = o->since + (young ? c->min_run_s : c->max_run_s);
    return young || !recovered(h, o);
  }
  if (o->now < o->stopped + c->min_off_s - TINY_S) {
    o->due[AT_CONTROL] = o->stopped + c->min_off_s;
    return false;
  }
  if (c->not_at_night && h->slot[o->slot].night != 0.0) return false;
  return in_need(h, o);
}

bool wanted(const home *h, outage *o) { return h->control.rule == BY_NEED ? by_need(h, o) : by_clock(h, o); }

/* Move every store that has a thermostat to the present and read it. */
static void move_stores(const home *h, outage *o) {
  advance_house(h, o, o->now);
  read_thermostats(h, o);
  for (int k = 0; k < h->colds; k++) {
    advance_cold(h, o, k, o->now);
    read_cold(h, o, k);
  }
  if (!h->boiler.there) return;
  advance_tank(h, o, o->now);
  read_tank(h, o);
}

static void foretell_stores(const home *h, outage *o) {
  foretell_house(h, o);
  for (int k = 0; k < h->colds; k++) foretell_cold(h, o, k);
  if (h->boiler.there) foretell_tank(h, o);
}

/* Make a circuit live. True if a load or a task waits for that. */
static bool switch_on(const home *h, outage *o, int circuit) {
  if (!has(h->fed, circuit) || has(o->circuits, circuit)) return false;
  o->circuits |= only(circuit);
  o->live |= h->loads_on[circuit];
  uint32_t work = h->work_on[circuit] & o->owed;
  if (work) o->ask_at = -NEVER;
  return work || h->loads_on[circuit] & o->want;
}

/* Switch on what is due from a step of the spell on, up to the first that is not. True if a load or a task waits. */
static bool take_steps(const home *h, outage *o, int first) {
  const spell *p = &h->control.spell[o->spell];
  bool waits = false;
  o->due[AT_SWITCH] = NEVER;
  for (o->step = first; o->step < p->steps; o->step++) {
    const step *x = &p->step[o->step];
    double on = most(o->spell_at + x->on_s, o->base + x->rank_s), off = o->spell_at + x->off_s;
    if (on - TINY_S <= o->now && o->now < off - TINY_S) {
      waits |= switch_on(h, o, x->circuit);
      o->off_at = least(o->off_at, off);
    } else if (o->now < on && on < off) {
      o->due[AT_SWITCH] = on;
      break;
    }
  }
  o->due[AT_SWITCH] = least(o->due[AT_SWITCH], o->off_at);
  return waits;
}

/* Which circuits are live now, and when the next is to be switched. */
static void switch_circuits(const home *h, outage *o) {
  o->circuits = o->live = 0;
  o->due[AT_SWITCH] = o->off_at = NEVER;
  if (o->running) take_steps(h, o, 0);
}

void on_switch(const home *h, outage *o) {
  if (o->now < o->off_at - TINY_S) {
    o->unsettled |= take_steps(h, o, o->step);
    return;
  }
  switch_circuits(h, o); /* one is switched off: all are looked at anew */
  o->ask_at = -NEVER;
  o->unsettled = true;
}

/* The machine has started or stopped. */
static void switch_power(const home *h, outage *o, bool running) {
  advance_power(h, o, o->now);
  o->running = running;
  move_stores(h, o); /* thermostats matter now, or matter no more */
  foretell_stores(h, o);
  switch_circuits(h, o);
  o->ask_at = -NEVER;
  o->unsettled = o->reheated = true;
}

static void start(const home *h, outage *o) {
  o->since = o->now;
  o->base = o->now + h->control.warm_s;
  if (h->control.rule == BY_NEED) o->spell_at = o->now;
  o->sum_up.starts += 1.0;
  switch_power(h, o, true);
  if (h->control.rule == BY_NEED) o->due[AT_CONTROL] = o->now + h->control.min_run_s;
}

static void refill_in(outage *o, double after_s) {
  o->refilling = true;
  o->ready = o->due[AT_READY] = o->now + after_s;
}

/* It needs fuel and there is some: it cools down and is refilled. */
static void stop(const home *h, outage *o) {
  advance_power(h, o, o->now); /* its fuel is asked below */
  o->stopped = o->ready = o->now;
  if (o->fuel < h->machine.refill_at && o->stock > TINY_M3) refill_in(o, h->machine.cool_s + h->machine.refill_s);
  switch_power(h, o, false);
  if (h->control.rule == BY_NEED) o->due[AT_CONTROL] = o->now + h->control.min_off_s;
  fetch(h, o);
}

/* Whether the rule by need still says so of every store as it is now: it is asked of where they were last seen. */
static bool sure(const home *h, outage *o, bool want) {
  if (h->control.rule != BY_NEED) return true;
  move_stores(h, o);
  bool is_sure = wanted(h, o) == want;
  if (!is_sure) foretell_stores(h, o); /* else the machine is about to start or stop, and all are foretold then */
  return is_sure;
}

/* Start, stop, or begin to refill, as the control wants and the fuel allows. */
void ask_control(const home *h, outage *o) {
  bool want = wanted(h, o);
  if (o->running) {
    if (!want && sure(h, o, want)) stop(h, o);
    return;
  }
  if (!want || o->now < o->ready - TINY_S) return;
  if (o->fuel > TINY_M3) {
    if (sure(h, o, want)) start(h, o);
  } else if (o->stock > TINY_M3) {
    refill_in(o, h->machine.refill_s);
  } else if (o->sum_up.out_at >= NEVER) {
    o->sum_up.out_at = o->now;
  }
}

void on_ready(const home *h, outage *o) {
  o->due[AT_READY] = NEVER;
  if (o->refilling) {
    double poured = least(o->stock, h->machine.tank - o->fuel);
    o->refilling = false;
    o->fuel += poured;
    o->stock -= poured;
    o->sum_up.refills += 1.0;
  }
  ask_control(h, o);
}

void on_dry(const home *h, outage *o) {
  advance_power(h, o, o->now);
  o->fuel = 0.0;
  if (o->stock <= TINY_M3 && o->sum_up.out_at >= NEVER) o->sum_up.out_at = o->now;
  stop(h, o);
  ask_control(h, o);
}

/* Set out for more fuel when little is left, somebody is awake, and nobody is on the way already. */
void fetch(const home *h, outage *o) {
  if (o->due[AT_BACK] < NEVER || !h->slot[o->slot].awake || o->sum_up.trips >= h->machine.trips) return;
  if (o->fuel + o->stock < h->machine.trip_below) o->due[AT_BACK] = o->now + h->machine.trip_s;
}

void on_back(const home *h, outage *o) {
  o->due[AT_BACK] = NEVER;
  o->sum_up.trips += 1.0;
  o->sum_up.brought += h->machine.trip_m3;
  o->stock += h->machine.trip_m3;
  ask_control(h, o);
}
