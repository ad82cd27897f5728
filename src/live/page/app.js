// The page as a whole: what the program tells, shown beside the drawing.

import { Drawing } from "./map.js";
import { Recorder } from "./record.js";

const $ = (id) => document.getElementById("ui-" + id);

// An element with a text and a few properties.
export function element(name, { text, className, click, pressed, role } = {}) {
  const el = document.createElement(name);
  if (name === "button") el.type = "button";
  if (text !== undefined) el.textContent = text;
  if (className) el.className = className;
  if (role) el.setAttribute("role", role);
  if (pressed !== undefined) el.setAttribute("aria-pressed", String(pressed));
  if (click) el.addEventListener("click", click);
  return el;
}

let silence;
// A word to the reader that goes away by itself.
export function say(text, wrong = false) {
  $("say").textContent = text;
  $("say").classList.toggle("wrong", wrong);
  clearTimeout(silence);
  silence = setTimeout(() => { $("say").textContent = ""; }, wrong ? 7000 : 4000);
}

async function answered(response) {
  const data = await response.json().catch(() => ({ message: "the program's answer can't be read" }));
  if (response.ok) return data;
  throw Object.assign(new Error(data.message), { field: data.field, status: response.status });
}

async function reach(path, options) {
  try { return await fetch(path, options); } catch { throw new Error("the program does not answer; is it still running?"); }
}

export const ask = async (path) => answered(await reach(path));
export const send = async (path, data) => answered(await reach(path, {
  method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(data),
}));

let state = { items: [], holds: [], found: [], quantities: [], views: [], broken: false };
let view = "floor";
let sheet = 0;
let tab = "findings";
let detail = null;
let chosen = null;
let asked = 0;

const drawing = new Drawing($("canvas"), tapped);
const recorder = new Recorder({ body: $("record"), actions: $("actions"), drawing, state: () => state, changed: arrange, refresh });

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
  try { fresh.lines = (await ask("api/explain?id=" + encodeURIComponent(id))).lines; } catch (error) { fresh.lines = [error.message]; }
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
  if (state.trouble) body.append(element("p", { className: "fault", text: state.trouble }));
  for (const h of state.holds) {
    const box = element("p", { className: "hold" });
    box.append(element("b", { text: `HOLD. ${h.lead}.` }), ` ${h.message}`);
    body.append(box);
  }
  if (!state.found.length && !state.trouble) body.append(element("p", { text: "Nothing found. The sketch can be read and nothing stands out." }));
  for (const f of state.found) {
    const button = element("button", { className: `found ${f.severity}`, click: () => finding(f, button) });
    const head = element("span");
    head.append(element("span", { className: "kind", text: f.severity }), " ");
    if (f.item && !f.message.split(/[^\w.-]+/).includes(f.item)) head.append(element("b", { text: f.item }), " ");
    head.append(f.message);
    button.append(head);
    if (f.hint) button.append(element("span", { className: "hint", text: f.hint }));
    if (f.source) button.append(element("span", { className: "source", text: `Source: ${f.source}` }));
    if (f.at) button.append(sourceLine(f.at));
    body.append(button);
  }
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
  for (const [label, value, item] of state.quantities) {
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

function render() {
  $("name").textContent = state.job ? `${state.job}` : state.name || "slabwalk";
  document.title = (state.job || state.name || "slabwalk") + (state.broken ? " (errors)" : "");
  const errors = state.found.filter((f) => f.severity === "error").length;
  $("broken").hidden = !state.broken;
  $("broken").textContent = state.trouble ? "The file can't be read. The last floor that could be is shown." :
    `${errors} ${errors === 1 ? "error" : "errors"} in the sketch. ${state.drawn ? "The last floor without errors is shown." : "There is no floor to show yet."}`;
  $("map").classList.toggle("dimmed", state.broken);
  const shown = detail ? "detail" : tab;
  for (const name of ["findings", "quantities", "record", "detail"]) $(name).hidden = name !== shown;
  $("actions").hidden = shown !== "record" || !recorder.active;
  for (const name of ["findings", "quantities", "record"]) $("tab-" + name).setAttribute("aria-pressed", String(!detail && tab === name));
  $("tab-findings").textContent = state.found.length ? `Findings ${state.found.length}` : "Findings";
  renderFindings();
  renderQuantities();
  renderDetail();
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
    const answer = await ask(`api/view?name=${view}&sheet=${sheet}`);
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
  try { fresh = await ask("api/state"); } catch (error) {
    // What can be taken back is not known any more.
    state = { ...state, undo: null };
    say(error.message, true);
    return;
  }
  if (!counts()) { await newest; return; }
  state = fresh;
  if (detail) detail.item = state.items.find((i) => i.id === detail.id);
  render();
  // What is being typed stays as it is; only the list of kinds follows the sketch.
  if (!recorder.active) recorder.draw();
  document.body.dataset.version = state.version;
  if (state.drawn !== before) drawView().then(() => { if (detail && chosen) open(chosen); });
}

function tabTo(name) {
  tab = name;
  detail = null;
  render();
  if (name === "record") recorder.draw();
  $("body").scrollTop = 0;
}

for (const name of ["findings", "quantities", "record"]) $("tab-" + name).addEventListener("click", () => tabTo(name));
$("larger").addEventListener("click", () => drawing.zoom(1.5));
$("smaller").addEventListener("click", () => drawing.zoom(1 / 1.5));
$("fit").addEventListener("click", () => drawing.fit());
$("sheet-back").addEventListener("click", () => { sheet -= 1; drawView(); });
$("sheet-next").addEventListener("click", () => { sheet += 1; drawView(); });

await recorder.load().catch((error) => say(error.message, true));
await refresh();
const events = new EventSource("api/events");
events.addEventListener("change", refresh);
events.addEventListener("error", () => {
  say(events.readyState === EventSource.CLOSED
    ? "The program was ended or started again. Open the address that it prints now."
    : "No connection to the program; trying again.", true);
});
