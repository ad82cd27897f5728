// Recording: what it is, where it is, how large it is, and off to the sketch.

import { openKeys } from "./keys.js";
import { element, say } from "./dom.js";
import { home } from "./home.js";
import { Corners, Walk } from "./walk.js";

const WAYS = {
  point: { text: "One point", ask: "Tap the place.", least: 1, most: 1 },
  run: { text: "From point to point", ask: "Tap its points, one after another.", least: 2, most: 200, line: true },
  "across-up": { text: "Right across, up and down", ask: "Tap one point of the line.", least: 1, most: 1 },
  "across-level": { text: "Right across, left to right", ask: "Tap one point of the line.", least: 1, most: 1 },
  round: { text: "Round", ask: "Tap the middle.", least: 1, most: 1, size: ["diameter", "Diameter"] },
  box: { text: "Rectangle", ask: "Tap two opposite corners.", least: 2, most: 2 },
  corners: { text: "Corner by corner", ask: "Tap its corners, one after another.", least: 3, most: 200, line: true, closed: true },
  strip: { text: "Strip", ask: "Tap along its middle.", least: 2, most: 200, line: true, size: ["width", "Width of the strip"] },
  stations: { text: "Along a joint or crack", ask: "Tap where you measured, all on one joint or crack.", least: 2, most: 200, line: true },
  "on-wall": { text: "On a wall", ask: "Tap both ends on the wall.", least: 2, most: 2, line: true },
  nowhere: { text: "", ask: "", least: 0, most: 0 },
};

/// What a joint has from the one before it.
const LIKE = ["kind", "formed", "width", "depth"];
/// How many alike stand in a row and how far apart, and how many such rows.
const ROW = ["count", "right", "up", "rows", "apart"];

export class Recorder {
  constructor({ body, actions, drawing, state, pictures, changed, refresh, made }) {
    Object.assign(this, { body, actions, drawing, state, pictures, changed, refresh, made });
    this.kinds = [];
    this.snap = true;
    this.reset();
  }

  async load() { this.kinds = await home.ask("api/kinds"); }

  reset() {
    this.kind = null;
    this.way = null;
    // The record that is changed, and whether it gets another place.
    this.old = null;
    this.moving = true;
    this.points = [];
    this.values = {};
    // The bytes of a photo that was taken for it.
    this.photo = null;
    // What was sent and not answered.
    this.waiting = null;
    this.fault = null;
    this.serial = (this.serial || 0) + 1;
  }

  get active() { return !!this.kind; }
  get placed() { return this.active && this.points.length >= WAYS[this.way].least; }
  get placing() { return this.active && this.moving && WAYS[this.way].most > 0; }
  // A record that keeps its place has all the points that it needs.
  get ready() { return this.active && (this.placed || (this.old && !this.moving)); }

  // What is said of a record that stands for several items.
  get alike() {
    const { items = [], placed } = this.old || {};
    if (!items.length) return "";
    const fixed = placed ? " They stand at the places of a list, which only the file changes." : " Placed again, the first one goes there and the others follow.";
    return `One record for ${items.length} alike, ${items[0]} to ${items.at(-1)}. What you change here is changed of all of them.${this.kind.ways[0] === "nowhere" ? "" : fixed}`;
  }

  choose(kind) {
    this.reset();
    this.kind = kind;
    this.way = kind.ways[0];
    const state = this.state();
    this.ground = state.ground;
    if (kind.name !== "photo") this.drawing.mark(null);
    if (kind.name === "photo" && this.chosen) this.values.item = this.chosen;
    // Joints of one floor are mostly alike: what the last one had is offered.
    const last = kind.name === "joint" ? state.listed?.records.findLast((old) => old.kind === "joint") : null;
    for (const key of last ? LIKE : []) if (last.values[key]) this.values[key] = last.values[key];
    this.draw();
  }

  // Opens the form of a record that is in the sketch, with its values.
  change(old) {
    this.reset();
    this.old = old;
    this.moving = false;
    this.kind = this.kinds.find((kind) => kind.name === old.kind);
    this.way = this.kind.ways[0];
    for (const { key } of this.kind.fields) if (old.values[key] !== undefined) this.values[key] = old.values[key];
    this.ground = this.state().ground;
    if (old.id) this.drawing.mark(old.id);
    this.draw();
  }

