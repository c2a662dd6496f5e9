/* The accounts of an outage written into a row of the engine's `Outcomes` (columns of kernels/layout.py). */
#include "engine.h"

#define OUT(column) row[(column) - O_FIRST]

static void write_sums(const home *h, const outage *o, double *row) {
  const accounts *a = &o->sum_up;
  OUT(O_FUEL_M3) = a->fuel, OUT(O_RUN_S) = a->run_s, OUT(O_NIGHT_RUN_S) = a->night_s, OUT(O_STARTS) = a->starts;
  OUT(O_REFILLS) = a->refills, OUT(O_FUEL_TRIPS) = a->trips, OUT(O_FUEL_OUT_AT) = a->out_at;
  OUT(O_PEAK_A) = sqrt(a->peak_a2) / h->leg_v, OUT(O_PEAK_B) = sqrt(a->peak_b2) / h->leg_v;
  OUT(O_NEUTRAL) = sqrt(a->peak_n2) / h->leg_v, OUT(O_PEAK_W) = a->peak_w;
  OUT(O_PEAK_START_VA) = sqrt(a->peak_start2), OUT(O_ENERGY_J) = a->energy, OUT(O_LOAD_J) = a->load_j;
  OUT(O_WAIT_S) = a->wait_s, OUT(O_WAITS) = a->waits, OUT(O_BROUGHT_M3) = a->brought;
  OUT(O_AIR_START) = a->air_start, OUT(O_MASS_START) = a->mass_start, OUT(O_AIR_MIN) = a->air_min;
  OUT(O_AIR_MAX) = a->air_max, OUT(O_AIR_LOW_S) = a->air_low_s, OUT(O_AIR_LOW_KS) = a->air_low_ks;
  OUT(O_AIR_FIRST) = a->air_first, OUT(O_PIPE_MIN) = a->pipe_min, OUT(O_PIPE_S) = a->pipe_s;
  OUT(O_PIPE_FIRST) = a->pipe_first, OUT(O_HEAT_J) = a->heat_j, OUT(O_LOSS_J) = a->loss_j;
  OUT(O_TANK_MIN) = a->tank_min, OUT(O_TANK_LOW_S) = a->tank_low_s, OUT(O_TANK_FIRST) = a->tank_first;
  OUT(O_HOT_M3) = a->hot, OUT(O_HOT_SHORT_M3) = a->hot_short, OUT(O_TANK_IN_J) = a->tank_in;
  OUT(O_TANK_OUT_J) = a->tank_out, OUT(O_STATUS) = a->stuck ? STATUS_STUCK : STATUS_GOOD;
  OUT(O_AIR_END) = o->air, OUT(O_MASS_END) = o->mass, OUT(O_TANK_END) = o->tank, OUT(O_FUEL_END) = o->fuel;
  OUT(O_STOCK_END) = o->stock, OUT(O_EVENTS) = (double)o->events;
  OUT(O_BAT_MIN_J) = OUT(O_BAT_END) = OUT(O_BAT_FIRST) = FAR; /* no battery */
}

void write_row(const home *h, const outage *o, double *row) {
  write_sums(h, o, row);
  row += O_COUNT;
  for (const cold_now *d = o->cold; d < o->cold + h->colds; d++, row += D_COUNT) {
    row[D_AT] = d->at, row[D_SHELL] = d->shell, row[D_CORE] = d->core, row[D_SEG1] = d->seg1, row[D_SEG2] = d->seg2;
    row[D_CALL] = d->call, row[D_COOL_W] = d->cool_w, row[D_ROOM1] = d->room1, row[D_ROOM2] = d->room2;
    row[D_MAX] = d->max, row[D_OVER_S] = d->over_s, row[D_OVER_KS] = d->over_ks, row[D_FIRST] = d->first;
    row[D_FOOD_S] = d->food_s, row[D_LOST_AT] = d->lost_at, row[D_GAIN_J] = d->gain_j, row[D_HELD_J] = d->held_j;
    row[D_RUN_S] = d->run_s;
  }
  for (const level_now *u = o->level; u < o->level + h->levels; u++, row += W_COUNT) {
    row[W_AT] = u->at, row[W_X] = u->x, row[W_RATE] = u->rate, row[W_IN] = u->in, row[W_RUN] = u->run;
    row[W_CALL] = u->call, row[W_OVER] = u->over, row[W_FIRST] = u->first, row[W_MOVED] = u->moved;
    row[W_ASKED] = u->asked;
  }
  for (const task_now *u = o->task; u < o->task + h->tasks; u++, row += U_COUNT)
    row[U_OWED_S] = u->owed_s, row[U_AT] = u->at, row[U_BUSY] = u->busy, row[U_GIVEN_UP_S] = u->given_up_s;
  for (const need_now *n = o->need; n < o->need + h->medicals; n++, row += NEED_COUNT)
    row[NEED_LEFT_S] = n->left_s, row[NEED_SHORT_S] = n->short_s, row[NEED_FIRST] = n->first, row[NEED_AT] = n->at;
}
