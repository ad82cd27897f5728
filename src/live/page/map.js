// The drawing: moved with one finger, enlarged with two, or with wheel, buttons and keys.

import { SVG } from "./dom.js";

/// A finger that moves less than this, in pixels, taps.
const SLOP = 9;

/// Width of the column of buttons, pixels.
const BUTTONS = 64;

export class Drawing {
  constructor(host, onTap) {
    this.host = host;
    this.onTap = onTap;
    this.svg = null;
    this.whole = null;
    this.box = null;
    this.points = [];
    this.joined = {};
    this.setCopies([]);
    this.pointers = new Map();
    this.marked = null;
    host.addEventListener("pointerdown", (e) => this.down(e));
    host.addEventListener("pointermove", (e) => this.move(e));
    for (const end of ["pointerup", "pointercancel"]) host.addEventListener(end, (e) => this.up(e, end));
    host.addEventListener("wheel", (e) => { e.preventDefault(); this.zoom(Math.exp(-e.deltaY * 0.0015), this.local(e)); }, { passive: false });
    host.addEventListener("keydown", (e) => this.key(e));
    this.measure();
    new ResizeObserver(() => { this.measure(); this.resized(); }).observe(host);
  }

  // The size of its place, pixels: asked for only when it changes, so that nothing is laid out twice.
  measure() {
    this.width = Math.max(1, this.host.clientWidth);
    this.height = Math.max(1, this.host.clientHeight);
  }

  // Shows another drawing. The part that is seen stays, if the drawing is of the same size.
  show(text) {
    const parsed = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
    if (parsed.nodeName !== "svg") return;
    const svg = document.importNode(parsed, true);
    svg.removeAttribute("width");
    svg.removeAttribute("height");
    const whole = (svg.getAttribute("viewBox") || "0 0 1 1").split(" ").map(Number);
    const same = this.whole && whole.every((v, i) => Math.abs(v - this.whole[i]) < 1e-6);
    this.svg = svg;
    this.whole = whole;
    this.host.replaceChildren(svg);
    this.layer = document.createElementNS(SVG, "g");
    this.layer.setAttribute("pointer-events", "none");
    svg.append(this.layer);
    if (same && this.box) this.apply(); else this.fit();
    if (this.marked) this.mark(this.marked, false);
  }

  // Shows nothing: another sketch is opened.
  clear() {
    Object.assign(this, { svg: null, whole: null, box: null, layer: null, marked: null });
    this.host.replaceChildren();
  }

  get isFloor() { return !!this.svg && this.svg.classList.contains("floor"); }

  // Units of the drawing in one pixel.
  get unit() { return this.box ? this.box.w / this.width : 1; }

  fit() {
    if (!this.whole) return;
    const [x, y, w, h] = this.whole;
    const [W, H] = [this.width, this.height];
    // The buttons beside the drawing cover none of it.
    const free = Math.max(W / 2, W - BUTTONS);
    const unit = Math.max(w / free, h / H);
    this.box = { x: x + w / 2 - (unit * free) / 2, y: y + h / 2 - (unit * H) / 2, w: unit * W, h: unit * H };
    this.fitted = true;
    this.apply();
  }

  resized() {
    if (!this.box) return;
    if (this.fitted) { this.fit(); return; }
    const unit = this.last || this.unit;
    const [cx, cy] = [this.box.x + this.box.w / 2, this.box.y + this.box.h / 2];
    this.box.w = unit * this.width;
    this.box.h = unit * this.height;
    this.box.x = cx - this.box.w / 2;
    this.box.y = cy - this.box.h / 2;
    this.apply();
  }