  // What is being typed, so that it can be taken up again; nothing while nothing is.
  get draft() {
    if (this.walked) return this.walked;
    if (!this.active) return null;
    const { way, points, values, ground, old, moving, photo, waiting } = this;
    return { kind: this.kind.name, way, points, values, ground, old, moving, photo, taken: !!photo, waiting };
  }

  // Takes up what was being typed. Says whether there was something.
  restore(draft) {
    const { listed, version } = this.state();
    if (draft?.kind === "outline") {
      // Walls are counted as they were then; of another sketch they would be others.
      if (listed && draft.version === version) this.outline(listed, draft.walked);
      return false;
    }
    const part = this.state().listed?.parts.find((one) => one.name === draft?.kind);
    if (part && draft.old) {
      this.about(part);
      Object.assign(this, { values: draft.values, waiting: draft.waiting });
      this.draw();
      this.resend();
      return true;
    }
    const kind = draft && this.kinds.find((one) => one.name === draft.kind);
    if (!kind || !WAYS[draft.way]) return false;
    // A photo for which there was no room is to be taken again.
    if (draft.taken && !draft.photo) draft = { ...draft, taken: false, waiting: null, values: { ...draft.values, file: undefined } };
    this.reset();
    const { taken, ...kept } = draft;
    Object.assign(this, kept, { kind });
    this.draw();
    this.resend();
    return true;
  }

  // A tap on the floor while something is placed.
  async tap({ floor, reach }) {
    const way = WAYS[this.way];
    const serial = this.serial;
    // What is measured on a line or wall is looked for farther around.
    const onto = { stations: "line", "on-wall": "wall" }[this.way] || "";
    const near = onto ? reach * 2.5 : this.snap ? reach : 0;
    try {
      const place = await home.ask(`api/place?x=${floor.x}&y=${floor.y}&reach=${near}&onto=${onto}`);
      if (serial !== this.serial) return;
      if (this.points.length >= way.most) this.points.pop();
      this.points.push(place);
      this.fault = null;
      // The places count for the outline that is on the screen now.
      if (this.points.length === 1) this.ground = this.state().ground;
      this.draw();
      if (way.most === 1 && !this.old) this.next();
    } catch (error) { say(error.message, true); }
  }

  // A tap on an item while a photo is noted: the photo is of that item.
  tapItem(id) {
    this.values.item = id;
    this.fault = null;
    this.drawing.mark(id);
    this.draw();
  }

  draw() {
    this.body.replaceChildren();
    this.actions.replaceChildren();
    this.actions.hidden = !this.active;
    if (this.keeps) home.keepDraft(this.draft);
    if (!this.active) { this.askedAlike = ""; this.drawing.setPoints([]); this.drawing.setCopies([]); this.drawKinds(); this.changed(); return; }
    const way = WAYS[this.way];
    this.drawing.setPoints(this.points, { ...way, box: this.way === "box" });
    this.showAlike();
    const title = element("h2", { text: this.old ? this.old.label : this.kind.label });
    this.body.append(title);
    const lacking = this.old && this.lacking(this.old);
    if (lacking) this.body.append(element("p", { className: "fault", text: lacking }));
    if (this.alike) this.body.append(element("p", { id: "alike", text: this.alike }));
    if (this.moving) {
      if (this.kind.ways.length > 1) this.body.append(this.wayButtons());
      if (way.most) this.drawPlaces(way);
    }
    this.drawFields(way);
    if (this.old) this.drawOld(way);
    if (this.fault && !this.kind.fields.some((f) => f.key === this.fault.field)) this.body.append(element("p", { className: "fault", text: this.fault.message, role: "alert" }));
    const cancel = element("button", { text: "Cancel", click: () => { this.reset(); this.draw(); } });
    const save = element("button", { text: "Save to sketch", className: "strong", click: () => this.save() });
    save.id = "ui-save";
    this.actions.append(cancel, save);
    this.mind();
    this.changed();
  }

