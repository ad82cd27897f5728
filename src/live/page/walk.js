// The outline walked on the glass: direction and length of each run, straight or curved, the floor as it grows, how far off it
// ends, corners that are moved, doorways and diagonals.

import { SVG, element } from "./dom.js";

const DIRECTIONS = [
  ["N45W", "↖"], ["N", "↑"], ["N45E", "↗"],
  ["W", "←"], null, ["E", "→"],
  ["S45W", "↙"], ["S", "↓"], ["S45E", "↘"],
];
const SPOKEN = { N: "Up", E: "Right", S: "Down", W: "Left", N45E: "Up and right", N45W: "Up and left", S45E: "Down and right", S45W: "Down and left" };
/// How a wall runs: what it is called, and what is asked behind its length or the line between its ends.
const SHAPES = {
  straight: ["Straight", []],
  rise: ["Curved, by its rise", ["How far does its middle stand off that line?"]],
  radius: ["Curved, by its radius", ["Its radius"]],
  point: ["Curved, by a point of it", ["From the first end to a point of the wall", "From that point to the other end"]],
};

export class Walk {
  // Of a new floor, or of one whose `runs` are in the sketch. `kept` is what was walked before the page was ended, `keep` keeps it.
  constructor({ send, keys, runs = null, metric = false, kept = null, keep = () => {} }) {
    Object.assign(this, { send, keys, keep, metric });
    this.fresh = !runs;
    this.name = "";
    // Each run with the number of the wall that it is in the sketch, and its doorways.
    this.runs = (runs || []).map((text, i) => ({ text, was: i + 1, doors: [] }));
    this.checks = [];
    // How far corner 1 went to the right and up, meters.
    this.shift = [0, 0];
    this.shape = "straight";
    this.hand = "left";
    // What the directions are for: the next wall, one behind another, one anew, or a corner that moves.
    this.aim = { what: "next" };
    if (kept) for (const key of ["name", "metric", "runs", "checks", "shift"]) this[key] = kept[key] ?? this[key];
    this.traced = { corners: [[0, 0]], walls: [], diagonals: [], closed: false, gap: "0", closing: null };
    this.fault = null;
  }

  // What is walked so far, to be taken up again.
  get draft() { const { name, metric, runs, checks, shift } = this; return { name, metric, runs, checks, shift }; }

  // Shows the form in `body`; `done` gets the sketch.
  draw(body, done) {
    this.body = body;
    this.done = done;
    body.replaceChildren();
    if (this.fresh) this.naming(body);
    body.append(this.picture(), this.shapes(), this.pad(), this.list());
    if (this.fresh && this.traced.corners.length > 2) body.append(this.diagonals());
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
    input.addEventListener("input", () => { this.name = input.value; this.keep(this.draft); });
    body.append(label, input);
    if (!this.runs.length) body.append(this.units());
  }

  again() { this.draw(this.body, this.done); }

  // What is sent of the walk as it is, or as it would be.
  asked(runs = this.runs, checks = this.checks) { return { metric: this.metric, runs: runs.map((run) => run.text), checks, shift: this.shift }; }

  // Shows where the runs lead that are there already.
  async trace() { this.traced = await this.send("api/walk", this.asked()); }

  units() {
    const row = element("div", { className: "choices" });
    for (const [metric, text] of [[false, "Feet and inches"], [true, "Meters"]]) {
      row.append(element("button", { text, pressed: this.metric === metric, click: () => { this.metric = metric; this.keep(this.draft); this.again(); } }));
    }
    return row;
  }

