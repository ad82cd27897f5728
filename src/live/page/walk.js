// The outline walked on the glass: direction and length of each run, the floor as it grows, and how far off it ends.

import { SVG, element } from "./dom.js";

const DIRECTIONS = [
  ["N45W", "↖"], ["N", "↑"], ["N45E", "↗"],
  ["W", "←"], null, ["E", "→"],
  ["S45W", "↙"], ["S", "↓"], ["S45E", "↘"],
];
const SPOKEN = { N: "Up", E: "Right", S: "Down", W: "Left", N45E: "Up and right", N45W: "Up and left", S45E: "Down and right", S45W: "Down and left" };

export class Walk {
  // Of a new floor, or of one whose `runs` are in the sketch.
  constructor({ send, keys, runs = null, metric = false }) {
    Object.assign(this, { send, keys, metric });
    this.name = "";
    this.fresh = !runs;
    this.runs = runs || [];
    // The wall behind which the next one goes; behind the last where none is chosen.
    this.behind = null;
    this.traced = { corners: [[0, 0]], closed: false, gap: "0", closing: null };
    this.fault = null;
  }

  // Shows the form in `body`; `done` gets the sketch.
  draw(body, done) {
    this.body = body;
    this.done = done;
    body.replaceChildren();
    if (this.fresh) this.naming(body);
    body.append(this.picture(), this.pad(), this.list());
    if (this.fault) body.append(element("p", { className: "fault", text: this.fault, role: "alert" }));
    const save = element("button", { text: this.fresh ? "Begin with this floor" : "Save the outline", className: "strong full", click: () => this.save() });
    save.id = "ui-begin";
    // How far off a tape may end is for the program to say.
    save.disabled = this.runs.length < 3 || this.busy || this.saving;
    body.append(save);
  }

  naming(body) {
    const label = element("label", { className: "ask", text: "Name of the job" });
    const input = element("input");
    input.id = "ui-job-name";
    input.maxLength = 120;
    input.autocomplete = "off";
    input.value = this.name;
    label.htmlFor = input.id;
    input.addEventListener("input", () => { this.name = input.value; });
    body.append(label, input);
    if (!this.runs.length) body.append(this.units());
  }

  again() { this.draw(this.body, this.done); }

  // Shows where the runs lead that are there already.
  async trace() { this.traced = await this.send("api/walk", { metric: this.metric, runs: this.runs }); }

  units() {
    const row = element("div", { className: "choices" });
    for (const [metric, text] of [[false, "Feet and inches"], [true, "Meters"]]) {
      row.append(element("button", { text, pressed: this.metric === metric, click: () => { this.metric = metric; this.again(); } }));
    }
    return row;
  }