  // Shows where several alike would stand, on the glass and in number. What is still missing is said once it is saved.
  async showAlike() {
    const typed = Object.fromEntries(ROW.filter((key) => this.values[key]).map((key) => [key, this.values[key]]));
    const changed = ROW.some((key) => (this.values[key] || "") !== (this.old?.values[key] || ""));
    const asked = (this.askedAlike = typed.count && (changed || this.points.length) ? JSON.stringify(typed) : "");
    let shifts = [];
    if (asked) {
      try { ({ shifts } = await home.ask("api/alike?" + new URLSearchParams(typed))); } catch { /* not all is typed yet */ }
      if (asked !== this.askedAlike) return;
    }
    const from = this.points.length || !this.old?.id ? null : this.drawing.middle(this.old.items[0] || this.old.id);
    this.drawing.setCopies(shifts.slice(1), from);
    const all = document.getElementById("ui-in-all");
    if (all) all.textContent = shifts.length > 1 ? `${shifts.length} in all, shown on the floor.` : "";
  }

  // Whether what is in the form can be saved now.
  mind() {
    const save = document.getElementById("ui-save");
    if (!save) return;
    save.disabled = !this.ready || this.saving || !!this.waiting;
    if (this.waiting && !this.saving) save.textContent = "Waiting for the connection";
  }

  drawKinds() {
    const { undo, redo, broken } = this.state();
    for (const [way, step, text] of [["undo", undo, "Take back"], ["redo", redo, "Make again"]]) {
      if (!step) continue;
      const button = element("button", { text: `${text}: ${step[1]}`, className: "size", click: () => this.step(way, step) });
      button.id = "ui-" + way;
      button.disabled = !!this.stepping;
      this.body.append(button);
    }
    this.body.append(element("p", { className: "ask", text: broken ? "The sketch has errors. Mend them first, then record." : "What is there?" }));
    const grid = element("div", { className: "kinds" });
    for (const kind of this.kinds) {
      const button = element("button", { text: kind.label, click: () => this.choose(kind) });
      button.dataset.kind = kind.name;
      button.disabled = broken;
      grid.append(button);
    }
    this.body.append(grid);
    this.drawListed();
  }

  // What is in the sketch already, each to be changed or removed, and the forms about the floor as a whole.
  drawListed() {
    const { listed } = this.state();
    if (!listed) return;
    const box = element("div", { className: "kinds" });
    for (const part of listed.parts) {
      const button = element("button", { text: part.label, click: () => this.about(part) });
      button.dataset.part = part.name;
      box.append(button);
    }
    const drawn = listed.runs || listed.corners;
    if (drawn) {
      const outline = element("button", { text: "Outline", click: () => this.outline(listed) });
      outline.id = "ui-outline";
      box.append(outline);
    }
    this.body.append(element("p", { className: "ask", text: "About the floor" }), box);
    if (!drawn) this.body.append(element("p", { text: "A corner of the outline is written over several lines; the outline is changed in the file." }));
    if (!listed.records.length) return;
    const list = element("div", { className: "later" });
    this.body.append(element("p", { className: "ask", text: "In the sketch" }), list);
    for (const old of listed.records) {
      const button = element("button", { className: "row", click: () => this.change(old) });
      const words = element("span", { text: old.items?.length ? `${old.label}, ${old.items.length} alike` : old.label });
      const lacking = this.lacking(old);
      if (lacking) words.append(element("small", { className: "fault", text: lacking }));
      button.append(words, element("small", { text: old.values.note || `line ${old.line}` }));
      button.dataset.path = old.path;
      list.append(button);
    }
  }

  // Why a photo can't be shown, and what would be right; nothing where it can.
  lacking(old) {
    if (old.kind !== "photo") return "";
    const found = this.pictures().find(({ at }) => at && [at.marked, at.marked.slice(1, -1)].includes(old.values.file));
    return found ? `${found.message}: ${found.hint}` : "";
  }

