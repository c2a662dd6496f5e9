/* Air and mass of the house, the calls of heater and stove, and the pipe. */
#include "engine.h"

typedef struct {
  double f1, f2; /* K/s */
} rates;

static inline rates rates_now(const rooms *r, const outage *o) {
  double across = r->g * (o->mass - o->air);
  return (rates){(r->u1 * (o->outdoor - o->air) + across + o->heat_w) / r->c1,
                 (r->u2 * (o->outdoor - o->mass) - across) / r->c2};
}

/* Time below the limits over a step that does not cross them (crossings are events). */
static inline void note_limits(const rooms *r, outage *o, double before, double air_sum, double dt) {
  accounts *a = &o->sum_up;
  a->air_min = least(a->air_min, o->air);
  a->air_max = most(a->air_max, o->air);
  double mean = air_sum / dt;
  if (mean < r->low) {
    a->air_low_s += dt;
    a->air_low_ks += r->low * dt - air_sum;
    if (a->air_first >= NEVER) a->air_first = o->air_at - dt;
  }
  a->pipe_min = least(a->pipe_min, o->outdoor + r->pipe_ratio * (least(o->air, before) - o->outdoor));
  if (o->outdoor + r->pipe_ratio * (mean - o->outdoor) < r->pipe_low) {
    a->pipe_s += dt;
    if (a->pipe_first >= NEVER) a->pipe_first = o->air_at - dt;
  }
}

/* Exact for any number of calls: nothing that is foretold changes. */
void advance_house(const home *h, outage *o, double t) {
  double dt = t - o->air_at;
  if (dt <= 0.0) return;
  const rooms *r = &h->rooms;
  const modes *m = &r->m;
  rates f = rates_now(r, o);
  decayed fast = {m->ef, m->sf}, slow = {m->es, m->ss};
  double vf = r->vf, vs = r->vs;
  if (dt != HOUR_S) {
    fast = decay(m->kf, dt), slow = decay(m->ks, dt);
    vf = third(m->kf, dt, fast.twice), vs = third(m->ks, dt, slow.twice);
  }
  pull a = pull_first(m, f.f1, f.f2), b = pull_second(m, f.f1, f.f2);
  double before = o->air;
  double air_sum = o->air * dt + a.fast * fast.twice + a.slow * slow.twice;
  double mass_sum = o->mass * dt + b.fast * fast.twice + b.slow * slow.twice;
  o->air_at = t;
  o->air += a.fast * fast.once + a.slow * slow.once;
  o->mass += b.fast * fast.once + b.slow * slow.once;
  o->air_sum2 += dt * (o->air_sum + 0.5 * dt * before) + a.fast * vf + a.slow * vs;
  o->air_sum += air_sum;
  o->sum_up.heat_j += o->heat_w * dt;
  o->sum_up.loss_j += r->u1 * (air_sum - o->outdoor * dt) + r->u2 * (mass_sum - o->outdoor * dt);
  note_limits(r, o, before, air_sum, dt);
}

/* The house may become warmer than its stores were told: they are looked at before it has. */
void look_anew(const home *h, outage *o) {
  double soon = o->now + LOOK_AGAIN_S;
  o->told_w = o->loads_w;
  for (int k = 0; k < h->colds; k++) o->due[AT_COLD + k] = least(o->due[AT_COLD + k], soon);
  if (h->boiler.there) o->due[AT_TANK] = least(o->due[AT_TANK], soon);
}

/* When the air next reaches a level that matters, at most to the next hour. */
void foretell_house(const home *h, outage *o) {
  const rooms *r = &h->rooms;
  band b = nearer((band){-NEVER, NEVER}, r->low, o->air);
  if (r->pipe_ratio > 0.0) b = nearer(b, o->outdoor + (r->pipe_low - o->outdoor) / r->pipe_ratio, o->air);
  if (r->heater >= 0) b = nearer(b, (o->call_heat ? r->off : r->on) - h->slot[o->slot].setback, o->air);
  if (o->stove_lit) b = nearer(b, o->call_stove ? r->stove_off : r->stove_on, o->air);
  if (h->control.rule == BY_NEED) {
    double level = o->running ? r->stop : r->start;
    if ((level > o->air) == o->running) b = nearer(b, level, o->air);
  }
  double dt = o->due[AT_HOUR] - o->air_at;
  rates f = rates_now(r, o);
  pull p = pull_first(&r->m, f.f1, f.f2);
  o->drift = p.fast * r->m.ef + p.slow * r->m.es;
  o->due[AT_HOUSE] = NEVER;
  if (stays(o->air, p, b, dt)) return;
  spent end = dt == HOUR_S ? (spent){r->m.ef, r->m.es} : spend(&r->m, dt);
  o->due[AT_HOUSE] = o->air_at + leaves(&r->m, o->air, p, b, dt, end, EXACT_S);
}

void read_thermostats(const home *h, outage *o) {
  const rooms *r = &h->rooms;
  bool heat = o->call_heat, stove = o->call_stove;
  double shift = h->slot[o->slot].setback;
  if (o->air <= r->on - shift + LEVEL_K) o->call_heat = true;
  else if (o->air >= r->off - shift - LEVEL_K) o->call_heat = false;
  if (!o->stove_lit || o->air >= r->stove_off - LEVEL_K) o->call_stove = false;
  else if (o->air <= r->stove_on + LEVEL_K) o->call_stove = true;
  if ((o->call_heat != heat && r->heater >= 0) || o->call_stove != stove) o->unsettled = o->reheated = true;
  if (r->heater >= 0) put(&o->want, r->heater, o->call_heat || (h->boiler.by == BOILER && o->call_tank));
  if (r->blower >= 0) put(&o->want, r->blower, o->call_stove);
}

double house_heat_w(const home *h, const outage *o) {
  const rooms *r = &h->rooms;
  double heat = r->gains + o->loads_w;
  if (r->heater >= 0 && has(o->run, r->heater) && o->call_heat) {
    heat += r->heater_w;
    if (h->boiler.by == BOILER && o->call_tank) heat -= least(h->boiler.w, r->heater_w);
  }
  if (o->call_stove) heat += r->stove_w * (r->blower >= 0 && !has(o->run, r->blower) ? r->stove_dull : 1.0);
  return heat;
}

void reheat(const home *h, outage *o) {
  advance_house(h, o, o->now);
  o->heat_w = house_heat_w(h, o);
  foretell_house(h, o);
  o->told_w = least(o->told_w, o->loads_w);
  if ((o->loads_w - o->told_w) * h->rooms.k_per_w > ROOM_DRIFT_K) look_anew(h, o);
}

void on_house(const home *h, outage *o) {
  advance_house(h, o, o->now);
  read_thermostats(h, o);
  o->need_changed = true;
  if (!o->reheated) foretell_house(h, o);
}
