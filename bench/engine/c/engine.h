/* A house, a control and one outage as plain structs. The model is that of docs/method/engine.md.

   `home` is what does not change (read once from the engine's packed arrays by read.c); `outage` is the state of one
   outage and its accounts. Each store keeps its own clock and is moved only when its inputs change or its own event
   is due. Left out, and refused by read.c: battery and sun, supply without a load manager, controls other than a
   daily routine and a rule by need. */
#ifndef ENGINE_H
#define ENGINE_H

#include <stdint.h>

#include "layout.h" /* columns of the packed arrays and shared tolerances, printed from kernels/layout.py */

#include "decay.h"

enum {
  MOST_LOADS = 64,
  MOST_CIRCUITS = 64,
  MOST_COLD = 8,
  MOST_LEVELS = 24,
  MOST_TASKS = 24,
  MOST_MEDICAL = 8,
  MOST_SLOTS = 96,
  MOST_SEGMENTS = 10,
  MOST_SPELLS = 24,
  MOST_STEPS = 64,
};

enum event {
  AT_END, AT_HOUR, AT_SLOT, AT_CONTROL, AT_SWITCH, AT_BUSY, AT_DRY, AT_READY, AT_BACK, AT_HOUSE, AT_TANK, AT_DONE,
  AT_COLD,
  MOST_EVENTS = AT_COLD + MOST_COLD + MOST_LEVELS,
};

typedef uint64_t set; /* of loads or circuits, one bit each; loads stand in order of priority */

static inline set only(int j) { return (set)1 << j; }
static inline bool has(set s, int j) { return s >> j & 1; }
static inline int first_of(set s) { return __builtin_ctzll(s); }
static inline int last_of(set s) { return 63 - __builtin_clzll(s); }
static inline void put(set *s, int j, bool in) { *s = in ? *s | only(j) : *s & ~only(j); }

/* --- what does not change ---------------------------------------------------------------------------------------- */

enum kind { CLOCK, COLD, HEATER, TANK, LEVEL, TASK, BLOWER, CHARGER };
enum heated_by { NOTHING, ELEMENT, BOILER, PILOT };
enum rule { BY_ROUTINE, BY_NEED };

typedef struct {
  double wa, qa, wb, qb; /* W and var of leg A and leg B */
} legs;

typedef struct {
  enum kind kind;
  int which, circuit, task; /* task: that it runs for, or -1 */
  bool motor;
  set lower; /* loads of a lower class, which may be pushed aside */
  double run_up_s, indoor_w;
  legs run, start;
} load;

typedef struct {
  double c1, c2, u1, u2, g, air0, mass0, gains, heater_w, on, off, stove_w, stove_on, stove_off, stove_dull, low;
  double pipe_ratio, pipe_low, start, stop; /* start and stop: of the rule */
  int heater, blower;
  bool lived_in, mass_given;
  modes m;
  double vf, vs, k_per_w; /* the third integrals over an hour, and what a watt of an hour warms the air */
} rooms;

typedef struct {
  bool there;
  enum heated_by by;
  int load;
  double j, ua, w, on, off, low, inlet, flow_j, start_c, ready, start, stop;
} boiler;

typedef struct {
  int load, next; /* next: the store after it on the same compressor, round and round */
  double ua, g, cool_w, on, off, limit, by_air, by_out, shell0, core0, start, stop;
  int seg1, seg2;
  double knot[MOST_SEGMENTS + 1];
  modes m[MOST_SEGMENTS][MOST_SEGMENTS]; /* for each pair of segments of shell and core */
} cold;

typedef struct {
  int load;
  double out, in, on, cap, x0, start, stop, tiny;
} level;

typedef struct {
  int load, circuit;
  double need_s, most_s, tap, hot, tank_min, delay_s;
} task;

typedef struct {
  int load, charger;
  double own_s, rate; /* rate: seconds of use that a second of charging gives, 0 without a charger */
} medical;