  // The outline walked again, or its corners: corrected, put in, taken out. `kept` is what was changed before the page was ended.
  async outline({ runs, corners }, kept = null) {
    const { version, metric } = this.state();
    const keep = (walked) => { this.walked = { kind: "outline", version, walked }; home.keepDraft(this.walked); };
    const Form = runs ? Walk : Corners;
    const walk = new Form({ send: (path, data) => home.work(path, data), keys: openKeys, runs: runs || corners, metric, kept, keep });
    try { await walk.trace(); } catch (error) { say(error.message, true); return; }
    const dialog = document.getElementById("ui-jobs");
    const top = element("div", { className: "top" });
    const title = element("h2", { text: "Outline" });
    title.id = "ui-jobs-label";
    top.append(title, element("button", { text: "Close", click: () => dialog.close() }));
    const body = element("div", { className: "jobs" });
    dialog.replaceChildren(top, body);
    const end = () => { this.walked = null; home.keepDraft(this.draft); };
    dialog.addEventListener("close", end, { once: true });
    walk.draw(body, async (changed) => {
      const done = await home.send("api/amend", { version, path: "outline", ...changed });
      dialog.close();
      this.made(done);
      say("The outline is changed.");
    });
    dialog.showModal();
  }

  // A form about the floor as a whole.
  about(part) {
    const kind = { name: part.name, label: part.label, ways: ["nowhere"], fields: part.fields };
    const values = Object.fromEntries(part.fields.filter((field) => field.value).map((field) => [field.key, field.value]));
    this.reset();
    Object.assign(this, { kind, way: "nowhere", moving: false, values: { ...values }, old: { path: part.name, label: part.label, kind: part.name, values, whole: true } });
    this.draw();
  }

  // What else can be done to a record that is there.
  drawOld(way) {
    if (way.most && !this.moving && !this.old.placed) {
      const move = element("button", { text: "Place it again", className: "full", click: () => { this.moving = true; this.draw(); } });
      move.id = "ui-move";
      this.body.append(move);
    }
    if (this.old.whole) return;
    const remove = element("button", { text: this.old.items?.length ? `Remove all ${this.old.items.length} from the sketch` : "Remove it from the sketch", className: "full", click: () => this.save(true) });
    remove.id = "ui-remove";
    this.body.append(remove);
  }

  wayButtons() {
    const row = element("div", { className: "choices" });
    for (const name of this.kind.ways) {
      const button = element("button", { text: WAYS[name].text, pressed: name === this.way, click: () => {
        this.way = name;
        this.points = this.points.slice(0, WAYS[name].most);
        this.draw();
      } });
      button.dataset.way = name;
      row.append(button);
    }
    return row;
  }

  drawPlaces(way) {
    const head = element("div", { className: "top" });
    const enough = this.points.length >= way.least;
    head.append(element("p", { className: "ask", text: this.points.length && way.most === 1 ? "Tap again to move it." : way.ask }));
    const snap = element("button", { text: "Snap", pressed: this.snap, click: () => { this.snap = !this.snap; this.draw(); } });
    snap.setAttribute("aria-label", "Draw taps to joints, walls and corners");
    head.append(snap);
    this.body.append(head);
    this.points.forEach((point, i) => this.body.append(this.placeRow(point, i)));
    if (!enough && this.points.length) {
      const more = way.least - this.points.length;
      this.body.append(element("p", { text: more === 1 ? "One more." : `${more} more.` }));
    }
  }

  placeRow(point, i) {
    const row = element("div", { className: "place" });
    const form = point.form;
    const number = this.points.length > 1 ? `${i + 1}: ` : "";
    const on = form.wall ? `wall ${form.wall}` : form.line || point.words;
    const name = element("span", { text: number + on });
    name.title = point.words;
    row.append(name);
    const edit = (key, short, label) => {
      const button = element("button", { click: () => openKeys({
        name: label, takes: "long", metric: this.state().metric, value: form[key],
        done: (text) => this.retype(i, key, text || "0"),
      }) });
      button.append(element("small", { text: short + " " }), form[key]);
      button.setAttribute("aria-label", `${short} ${form[key]}: ${label}. Change it`);
      return button;
    };
    if (form.wall) row.append(edit("along", "along", `Along wall ${form.wall}, from corner ${form.wall}`), edit("out", "out", `Out from wall ${form.wall}`));
    else if (form.line) row.append(edit("at", "at", `Along ${form.line}, from its first point`));
    const off = element("button", { text: "✕", click: () => { this.points.splice(i, 1); this.draw(); } });
    off.setAttribute("aria-label", `Remove point ${i + 1}`);
    row.append(off);
    return row;
  }

