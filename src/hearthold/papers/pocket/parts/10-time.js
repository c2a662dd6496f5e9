// Time: the house's own time zone, whatever the phone is set to. Everything else here is in milliseconds.

const facts = JSON.parse(document.getElementById("facts").textContent);
const MINUTE = 60e3, HOUR = 3600e3, DAY = 86400e3;

const zoneFormat = (() => {
  const parts = { year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit",
    second: "2-digit", weekday: "short", hourCycle: "h23" };
  try {
    return new Intl.DateTimeFormat("en-GB", { ...parts, timeZone: facts.zone });
  } catch {
    return new Intl.DateTimeFormat("en-GB", parts); // a phone that does not know the zone: its own
  }
})();

function local(at) {
  const found = Object.fromEntries(zoneFormat.formatToParts(at).map((p) => [p.type, p.value]));
  const asUtc = Date.UTC(+found.year, +found.month - 1, +found.day, +found.hour, +found.minute, +found.second);
  return { ...found, offset: Math.round((asUtc - Math.floor(at / 1000) * 1000) / MINUTE), asUtc };
}

const two = (n) => String(n).padStart(2, "0");

function iso(at) {
  const t = local(at), away = Math.abs(t.offset);
  const sign = t.offset < 0 ? "-" : "+";
  return `${t.year}-${t.month}-${t.day}T${t.hour}:${t.minute}:${t.second}${sign}${two(Math.floor(away / 60))}:${two(away % 60)}`;
}

// "2026-01-09T18:30" as the house's clocks show it. The second pass settles days on which clocks change.
function fromLocal(text) {
  const wanted = Date.parse(`${text}${text.length === 16 ? ":00" : ""}Z`);
  if (Number.isNaN(wanted)) return NaN;
  let at = wanted;
  for (let pass = 0; pass < 2; pass++) at = wanted - local(at).offset * MINUTE;
  return at;
}

const forInput = (at) => iso(at).slice(0, 16);

function clock(at, now) {
  const t = local(at), today = local(now);
  const same = t.day === today.day && t.month === today.month && t.year === today.year;
  return same ? `${t.hour}:${t.minute}` : `${t.weekday} ${t.hour}:${t.minute}`;
}

const midnight = (at) => at - (local(at).asUtc % DAY) - (at % 1000);

// Lengths of time: 9:05, 1 h 23 min, 2 d 3 h.
function running(length) {
  const s = Math.max(0, Math.floor(length / 1000));
  return s < 3600 ? `${Math.floor(s / 60)}:${two(s % 60)}` : `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}`;
}

function lasting(length) {
  const min = Math.max(0, Math.round(length / MINUTE));
  if (min < 60) return `${min} min`;
  if (min < 72 * 60) return `${Math.floor(min / 60)} h ${two(min % 60)} min`;
  return `${Math.floor(min / 1440)} d ${Math.round((min % 1440) / 60)} h`;
}
