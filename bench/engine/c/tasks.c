/* Medical needs by the clock with their own batteries, and tasks that wait for power, with the water they draw. */
#include "engine.h"

/* Seconds of use that an own battery gains a second: by its charger, less what its load takes. */
static inline double own_rate(const home *h, const outage *o, int i) {
  const medical *m = &h->medical[i];
  double rate = m->rate > 0.0 && has(o->run, m->charger) ? m->rate : 0.0;
  bool wanted = h->slot[o->slot].medical >> i & 1;
  return wanted && !has(o->run, m->load) ? rate - 1.0 : rate;
}

/* Drain and recharge own batteries; count the seconds that a need went unpowered beyond its own. */
void advance_medical(const home *h, outage *o, double t) {
  for (int i = 0; i < h->medicals; i++) {
    need_now *n = &o->need[i];
    double rate = own_rate(h, o, i), left = n->left_s + rate * (t - n->at);
    n->at = t;
    if (left < 0.0) {
      double missing = left / rate;
      if (n->first >= NEVER) n->first = t - missing;
      n->short_s += missing;
    }
    n->left_s = least(h->medical[i].own_s, most(0.0, left));
  }
}

/* Ask for the charger of every own battery that is not full. */
void call_chargers(const home *h, outage *o) {
  for (int i = 0; i < h->medicals; i++) {
    const medical *m = &h->medical[i];
    if (m->rate > 0.0) put(&o->want, m->charger, o->need[i].left_s < m->own_s * (1.0 - 1e-9));
  }
}

/* When each own battery will be full at what it now gains. */
void foretell_chargers(const home *h, outage *o) {
  for (int i = 0; i < h->medicals; i++) {
    double rate = own_rate(h, o, i), lacks = h->medical[i].own_s - o->need[i].left_s;
    if (rate > 0.0 && lacks > 0.0) o->due[AT_DONE] = least(o->due[AT_DONE], o->now + lacks / rate);
  }
}

static inline void advance_task(task_now *u, double t) {
  if (!u->busy) return;
  u->owed_s = most(0.0, u->owed_s - (t - u->at));
  u->at = t;
}

/* The day's share of a task is due; what piles up beyond its limit is given up. */
void add_task(const home *h, outage *o, int i) {
  task_now *u = &o->task[i];
  advance_task(u, o->now);
  u->owed_s += h->task[i].need_s;
  o->owed |= 1u << i;
  o->ask_at = o->work_at = -NEVER;
  double beyond = u->owed_s - h->task[i].most_s;
  if (beyond <= 0.0) return;
  u->owed_s -= beyond;
  u->given_up_s += beyond;
}

/* People begin with a task, or leave it. */
void go_to_task(outage *o, int i, bool ready) {
  o->at_work = ready ? o->at_work | 1u << i : o->at_work & ~(1u << i);
  o->work_at = -NEVER;
  if (ready) return;
  advance_task(&o->task[i], o->now);
  o->task[i].busy = false;
}

/* Ask for the load of a task or withdraw that; where it has none, people are at it while its circuit is live. */
static void want_task(const home *h, outage *o, int i, bool ready) {
  const task *k = &h->task[i];
  if (k->load >= 0) put(&o->want, k->load, ready);
  else go_to_task(o, i, ready && (k->circuit < 0 || has(o->circuits, k->circuit)));
}

/* Move the tasks that people are at to the present; what is done needs its load no longer. */
void advance_tasks(const home *h, outage *o) {
  for (uint32_t left = o->at_work; left; left &= left - 1) {
    int i = first_of(left);
    advance_task(&o->task[i], o->now);
    if (o->task[i].owed_s > 1e-6) continue;
    o->owed &= ~(1u << i);
    want_task(h, o, i, false);
  }
}

/* Whether people would be at a task now: once the machine has run for its delay. */
static void ask_task(const home *h, outage *o, int i) {
  const task *k = &h->task[i];
  bool ready = o->running;
  if (ready && o->now - o->since < k->delay_s - 1e-9) {
    o->ask_at = least(o->ask_at, o->since + k->delay_s);
    ready = false;
  }
  if (ready && !o->task[i].busy && o->tank < k->tank_min - COLD_LEVEL_K) ready = false;
  want_task(h, o, i, ready);
}

/* Ask for the loads of tasks that are outstanding, where something has changed for them. */
void call_tasks(const home *h, outage *o) {
  if (o->now >= o->work_at - 1e-9) advance_tasks(h, o);
  if (o->now >= o->ask_at - 1e-9) {
    o->ask_at = NEVER;
    for (uint32_t left = o->owed; left; left &= left - 1) ask_task(h, o, first_of(left));
  }
  o->due[AT_DONE] = least(o->due[AT_DONE], o->ask_at);
}

/* Which of the tasks that people are at go on, what they draw, and when the first of them is done. */
static void set_work(const home *h, outage *o) {
  o->work_at = NEVER;
  o->work_tap = o->work_hot = 0.0;
  for (uint32_t left = o->at_work; left; left &= left - 1) {
    int i = first_of(left);
    const task *k = &h->task[i];
    task_now *u = &o->task[i];
    advance_task(u, o->now);
    u->busy = k->hot != 0.0 || k->tap <= 0.0 || o->taps_ran; /* nobody fills a can at a dry tap: it waits */
    if (!u->busy) continue;
    u->at = o->now;
    o->work_tap += k->tap;
    o->work_hot += k->hot;
    o->work_at = least(o->work_at, o->now + u->owed_s);
  }
}

/* Set the draws of taps and tank from the time of day and the tasks now under way. */
void run_tasks(const home *h, outage *o) {
  const slot *s = &h->slot[o->slot];
  int pump = h->water >= 0 ? h->level[h->water].load : -1; /* -1 too where the hookup does not feed it */
  bool pumping = pump >= 0 && has(o->run, pump), flows = pumping || taps_run(h, o);
  if (o->now >= o->work_at - 1e-9 || flows != o->taps_ran) {
    o->taps_ran = flows;
    set_work(h, o);
  }
  o->due[AT_DONE] = least(o->due[AT_DONE], o->work_at);
  if (h->water >= 0) set_level(h, o, h->water, s->tap + o->work_tap, pumping);
  if (h->boiler.there) draw_hot(h, o, s->hot + o->work_hot, taps_run(h, o));
}