typedef struct {
  double from_s, tap, hot, night, setback;
  bool stove, awake;
  set want; /* loads by the clock */
  uint32_t medical, due;
} slot;

typedef struct {
  int circuit;
  double on_s, off_s, rank_s;
} step;

typedef struct {
  double from_s, to_s;
  int steps;
  step step[MOST_STEPS];
} spell;

typedef struct {
  double run_w, leg_w, leg_va2, start_w, start_va2, leg_start_va2; /* squares of VA */
  double fuel_a, fuel_b, tank, tank0, stock0, refill_at, cool_s, refill_s, trip_s, trip_m3, trip_below, trips;
} machine;

typedef struct {
  enum rule rule;
  double warm_s, between_s, min_run_s, max_run_s, min_off_s;
  bool not_at_night;
  int spells;
  spell spell[MOST_SPELLS];
} control;

typedef struct {
  int loads, colds, levels, tasks, medicals, slots, circuits, segments, hours, events;
  int water; /* the level that is the pressure tank, or -1 */
  double leg_v, food_s;
  set clock_loads, fed;
  set loads_on[MOST_CIRCUITS];
  uint32_t work_on[MOST_CIRCUITS]; /* tasks without a load of their own */
  load load[MOST_LOADS];
  rooms rooms;
  boiler boiler;
  machine machine;
  control control;
  cold cold[MOST_COLD];
  level level[MOST_LEVELS];
  task task[MOST_TASKS];
  medical medical[MOST_MEDICAL];
  slot slot[MOST_SLOTS + 1];
  const double *outdoor_c;
} home;

/* --- one outage -------------------------------------------------------------------------------------------------- */

typedef struct {
  double at, shell, core, cool_w, room1, room2; /* room1, room2: integral of its room at the last move, and its own */
  int seg1, seg2;
  bool call;
  double max, over_s, over_ks, first, food_s, lost_at, gain_j, held_j, run_s;
} cold_now;

typedef struct {
  double at, x, rate, in;
  bool run, call;
  double over, first, moved, asked;
} level_now;

typedef struct {
  double owed_s, at, given_up_s;
  bool busy;
} task_now;

typedef struct {
  double left_s, short_s, first, at;
} need_now;

typedef struct {
  double fuel, run_s, night_s, starts, refills, trips, out_at, peak_a2, peak_b2, peak_n2, peak_w, peak_start2, energy,
      wait_s, waits, brought, load_j;
  double air_start, mass_start, air_min, air_max, air_low_s, air_low_ks, air_first, pipe_min, pipe_s, pipe_first,
      heat_j, loss_j;
  double tank_min, tank_low_s, tank_first, hot, hot_short, tank_in, tank_out;
  bool stuck;
} accounts;

typedef struct {
  double due[MOST_EVENTS + 3]; /* read by fours; what is beyond the last is never due */
  double now, start, day_at, outdoor, out_sum, out_sum2, out_at;
  int hour, slot, spell;
  bool unsettled, reheated, need_changed; /* what an event has stirred up */
  uint32_t needy, lacking;                /* cold stores that the rule would start for, has yet to go on for */

  bool running; /* the machine, and with it the supply */
  int step;      /* of the spell: the next to be switched on */
  double off_at; /* when the first live circuit is switched off */
  double since, spell_at, base, stopped, ready, busy_until, fuel, stock, rate, power_at;
  bool refilling;
  set run, want, next, live, circuits, waiting, waited;
  legs sum;
  double waiting_n;

  double air_at, air, mass, heat_w, loads_w, air_sum, air_sum2;
  double drift, told_w; /* how the air is going, K an hour; heat of loads that the stores were told of */
  bool call_heat, call_stove, stove_lit;

  double tank_at, tank, tank_w, drawn, asked, tank_air0;
  bool call_tank;

  cold_now cold[MOST_COLD];
  level_now level[MOST_LEVELS];
  task_now task[MOST_TASKS];
  uint32_t owed, at_work; /* tasks that are outstanding; of these, those that people are at */
  double ask_at;          /* when outstanding tasks are asked anew */
  double work_at;         /* when the first of those under way is done */
  double work_tap, work_hot; /* what they draw */
  bool taps_ran;
  need_now need[MOST_MEDICAL];
  accounts sum_up;
  long events;
} outage;

