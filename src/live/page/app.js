// The page as a whole: what the program tells, shown beside the drawing.

import { $, element, say } from "./dom.js";
import { home } from "./home.js";
import { Drawing } from "./map.js";
import { Papers } from "./papers.js";
import { Recorder } from "./record.js";

let state = { items: [], views: [], broken: false };
let view = "floor";
let sheet = 0;
let tab = "findings";
let detail = null;
let chosen = null;
let asked = 0;
// What is wrong with photos and logo, and when it was last asked for.
let pictures = [];
let looked = 0;
const TABS = ["findings", "quantities", "record", "papers"];

const drawing = new Drawing($("canvas"), tapped);
const recorder = new Recorder({ body: $("record"), actions: $("actions"), drawing, state: () => state, pictures: () => pictures, changed: arrange, refresh, made });
const papers = new Papers({ body: $("papers"), state: () => state, told: () => pictures.map(findingRow), look });

function tapped(tap) {
  if (tab === "record" && recorder.placing) {
    if (drawing.isFloor) recorder.tap(tap);
    return;
  }
  const id = tap.id && tap.id.replace(/^(tag|leader|text)-/, "");
  if (tab === "record" && recorder.active) { if (state.items.some((i) => i.id === id)) recorder.tapItem(id); return; }
  if (id && /^[A-Z]/.test(id)) open(id);
  else { drawing.mark(null); if (detail) close(); }
}

// Shows an item: its mark, its line, its arithmetic.
async function open(id) {
  chosen = id;
  recorder.chosen = id;
  const item = state.items.find((i) => i.id === id);
  const fresh = { id, item, lines: null };
  if (tab === "record" && !recorder.active) tab = "findings";
  detail = fresh;
  render();
  if (item) await show(id); else drawing.mark(id);
  try { fresh.lines = (await home.ask("api/explain?id=" + encodeURIComponent(id))).lines; } catch (error) { fresh.lines = [error.message]; }
  if (detail === fresh) render();
}

function close() {
  detail = null;
  chosen = null;
  drawing.mark(null);
  render();
}

function sourceLine(at) {
  const line = element("code", { className: "line" });
  const mark = element("mark", { text: at.marked });
  line.append(element("i", { text: `line ${at.line}  ` }), at.before.trimStart(), mark, at.after);
  return line;
}

function renderFindings() {
  const body = $("findings");
  body.replaceChildren();
  if (!state.found) { body.append(element("p", { text: "…" })); return; }
  if (state.trouble) body.append(element("p", { className: "fault", text: state.trouble }));
  for (const h of state.holds) {
    const box = element("p", { className: "hold" });
    box.append(element("b", { text: `HOLD. ${h.lead}.` }), ` ${h.message}`);
    body.append(box);
  }
  const all = [...state.found, ...pictures];
  if (!all.length && !state.trouble) body.append(element("p", { text: "Nothing found. The sketch can be read and nothing stands out." }));
  body.append(...all.map(findingRow));
}

function findingRow(f) {
  const button = element("button", { className: `found ${f.severity}`, click: () => finding(f, button) });
  const head = element("span");
  head.append(element("span", { className: "kind", text: f.severity }), " ");
  if (f.item && !f.message.split(/[^\w.-]+/).includes(f.item)) head.append(element("b", { text: f.item }), " ");
  head.append(f.message);
  button.append(head);
  if (f.hint) button.append(element("span", { className: "hint", text: f.hint }));
  if (f.source) button.append(element("span", { className: "source", text: `Source: ${f.source}` }));
  if (f.at) button.append(sourceLine(f.at));
  return button;
}

async function finding(f, button) {
  for (const b of document.querySelectorAll(".found.chosen")) b.classList.remove("chosen");
  button.classList.add("chosen");
  say(f.at ? `Line ${f.at.line} of ${state.name}.` : "About the whole floor.");
  if (f.item) await show(f.item);
  else drawing.mark(null);
}

// Marks an item, on the bare floor if the drawing that is shown doesn't have it.
async function show(id) {
  if (drawing.mark(id) || drawing.isFloor) return;
  view = "floor";
  sheet = 0;
  renderViews();
  await drawView();
  drawing.mark(id);
}

