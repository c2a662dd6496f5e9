/* The state of a house at the moment the grid fails, and everybody's first foretelling. */
#include "engine.h"

#include <string.h>

/* As read, or as the grid left it: at its set point or as warm as outside, the mass in balance. */
static void begin_house(const home *h, outage *o) {
  const rooms *r = &h->rooms;
  double air = r->air0, mass = r->mass0, mean = r->air0;
  if (!r->mass_given) {
    if (r->lived_in) {
      int first = o->hour < 23 ? 0 : o->hour - 23;
      mean = 0.0;
      for (int i = first; i < first + 24; i++) mean += h->outdoor_c[i < h->hours ? i : h->hours - 1] / 24.0;
      air = most(air, mean);
    }
    mass = r->u2 + r->g > 0.0 ? (r->g * air + r->u2 * mean) / (r->u2 + r->g) : air;
  }
  accounts *a = &o->sum_up;
  o->air = a->air_start = a->air_min = a->air_max = a->pipe_min = air;
  o->mass = a->mass_start = mass;
}

static void begin_stores(const home *h, outage *o) {
  for (int k = 0; k < h->colds; k++) {
    const cold *c = &h->cold[k];
    o->cold[k] = (cold_now){.shell = c->shell0, .core = c->core0, .seg1 = c->seg1, .seg2 = c->seg2, .max = c->shell0,
                            .first = NEVER, .lost_at = NEVER};
    read_cold(h, o, k);
    note_need(h, o, k);
    foretell_cold(h, o, k);
  }
  for (int i = 0; i < h->levels; i++) {
    const level *v = &h->level[i];
    o->level[i] = (level_now){.x = v->x0, .in = v->in, .rate = v->in, .first = NEVER};
    read_level(h, o, i);
    foretell_level(h, o, i);
  }
  if (h->boiler.there) {
    read_tank(h, o);
    foretell_tank(h, o);
  }
  for (int i = 0; i < h->medicals; i++) o->need[i] = (need_now){.left_s = h->medical[i].own_s, .first = NEVER};
}

void begin(const home *h, outage *o, double start_s) {
  memset(o, 0, sizeof *o);
  for (int i = 0; i < h->events + 3; i++) o->due[i] = NEVER;
  accounts *a = &o->sum_up;
  a->out_at = a->air_first = a->pipe_first = a->tank_first = NEVER;
  o->start = start_s;
  o->hour = (int)floor(start_s / HOUR_S);
  o->outdoor = h->outdoor_c[o->hour];
  o->due[AT_HOUR] = (o->hour + 1) * HOUR_S - start_s;
  o->stopped = o->ready = o->busy_until = -NEVER;
  o->tank = a->tank_min = h->boiler.start_c;
  o->fuel = h->machine.tank0;
  o->stock = h->machine.stock0;
  double of_day = fmod(start_s, DAY_S);
  o->day_at = -of_day;
  while (h->slot[o->slot + 1].from_s <= of_day) o->slot++;
  begin_house(h, o);
  read_thermostats(h, o);
  o->heat_w = house_heat_w(h, o);
  foretell_house(h, o);
  begin_stores(h, o);
}