/* --- who offers what --------------------------------------------------------------------------------------------- */

static inline double outdoor_sum(const outage *o, double t) { return o->out_sum + o->outdoor * (t - o->out_at); }

static inline double outdoor_sum2(const outage *o, double t) {
  double dt = t - o->out_at;
  return o->out_sum2 + dt * (o->out_sum + 0.5 * dt * o->outdoor);
}

/* How much cooler and warmer the air may become within a step. */
static inline band room_margins(const home *h, const outage *o) {
  const rooms *r = &h->rooms;
  double warmer = o->running && r->heater >= 0 ? most(0.0, r->off - o->air) : 0.0;
  if (o->stove_lit) warmer = most(warmer, r->stove_off - o->air);
  double up = most(0.0, o->drift), down = most(0.0, -o->drift);
  double cooler = least(AIR_LOSS_K, most(0.0, (o->heat_w - r->gains) * r->k_per_w - up));
  return (band){cooler + ROOM_DRIFT_K + down, warmer + ROOM_DRIFT_K + up};
}

/* house.c */
void advance_house(const home *h, outage *o, double t);
void foretell_house(const home *h, outage *o);
void look_anew(const home *h, outage *o);
void read_thermostats(const home *h, outage *o);
double house_heat_w(const home *h, const outage *o);
void on_house(const home *h, outage *o);
void reheat(const home *h, outage *o);
/* cold.c */
void advance_cold(const home *h, outage *o, int k, double t);
void foretell_cold(const home *h, outage *o, int k);
void read_cold(const home *h, outage *o, int k);
void on_cold(const home *h, outage *o, int k);
void note_need(const home *h, outage *o, int k);
void switch_cold(const home *h, outage *o, int first, bool running);
/* tank.c */
void advance_tank(const home *h, outage *o, double t);
void foretell_tank(const home *h, outage *o);
void read_tank(const home *h, outage *o);
void heat_tank(const home *h, outage *o);
void draw_hot(const home *h, outage *o, double asked, bool flows);
void on_tank(const home *h, outage *o);
/* level.c */
void advance_level(const home *h, outage *o, int i, double t);
void foretell_level(const home *h, outage *o, int i);
void read_level(const home *h, outage *o, int i);
void set_level(const home *h, outage *o, int i, double in, bool run);
void on_level(const home *h, outage *o, int i);
bool taps_run(const home *h, const outage *o);
/* tasks.c */
void advance_medical(const home *h, outage *o, double t);
void add_task(const home *h, outage *o, int i);
void call_chargers(const home *h, outage *o);
void foretell_chargers(const home *h, outage *o);
void call_tasks(const home *h, outage *o);
void advance_tasks(const home *h, outage *o);
void go_to_task(outage *o, int i, bool ready);
void run_tasks(const home *h, outage *o);
/* power.c */
void choose(const home *h, outage *o);
void advance_power(const home *h, outage *o, double t);
void settle(const home *h, outage *o);
/* machine.c */
bool wanted(const home *h, outage *o);
void ask_control(const home *h, outage *o);
void on_switch(const home *h, outage *o);
void fetch(const home *h, outage *o);
void on_ready(const home *h, outage *o);
void on_dry(const home *h, outage *o);
void on_back(const home *h, outage *o);
/* begin.c, read.c, rows.c */
void begin(const home *h, outage *o, double start_s);
const char *read_home(home *h, const double *w, const int64_t *at);
void write_row(const home *h, const outage *o, double *row);

#endif
