// Wiring, then the first look.

document.documentElement.classList.add("live");
$("tap-main").addEventListener("click", (e) => tap(e.currentTarget.dataset.kind));
$("tap-other").addEventListener("click", (e) => tap(e.currentTarget.dataset.kind));
$("tap-refuel").addEventListener("click", () => tap("refuel"));
$("undo").addEventListener("click", () => { if (undo) strike(undo); announce("Taken back."); drawEntries(); draw(); $("tap-main").focus(); });
if ($("watch")) {
  $("watch-go").addEventListener("click", watchGo);
  $("watch-skip").addEventListener("click", watchSkip);
  $("watch-stop").addEventListener("click", watchStop);
}
for (const box of document.querySelectorAll(".ticks input")) {
  box.addEventListener("change", () => {
    shown.ticks = [...document.querySelectorAll(".ticks input:checked")].map((one) => one.id);
    keepScreen();
  });
}
$("clear-ticks").addEventListener("click", () => { shown.ticks = []; keepScreen(); drawTicks(); announce("All ticks cleared."); });
for (const radio of document.querySelectorAll("input[name=turn]")) {
  radio.checked = Number(radio.value) === shown.turn;
  radio.addEventListener("change", () => {
    shown.turn = Number(radio.value);
    shown.watch = null;
    keepScreen();
    lastTap = 0;
    if (story(Date.now()).running) tap("start");
    else draw();
  });
}
$("add").addEventListener("submit", submit);
$("add-kind").addEventListener("change", drawForm);
$("export").addEventListener("click", save);
$("codes-open").addEventListener("click", toggleCodes);
$("code-back").addEventListener("click", () => turnCode(-1));
$("code-next").addEventListener("click", () => turnCode(1));
$("import").addEventListener("change", bringIn);
$("empty").addEventListener("click", () => { show($("empty-sure"), true); $("empty-sure").focus(); });
$("empty-sure").addEventListener("click", empty);
$("food-find").addEventListener("input", () => {
  const word = $("food-find").value.trim().toLowerCase();
  let found = 0;
  for (const item of document.querySelectorAll(".foods li")) {
    const fits = item.textContent.toLowerCase().includes(word);
    show(item, fits);
    found += fits;
  }
  for (const group of document.querySelectorAll(".verdict")) show(group, group.querySelector("li:not([hidden])") !== null);
  say($("food-none"), word === "" ? "" : found === 0 ? "Not in the lists. When in doubt, throw it out." : `${found} found.`);
});
addEventListener("hashchange", followHash);
addEventListener("storage", (e) => { if (e.key === EVENTS_KEY) { log = readLog(); drawEntries(); draw(); } });
document.addEventListener("visibilitychange", () => { if (!document.hidden) draw(); });
const folded = [];
addEventListener("beforeprint", () => { for (const d of document.querySelectorAll("details:not([open])")) { d.open = true; folded.push(d); } });
addEventListener("afterprint", () => { for (const d of folded.splice(0)) d.open = false; });

keepScreen();
drawTicks();
drawForm();
drawEntries();
openPage(shown.page, false);
followHash();
setInterval(draw, 1000);
