/* The engine's packed arrays (engine/packing.py, columns of kernels/layout.py) read once into structs. */
#include "engine.h"

#include <string.h>

#define REFUSE(wrong, why) \
  if (wrong) return why

static const char *refuse(const double *w, const int64_t *at) {
  REFUSE(w[P_HAS_BATTERY] != 0.0, "a battery: this program has none");
  REFUSE(w[P_MANAGED] == 0.0, "a supply without a load manager: this program has only the managed one");
  REFUSE(w[K_KIND] != ROUTINE && w[K_KIND] != THERMO, "a control that is neither a routine nor a rule by need");
  REFUSE(at[N_LOADS] > MOST_LOADS || at[N_CIRCUITS] > MOST_CIRCUITS, "too many loads or circuits");
  REFUSE(at[N_COLD] > MOST_COLD || at[N_LEVELS] > MOST_LEVELS, "too many cold stores or levels");
  REFUSE(at[N_TASKS] > MOST_TASKS || at[N_MEDICAL] > MOST_MEDICAL, "too many tasks or medical needs");
  REFUSE(at[N_SLOTS] > MOST_SLOTS || at[N_SEGMENTS] > MOST_SEGMENTS, "too many slots of the day or segments");
  REFUSE(at[N_SPELLS] > MOST_SPELLS, "too many spells");
  return 0;
}

static void read_rooms(rooms *r, const double *w) {
  *r = (rooms){
      .c1 = w[P_C1], .c2 = w[P_C2], .u1 = w[P_U1], .u2 = w[P_U2], .g = w[P_G], .air0 = w[P_AIR0],
      .mass0 = w[P_MASS0], .gains = w[P_GAINS], .heater_w = w[P_HEATER_W], .on = w[P_HEAT_ON], .off = w[P_HEAT_OFF],
      .stove_w = w[P_STOVE_W], .stove_on = w[P_STOVE_ON], .stove_off = w[P_STOVE_OFF],
      .stove_dull = w[P_STOVE_DULL], .low = w[P_AIR_LOW], .pipe_ratio = w[P_PIPE_RATIO], .pipe_low = w[P_PIPE_LOW],
      .start = w[K_AIR_START], .stop = w[K_AIR_STOP], .heater = (int)w[P_HEATER_LOAD],
      .blower = (int)w[P_BLOWER_LOAD], .lived_in = w[P_HAS_HOUSE] != 0.0, .mass_given = w[P_MASS0] > -NEVER / 2.0,
      .m = {.kf = w[P_KF], .ks = w[P_KS], .w1 = w[P_W1], .w2 = w[P_W2], .b1 = w[P_B1], .b2 = w[P_B2], .c1 = w[P_C1],
            .c2 = w[P_C2], .ef = w[P_EF], .sf = w[P_SF], .es = w[P_ES], .ss = w[P_SS]},
      .vf = w[P_VF], .vs = w[P_VS], .k_per_w = w[P_AIR_K_PER_W],
  };
}

static void read_boiler(boiler *b, const double *w) {
  *b = (boiler){
      .there = w[P_HAS_TANK] != 0.0, .by = (enum heated_by)w[P_TANK_BY], .load = (int)w[P_TANK_LOAD],
      .j = w[P_TANK_J], .ua = w[P_TANK_UA], .w = w[P_TANK_W], .on = w[P_TANK_ON], .off = w[P_TANK_OFF],
      .low = w[P_TANK_LOW], .inlet = w[P_TANK_IN], .flow_j = w[P_TANK_FLOW], .start_c = w[P_TANK0],
      .ready = w[P_TANK_READY], .start = w[K_TANK_START], .stop = w[K_TANK_STOP],
  };
}

static void read_machine(machine *m, const double *w) {
  const double *lim = w + LIMITS;
  *m = (machine){
      .run_w = lim[LIM_RUN_W], .leg_w = lim[LIM_LEG_W], .leg_va2 = lim[LIM_LEG_VA] * lim[LIM_LEG_VA],
      .start_w = lim[LIM_START_W], .start_va2 = lim[LIM_START_VA] * lim[LIM_START_VA],
      .leg_start_va2 = lim[LIM_LEG_START_VA] * lim[LIM_LEG_START_VA], .fuel_a = w[P_FUEL_A], .fuel_b = w[P_FUEL_B],
      .tank = w[P_FUEL_TANK], .tank0 = w[P_FUEL_TANK0], .stock0 = w[P_FUEL_STOCK0],
      .refill_at = w[P_REFILL_BELOW] * w[P_FUEL_TANK], .cool_s = w[P_COOL_S], .refill_s = w[P_REFILL_S],
      .trip_s = w[P_TRIP_S], .trip_m3 = w[P_TRIP_M3], .trip_below = w[P_TRIP_BELOW], .trips = w[P_TRIPS_MOST],
  };
}