  // A place typed instead of tapped.
  async retype(i, key, text) {
    const form = { ...this.points[i].form, [key]: text };
    const serial = this.serial;
    try {
      const place = await home.ask("api/place?" + new URLSearchParams(form));
      if (serial !== this.serial || !this.points[i]) return;
      this.points[i] = place;
      this.draw();
    } catch (error) { say(error.message, true); }
  }

  drawFields(way) {
    const fields = [];
    if (way.size && this.moving) fields.push({ key: way.size[0], label: way.size[1], takes: "long", needed: true, choices: [] });
    for (const field of this.kind.fields) {
      if (this.old?.placed && ROW.includes(field.key)) continue;
      if (field.takes !== "steps") fields.push(field);
      else if (this.moving) this.points.forEach((p, i) => fields.push({ key: `step-${i + 1}`, label: `Offset at ${p.form.at || "?"}`, takes: "small", needed: true, choices: [] }));
    }
    const grid = element("div", { className: "fields" });
    for (const field of fields) grid.append(this.field(field));
    this.body.append(grid);
    if (!fields.some((field) => field.key === "count")) return;
    const all = element("p", { id: "in-all" });
    all.setAttribute("aria-live", "polite");
    this.body.append(all);
  }

  // Opens the next number that is still missing, behind `key`: the tape is read in that order.
  next(key) {
    const buttons = [...this.body.querySelectorAll("[data-field]")];
    const from = key ? buttons.findIndex((button) => button.dataset.field === key) + 1 : 0;
    buttons.slice(from).find((button) => button.dataset.needed && button.classList.contains("empty"))?.click();
  }

  field(field) {
    const box = element("div");
    const id = `ui-field-${field.key}`;
    const value = this.values[field.key] || "";
    const name = element(field.takes === "choice" ? "p" : "label", { className: "ask", text: field.label });
    if (!field.needed) name.append(element("small", { text: " (if known)" }));
    box.append(name);
    const set = (text) => { if (text) this.values[field.key] = text; else delete this.values[field.key]; this.fault = null; home.keepDraft(this.draft); };
    if (field.takes === "choice") {
      box.className = "wide";
      const row = element("div", { className: "choices" });
      for (const [word, label] of field.choices) {
        const button = element("button", { text: label, pressed: value === word, click: () => { set(value === word && !field.needed ? "" : word); this.draw(); } });
        button.dataset.choice = `${field.key}:${word}`;
        row.append(button);
      }
      box.append(row);
    } else if (this.kind.name === "photo" && field.key === "file") {
      box.className = "wide";
      name.htmlFor = id;
      box.append(this.camera(id));
      if (home.beside && !this.photo) box.append(this.typed(`${id}-name`, field, value, set, "Or the name of one beside the sketch"));
    } else if (field.takes === "text" || field.takes === "day") {
      box.className = "wide";
      name.htmlFor = id;
      box.append(this.typed(id, field, value, set));
    } else {
      const button = element("button", { text: value || "Tap to type", className: value ? "size" : "size empty", click: () => openKeys({
        name: field.label, field: field.key, takes: field.takes, metric: this.state().metric, value,
        done: (text) => { set(text); this.draw(); if (text) this.next(field.key); },
      }) });
      button.id = id;
      name.htmlFor = id;
      button.dataset.field = field.key;
      // Of a test the first number is wanted, whichever it is.
      if (field.needed || (!this.old && this.kind.fields[0].key === field.key)) button.dataset.needed = "yes";
      box.append(button);
    }
    if (this.fault && this.fault.field === field.key) box.append(element("p", { className: "fault", text: this.fault.message }));
    return box;
  }

  // A line of text.
  typed(id, field, value, set, label = "") {
    const input = element("input");
    input.id = id;
    input.value = value;
    input.maxLength = 300;
    if (field.takes === "day") input.type = "date";
    input.autocomplete = "off";
    input.addEventListener("input", () => set(input.value.trim()));
    if (!label) return input;
    const box = element("div");
    const name = element("label", { className: "ask", text: label });
    name.htmlFor = id;
    box.append(name, input);
    return box;
  }

