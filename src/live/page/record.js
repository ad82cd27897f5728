// Recording: what it is, where it is, how large it is, and off to the sketch.

import { openKeys } from "./keys.js";
import { ask, element, say, send } from "./app.js";

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

export class Recorder {
  constructor({ body, actions, drawing, state, changed, refresh }) {
    Object.assign(this, { body, actions, drawing, state, changed, refresh });
    this.kinds = [];
    this.snap = true;
    this.reset();
  }

  async load() { this.kinds = await ask("api/kinds"); }

  reset() {
    this.kind = null;
    this.way = null;
    this.points = [];
    this.values = {};
    this.fault = null;
    this.serial = (this.serial || 0) + 1;
  }

  get active() { return !!this.kind; }
  get placed() { return this.active && this.points.length >= WAYS[this.way].least; }
  get placing() { return this.active && WAYS[this.way].most > 0; }

  choose(kind) {
    this.reset();
    this.kind = kind;
    this.way = kind.ways[0];
    const state = this.state();
    this.ground = state.ground;
    if (kind.name !== "photo") this.drawing.mark(null);
    if (kind.name === "photo" && this.chosen) this.values.item = this.chosen;
    this.draw();
  }

  // A tap on the floor while something is placed.
  async tap({ floor, reach }) {
    const way = WAYS[this.way];
    const serial = this.serial;
    // What is measured on a line or wall is looked for farther around.
    const onto = { stations: "line", "on-wall": "wall" }[this.way] || "";
    const near = onto ? reach * 2.5 : this.snap ? reach : 0;
    try {
      const place = await ask(`api/place?x=${floor.x}&y=${floor.y}&reach=${near}&onto=${onto}`);
      if (serial !== this.serial) return;
      if (this.points.length >= way.most) this.points.pop();
      this.points.push(place);
      this.fault = null;
      // The places count for the outline that is on the screen now.
      if (this.points.length === 1) this.ground = this.state().ground;
      this.draw();
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
    if (!this.active) { this.drawing.setPoints([]); this.drawKinds(); this.changed(); return; }
    const way = WAYS[this.way];
    this.drawing.setPoints(this.points, { ...way, box: this.way === "box" });
    const title = element("h2", { text: this.kind.label });
    this.body.append(title);
    if (this.kind.ways.length > 1) this.body.append(this.wayButtons());
    if (way.most) this.drawPlaces(way);
    this.drawFields(way);
    if (this.fault && !this.kind.fields.some((f) => f.key === this.fault.field)) this.body.append(element("p", { className: "fault", text: this.fault.message, role: "alert" }));
    const cancel = element("button", { text: "Cancel", click: () => { this.reset(); this.draw(); } });
    const save = element("button", { text: "Save to sketch", className: "strong", click: () => this.save() });
    save.id = "ui-save";
    save.disabled = this.points.length < way.least || this.saving;
    this.actions.append(cancel, save);
    this.changed();
  }

  drawKinds() {
    const { undo, broken } = this.state();
    if (undo) {
      const back = element("button", { text: `Take back: ${undo[1]}`, className: "size", click: () => this.undo() });
      back.id = "ui-undo";
      back.disabled = !!this.undoing;
      this.body.append(back);
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
      const place = await ask("api/place?" + new URLSearchParams(form));
      if (serial !== this.serial || !this.points[i]) return;
      this.points[i] = place;
      this.draw();
    } catch (error) { say(error.message, true); }
  }

  drawFields(way) {
    const fields = [];
    if (way.size) fields.push({ key: way.size[0], label: way.size[1], takes: "long", needed: true, choices: [] });
    for (const field of this.kind.fields) {
      if (field.takes !== "steps") fields.push(field);
      else this.points.forEach((p, i) => fields.push({ key: `step-${i + 1}`, label: `Step at ${p.form.at || "?"}`, takes: "small", needed: true, choices: [] }));
    }
    const grid = element("div", { className: "fields" });
    for (const field of fields) grid.append(this.field(field));
    this.body.append(grid);
  }

  field(field) {
    const box = element("div");
    const id = `ui-field-${field.key}`;
    const value = this.values[field.key] || "";
    const name = element(field.takes === "choice" ? "p" : "label", { className: "ask", text: field.label });
    if (!field.needed) name.append(element("small", { text: " (if known)" }));
    box.append(name);
    const set = (text) => { if (text) this.values[field.key] = text; else delete this.values[field.key]; this.fault = null; };
    if (field.takes === "choice") {
      box.className = "wide";
      const row = element("div", { className: "choices" });
      for (const [word, label] of field.choices) {
        const button = element("button", { text: label, pressed: value === word, click: () => { set(value === word ? "" : word); this.draw(); } });
        button.dataset.choice = `${field.key}:${word}`;
        row.append(button);
      }
      box.append(row);
    } else if (field.takes === "text") {
      box.className = "wide";
      const input = element("input");
      input.id = id;
      input.value = value;
      input.maxLength = 300;
      input.autocomplete = "off";
      name.htmlFor = id;
      input.addEventListener("input", () => set(input.value.trim()));
      box.append(input);
    } else {
      const button = element("button", { text: value || "Tap to type", className: value ? "size" : "size empty", click: () => openKeys({
        name: field.label, takes: field.takes, metric: this.state().metric, value, done: (text) => { set(text); this.draw(); },
      }) });
      button.id = id;
      name.htmlFor = id;
      button.dataset.field = field.key;
      box.append(button);
    }
    if (this.fault && this.fault.field === field.key) box.append(element("p", { className: "fault", text: this.fault.message }));
    return box;
  }

  async save() {
    if (this.saving) return;
    this.saving = true;
    const { serial } = this;
    const state = this.state();
    const entry = {
      version: state.version, ground: this.ground || state.ground, kind: this.kind.name, way: this.way,
      points: this.points.map((p) => p.form), values: this.values,
    };
    let done = null;
    try { done = await send("api/record", entry); } catch (error) {
      if (serial === this.serial) this.fault = { field: error.field, message: error.message };
      say(error.message, true);
    }
    if (done) {
      // What can be taken back is this record now: the button must never offer the one before.
      await this.refresh();
      const also = done.merged ? " The sketch had been changed meanwhile; both are kept." : "";
      say(`${done.label} is in the sketch.${also}`);
      // What was begun meanwhile stays.
      if (serial === this.serial) this.reset();
    }
    this.saving = false;
    this.draw();
  }

  async undo() {
    const { undo } = this.state();
    if (!undo || this.undoing) return;
    this.undoing = true;
    this.draw();
    try {
      const done = await send("api/undo", { number: undo[0] });
      say(`${done.label} is taken back.`);
    } catch (error) { say(error.message, true); }
    await this.refresh();
    this.undoing = false;
    if (!this.active) this.draw();
  }
}
