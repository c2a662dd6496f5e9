/* Cold stores: shell and core, segment by segment of the food's heat capacity.

   The room enters by its mean over the step. How it will go is not known beforehand, so that a crossing is foretold
   for the warmest and the coolest that it may become, looked at then, and foretold anew until it is seconds off. */
#include "engine.h"

/* Time over the limit in a step that lies on one side of it. */
static inline void note_cold(const home *h, cold_now *d, double limit, double shell_sum, double dt) {
  d->max = most(d->max, d->shell);
  if (shell_sum <= limit * dt) return;
  d->over_s += dt;
  d->over_ks += shell_sum - limit * dt;
  if (d->first >= NEVER) d->first = d->at - dt;
  double before = d->food_s;
  d->food_s += dt;
  if (before <= h->food_s && h->food_s < d->food_s) d->lost_at = d->at - dt + (h->food_s - before);
}

/* The way a node leaves its segment, past a knot or all but at it on the way there: 1 up, -1 down, 0 not. */
static inline int way_out(const double *knot, int last, int seg, double x, double rise, double up, double down) {
  double near = rise > 0.0 ? -KNOT_NEAR_K : KNOT_NEAR_K;
  if (seg < last && (x - knot[seg + 1]) * most(1.0, up) > near) return 1;
  near = rise < 0.0 ? -KNOT_NEAR_K : KNOT_NEAR_K;
  if (seg > 0 && (knot[seg] - x) * most(1.0, down) > near) return -1;
  return 0;
}

/* Carry the heat beyond a knot over into the next segment. */
static inline void settle_segments(const cold *c, cold_now *d, int last, double rise1, double rise2) {
  const modes *m = &c->m[d->seg1][d->seg2];
  int way = way_out(c->knot, last, d->seg1, d->shell, rise1, m->up1, m->down1);
  if (way) {
    double knot = c->knot[d->seg1 + (way > 0)];
    d->shell = knot + (d->shell - knot) * (way > 0 ? m->up1 : m->down1);
    d->seg1 += way;
  }
  way = way_out(c->knot, last, d->seg2, d->core, rise2, m->up2, m->down2);
  if (way) {
    double knot = c->knot[d->seg2 + (way > 0)];
    d->core = knot + (d->core - knot) * (way > 0 ? m->up2 : m->down2);
    d->seg2 += way;
  }
}

void advance_cold(const home *h, outage *o, int k, double t) {
  const cold *c = &h->cold[k];
  cold_now *d = &o->cold[k];
  double dt = t - d->at;
  if (dt <= 0.0) return;
  advance_house(h, o, t);
  double room1 = c->by_air * o->air_sum + c->by_out * outdoor_sum(o, t);
  double room2 = c->by_air * o->air_sum2 + c->by_out * outdoor_sum2(o, t);
  double room = (room1 - d->room1) / dt, late = 0.5 * dt * (room1 + d->room1) - (room2 - d->room2);
  const modes *m = &c->m[d->seg1][d->seg2];
  double across = c->g * (d->core - d->shell);
  double f1 = (c->ua * (room - d->shell) + across - d->cool_w) / m->c1, f2 = -across / m->c2;
  decayed fast = {m->ef, m->sf}, slow = {m->es, m->ss};
  if (dt != COLD_STEP_S) fast = decay(m->kf, dt), slow = decay(m->ks, dt);
  pull a = pull_first(m, f1, f2), b = pull_second(m, f1, f2);
  double shell_sum = d->shell * dt + a.fast * fast.twice + a.slow * slow.twice;
  double rise1 = a.fast * fast.once + a.slow * slow.once, rise2 = b.fast * fast.once + b.slow * slow.once;
  /* warmth that came late in the step has had less time to act */
  double push = c->ua / m->c1 * late / dt, push_fast = push * fast.once, push_slow = push * slow.once;
  shell_sum -= m->w1 * push_fast + m->w2 * push_slow;
  rise1 += m->w1 * m->kf * push_fast + m->w2 * m->ks * push_slow;
  rise2 += m->b2 * (m->kf * push_fast - m->ks * push_slow);
  d->gain_j += c->ua * (room * dt - shell_sum) - d->cool_w * dt;
  d->held_j += m->c1 * rise1 + m->c2 * rise2;
  if (d->cool_w > 0.0) d->run_s += dt;
  d->shell += rise1;
  d->core += rise2;
  d->at = t;
  d->room1 = room1;
  d->room2 = room2;
  note_cold(h, d, c->limit, shell_sum, dt);
  settle_segments(c, d, h->segments - 1, rise1, rise2);
  if (h->control.rule == BY_NEED) note_need(h, o, k);
}