  // Takes a photo, or one of the album; it is kept once the record is.
  camera(id) {
    const input = element("input");
    Object.assign(input, { type: "file", accept: "image/jpeg,image/png", id, hidden: true });
    const button = element("button", { text: this.photo ? `${this.values.file}. Take another` : "Take a photo", className: "full", click: () => input.click() });
    button.id = "ui-camera";
    const { serial } = this;
    input.addEventListener("change", async () => {
      const [file] = input.files;
      if (!file) return;
      say("The photo is being made smaller.");
      try {
        const bytes = await home.develop(file);
        if (serial !== this.serial) return;
        this.photo = bytes;
        const of = (this.values.item || "photo").replace(/[^A-Za-z0-9.-]+/g, "-");
        this.values.file = `photos/${of}-${Date.now().toString(36)}.jpg`;
        this.fault = null;
        say("The photo is there. Save it to the sketch.");
      } catch (error) { this.fault = { field: "file", message: error.message }; }
      if (serial === this.serial) this.draw();
    });
    const box = element("div");
    box.append(button, input);
    return box;
  }

  // What is sent: a new record, or what was changed of one that is there.
  request(remove) {
    const state = this.state();
    const points = this.moving ? this.points.map((p) => p.form) : [];
    const common = { version: state.version, ground: this.ground || state.ground, points, values: this.values };
    if (!this.old) return ["api/record", { ...common, kind: this.kind.name, way: this.way }];
    const { path, values: before } = this.old;
    if (remove) return ["api/amend", { version: state.version, path, remove: true }];
    const values = {};
    const keys = new Set([...this.kind.fields.map((field) => field.key), ...Object.keys(this.values)]);
    for (const key of keys) if ((this.values[key] || "") !== (before[key] || "")) values[key] = this.values[key] || "";
    return ["api/amend", { ...common, path, values, way: points.length ? this.way : null }];
  }

  async save(remove = false) {
    if (this.saving) return;
    this.saving = true;
    this.mind();
    const { serial } = this;
    // Sent again, after the connection was lost or the page was ended before the answer, it is the same change, not a second one.
    const sent = this.waiting || { request: this.request(remove), once: String(Math.random()).slice(2) };
    const { request: [path, entry], once } = sent;
    this.waiting = sent;
    // Where a change is made at once or not at all, the form as it was kept before is enough.
    if (home.remote) home.keepDraft(this.draft);
    let done = null;
    try { done = await home.send(path, entry, { once, photos: this.photo ? [{ file: entry.values.file, bytes: this.photo }] : [] }); } catch (error) {
      if (serial === this.serial && !error.lost) Object.assign(this, { waiting: null, fault: { field: error.field, message: error.message } });
      say(error.lost ? "No connection. What you typed is kept here and sent as soon as it is back." : error.message, true);
    }
    this.saving = false;
    if (!done) { this.draw(); return; }
    const also = done.merged ? " The sketch had been changed meanwhile; both are kept." : "";
    say(`${done.label}${this.old ? "" : " is in the sketch"}.${also}`);
    // What was begun meanwhile stays.
    if (serial === this.serial) this.reset();
    // What can be taken back is this record now: the button must never offer the one before.
    this.made(done);
    if (this.active) this.draw();
  }

  // The connection is back.
  resend() { if (this.waiting && !this.saving) this.save(); }

  // Goes one change back, or forth again.
  async step(way, [number]) {
    if (this.stepping) return;
    this.stepping = true;
    for (const button of this.body.querySelectorAll("#ui-undo, #ui-redo")) button.disabled = true;
    let done = null;
    try { done = await home.send("api/" + way, { number }); } catch (error) { say(error.message, true); }
    this.stepping = false;
    if (done) {
      say(way === "undo" ? `${done.label} is taken back.` : `${done.label} is in the sketch again.`);
      this.made(done);
      return;
    }
    await this.refresh();
    if (!this.active) this.draw();
  }
}