function renderQuantities() {
  const body = $("quantities");
  body.replaceChildren();
  for (const [label, value, item] of state.quantities || []) {
    const row = element("button", { className: "row", click: () => open(item) });
    row.append(element("span", { text: label }), element("b", { text: value }));
    body.append(row);
  }
  body.append(element("p", { className: "ask" }), element("small", { text: "Tap a row or an item of the drawing to see how its number was reached. For estimating; nothing here is an engineering opinion." }));
}

function renderDetail() {
  const body = $("detail");
  body.replaceChildren();
  if (!detail) return;
  const top = element("div", { className: "top" });
  const what = detail.item ? `${detail.id}, ${detail.item.what}` : detail.id;
  const back = element("button", { text: "Close", click: close });
  top.append(element("h2", { text: what }), back);
  body.append(top);
  if (detail.item) body.append(sourceLine(detail.item.at));
  const old = state.listed?.records.find((record) => record.id === detail.id || record.items.includes(detail.id));
  if (old) {
    const change = element("button", { text: old.items.length ? `Change or remove all ${old.items.length} alike` : "Change or remove it", className: "full", click: () => { tabTo("record"); recorder.change(old); } });
    change.id = "ui-change";
    body.append(change);
  }
  const list = element("ol", { className: "steps" });
  for (const line of detail.lines || ["…"]) list.append(element("li", { text: line }));
  body.append(list);
}

function arrange() {
  const placing = tab === "record" && recorder.placing;
  $("canvas").classList.toggle("placing", placing);
  // Once it is placed, its sizes need the room.
  $("panel").classList.toggle("form", placing && !detail && recorder.placed);
  $("tabs").hidden = tab === "record" && !detail && recorder.active;
  if (placing && view !== "floor") { choose("floor"); }
}

function renderBroken() {
  const errors = (state.found || []).filter((f) => f.severity === "error").length;
  $("broken").hidden = !state.broken;
  $("broken").textContent = state.trouble ? "The file can't be read. The last floor that could be is shown." :
    `${state.found ? `${errors} ${errors === 1 ? "error" : "errors"} in the sketch` : "The sketch has errors"}. ${state.drawn ? "The last floor without errors is shown." : "There is no floor to show yet."}`;
}

function render() {
  $("name").textContent = state.job ? `${state.job}` : state.name || "slabwalk";
  document.title = (state.job || state.name || "slabwalk") + (state.broken ? " (errors)" : "");
  if (!document.body.dataset.lost) renderBroken();
  $("map").classList.toggle("dimmed", state.broken);
  const shown = detail ? "detail" : tab;
  for (const name of [...TABS, "detail"]) $(name).hidden = name !== shown;
  $("actions").hidden = shown !== "record" || !recorder.active;
  for (const name of TABS) $("tab-" + name).setAttribute("aria-pressed", String(!detail && tab === name));
  $("tab-findings").textContent = ["Findings", state.found ? state.found.length + pictures.length || "" : "…"].join(" ").trim();
  // What is not shown is made when it is.
  ({ findings: renderFindings, quantities: renderQuantities, detail: renderDetail })[shown]?.();
  renderViews();
  arrange();
}

function renderViews() {
  const host = $("views");
  host.replaceChildren();
  for (const [name, label] of state.views) {
    const button = element("button", { text: label, pressed: name === view, click: () => choose(name) });
    button.dataset.view = name;
    host.append(button);
  }
}

function choose(name) {
  if (name !== "floor" && tab === "record" && recorder.placing) { say("While you record, the floor is shown."); return; }
  view = name;
  sheet = 0;
  renderViews();
  drawView();
}

// Fetches the drawing; only the newest answer counts.
async function drawView() {
  if (!state.drawn) return;
  const mine = ++asked;
  try {
    const answer = await home.ask(`api/view?name=${view}&sheet=${sheet}`);
    if (mine !== asked) return;
    sheet = answer.sheet;
    $("sheets").hidden = answer.sheets < 2;
    $("sheet").textContent = `${answer.sheet + 1} of ${answer.sheets}`;
    $("sheet-back").disabled = answer.sheet === 0;
    $("sheet-next").disabled = answer.sheet + 1 >= answer.sheets;
    drawing.show(answer.svg);
    document.body.dataset.drawn = `${view}:${answer.sheet}:${answer.version}`;
  } catch (error) { if (mine === asked) say(error.message, true); }
}

