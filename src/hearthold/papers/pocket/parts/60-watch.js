// The stopwatch between motors: {turn, at, since}. `since` is when the circuit at `at` was switched on.

const order = (turn) => facts.turns[turn - 1] ?? [];

function drawWatch(now) {
  if (!$("watch")) return;
  facts.turns.forEach((_, n) => show($(`turn-order-${n + 1}`), n + 1 === shown.turn));
  let watch = shown.watch;
  const steps = order(shown.turn);
  if (watch && (watch.turn !== shown.turn || !(watch.at < steps.length))) watch = null;
  while (watch?.since && watch.at < steps.length - 1 && now - watch.since >= steps[watch.at].wait_s * 1000) {
    watch = shown.watch = { turn: watch.turn, at: watch.at + 1, since: null };
    keepScreen();
    navigator.vibrate?.([120, 80, 120]);
  }
  const done = watch !== null && watch.at === steps.length - 1 && watch.since !== null;
  const waiting = watch !== null && watch.since !== null && !done;
  steps.forEach((_, n) => {
    const row = $(`step-${shown.turn}-${n}`);
    row.classList.toggle("done", watch !== null && (n < watch.at || (n === watch.at && watch.since !== null)));
    const here = watch !== null && !done && n === watch.at;
    if (here) row.setAttribute("aria-current", "step");
    else row.removeAttribute("aria-current");
  });
  drawWatchWords(watch, steps, waiting, done, now);
}

function drawWatchWords(watch, steps, waiting, done, now) {
  const left = waiting ? watch.since + steps[watch.at].wait_s * 1000 - now : 0;
  const text = done ? "All are on. What is switched by hand may follow, one at a time." : watch === null ? "The stopwatch leads from circuit to circuit."
    : waiting ? `Wait. Next: ${steps[watch.at + 1].name}` : `Switch on: ${steps[watch.at].name}`;
  say($("watch-text"), text);
  say($("watch-time"), waiting ? `${Math.ceil(left / 1000)} s` : "");
  say($("watch-go"), watch === null ? "Begin with the first circuit" : "It is on");
  show($("watch-go"), !waiting && !done);
  show($("watch-skip"), waiting);
  show($("watch-stop"), watch !== null);
  say($("watch-stop"), done ? "Done" : "Stop the stopwatch");
  $("watch").classList.toggle("waiting", waiting);
}

function watchGo() {
  const watch = shown.watch;
  const valid = watch !== null && watch.turn === shown.turn;
  shown.watch = valid ? { ...watch, since: Date.now() } : { turn: shown.turn, at: 0, since: null };
  keepScreen();
  draw();
}

function watchSkip() {
  const { turn, at } = shown.watch;
  shown.watch = { turn, at: at + 1, since: null };
  keepScreen();
  draw();
  $("watch-go").focus();
}

function watchStop() {
  shown.watch = null;
  keepScreen();
  draw();
  $("watch-go").focus();
}