static void read_loads(home *h, const double *w, const int64_t *at) {
  for (int j = 0; j < h->loads; j++) {
    const double *x = w + at[A_LOADS] + j * L_COUNT;
    load *to = &h->load[j];
    *to = (load){
        .kind = (enum kind)x[L_KIND], .which = (int)x[L_WHICH], .circuit = (int)x[L_CIRCUIT],
        .task = (int)x[L_TASK], .motor = x[L_MOTOR] != 0.0, .run_up_s = x[L_RUN_UP_S], .indoor_w = x[L_HEAT_FRAC] * (x[L_WA] + x[L_WB]),
        .run = {x[L_WA], x[L_QA], x[L_WB], x[L_QB]}, .start = {x[L_SWA], x[L_SQA], x[L_SWB], x[L_SQB]},
    };
    for (int i = 0; i < h->loads; i++)
      if (w[at[A_LOADS] + i * L_COUNT + L_RANK] > x[L_RANK]) to->lower |= only(i);
    if (to->kind == CLOCK) h->clock_loads |= only(j);
    h->loads_on[to->circuit] |= only(j);
  }
  for (int i = 0; i < h->circuits; i++) put(&h->fed, i, w[at[A_FED] + i] != 0.0);
}

static void read_colds(home *h, const double *w, const int64_t *at) {
  int n = h->segments;
  for (int k = 0; k < h->colds; k++) {
    const double *x = w + at[A_COLD] + k * C_COUNT, *rule = w + at[A_RULE_COLD] + 2 * k;
    cold *c = &h->cold[k];
    *c = (cold){
        .load = (int)x[C_LOAD], .next = (int)x[C_NEXT], .ua = x[C_UA], .g = x[C_G], .cool_w = x[C_COOL_W], .on = x[C_ON], .off = x[C_OFF],
        .limit = x[C_LIMIT], .by_air = x[C_ROOM_AIR], .by_out = x[C_ROOM_OUT], .shell0 = x[C_SHELL0],
        .core0 = x[C_CORE0], .start = rule[0], .stop = rule[1], .seg1 = (int)x[C_SEG1], .seg2 = (int)x[C_SEG2],
    };
    memcpy(c->knot, w + at[A_KNOTS] + k * (n + 1), (n + 1) * sizeof(double));
    for (int i = 0; i < n * n; i++) {
      const double *m = w + at[A_MODES] + (k * n * n + i) * M_COUNT;
      c->m[i / n][i % n] = (modes){m[M_KF], m[M_KS], m[M_W1], m[M_W2], m[M_B1], m[M_B2],
                                   m[M_C1], m[M_C2], m[M_EF], m[M_SF], m[M_ES], m[M_SS],
                                   m[M_UP1], m[M_DOWN1], m[M_UP2], m[M_DOWN2]};
    }
  }
}

static void read_work(home *h, const double *w, const int64_t *at) {
  for (int i = 0; i < h->levels; i++) {
    const double *x = w + at[A_LEVELS] + i * V_COUNT, *rule = w + at[A_RULE_LEVELS] + 2 * i;
    h->level[i] = (level){.load = (int)x[V_LOAD], .out = x[V_OUT], .in = x[V_IN], .on = x[V_ON], .cap = x[V_CAP],
                          .x0 = x[V_X0], .start = rule[0], .stop = rule[1], .tiny = 1e-9 * x[V_CAP]};
  }
  for (int i = 0; i < h->tasks; i++) {
    const double *x = w + at[A_TASKS] + i * J_COUNT;
    h->task[i] = (task){.load = (int)x[J_LOAD], .circuit = (int)x[J_CIRCUIT], .need_s = x[J_NEED_S],
                        .most_s = x[J_MOST_S], .tap = x[J_TAP], .hot = x[J_HOT], .tank_min = x[J_TANK_MIN],
                        .delay_s = x[J_DELAY_S]};
    const task *made = &h->task[i];
    if (made->load < 0 && made->circuit >= 0) h->work_on[made->circuit] |= 1u << i;
  }
  for (int i = 0; i < h->medicals; i++) {
    const double *x = w + at[A_MEDICAL] + i * H_COUNT;
    h->medical[i] = (medical){.load = (int)x[H_LOAD], .charger = (int)x[H_CHARGER], .own_s = x[H_OWN_S],
                              .rate = x[H_RATE]};
  }
}