/* Whether the rule would start for a store, or go on for it; it is asked where that has changed. */
void note_need(const home *h, outage *o, int k) {
  const cold *c = &h->cold[k];
  double shell = o->cold[k].shell;
  uint32_t bit = 1u << k, needy = shell >= c->start - COLD_LEVEL_K ? bit : 0;
  uint32_t lacking = shell > c->stop + COLD_LEVEL_K ? bit : 0;
  if (needy == (o->needy & bit) && lacking == (o->lacking & bit)) return;
  o->needy = (o->needy & ~bit) | needy;
  o->lacking = (o->lacking & ~bit) | lacking;
  o->need_changed = true;
}

/* What matters: the limit, the thermostat while there is power, and where the rule is to start or stop the machine. */
static inline band levels_of(const home *h, const outage *o, const cold *c, const cold_now *d) {
  band b = nearer((band){-NEVER, NEVER}, c->limit, d->shell);
  if (o->running && c->load >= 0) b = nearer(b, d->call ? c->off : c->on, d->shell);
  if (h->control.rule != BY_NEED) return b;
  double level = o->running ? c->stop : c->start;
  return (level < d->shell) == o->running ? nearer(b, level, d->shell) : b;
}

/* When a node leaves a band, at most by a given time. */
static inline double out_of(const modes *m, double x, pull p, band b, double within, double by) {
  return stays(x, p, b, by) ? by : least(by, leaves(m, x, p, b, COLD_STEP_S, (spent){m->ef, m->es}, within));
}

/* Heat into shell and core with the room as it is now. */
static inline pull heats_of(const outage *o, const cold *c, const cold_now *d) {
  double across = c->g * (d->core - d->shell);
  return (pull){c->ua * (c->by_air * o->air + c->by_out * o->outdoor - d->shell) + across - d->cool_w, -across};
}

void foretell_cold(const home *h, outage *o, int k) {
  const cold *c = &h->cold[k];
  cold_now *d = &o->cold[k];
  pull heat = heats_of(o, c, d);
  settle_segments(c, d, h->segments - 1, heat.fast, heat.slow);
  heat = heats_of(o, c, d);
  const modes *m = &c->m[d->seg1][d->seg2];
  double f1 = heat.fast / m->c1, f2 = heat.slow / m->c2, per_k = c->by_air * c->ua / m->c1;
  band b = levels_of(h, o, c, d), room = room_margins(h, o); /* outdoors is constant until the hour */
  pull warm = pull_first(m, f1 + per_k * room.above, f2), cool = pull_first(m, f1 - per_k * room.below, f2);
  double early = out_of(m, d->shell, warm, (band){-NEVER, b.above}, ROUGH_S, COLD_STEP_S);
  early = out_of(m, d->shell, cool, (band){b.below, NEVER}, ROUGH_S, early);
  band food = {c->knot[d->seg1], c->knot[d->seg1 + 1]};
  if (early < HOP_FROM_S) {
    early = HOP_FROM_S;
    food = (band){most(b.below, food.below), least(b.above, food.above)};
  }
  double out = out_of(m, d->shell, pull_first(m, f1, f2), food, EXACT_S, early);
  if (out < early) {
    double slip = per_k * most(room.above, room.below) * out * most(1.0, heat.fast > 0.0 ? m->up1 : m->down1);
    early = slip > KNOT_SLIP_K ? KNOT_SHORT * out : out;
  }
  double hour = o->due[AT_HOUR];
  if (c->by_out != 0.0 && hour > d->at) early = least(early, hour - d->at); /* within the hour all is exact */
  if (c->g > 0.0) {
    food = (band){c->knot[d->seg2], c->knot[d->seg2 + 1]};
    early = out_of(m, d->core, pull_second(m, f1, f2), food, ROUGH_S, early);
  }
  o->due[AT_COLD + k] = d->at + most(early, 1e-3);
}

void read_cold(const home *h, outage *o, int k) {
  const cold *c = &h->cold[k];
  cold_now *d = &o->cold[k];
  bool call = d->call;
  if (d->shell >= c->on - COLD_LEVEL_K) d->call = true;
  else if (d->shell <= c->off + COLD_LEVEL_K) d->call = false;
  if (d->call == call) return;
  bool want = d->call;
  for (int i = c->next; i != k; i = h->cold[i].next) want |= o->cold[i].call; /* two may share one compressor */
  if (c->load >= 0) put(&o->want, c->load, want);
  o->unsettled |= o->running;
}

void on_cold(const home *h, outage *o, int k) {
  advance_cold(h, o, k, o->now);
  read_cold(h, o, k);
  if (o->unsettled) o->due[AT_COLD + k] = -NEVER; /* its compressor is about to switch: see advance */
  else foretell_cold(h, o, k);
}

void switch_cold(const home *h, outage *o, int first, bool running) {
  int k = first;
  do {
    advance_cold(h, o, k, o->now);
    o->cold[k].cool_w = running ? h->cold[k].cool_w : 0.0;
    foretell_cold(h, o, k);
    k = h->cold[k].next;
  } while (k != first);
}
