/* Levels: pits, the pressure tank, cycling loads. They fill at a steady rate and a load empties them. */
#include "engine.h"

void advance_level(const home *h, outage *o, int i, double t) {
  const level *v = &h->level[i];
  level_now *u = &o->level[i];
  double dt = t - u->at;
  if (dt <= 0.0) return;
  double x = u->x + u->rate * dt;
  u->asked += u->in * dt;
  if (u->run) u->moved += v->out * dt;
  if (x > v->cap) {
    u->over += x - v->cap;
    if (u->first >= NEVER) u->first = u->at + most(0.0, (v->cap - u->x) / u->rate);
    x = v->cap;
  } else if (x < 0.0) {
    u->moved += x; /* a pump cannot move more than came in */
    x = 0.0;
  }
  u->x = x;
  u->at = t;
}

/* When a level reaches its switch, its brim or a level of the rule. */
void foretell_level(const home *h, outage *o, int i) {
  const level *v = &h->level[i];
  const level_now *u = &o->level[i];
  bool by_need = h->control.rule == BY_NEED;
  double target = NEVER;
  if (u->rate > 0.0) {
    if (u->x < v->cap - v->tiny) target = v->cap;
    if (!u->call && u->x < v->on - v->tiny) target = least(target, v->on);
    if (by_need && u->x < v->start - v->tiny) target = least(target, v->start);
  } else if (u->rate < 0.0) {
    target = by_need && u->x > v->stop + v->tiny ? most(0.0, v->stop) : 0.0;
  }
  o->due[AT_COLD + h->colds + i] = target < NEVER ? u->at + most(0.0, (target - u->x) / u->rate) : NEVER;
}

void read_level(const home *h, outage *o, int i) {
  const level *v = &h->level[i];
  level_now *u = &o->level[i];
  bool call = u->call;
  if (u->x >= v->on - v->tiny) u->call = true;
  else if (u->x <= v->tiny) u->call = false;
  if (u->call == call || v->load < 0) return;
  put(&o->want, v->load, u->call);
  o->unsettled |= o->running;
}

void set_level(const home *h, outage *o, int i, double in, bool run) {
  level_now *u = &o->level[i];
  if (in == u->in && run == u->run) return;
  advance_level(h, o, i, o->now);
  u->in = in;
  u->run = run;
  u->rate = run ? in - h->level[i].out : in;
  foretell_level(h, o, i);
}

void on_level(const home *h, outage *o, int i) {
  advance_level(h, o, i, o->now);
  read_level(h, o, i);
  o->need_changed |= h->level[i].start < NEVER;
  if (i == h->water) o->unsettled = true;
  foretell_level(h, o, i);
}

/* Water comes out of the taps while there is some in the pressure tank, or the pump runs. */
bool taps_run(const home *h, const outage *o) {
  if (h->water < 0) return true;
  const level_now *u = &o->level[h->water];
  return u->run || u->x < h->level[h->water].cap * (1.0 - 1e-9);
}
