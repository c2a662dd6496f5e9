// Writing down and reading back: the taps, the form, the list.

let undo = null, lastTap = 0;

function announce(text, id = null) {
  say($("said"), text);
  undo = id;
  show($("undo"), id !== null);
  show($("toast"), true);
  clearTimeout(announce.timer);
  announce.timer = setTimeout(() => show($("toast"), false), 10e3);
}

const startValues = () => ({ turn: shown.turn, circuits: facts.feeds[shown.turn - 1] ?? [] });

function tap(kind) {
  const now = Date.now();
  if (!kind || Math.abs(now - lastTap) < 700) return; // a cold thumb taps twice
  lastTap = now;
  const event = write(kind, kind === "start" ? startValues() : {}, now);
  if (kind === "grid_lost") { shown.ticks = []; drawTicks(); keepScreen(); }
  announce(`${KINDS[kind]}, ${clock(now, now)}.`, event.id);
  drawEntries();
  draw();
}

function drawTicks() {
  for (const box of document.querySelectorAll(".ticks input")) box.checked = shown.ticks.includes(box.id);
}

const number = (text) => (/^[+\-−]?\d+([.,]\d+)?$/.test(text.trim()) ? Number(text.trim().replace("−", "-").replace(",", ".")) : NaN);

// A value in SI from what the form holds, or a sentence that says what is missing.
function formValues(kind) {
  const text = $("add-text").value.trim(), values = text ? { text } : {};
  if (kind === "note" && !text) return "Write a few words first.";
  if (kind === "trip") { const which = $("add-circuit").value; Object.assign(values, which ? { circuit: which } : { what: "machine" }); }
  if (kind === "start") Object.assign(values, startValues());
  if (kind === "refuel" && $("add-amount").value.trim()) {
    const amount = number($("add-amount").value);
    if (!(amount > 0 && amount < 1000)) return "The amount must be a number above 0, such as 4.5.";
    Object.assign(values, { fuel: facts.fuel, amount_m3: +(amount * facts.volume_m3).toPrecision(6) });
  }
  return kind === "reading" ? readingValues(values) : values;
}

function readingValues(values) {
  const of = $("add-what").value, value = number($("add-value").value);
  if (Number.isNaN(value)) return "The value must be a number, such as 38 or -3.5.";
  if (of === "hour_meter" || of === "power") {
    if (value < 0) return "The value cannot be below 0.";
    return { ...values, ...(of === "power" ? { power_w: value } : { hour_meter_s: Math.round(value * 3600) }) };
  }
  const celsius = facts.us ? (value - 32) / 1.8 : value;
  if (celsius < -60 || celsius > 120) return `The temperature must lie between ${degrees(-60)} and ${degrees(120)}.`;
  return { ...values, store: of.slice(6), temperature_c: +celsius.toFixed(2) };
}

function submit(event) {
  event.preventDefault();
  const kind = $("add-kind").value, now = Date.now();
  const at = $("add-time").value ? fromLocal($("add-time").value) : now;
  const values = formValues(kind);
  const wrong = typeof values === "string" ? values : !(at <= now + MINUTE) ? "That time is still to come." : "";
  if (wrong) return say($("add-said"), wrong);
  const made = write(kind, values, Math.min(at, now));
  for (const id of ["add-value", "add-amount", "add-text", "add-time"]) $(id).value = "";
  say($("add-said"), `Written down: ${KINDS[kind]}, ${clock(Date.parse(made.at), now)}.`);
  drawEntries();
  draw();
}

function drawForm() {
  const kind = $("add-kind").value;
  show($("add-what-field"), kind === "reading");
  show($("add-value-field"), kind === "reading");
  show($("add-amount-field"), kind === "refuel");
  show($("add-circuit-field"), kind === "trip");
}

const nameOf = (id) => facts.names[id] ?? id;

function entryWords({ kind, values: v }) {
  const parts = [];
  if (typeof v.store === "string") parts.push(nameOf(v.store));
  if (Number.isFinite(v.temperature_c)) parts.push(degrees(v.temperature_c));
  if (Number.isFinite(v.power_w)) parts.push(`load ${v.power_w} W`);
  if (Number.isFinite(v.hour_meter_s)) parts.push(`hour meter ${(v.hour_meter_s / 3600).toFixed(1)} h`);
  if (Number.isFinite(v.amount_m3)) parts.push(`${(v.amount_m3 / facts.volume_m3).toFixed(1)} ${facts.volume_unit}`);
  if (kind === "start" && facts.turns.length > 1 && v.turn) parts.push(`turn ${v.turn}`);
  if (kind === "trip") parts.push(typeof v.circuit === "string" ? nameOf(v.circuit) : "the machine's breaker");
  if (typeof v.text === "string") parts.push(v.text);
  return parts.join(", ");
}

function make(tag, text, attributes = {}) {
  const node = document.createElement(tag);
  node.textContent = text;
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  return node;
}

function drawEntries() {
  const now = Date.now();
  show($("entries-none"), log.length === 0);
  $("entries").replaceChildren(...[...log].reverse().map((event) => entry(event, now)));
}

function entry(event, now) {
  const at = Date.parse(event.at), row = document.createElement("li"), words = entryWords(event);
  const time = make("time", clock(at, now), { datetime: event.at });
  const text = make("p", KINDS[event.kind]);
  if (words) text.append(": ", make("bdi", words));
  const about = `${KINDS[event.kind]}, ${clock(at, now)}`;
  const change = make("button", "Change time", { type: "button", class: "small", "aria-label": `Change time: ${about}` });
  const remove = make("button", "Remove", { type: "button", class: "small", "aria-label": `Remove: ${about}` });
  change.addEventListener("click", () => changeTime(event, row, change));
  remove.addEventListener("click", () => { strike(event.id); announce(`Removed: ${about}.`); drawEntries(); draw(); $("log-title").focus({ preventScroll: true }); });
  const pair = make("div", "", { class: "pair" });
  pair.append(change, remove);
  row.append(time, text, pair);
  return row;
}

function changeTime(event, row, opener) {
  if (row.querySelector("input")) return;
  const input = make("input", "", { type: "datetime-local", "aria-label": "New time" });
  input.value = forInput(Date.parse(event.at));
  const go = make("button", "Set this time", { type: "button", class: "small" });
  go.addEventListener("click", () => {
    const at = fromLocal(input.value);
    if (!(at <= Date.now() + MINUTE)) return announce("That time is still to come, or is none.");
    retime(event.id, at);
    announce(`Time set: ${KINDS[event.kind]}, ${clock(at, Date.now())}.`);
    drawEntries();
    draw();
  });
  row.append(input, go);
  input.focus();
}