static void read_slots(home *h, const double *w, const int64_t *at) {
  for (int d = 0; d < h->slots; d++) {
    const double *x = w + at[A_SLOTS] + d * Z_COUNT, *want = w + at[A_SLOT_WANT] + d * at[N_WORDS];
    slot *s = &h->slot[d];
    *s = (slot){.from_s = w[at[A_SLOT_AT] + d], .tap = x[Z_TAP], .hot = x[Z_HOT], .night = x[Z_NIGHT],
                .setback = x[Z_SETBACK], .stove = x[Z_STOVE] != 0.0, .awake = x[Z_AWAKE] != 0.0};
    for (int i = 0; i < at[N_WORDS]; i++) s->want |= (set)want[i] << (WORD_BITS * i);
    for (int i = 0; i < h->medicals; i++)
      s->medical |= (uint32_t)(w[at[A_SLOT_MEDICAL] + d * h->medicals + i] != 0.0) << i;
    s->due = (uint32_t)w[at[A_SLOT_TASK] + d * at[N_WORDS]];
  }
  h->slot[h->slots].from_s = DAY_S;
}

static const char *read_control(home *h, const double *w, const int64_t *at) {
  control *c = &h->control;
  *c = (control){.rule = w[K_KIND] == THERMO ? BY_NEED : BY_ROUTINE, .warm_s = w[K_WARM_S],
                 .between_s = w[K_BETWEEN_S], .min_run_s = w[K_MIN_RUN_S], .max_run_s = w[K_MAX_RUN_S],
                 .min_off_s = w[K_MIN_OFF_S], .not_at_night = w[K_NOT_AT_NIGHT] != 0.0, .spells = (int)at[N_SPELLS]};
  for (int i = 0; i < (c->spells ? c->spells : 1); i++) {
    spell *p = &c->spell[i];
    if (c->spells) p->from_s = w[at[A_SPELLS] + 2 * i], p->to_s = w[at[A_SPELLS] + 2 * i + 1];
    for (int n = 0; n < at[N_STEPS]; n++) {
      const double *x = w + at[A_STEPS] + 5 * n;
      if (x[0] >= 0.0 && x[0] != i) continue;
      REFUSE(p->steps == MOST_STEPS, "too many steps in a spell");
      p->step[p->steps++] = (step){.circuit = (int)x[1], .on_s = x[2], .off_s = x[3], .rank_s = x[4] * c->between_s};
    }
  }
  return 0;
}

/* Fill a home; returns what is refused, or null. The weather is not copied. */
const char *read_home(home *h, const double *w, const int64_t *at) {
  const char *refused = refuse(w, at);
  if (refused) return refused;
  *h = (home){.loads = (int)at[N_LOADS], .colds = (int)at[N_COLD], .levels = (int)at[N_LEVELS],
              .tasks = (int)at[N_TASKS], .medicals = (int)at[N_MEDICAL], .slots = (int)at[N_SLOTS],
              .circuits = (int)at[N_CIRCUITS], .segments = (int)at[N_SEGMENTS], .hours = (int)at[N_HOURS],
              .water = (int)w[P_WATER_LEVEL], .leg_v = w[P_LEG_V], .food_s = w[P_FOOD_S],
              .outdoor_c = w + at[A_OUTDOOR]};
  h->events = AT_COLD + h->colds + h->levels;
  read_rooms(&h->rooms, w);
  read_boiler(&h->boiler, w);
  read_machine(&h->machine, w);
  read_loads(h, w, at);
  read_colds(h, w, at);
  read_work(h, w, at);
  read_slots(h, w, at);
  return read_control(h, w, at);
}
