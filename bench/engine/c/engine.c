/* The loop: take the next event, move what it concerns, decide anew what runs, and go on. */
#include "engine.h"

#include <stdlib.h>

static void on_hour(const home *h, outage *o) {
  advance_house(h, o, o->now);
  o->out_sum2 = outdoor_sum2(o, o->now);
  o->out_sum = outdoor_sum(o, o->now);
  o->out_at = o->now;
  o->hour++;
  o->outdoor = h->outdoor_c[o->hour < h->hours ? o->hour : h->hours - 1];
  o->due[AT_HOUR] = o->now + HOUR_S;
  foretell_house(h, o);
}

/* The day's schedule changes: clock loads, draws, night, stove, and the day's tasks. */
static void on_slot(const home *h, outage *o) {
  advance_power(h, o, o->now);
  advance_medical(h, o, o->now);
  if (o->now > 0.0) o->slot++;
  if (o->slot >= h->slots) {
    o->slot = 0;
    o->day_at += DAY_S;
  }
  const slot *s = &h->slot[o->slot];
  o->due[AT_SLOT] = o->day_at + s[1].from_s;
  if (o->stove_lit != s->stove) {
    o->stove_lit = s->stove;
    look_anew(h, o);
  }
  o->want = (o->want & ~h->clock_loads) | (s->want & h->clock_loads);
  for (uint32_t left = s->due; left; left &= left - 1) add_task(h, o, first_of(left));
  advance_house(h, o, o->now);
  read_thermostats(h, o);
  o->unsettled = o->reheated = o->need_changed = true;
  fetch(h, o);
}

/* The event that is due first; of equals the first. */
static inline int next_event(const home *h, const outage *o) {
  double a = o->due[0], b = o->due[1], c = o->due[2], d = o->due[3];
  for (int i = 4; i < h->events; i += 4) { /* four chains, so that none waits for the last comparison */
    a = least(a, o->due[i]), b = least(b, o->due[i + 1]), c = least(c, o->due[i + 2]), d = least(d, o->due[i + 3]);
  }
  double when = least(least(a, b), least(c, d));
  int best = 0;
  while (o->due[best] != when) best++;
  return best;
}

static void handle(const home *h, outage *o, int k) {
  switch (k) {
  case AT_HOUR: on_hour(h, o); return;
  case AT_SLOT: on_slot(h, o); return;
  case AT_CONTROL: ask_control(h, o); return;
  case AT_SWITCH: on_switch(h, o); return;
  case AT_BUSY: /* a motor has run up */
  case AT_DONE: /* a task's delay is over or its work done, an own battery full */
    o->due[k] = NEVER, o->unsettled = true;
    return;
  case AT_DRY: on_dry(h, o); return;
  case AT_READY: on_ready(h, o); return;
  case AT_BACK: on_back(h, o); return;
  case AT_HOUSE: on_house(h, o); return;
  case AT_TANK: on_tank(h, o); return;
  }
  int i = k - AT_COLD;
  if (i < h->colds) on_cold(h, o, i);
  else on_level(h, o, i - h->colds);
}

/* What an event has stirred up: the rule, what runs, the heat into the house. In this order. */
static void follow(const home *h, outage *o) {
  if (o->need_changed && h->control.rule == BY_NEED) ask_control(h, o);
  o->need_changed = false;
  if (o->unsettled) {
    o->unsettled = false;
    settle(h, o);
  }
  if (o->reheated) {
    o->reheated = false;
    reheat(h, o);
  }
}

static void advance(const home *h, outage *o, double until_s) {
  double limit = MOST_EVENTS_PER_HOUR * (1.0 + until_s / HOUR_S);
  o->due[AT_END] = until_s;
  for (;;) {
    int k = next_event(h, o);
    o->now = most(o->now, o->due[k]);
    if (k == AT_END) return;
    o->events++;
    handle(h, o, k);
    follow(h, o);
    if (o->due[k] == -NEVER) foretell_cold(h, o, k - AT_COLD); /* its compressor was not switched after all */
    if (o->events > limit) {
      o->sum_up.stuck = true;
      return;
    }
  }
}

/* Move every store to the present, so that the accounts are complete. */
static void finish(const home *h, outage *o) {
  advance_power(h, o, o->now);
  advance_medical(h, o, o->now);
  advance_tasks(h, o);
  advance_house(h, o, o->now);
  for (int k = 0; k < h->colds; k++) advance_cold(h, o, k, o->now);
  for (int i = 0; i < h->levels; i++) advance_level(h, o, i, o->now);
  if (h->boiler.there) advance_tank(h, o, o->now);
}

static void simulate(const home *h, outage *o, double start_s, double length_s) {
  begin(h, o, start_s);
  on_slot(h, o);
  o->unsettled = true;
  ask_control(h, o);
  follow(h, o);
  advance(h, o, length_s);
  finish(h, o);
}

/* Outages in the order `which` (the longest first), on the threads that OpenMP has. Null, or what was refused. */
__attribute__((visibility("default"))) const char *simulate_all(const double *w, const int64_t *at, const double *start,
                                                                const double *length, double *rows,
                                                                const int64_t *which, int64_t n, int64_t width) {
  home *h = malloc(sizeof *h);
  if (!h) return "out of memory";
  const char *refused = read_home(h, w, at);
#pragma omp parallel if (!refused)
  {
    outage o;
#pragma omp for schedule(dynamic, 8)
    for (int64_t i = 0; i < (refused ? 0 : n); i++) {
      simulate(h, &o, start[which[i]], length[which[i]]);
      write_row(h, &o, rows + which[i] * width);
    }
  }
  free(h);
  return refused;
}