  picture() {
    const svg = document.createElementNS(SVG, "svg");
    svg.setAttribute("class", "walked");
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", `The walk so far: ${this.runs.join(", ") || "nothing yet"}`);
    const points = this.traced.corners.map(([x, y]) => [x, -y]);
    const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])];
    const [left, top] = [Math.min(...xs), Math.min(...ys)];
    const size = Math.max(Math.max(...xs) - left, Math.max(...ys) - top, 1);
    const m = size * 0.12;
    svg.setAttribute("viewBox", [left - m, top - m, Math.max(...xs) - left + 2 * m, Math.max(...ys) - top + 2 * m].join(" "));
    const make = (name, set) => {
      const el = document.createElementNS(SVG, name);
      for (const [k, v] of Object.entries(set)) el.setAttribute(k, v);
      svg.append(el);
    };
    const d = "M" + points.map((p) => p.join(" ")).join("L");
    make("path", { d: d + (this.traced.closed ? "Z" : ""), class: "wall" });
    if (!this.traced.closed && points.length > 2) make("path", { d: `M${points.at(-1).join(" ")}L${points[0].join(" ")}`, class: "gap" });
    for (const [x, y] of [points[0], points.at(-1)]) make("circle", { cx: x, cy: y, r: size * 0.025 });
    return svg;
  }

  // Eight directions round the length of the last run.
  pad() {
    const grid = element("div", { className: "compass" });
    for (const direction of DIRECTIONS) {
      if (!direction) {
        const bearing = element("button", { text: "Other", click: () => this.run(null) });
        bearing.setAttribute("aria-label", "Another direction, by degrees");
        grid.append(bearing);
        continue;
      }
      const [word, arrow] = direction;
      const button = element("button", { text: arrow, click: () => this.run(word) });
      button.setAttribute("aria-label", SPOKEN[word]);
      button.dataset.run = word;
      button.disabled = this.traced.closed && this.behind === null;
      grid.append(button);
    }
    return grid;
  }

  list() {
    const box = element("div");
    this.runs.forEach((run, i) => {
      const row = element("div", { className: "place" });
      const chosen = this.behind === i;
      const behind = element("button", { text: `Wall ${i + 1}`, pressed: chosen, click: () => { this.behind = chosen ? null : i; this.again(); } });
      behind.setAttribute("aria-label", `Wall ${i + 1}: put the next wall behind it`);
      row.append(behind);
      const [, direction, length] = run.match(/^(\S+)\s+(.+)$/) || [null, run, ""];
      const edit = element("button", { text: run, click: () => { if (length) this.keys({ name: `Length of wall ${i + 1}`, takes: "long", metric: this.metric, value: length, done: (text) => text && this.put(i, `${direction} ${text}`, 1) }); } });
      edit.setAttribute("aria-label", `Wall ${i + 1}: ${run}. Change its length`);
      const off = element("button", { text: "✕", click: () => this.put(i, null, 1) });
      off.setAttribute("aria-label", `Remove wall ${i + 1}`);
      row.append(edit, off);
      box.append(row);
    });
    const { closed, closing, gap } = this.traced;
    if (this.runs.length > 1) box.append(element("p", { className: "ask", text: closed ? "The walk is closed." : `Still ${gap} to the start.` }));
    if (closing) {
      const close = element("button", { text: `Last wall as measured: ${closing}`, className: "full", click: () => this.put(this.runs.length, closing) });
      close.id = "ui-closing";
      const bare = element("button", { text: "Close without taping it", className: "full", click: () => this.put(this.runs.length, "close") });
      bare.id = "ui-close-walk";
      box.append(close, bare);
    }
    return box;
  }

  run(direction) {
    const length = (word) => this.keys({
      name: `${SPOKEN[word] || word}: how far?`, takes: "long", metric: this.metric, value: "",
      done: (text) => text && this.put(this.behind === null ? this.runs.length : this.behind + 1, `${word} ${text}`),
    });
    if (direction) { length(direction); return; }
    const quarters = [["N", "E"], ["S", "E"], ["S", "W"], ["N", "W"]];
    this.keys({
      name: "Degrees clockwise from up", takes: "number", metric: this.metric, value: "",
      done: (text) => {
        const degrees = Number(text) % 360;
        if (!text || !Number.isFinite(degrees)) return;
        const quarter = Math.floor(degrees / 90) % 4;
        const angle = quarter % 2 ? 90 - (degrees - 90 * quarter) : degrees - 90 * quarter;
        length(`${quarters[quarter][0]}${Math.round(angle * 100) / 100}${quarters[quarter][1]}`);
      },
    });
  }

  // Puts a run in its place, or in the place of another, or takes it out, if the walk can then still be drawn.
  async put(i, run, over = 0) {
    const runs = [...this.runs];
    runs.splice(i, over, ...(run ? [run] : []));
    this.behind = this.behind !== null && run && !over ? i : null;
    this.busy = true;
    this.again();
    try {
      this.traced = await this.send("api/walk", { metric: this.metric, runs });
      this.runs = runs;
      this.fault = null;
    } catch (error) { this.fault = error.message; }
    this.busy = false;
    this.again();
  }

  async save() {
    if (this.saving) return;
    this.saving = true;
    this.fault = null;
    try {
      if (!this.fresh) { await this.done(this.runs); return; }
      const { text } = await this.send("api/begin", { metric: this.metric, runs: this.runs, name: this.name });
      await this.done({ name: this.name.trim(), text });
      return;
    } catch (error) { this.fault = error.message; } finally { this.saving = false; }
    this.again();
  }
}