  zoom(factor, at) {
    if (!this.box) return;
    const p = at || { x: this.width / 2, y: this.height / 2 };
    const least = this.whole[2] / 400 / this.width;
    const most = (Math.max(this.whole[2], this.whole[3]) * 4) / this.width;
    const unit = Math.min(most, Math.max(least, this.unit / factor));
    const [fx, fy] = [this.box.x + p.x * this.unit, this.box.y + p.y * this.unit];
    this.box = { x: fx - p.x * unit, y: fy - p.y * unit, w: unit * this.width, h: unit * this.height };
    this.fitted = false;
    this.apply();
  }

  pan(dx, dy) {
    if (!this.box) return;
    const unit = this.unit;
    const [x, y, w, h] = this.whole;
    // Some of the drawing always stays in sight.
    const keep = (v, low, high) => Math.min(high, Math.max(low, v));
    this.box.x = keep(this.box.x - dx * unit, x - this.box.w * 0.8, x + w - this.box.w * 0.2);
    this.box.y = keep(this.box.y - dy * unit, y - this.box.h * 0.8, y + h - this.box.h * 0.2);
    this.fitted = false;
    this.apply();
  }

  apply() {
    if (!this.svg || !this.box) return;
    const { x, y, w, h } = this.box;
    this.svg.setAttribute("viewBox", `${x} ${y} ${w} ${h}`);
    this.last = this.unit;
    this.svg.style.setProperty("--u", String(this.unit));
    this.drawPoints();
  }

  local(e) {
    const r = this.host.getBoundingClientRect();
    return { x: e.clientX - r.left, y: e.clientY - r.top };
  }

  down(e) {
    if (e.pointerType === "mouse" && e.button !== 0) return;
    this.host.setPointerCapture(e.pointerId);
    this.pointers.set(e.pointerId, this.local(e));
    if (this.pointers.size === 1) this.tap = { ...this.local(e), target: e.target };
    else this.tap = null;
  }

  move(e) {
    const before = this.pointers.get(e.pointerId);
    if (!before) return;
    const now = this.local(e);
    const other = [...this.pointers.entries()].find(([id]) => id !== e.pointerId);
    if (other) {
      const [a, b] = [before, other[1]];
      const far = (p) => Math.hypot(p.x - b.x, p.y - b.y);
      const middle = (p) => ({ x: (p.x + b.x) / 2, y: (p.y + b.y) / 2 });
      const [m, n] = [middle(a), middle(now)];
      this.pan(n.x - m.x, n.y - m.y);
      if (far(a) > 4) this.zoom(far(now) / far(a), n);
    } else if (this.tap && Math.hypot(now.x - this.tap.x, now.y - this.tap.y) < SLOP) {
      return;
    } else {
      const from = this.tap || before;
      this.tap = null;
      this.pan(now.x - from.x, now.y - from.y);
    }
    this.pointers.set(e.pointerId, now);
  }

  up(e, end) {
    const known = this.pointers.delete(e.pointerId);
    if (!known || end !== "pointerup" || !this.tap || this.pointers.size) { if (!this.pointers.size) this.tap = null; return; }
    const { x, y, target } = this.tap;
    this.tap = null;
    const unit = this.unit;
    const at = { x: (this.box.x + x * unit) / 1000, y: -(this.box.y + y * unit) / 1000 };
    const group = target.closest && target.closest("g[id]");
    this.onTap({ floor: at, reach: (14 * unit) / 1000, id: group ? group.id : null });
  }

  key(e) {
    const far = 60;
    const moves = { ArrowLeft: [far, 0], ArrowRight: [-far, 0], ArrowUp: [0, far], ArrowDown: [0, -far] };
    if (moves[e.key]) this.pan(...moves[e.key]);
    else if (e.key === "+" || e.key === "=") this.zoom(1.4);
    else if (e.key === "-") this.zoom(1 / 1.4);
    else if (e.key === "0") this.fit();
    else return;
    e.preventDefault();
  }