// Fetches what the page has to know; only the newest answer counts, and whoever waits for an older one waits for it.
let newest;
function refresh() {
  const mine = fetchState(() => mine === newest);
  newest = mine;
  return mine;
}

async function fetchState(counts) {
  const before = state.drawn;
  let fresh;
  if (home.idle) return;
  try { fresh = await home.ask("api/state"); } catch (error) {
    // What can be taken back is not known any more.
    state = { ...state, undo: null };
    say(error.message, true);
    return;
  }
  if (!counts()) { await newest; return; }
  take(fresh);
  if (state.drawn !== before) drawView().then(() => { if (detail && chosen) open(chosen); });
}

// Asks what the papers can't show of photos and logo.
async function look() {
  const mine = ++looked;
  if (home.idle) return;
  let found;
  try { ({ found } = await home.pictures()); } catch { return; }
  if (mine !== looked || JSON.stringify(found) === JSON.stringify(pictures)) return;
  pictures = found;
  render();
  if (tab === "papers") papers.draw();
  if (!recorder.active) recorder.draw();
}

// What the page has to know is other than before, or may be.
function take(fresh, changed = false) {
  const files = (listed) => JSON.stringify(listed?.records.filter((old) => old.kind === "photo").map((old) => old.values.file));
  const others = state.found !== null && files(fresh.listed) !== files(state.listed);
  const same = !changed && fresh.version === state.version && JSON.stringify([fresh.listed, fresh.undo, fresh.redo]) === JSON.stringify([state.listed, state.undo, state.redo]);
  state = fresh;
  if (detail) detail.item = state.items.find((i) => i.id === detail.id);
  render();
  // What is being typed stays as it is; only the list of kinds follows the sketch.
  if (!recorder.active && !same) recorder.draw();
  document.body.dataset.version = state.version;
  if (others) look();
}

// A change was made: it is shown at once. What has to be measured for it follows, and is not shown until then.
function made({ glance, drawing: svg }) {
  take(glance, true);
  if (view === "floor" && svg) {
    // An older drawing that is still on its way is not shown over it.
    asked += 1;
    drawing.show(svg);
    document.body.dataset.drawn = `floor:0:${state.drawn}`;
  } else drawView();
  return refresh();
}

// The connection to the program, lost and found again.
function lost(why) {
  document.body.dataset.lost = "yes";
  $("broken").hidden = false;
  $("broken").textContent = why;
}

async function back() {
  if (!document.body.dataset.lost) return;
  delete document.body.dataset.lost;
  await refresh();
  say("The connection is back.");
  recorder.resend();
}

function tabTo(name) {
  tab = name;
  detail = null;
  render();
  if (name === "record") recorder.draw();
  if (name === "papers") papers.draw();
  if (name === "papers" || name === "findings") look();
  $("body").scrollTop = 0;
}

for (const name of TABS) $("tab-" + name).addEventListener("click", () => tabTo(name));
$("larger").addEventListener("click", () => drawing.zoom(1.5));
$("smaller").addEventListener("click", () => drawing.zoom(1 / 1.5));
$("fit").addEventListener("click", () => drawing.fit());
$("sheet-back").addEventListener("click", () => { sheet -= 1; drawView(); });
$("sheet-next").addEventListener("click", () => { sheet += 1; drawView(); });

// Begins with the sketch that is there now: what was being typed on it is taken up again.
async function begin(first = "findings") {
  // What was being typed is not replaced by nothing before it is taken up.
  recorder.keeps = false;
  recorder.reset();
  view = "floor";
  sheet = 0;
  chosen = null;
  state = { ...state, drawn: null, found: null, quantities: null };
  pictures = [];
  drawing.clear();
  tabTo(first);
  if (!home.idle) {
    try { made(await home.ask("api/glance")); } catch (error) { say(error.message, true); await refresh(); }
  }
  const draft = await home.draft();
  recorder.keeps = true;
  if (recorder.restore(draft)) tabTo("record");
  document.body.dataset.begun = "yes";
  if (!home.idle) home.rest();
  look();
}

// What the page can't do without is said where it stays.
function halted(error) {
  $("broken").hidden = false;
  $("broken").textContent = error.message;
}

try {
  await home.start({ refresh, begin, lost, back });
  await recorder.load();
  await begin();
  home.watch();
} catch (error) { halted(error); }
