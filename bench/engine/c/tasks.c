/* Medical needs by the clock, and tasks that wait for power, with the water they draw. */
#include "engine.h"

/* Seconds that a need went unpowered beyond its own battery, which recharges while its circuit is live, used or not. */
void advance_medical(const home *h, outage *o, double t) {
  for (int i = 0; i < h->medicals; i++) {
    const medical *m = &h->medical[i];
    need_now *n = &o->need[i];
    double dt = t - n->at;
    n->at = t;
    bool wanted = h->slot[o->slot].medical >> i & 1;
    if (has(o->run, m->load) || (has(o->live, m->load) && !wanted)) {
      n->left_s = least(m->own_s, n->left_s + dt);
    } else if (wanted) {
      double missing = dt - n->left_s;
      if (missing > 0.0) {
        if (n->first >= NEVER) n->first = t - missing;
        n->short_s += missing;
      }
      n->left_s = most(0.0, n->left_s - dt);
    }
  }
}

static inline void advance_task(task_now *u, double t) {
  if (u->busy) u->owed_s = most(0.0, u->owed_s - (t - u->at));
  u->at = t;
}

/* The day's share of a task is due; what piles up beyond its limit is given up. */
void add_task(const home *h, outage *o, int i) {
  task_now *u = &o->task[i];
  advance_task(u, o->now);
  u->owed_s += h->task[i].need_s;
  double beyond = u->owed_s - h->task[i].most_s;
  if (beyond <= 0.0) return;
  u->owed_s -= beyond;
  u->given_up_s += beyond;
}

/* Ask for the loads of tasks that are outstanding, once the machine has run for their delay. */
void call_tasks(const home *h, outage *o) {
  double *due = &o->due[AT_COLD + h->colds + h->levels];
  for (int i = 0; i < h->tasks; i++) {
    const task *k = &h->task[i];
    task_now *u = &o->task[i];
    advance_task(u, o->now);
    bool ready = o->running && u->owed_s > 1e-6;
    due[i] = NEVER;
    if (ready && o->now - o->since < k->delay_s - 1e-9) {
      due[i] = o->since + k->delay_s;
      ready = false;
    }
    if (ready && !u->busy && o->tank < k->tank_min - COLD_LEVEL_K) ready = false;
    if (k->load >= 0) put(&o->want, k->load, ready);
    else if (k->circuit >= 0 && !has(o->circuits, k->circuit)) ready = false;
    u->busy = ready;
  }
}

/* Set the draws of taps and tank from the time of day and the tasks now under way. */
void run_tasks(const home *h, outage *o) {
  double *due = &o->due[AT_COLD + h->colds + h->levels];
  double tap = h->slot[o->slot].tap, hot = h->slot[o->slot].hot;
  for (int i = 0; i < h->tasks; i++) {
    const task *k = &h->task[i];
    task_now *u = &o->task[i];
    if (k->load >= 0 && !has(o->run, k->load)) u->busy = false;
    if (!u->busy) continue;
    tap += k->tap;
    hot += k->hot;
    due[i] = o->now + u->owed_s;
  }
  if (h->water >= 0) {
    int pump = h->level[h->water].load; /* -1 where the hookup does not feed it */
    set_level(h, o, h->water, tap, pump >= 0 && has(o->run, pump));
  }
  if (h->boiler.there) draw_hot(h, o, hot, taps_run(h, o));
}