  picture() {
    const svg = document.createElementNS(SVG, "svg");
    svg.setAttribute("class", "walked");
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", `The walk so far: ${this.runs.map((run) => run.text).join(", ") || "nothing yet"}`);
    const flip = ([x, y]) => [x, -y];
    const corners = this.traced.corners.map(flip);
    const walls = this.traced.walls.map((wall) => wall.map(flip));
    const all = [...corners, ...walls.flat()];
    const [xs, ys] = [all.map((p) => p[0]), all.map((p) => p[1])];
    const [left, top] = [Math.min(...xs), Math.min(...ys)];
    const size = Math.max(Math.max(...xs) - left, Math.max(...ys) - top, 1);
    const m = size * 0.14;
    svg.setAttribute("viewBox", [left - m, top - m, Math.max(...xs) - left + 2 * m, Math.max(...ys) - top + 2 * m].join(" "));
    const make = (name, set, text) => {
      const el = document.createElementNS(SVG, name);
      for (const [k, v] of Object.entries(set)) el.setAttribute(k, v);
      if (text) el.textContent = text;
      svg.append(el);
      return el;
    };
    walls.forEach((wall, i) => make("path", { d: "M" + wall.map((p) => p.join(" ")).join("L"), class: this.aim.wall === i ? "wall chosen" : "wall" }));
    const [first, last] = [corners[0], corners.at(-1)];
    const shut = this.traced.closed;
    if (!shut && corners.length > 2) make("path", { d: `M${last.join(" ")}L${first.join(" ")}`, class: "gap" });
    // The end of a walk that is closed is its start.
    const named = shut && corners.length > this.walls ? corners.slice(0, -1) : corners;
    const middle = [left + (Math.max(...xs) - left) / 2, top + (Math.max(...ys) - top) / 2];
    named.forEach(([x, y], i) => {
      make("circle", { cx: x, cy: y, r: size * 0.02, class: this.aim.corner === i + 1 ? "chosen" : "corner" });
      const away = Math.hypot(x - middle[0], y - middle[1]) || 1;
      const at = (from, center) => from + (from - center) / away * size * 0.075;
      make("text", { x: at(x, middle[0]), y: at(y, middle[1]), "font-size": size * 0.075 }, String(i + 1));
    });
    return svg;
  }

  // How many walls, and so corners, the outline has.
  get walls() { return this.runs.length; }

  shapes() {
    const box = element("div");
    const choices = (pairs, now, choose) => {
      const row = element("div", { className: "choices" });
      for (const [word, text] of pairs) {
        const button = element("button", { text, pressed: word === now, click: () => { choose(word); this.again(); } });
        button.dataset.shape = word;
        row.append(button);
      }
      return row;
    };
    const { what, wall, corner } = this.aim;
    const aim = { next: "The next wall", behind: `A wall behind wall ${wall + 1}`, anew: `Wall ${wall + 1} anew`, corner: `Corner ${corner} goes` }[what];
    const words = element("p", { className: "ask", text: aim });
    words.id = "ui-aim";
    box.append(words);
    if (what === "corner") return box;
    box.append(choices(Object.entries(SHAPES).map(([word, [text]]) => [word, text]), this.shape, (word) => { this.shape = word; }));
    if (this.shape === "straight") return box;
    box.append(element("p", { className: "ask", text: "As you walk, it bends to the" }), choices([["left", "Left"], ["right", "Right"]], this.hand, (word) => { this.hand = word; }));
    box.append(element("p", { text: "Now tap where its other end lies, and tape the straight line between its ends." }));
    return box;
  }

  // Eight directions round another one.
  pad() {
    const grid = element("div", { className: "compass" });
    const shut = this.traced.closed && this.aim.what === "next";
    for (const direction of DIRECTIONS) {
      if (!direction) {
        const bearing = element("button", { text: "Other", click: () => this.bearing() });
        bearing.setAttribute("aria-label", "Another direction, by degrees");
        bearing.disabled = shut;
        grid.append(bearing);
        continue;
      }
      const [word, arrow] = direction;
      const button = element("button", { text: arrow, click: () => this.run(word) });
      button.setAttribute("aria-label", SPOKEN[word]);
      button.dataset.run = word;
      button.disabled = shut;
      grid.append(button);
    }
    if (this.shape !== "straight" && this.runs.length && ["next", "behind"].includes(this.aim.what)) {
      const on = element("button", { text: "It goes on as the wall before", className: "on", click: () => this.run("") });
      on.dataset.run = "on";
      grid.append(on);
    }
    return grid;
  }

