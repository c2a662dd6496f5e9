// The screen: everything is set as text, and only where it changed, so that a screen reader is not disturbed.

const $ = (id) => document.getElementById(id);
const say = (node, text) => { if (node.textContent !== text) node.textContent = text; };
const show = (node, on) => { if (node && node.hidden === on) node.hidden = !on; };
const degrees = (c) => (facts.us ? `${Math.round(c * 1.8 + 32)} °F` : `${(Math.round(c * 10) / 10).toFixed(1)} °C`);
const pages = [...document.querySelectorAll("main > section")];
const tabs = [...document.querySelectorAll("#tabs a")];

function openPage(key, focus = true) {
  const page = pages.find((p) => p.id === key) ?? pages[0];
  for (const one of pages) show(one, one === page);
  for (const tab of tabs) {
    if (tab.hash === `#${page.id}`) tab.setAttribute("aria-current", "page");
    else tab.removeAttribute("aria-current");
  }
  shown.page = page.id;
  keepScreen();
  if (focus) {
    scrollTo(0, 0);
    page.querySelector("h2").focus({ preventScroll: true });
  }
  draw();
}

function followHash() {
  const target = $(decodeURIComponent(location.hash.slice(1)));
  const page = target?.closest("main > section");
  if (!page) return;
  openPage(page.id, target === page);
  if (target !== page) {
    target.focus({ preventScroll: true });
    target.scrollIntoView();
  }
}

const nextRun = (now) => {
  const from = midnight(now);
  const starts = [0, 1].flatMap((day) => facts.runs.map(([at, length]) => ({ at: from + day * DAY + at * 1000, length: length * 1000 })));
  return starts.filter((run) => run.at + run.length > now).sort((a, b) => a.at - b.at)[0];
};

function drawState(told, now) {
  const on = told.running, out = told.outage !== null;
  const state = on ? "The machine runs" : out ? "The grid is out, the machine is off" : "The grid is on";
  say($("state"), state);
  const since = on ? on.first : out ? Math.max(told.outage, told.stopped ?? 0) : null;
  say($("state-time"), since === null ? "" : running(now - since));
  const more = [];
  if (on && facts.turns.length > 1 && on.turn) more.push(`Turn ${on.turn} is on.`);
  if (out) more.push(`Grid out since ${clock(told.outage, now)}, ${lasting(now - told.outage)}.`);
  if (!out && told.last) more.push(`Last outage ${lasting(told.last.to - told.last.from)}, until ${clock(told.last.to, now)}.`);
  if (!out && !on && !told.last) more.push("Tap “Grid failed” below when it does: the clocks count from there.");
  say($("state-more"), more.join(" "));
  drawBar(on, out, state, since, now);
}

function drawBar(on, out, state, since, now) {
  const main = on ? "stop" : out ? "start" : "grid_lost";
  const other = on ? (out ? "grid_back" : null) : out ? "grid_back" : "start";
  const words = { start: "Machine started", stop: "Machine stopped", grid_lost: "Grid failed", grid_back: "Grid is back" };
  for (const [node, kind] of [[$("tap-main"), main], [$("tap-other"), other]]) {
    node.dataset.kind = kind ?? "";
    if (kind) say(node, kind === "start" && !out ? "Test run started" : words[kind]);
    show(node, kind !== null);
  }
  say($("bar-state"), on ? "Machine runs" : out ? "Machine off" : "Grid on");
  say($("bar-since"), since === null ? "" : `since ${clock(since, now)}`);
}

function drawRoutine(told, now) {
  const mark = $("day-mark");
  if (mark) {
    const x = ((now - midnight(now)) / DAY) * 288;
    mark.setAttribute("transform", `translate(${x.toFixed(1)})`);
    mark.removeAttribute("hidden");
  }
  const next = $("next-run") && nextRun(now);
  if (!next) return;
  const within = next.at <= now, stop = told.running ? told.running.first + next.length : 0;
  let text = `Next run ${clock(next.at, now)}, in ${lasting(next.at - now)}.`;
  if (told.running) text = stop > now ? `Stop at ${clock(stop, now)}, in ${lasting(stop - now)}.` : "This run is as long as the routine asks.";
  else if (told.outage === null) text = within ? `Were the grid out, it would run now, since ${clock(next.at, now)}.` : `Were the grid out, it would run next ${clock(next.at, now)}.`;
  else if (within) text = `A run was due at ${clock(next.at, now)}.`;
  say($("next-run"), text);
}

function drawCooling(told, now) {
  const since = told.stopped, open = !told.running && since !== null && !told.refuels.some((at) => at > since);
  show($("cooling"), open && now - since < 6 * HOUR);
  if (!open) return;
  const left = since + facts.cool_s * 1000 - now;
  say($("cool-text"), left > 0 ? "Hot. Do not open the tank." : "Cool by the clock. Feel for heat before you open the tank.");
  say($("cool-time"), left > 0 ? running(left) : "");
}

function drawClocks(told, now) {
  const near = [], over = [];
  facts.clocks.forEach((one, n) => {
    const seen = look(one, told, now), card = $(`clock-${n}`);
    say(card.querySelector(".left"), seen === null ? lasting(one.hold_s * 1000) : seen.left > 0 ? lasting(seen.left) : `− ${lasting(-seen.left)}`);
    say(card.querySelector(".status"), standing(one, seen, now));
    const share = seen === null ? 1 : Math.max(0, Math.min(1, seen.left / (one.hold_s * 1000 || 1)));
    card.querySelector(".fill").style.setProperty("--left", share.toFixed(4));
    card.classList.toggle("over", seen !== null && (seen.left <= 0 || seen.out !== null));
    card.classList.toggle("still", seen !== null && !seen.counting);
    const words = [seen?.out ? `Ran out ${one.counts === "running" ? "" : clock(seen.out, now)}`.trim() + ". Check before you trust it." : "", readingWords(one, now)];
    const note = card.querySelector(".seen"), text = words.filter(Boolean).join(" ");
    say(note, text);
    show(note, text !== "");
    if (seen?.counting && seen.left <= 0) over.push(one.name);
    else if (seen?.counting && seen.left < 30 * MINUTE) near.push(one.name);
  });
  const parts = [over.length ? `Past the limit: ${over.join("; ")}.` : "", near.length ? `Less than half an hour: ${near.join("; ")}.` : ""];
  say($("clock-alarm"), parts.filter(Boolean).join(" "));
  show($("clocks-mark"), over.length > 0);
}

function draw() {
  const now = Date.now(), told = story(now);
  drawState(told, now);
  drawRoutine(told, now);
  drawCooling(told, now);
  drawClocks(told, now);
  drawWatch(now);
}
