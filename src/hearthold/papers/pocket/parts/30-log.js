// The log: events, oldest first. An event is {id, at, kind, values}; see docs/pocket.md.

const KINDS = { grid_lost: "Grid failed", grid_back: "Grid is back", start: "Machine started", stop: "Machine stopped",
  refuel: "Tank filled", reading: "Reading", note: "Note", trip: "Tripped" };
const FORMAT = "hearthold-pocket-log", VERSION = 1, LARGEST = 2e6;
const AHEAD = 5000; // events moved on by a second or two to keep their order
const ISO = /^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d+)?)?(Z|[+-]\d\d:\d\d)$/;

function fault(event) {
  if (typeof event !== "object" || event === null || Array.isArray(event)) return "not an event";
  if (!/^[0-9a-f]{16}$/.test(event.id)) return "no valid id";
  if (typeof event.at !== "string" || !ISO.test(event.at) || Number.isNaN(Date.parse(event.at))) return "no valid time";
  if (!Object.keys(KINDS).includes(event.kind)) return "an unknown kind";
  const values = event.values;
  if (typeof values !== "object" || values === null || Array.isArray(values)) return "no values";
  return JSON.stringify(values).length > 4000 ? "values too long" : "";
}

const ordered = (events) => events.sort((a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : 1));
const readLog = () => {
  const found = recalled(EVENTS_KEY, []);
  return ordered((Array.isArray(found) ? found : []).filter((e) => !fault(e)));
};
let log = readLog();

function newId() {
  return [...crypto.getRandomValues(new Uint8Array(8))].map((b) => b.toString(16).padStart(2, "0")).join("");
}

// Two events never share a second: what came first stays first.
function write(kind, values = {}, at = Date.now()) {
  while (log.some((e) => Date.parse(e.at) === Date.parse(iso(at)))) at += 1000;
  const event = { id: newId(), at: iso(at), kind, values };
  log = ordered([...log, event]);
  keep(EVENTS_KEY, log);
  return event;
}

function strike(id) {
  log = log.filter((e) => e.id !== id);
  keep(EVENTS_KEY, log);
}

function retime(id, at) {
  log = ordered(log.map((e) => (e.id === id ? { ...e, at: iso(at) } : e)));
  keep(EVENTS_KEY, log);
}

// What the events up to now amount to: is the grid out, since when, and when did the machine feed what.
function story(now) {
  const told = { outage: null, last: null, spells: [], refuels: [], stopped: null };
  for (const event of log) {
    const at = Date.parse(event.at), open = told.spells[told.spells.length - 1];
    const isOpen = open !== undefined && open.to === null;
    if (at > now + AHEAD) break;
    if (event.kind === "grid_lost" && told.outage === null) told.outage = at;
    if (event.kind === "grid_back" && told.outage !== null) {
      told.last = { from: told.outage, to: at };
      told.outage = null;
    }
    if ((event.kind === "start" || event.kind === "stop") && isOpen) open.to = at;
    if (event.kind === "stop" && isOpen) told.stopped = at;
    if (event.kind === "start") {
      const circuits = Array.isArray(event.values.circuits) ? event.values.circuits : null;
      const first = isOpen ? open.first : at; // another turn is not another start
      told.spells.push({ from: at, to: null, first, circuits, turn: event.values.turn });
    }
    if (event.kind === "refuel") told.refuels.push(at);
  }
  const open = told.spells[told.spells.length - 1];
  told.running = open !== undefined && open.to === null ? open : null;
  return told;
}