  // Marks an item and brings it into sight. Says whether the drawing has it.
  mark(id, look = true) {
    this.marked = id;
    if (!this.svg) return false;
    for (const g of this.svg.querySelectorAll(".marked")) g.classList.remove("marked");
    if (!id) return false;
    const name = CSS.escape(id);
    const groups = [...this.svg.querySelectorAll(`#${name}, #tag-${name}`)];
    for (const g of groups) g.classList.add("marked");
    if (groups.length && look) this.bring(groups[0].getBBox());
    return groups.length > 0;
  }

  bring(b) {
    // On a sheet seen whole an item may be too small to see.
    const size = Math.max(b.width, b.height, 1e-9) / this.unit;
    if (!this.isFloor && size < 18) this.zoom(Math.min(60 / size, 8));
    const [cx, cy] = [b.x + b.width / 2, b.y + b.height / 2];
    const box = this.box;
    const inside = cx > box.x + box.w * 0.1 && cx < box.x + box.w * 0.9 && cy > box.y + box.h * 0.1 && cy < box.y + box.h * 0.9;
    if (inside) return;
    box.x = cx - box.w / 2;
    box.y = cy - box.h / 2;
    this.fitted = false;
    this.apply();
  }

  // Points being recorded, in meters of floor; `closed` joins the last to the first, `line` joins them at all.
  setPoints(points, { line = false, closed = false, box = false } = {}) {
    this.points = points;
    this.joined = { line, closed, box };
    this.drawPoints();
  }

  // Where several alike would stand: how far each is from the first, meters, whose middle is `from` where no points are being recorded.
  setCopies(shifts, from = null) {
    this.copies = { shifts, from };
    this.drawPoints();
  }

  // The middle of an item as it is drawn, meters of floor.
  middle(id) {
    // Its name stands beside it.
    const box = this.svg?.querySelector(`#${CSS.escape(id)} .hit`)?.getBBox();
    return box ? { x: (box.x + box.width / 2) / 1000, y: -(box.y + box.height / 2) / 1000 } : null;
  }

  drawPoints() {
    if (!this.layer) return;
    this.layer.replaceChildren();
    const { shifts, from } = this.copies;
    const points = this.points.length || !from ? this.points : [from];
    if (!this.isFloor || !points.length) return;
    const unit = this.unit;
    const make = (name, set) => {
      const el = document.createElementNS(SVG, name);
      for (const [k, v] of Object.entries(set)) el.setAttribute(k, v);
      this.layer.append(el);
      return el;
    };
    const at = points.map((p) => [p.x * 1000, -p.y * 1000]);
    const { line, closed, box } = this.joined;
    const joined = (line || box) && at.length > 1;
    // A rectangle is drawn from its two corners.
    const corners = joined && box ? [at[0], [at[1][0], at[0][1]], at[1], [at[0][0], at[1][1]]] : at;
    const d = "M" + corners.map((p) => p.join(" ")).join("L") + (closed || box ? "Z" : "");
    for (const [right, up] of shifts) {
      const [x, y] = [right * 1000, -up * 1000];
      if (joined) make("path", { d, class: "copy", transform: `translate(${x} ${y})` });
      else make("circle", { cx: at[0][0] + x, cy: at[0][1] + y, r: 9 * unit, class: "copy" });
    }
    if (points === this.points && joined) {
      make("path", { d, stroke: "#fff", "stroke-width": 7, "stroke-opacity": 0.8, "stroke-linejoin": "round" });
      make("path", { d, stroke: "#d55e00", "stroke-width": 3.5, "stroke-linejoin": "round" });
    }
    if (points === this.points) at.forEach(([x, y], i) => {
      make("circle", { cx: x, cy: y, r: 13 * unit, fill: "#d55e00", "fill-opacity": 0.25, stroke: "#d55e00", "stroke-width": 2 * unit });
      make("circle", { cx: x, cy: y, r: 2.5 * unit, fill: "#d55e00" });
      if (at.length > 1) make("text", { x, y: y - 22 * unit }).textContent = String(i + 1);
    });
  }
}
