// Keeping: local storage where the phone allows it, memory and a warning where it does not.

const EVENTS_KEY = `hearthold.pocket.${facts.key}.events`, SCREEN_KEY = `hearthold.pocket.${facts.key}.screen`;
const memory = new Map();
let storing = true;

function kept(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return memory.get(key) ?? null;
  }
}

function keep(key, value) {
  const text = JSON.stringify(value);
  memory.set(key, text);
  try {
    localStorage.setItem(key, text);
    storing = localStorage.getItem(key) === text;
  } catch {
    storing = false;
  }
  document.getElementById("no-storage").hidden = storing;
}

function recalled(key, otherwise) {
  try {
    return JSON.parse(kept(key)) ?? otherwise;
  } catch {
    return otherwise; // somebody else's bytes under our name
  }
}

// What the screen shows, as against what happened: the open section, ticks, the turn, the stopwatch.
const shown = { page: "now", ticks: [], turn: 1, watch: null, ...recalled(SCREEN_KEY, {}) };
if (!(shown.turn >= 1 && shown.turn <= facts.turns.length)) shown.turn = 1;
if (!Array.isArray(shown.ticks)) shown.ticks = [];
const keepScreen = () => keep(SCREEN_KEY, shown);