  list() {
    const box = element("div");
    this.runs.forEach((run, i) => {
      const row = element("div", { className: "place" });
      const chosen = this.aim.wall === i;
      const more = element("button", { text: `Wall ${i + 1}`, pressed: chosen, click: () => this.target(chosen ? { what: "next" } : { what: "behind", wall: i }) });
      more.setAttribute("aria-label", `Wall ${i + 1}: a wall behind it, a corner, a doorway`);
      const edit = element("button", { text: run.text, className: "run", click: () => this.length(i) });
      edit.setAttribute("aria-label", `Wall ${i + 1}: ${run.text}. Change its length`);
      edit.disabled = run.text === "close";
      const off = element("button", { text: "✕", click: () => this.put(i, null, 1) });
      off.setAttribute("aria-label", `Remove wall ${i + 1}`);
      row.append(more, edit, off);
      box.append(row);
      if (chosen) box.append(this.about(i));
      run.doors.forEach((door, at) => box.append(this.line(`Doorway in wall ${i + 1}, ${door.from} to ${door.to}`, `Remove the doorway in wall ${i + 1}`, () => { run.doors.splice(at, 1); this.kept(); })));
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

  // What else can be done with a wall.
  about(i) {
    const row = element("div", { className: "choices" });
    const end = i + 2 > this.walls && this.traced.closed ? 1 : i + 2;
    const button = (name, text, click) => { const b = element("button", { text, click }); b.dataset.wall = name; row.append(b); };
    if (this.runs[i].text !== "close") button("anew", "Walk it anew", () => this.target({ what: "anew", wall: i }));
    for (const corner of [i + 1, end]) button(`corner-${corner}`, `Move corner ${corner}`, () => this.target({ what: "corner", wall: i, corner }));
    if (this.fresh) button("door", "A doorway in it", () => this.door(i));
    return row;
  }

  line(text, say, remove) {
    const row = element("div", { className: "place" });
    const off = element("button", { text: "✕", click: remove });
    off.setAttribute("aria-label", say);
    row.append(element("span", { text }), off);
    return row;
  }

  // The directions are for something else now; they come into sight, wherever that was tapped.
  target(aim) {
    this.aim = aim;
    this.again();
    if (aim.what === "anew" || aim.what === "corner") document.getElementById("ui-aim").scrollIntoView();
  }

  // Something about the walk is other than before, but no wall.
  kept() { this.keep(this.draft); this.again(); }

  door(i) {
    const corner = `corner ${i + 1}`;
    this.several([["long", `The doorway begins, from ${corner}`], ["long", `It ends, from ${corner}`]], ([from, to]) => { this.runs[i].doors.push({ from, to }); this.kept(); });
  }

  diagonals() {
    const box = element("div");
    this.checks.forEach((check, i) => {
      const text = `Corner ${check.from} to ${check.to}: ${check.measured} taped, ${this.traced.diagonals[i] ?? "…"} as walked`;
      box.append(this.line(text, `Remove the diagonal from corner ${check.from} to ${check.to}`, () => { this.checks.splice(i, 1); this.traced.diagonals.splice(i, 1); this.kept(); }));
    });
    const add = element("button", { text: "A taped diagonal", className: "full", click: () => this.several([["number", "From which corner?"], ["number", "To which corner?"], ["long", "How far?"]], ([from, to, measured]) => this.change(this.runs, { checks: [...this.checks, { from: Number(from) || 0, to: Number(to) || 0, measured }] })) });
    add.id = "ui-diagonal";
    box.append(add);
    return box;
  }

  // Asks for one number after the other; nothing where one is left out.
  several([first, ...rest], done, got = []) {
    const [takes, name] = first;
    this.keys({ name, takes, metric: this.metric, value: "", done: (text) => {
      if (!text) return;
      if (rest.length) this.several(rest, done, [...got, text]); else done([...got, text]);
    } });
  }

  length(i) {
    const { text } = this.runs[i];
    // A direction, and of an arc what comes behind its chord, stay.
const [, before, length, behind] = text.match(/^((?:arc\s+)?(?:[NESW]\s*(?:[\d.°]+\s*[EW])?\s+)?)(.+?)(\s+(?:R|radius|rise)(?=[\s\d]).*)?$/i) || [];
    if (!length) return;
    const name = behind ? `Wall ${i + 1}: straight from end to end` : `Length of wall ${i + 1}`;
    this.keys({ name, takes: "long", metric: this.metric, value: length, done: (typed) => typed && this.put(i, before + typed + (behind || ""), 1) });
  }

  bearing() {
    const quarters = [["N", "E"], ["S", "E"], ["S", "W"], ["N", "W"]];
    this.several([["number", "Degrees clockwise from up"]], ([text]) => {
      const degrees = Number(text) % 360;
      if (!Number.isFinite(degrees)) return;
      const quarter = Math.floor(degrees / 90) % 4;
      const angle = quarter % 2 ? 90 - (degrees - 90 * quarter) : degrees - 90 * quarter;
      this.run(`${quarters[quarter][0]}${Math.round(angle * 100) / 100}${quarters[quarter][1]}`);
    });
  }

  // A direction was tapped: how far, and what else a curved wall needs.
  run(direction) {
    const { what, wall, corner } = this.aim;
    const straight = what === "corner" || this.shape === "straight";
    const [, more] = SHAPES[straight ? "straight" : this.shape];
    const first = `${SPOKEN[direction] || direction || "On"}: ${straight ? "how far?" : "how far from end to end?"}`;
    this.several([first, ...more].map((name) => ["long", name]), async ([length, ...sizes]) => {
      const leads = `${direction} ${length}`.trim();
      if (what === "corner") { await this.change(this.runs, { move: { corner, by: leads } }); return; }
      let text = leads;
      if (!straight) {
        const bend = await this.bend(length, sizes);
        if (!bend) return;
        text = `arc ${leads} ${bend} ${this.hand}`;
      }
      const at = { next: this.runs.length, behind: wall + 1, anew: wall }[what];
      await this.put(at, text, what === "anew" ? 1 : 0);
    });
  }

  // How a curved wall is written behind the line between its ends.
  async bend(chord, [first, second]) {
    if (this.shape !== "point") return `${this.shape === "rise" ? "rise" : "R"} ${first}`;
    try { return `rise ${(await this.send("api/walk", { metric: this.metric, runs: [], bend: { chord, first, second } })).rise}`; } catch (error) { this.fault = error.message; this.again(); return null; }
  }

  // Puts a run in its place, or in the place of another, or takes it out, if the walk can then still be drawn.
  put(i, text, over = 0) {
    const runs = [...this.runs];
    const old = over ? runs[i] : null;
    runs.splice(i, over, ...(text ? [{ was: null, doors: [], ...old, text }] : []));
    // A corner is counted by the wall that begins there.
    const moved = text && over ? 0 : text ? 1 : -1;
    const shifted = (corner) => (i < this.runs.length && corner > i + (moved < 0 ? 1 : 0) ? corner + moved : corner);
    const there = (check) => moved >= 0 || ![check.from, check.to].includes(i + 1);
    const checks = this.checks.filter(there).map((check) => ({ ...check, from: shifted(check.from), to: shifted(check.to) }));
    const aim = text && !over && this.aim.what === "behind" ? { what: "behind", wall: i } : { what: "next" };
    return this.change(runs, { checks, aim });
  }

  // The walk as it would be, if it can be drawn.
  async change(runs, { checks = this.checks, move, aim = { what: "next" } }) {
    this.busy = true;
    this.again();
    try {
      this.traced = await this.send("api/walk", { ...this.asked(runs, checks), ...(move && { move }) });
      this.runs = runs.map((run, i) => ({ ...run, text: this.traced.runs[i] }));
      this.shift = this.traced.shift;
      Object.assign(this, { checks, aim, shape: "straight", fault: null });
    } catch (error) { this.fault = error.message; }
    this.busy = false;
    this.kept();
  }

  // What is other than in the sketch.
  changed() { return { runs: this.runs.map((run) => run.text), was: this.runs.map((run) => run.was), shift: this.shift }; }

  async save() {
    if (this.saving) return;
    this.saving = true;
    this.fault = null;
    try {
      if (!this.fresh) { await this.done(this.changed()); return; }
      const doors = this.runs.flatMap((run, i) => run.doors.map((door) => ({ wall: i + 1, ...door })));
      const { text } = await this.send("api/begin", { ...this.asked(), doors, name: this.name });
      await this.done({ name: this.name.trim(), text });
      return;
    } catch (error) { this.fault = error.message; } finally { this.saving = false; }
    this.again();
  }
}

// An outline that is a list of corners: each moved, typed anew, put in behind another, taken out.
export class Corners extends Walk {
  constructor(given) {
    super(given);
    this.aim = { what: "none" };
  }

  asked(runs = this.runs) { return { metric: this.metric, corners: runs.map((run) => run.text) }; }

  async trace() { this.traced = await this.send("api/corners", this.asked()); }

  shapes() {
    const { what, corner } = this.aim;
    const words = { none: "Choose a corner to move it, or to put another behind it.", corner: `Corner ${corner} goes`, behind: `From corner ${corner} to a new one behind it` }[what];
    const aim = element("p", { className: "ask", text: words });
    aim.id = "ui-aim";
    return aim;
  }

  pad() {
    const pad = super.pad();
    for (const button of pad.children) button.disabled = this.aim.what === "none";
    return pad;
  }

  list() {
    const box = element("div");
    this.runs.forEach(({ text }, i) => {
      const n = i + 1;
      const row = element("div", { className: "place" });
      const chosen = this.aim.corner === n;
      const more = element("button", { text: `Corner ${n}`, pressed: chosen, click: () => this.target(chosen ? { what: "none" } : { what: "corner", corner: n }) });
      more.setAttribute("aria-label", `Corner ${n}: move it, or put one behind it`);
      const edit = element("button", { text, className: "run", click: () => this.several([["long", `Corner ${n}: to the right of the zero point`], ["long", `Corner ${n}: up from the zero point`]], (to) => this.alter({ corner: n, to })) });
      edit.setAttribute("aria-label", `Corner ${n}: ${text}. Type its coordinates`);
      const off = element("button", { text: "✕", click: () => this.change(this.runs.filter((_, j) => j !== i), {}) });
      off.setAttribute("aria-label", `Remove corner ${n}`);
      row.append(more, edit, off);
      box.append(row);
      if (!chosen) return;
      const ways = element("div", { className: "choices" });
      for (const [what, words] of [["corner", `Move corner ${n}`], ["behind", "A new one behind it"]]) {
        const button = element("button", { text: words, pressed: this.aim.what === what, click: () => this.target({ what, corner: n }) });
        button.dataset.corner = what;
        ways.append(button);
      }
      box.append(ways);
    });
    return box;
  }

  // A direction was tapped: how far.
  run(direction) {
    const { what, corner } = this.aim;
    this.several([["long", `${SPOKEN[direction] || direction}: how far?`]], ([length]) => this.alter({ corner, by: `${direction} ${length}`, new: what === "behind" }));
  }

  // One corner otherwise, or a new one.
  alter(change) {
    const runs = [...this.runs];
    if (change.new) runs.splice(change.corner, 0, { was: null, doors: [] });
    return this.change(runs, { change, from: this.runs });
  }

  async change(runs, { change, from = runs }) {
    this.busy = true;
    this.again();
    try {
      this.traced = await this.send("api/corners", { ...this.asked(from), change });
      this.runs = runs.map((run, i) => ({ ...run, text: this.traced.runs[i] }));
      Object.assign(this, { aim: { what: "none" }, fault: null });
    } catch (error) { this.fault = error.message; }
    this.busy = false;
    this.kept();
  }

  changed() { const { shift, ...changed } = super.changed(); return changed; }
}
