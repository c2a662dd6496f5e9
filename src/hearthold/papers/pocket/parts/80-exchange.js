// Taking the log home: a JSON file, or QR codes; and bringing in a file from another phone.

function exported() {
  return { format: FORMAT, version: VERSION, house: facts.house, house_key: facts.key, time_zone: facts.zone,
    plan_made: facts.made, exported_at: iso(Date.now()), events: log };
}

// ASCII alone, so that no code reader has to guess an encoding, and a text may be cut anywhere.
const ascii = (text) => text.replace(/[^\x20-\x7e]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`);

function save() {
  const blob = new Blob([JSON.stringify(exported(), null, 1)], { type: "application/json" });
  const link = make("a", "", { download: `pocket-log-${iso(Date.now()).slice(0, 16).replaceAll(":", "")}.json` });
  link.href = URL.createObjectURL(blob);
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60e3);
  say($("exchange-said"), `Saved ${log.length} ${log.length === 1 ? "entry" : "entries"} as a file.`);
}

function crc32(text) {
  let crc = ~0;
  for (let i = 0; i < text.length; i++) {
    crc ^= text.charCodeAt(i);
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return (~crc >>> 0).toString(16).padStart(8, "0");
}

const CODE_LENGTH = 280;

function codeTexts() {
  const text = ascii(JSON.stringify(exported())), count = Math.ceil(text.length / CODE_LENGTH), sum = crc32(text);
  return Array.from({ length: count }, (_, n) => `HHP1:${n + 1}/${count}:${sum}:${text.slice(n * CODE_LENGTH, (n + 1) * CODE_LENGTH)}`);
}

let codes = [], codeAt = 0;

function drawCode() {
  const made = qrCode(codes[codeAt], { minCorrectionLevel: correction.M });
  made.toCanvas($("code"), { on: [0, 0, 0], off: [255, 255, 255], pad: 4 });
  const told = `Code ${codeAt + 1} of ${codes.length}`;
  say($("code-said"), told);
  $("code").setAttribute("aria-label", `${told}, of the log as QR codes`);
  $("code").dataset.text = codes[codeAt];
}

function toggleCodes() {
  const open = $("codes").hidden;
  show($("codes"), open);
  $("codes-open").setAttribute("aria-expanded", String(open));
  say($("codes-open"), open ? "Hide the codes" : "Show the log as codes");
  if (!open) return;
  codes = codeTexts();
  codeAt = 0;
  drawCode();
}

function turnCode(step) {
  codeAt = (codeAt + step + codes.length) % codes.length;
  drawCode();
}

// Nothing of a file is trusted: each event is looked at alone, and those refused are counted with the reason.
function merged(text) {
  let found;
  try {
    found = JSON.parse(text);
  } catch {
    return "This file is not a log: it is not JSON.";
  }
  if (found?.format !== FORMAT || !Array.isArray(found.events)) return "This file is not a log of a pocket page.";
  if (found.version !== VERSION) return `This log has version ${String(found.version).slice(0, 9)}; this page reads version ${VERSION}.`;
  const known = new Set(log.map((e) => e.id)), refused = new Map(), fresh = [];
  for (const event of found.events) {
    const why = fault(event);
    if (why) refused.set(why, (refused.get(why) ?? 0) + 1);
    else if (!known.has(event.id)) { known.add(event.id); fresh.push({ id: event.id, at: event.at, kind: event.kind, values: event.values }); }
  }
  log = ordered([...log, ...fresh]);
  keep(EVENTS_KEY, log);
  const other = found.house_key === facts.key ? "" : " It was written for another house.";
  const left = [...refused].map(([why, n]) => `${n} refused (${why})`);
  return `${[`${found.events.length} read`, `${fresh.length} new`, ...left].join(", ")}.${other}`;
}

async function bringIn() {
  const file = $("import").files[0];
  if (!file) return;
  say($("exchange-said"), file.size > LARGEST ? "This file is too large to be a log." : merged(await file.text()));
  $("import").value = "";
  drawEntries();
  draw();
}

function empty() {
  log = [];
  keep(EVENTS_KEY, log);
  show($("empty-sure"), false);
  say($("exchange-said"), "The log is empty.");
  drawEntries();
  draw();
}
