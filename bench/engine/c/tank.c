/* The tank water heater: one mixed node that loses to the room, is heated, and takes in cold water as it is drawn. */
#include "engine.h"

void advance_tank(const home *h, outage *o, double t) {
  double dt = t - o->tank_at;
  if (dt <= 0.0) return;
  advance_house(h, o, t);
  const boiler *b = &h->boiler;
  accounts *a = &o->sum_up;
  double room = (o->air_sum - o->tank_air0) / dt, flow = b->flow_j * o->drawn;
  double rate = (b->ua * (room - o->tank) + flow * (b->inlet - o->tank) + o->tank_w) / b->j;
  decayed e = decay((b->ua + flow) / b->j, dt);
  double tank_sum = o->tank * dt + rate * e.twice;
  o->tank += rate * e.once;
  o->tank_at = t;
  o->tank_air0 = o->air_sum;
  a->tank_in += o->tank_w * dt;
  a->tank_out += b->ua * (tank_sum - room * dt) + flow * (tank_sum - b->inlet * dt);
  a->hot += o->asked * dt;
  a->hot_short += (o->asked - o->drawn) * dt;
  a->tank_min = least(a->tank_min, o->tank);
  if (tank_sum < b->low * dt) {
    a->tank_low_s += dt;
    a->hot_short += o->drawn * dt;
    if (a->tank_first >= NEVER) a->tank_first = t - dt;
  }
}

/* When the tank leaves a band with this heat into it, at most the longest step. */
static double out_of(const boiler *b, double tank, double heat, double k, band at) {
  double rate = heat / b->j, level = rate > 0.0 ? at.above : at.below;
  if (rate == 0.0 || fabs(level) >= NEVER) return COLD_STEP_S;
  double part = k * (level - tank) / rate;
  if (part >= 1.0) return COLD_STEP_S;
  return least(COLD_STEP_S, part > 1e-9 ? -log1p(-part) / k : (level - tank) / rate);
}

void foretell_tank(const home *h, outage *o) {
  const boiler *b = &h->boiler;
  double tank = o->tank, flow = b->flow_j * o->drawn, k = (b->ua + flow) / b->j;
  band at = nearer((band){-NEVER, NEVER}, b->low, tank);
  if (o->running) at = nearer(at, b->ready, tank);
  if (o->running || b->by == PILOT) at = nearer(at, o->call_tank ? b->off : b->on, tank);
  if (h->control.rule == BY_NEED) {
    double level = o->running ? b->stop : b->start;
    if ((level > tank) == o->running) at = nearer(at, level, tank);
  }
  double heat = b->ua * (o->air - tank) + flow * (b->inlet - tank) + o->tank_w;
  band room = room_margins(h, o);
  double early = out_of(b, tank, heat + b->ua * room.above, k, (band){-NEVER, at.above});
  early = least(early, out_of(b, tank, heat - b->ua * room.below, k, (band){at.below, NEVER}));
  if (early < HOP_FROM_S) early = least(HOP_FROM_S, out_of(b, tank, heat, k, at));
  o->due[AT_TANK] = o->tank_at + most(early, 1e-3);
}

void read_tank(const home *h, outage *o) {
  const boiler *b = &h->boiler;
  bool call = o->call_tank;
  if (o->tank <= b->on + COLD_LEVEL_K) o->call_tank = true;
  else if (o->tank >= b->off - COLD_LEVEL_K) o->call_tank = false;
  if (o->call_tank == call) return;
  o->unsettled = true;
  if (b->by == ELEMENT) {
    put(&o->want, b->load, o->call_tank);
  } else if (b->by == BOILER && h->rooms.heater >= 0) {
    put(&o->want, h->rooms.heater, o->call_tank || o->call_heat);
    o->reheated = true;
  }
}

/* Set the heat into the tank from what runs and what it calls for. */
void heat_tank(const home *h, outage *o) {
  const boiler *b = &h->boiler;
  bool heated = o->call_tank && (b->by == PILOT || (b->by == ELEMENT && has(o->run, b->load)) ||
                                 (b->by == BOILER && h->rooms.heater >= 0 && has(o->run, h->rooms.heater)));
  double heat = heated ? b->w : 0.0;
  if (heat == o->tank_w) return;
  advance_tank(h, o, o->now);
  o->tank_w = heat;
  foretell_tank(h, o);
}

/* Set the flow of hot water asked for, and whether the taps give any. */
void draw_hot(const home *h, outage *o, double asked, bool flows) {
  double drawn = flows ? asked : 0.0;
  if (asked == o->asked && drawn == o->drawn) return;
  advance_tank(h, o, o->now);
  o->asked = asked;
  o->drawn = drawn;
  foretell_tank(h, o);
}

void on_tank(const home *h, outage *o) {
  advance_tank(h, o, o->now);
  read_tank(h, o);
  o->need_changed = true;
  if (o->tank > h->boiler.ready - COLD_LEVEL_K) { /* showers that waited may begin */
    o->ask_at = -NEVER;
    o->unsettled |= o->tank < h->boiler.ready + COLD_LEVEL_K;
  }
  foretell_tank(h, o);
}
