// Hold clocks: worked out anew from the events at every look, so sleep and reload cost nothing.

const feeds = (spell, one) => one.circuit === null || spell.circuits === null || spell.circuits.includes(one.circuit);

// Time used of a store's hold. A run stops the clock; one as long as `renew_s` starts it anew. Once a clock has
// run out, `out` stays: a cold fridge tomorrow does not make warm food good.
function unpowered(one, told, now) {
  if (told.outage === null) return null;
  const hold = one.hold_s * 1000;
  let used = 0, from = told.outage, fedFrom = null, out = null;
  const pass = (to) => {
    if (to <= from) return;
    if (out === null && used + (to - from) >= hold) out = from + Math.max(0, hold - used);
    used += to - from;
  };
  let fed = false;
  for (const spell of told.spells) {
    const start = Math.max(spell.from, told.outage), end = spell.to ?? now;
    if (end <= told.outage || !feeds(spell, one)) continue;
    pass(start);
    if (fedFrom === null || start > from) fedFrom = start;
    if (one.renew_s !== null && end - fedFrom >= one.renew_s * 1000) used = 0;
    from = Math.max(from, end);
    fed = spell.to === null;
  }
  if (!fed) pass(now);
  return { used, left: hold - used, counting: !fed, out };
}

function whileRunning(one, told, now) {
  const tank = one.id === "machine_tank";
  const since = tank ? (told.refuels[told.refuels.length - 1] ?? -Infinity) : told.outage;
  if (since === null) return null;
  const used = told.spells.reduce((sum, s) => sum + Math.max(0, (s.to ?? now) - Math.max(s.from, since)), 0);
  if (tank && told.spells.length === 0) return null;
  const left = one.hold_s * 1000 - used;
  return { used, left, counting: told.running !== null, out: left <= 0 ? now : null };
}

const look = (one, told, now) => (one.counts === "running" ? whileRunning : unpowered)(one, told, now);

function standing(one, seen, now) {
  if (seen === null) return one.counts === "running" ? "of running" : "without power";
  if (one.counts === "running") return seen.counting ? "left, the machine runs" : "of running left";
  if (seen.counting) return seen.left > 0 ? `left, until ${clock(now + seen.left, now)}` : "past the limit";
  if (seen.left <= 0) return "past the limit, has power now";
  return seen.used > 0 ? "left, has power: the clock stands" : "has power";
}

function lastReading(id) {
  return [...log].reverse().find((e) => e.kind === "reading" && e.values.store === id && Number.isFinite(e.values.temperature_c));
}

function readingWords(one, now) {
  const found = lastReading(one.id);
  if (!found) return "";
  const above = one.limit_c !== null && found.values.temperature_c > one.limit_c;
  const told = `Thermometer ${degrees(found.values.temperature_c)} at ${clock(Date.parse(found.at), now)}`;
  return above ? `${told}: above the limit. See the food rules.` : `${told}.`;
}
