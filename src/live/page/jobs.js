// The jobs of a phone: a list, a new floor, and files taken in.

import { $, element, say } from "./dom.js";
import { give } from "./papers.js";
import { openKeys } from "./keys.js";
import { Walk } from "./walk.js";
import { unzip, zip } from "./zip.js";

/// Largest sketch that is taken in, bytes: a quarter of what the program reads, for the memory of a phone.
const LARGEST_SKETCH = 16 << 20;

function sketchText(name, bytes) {
  try { return new TextDecoder("utf-8", { fatal: true }).decode(bytes).replace(/^\uFEFF/, ""); } catch { throw new Error(`${name} is not UTF-8 text; a sketch is`); }
}

// A job as a ZIP: the sketch, the shop book that it names, its photos.
export async function packedJob(store, job, text) {
  const encoder = new TextEncoder();
  const files = [{ name: job.file, bytes: encoder.encode(text) }];
  const named = text.match(/^shop:\s*["']?([^"'#\n]+?)["']?\s*(#.*)?$/m)?.[1];
  if (job.book && named) files.push({ name: named, bytes: encoder.encode(job.book) });
  for (const { file, bytes } of await store.photos(job.id)) files.push({ name: file, bytes: new Uint8Array(bytes) });
  return zip(files);
}

export class Jobs {
  constructor(home) {
    this.home = home;
    this.dialog = $("jobs");
    this.dialog.addEventListener("cancel", (event) => { if (this.home.id === null) event.preventDefault(); });
    const open = element("button", { text: "Jobs", click: () => this.show() });
    open.id = "ui-open-jobs";
    $("head").prepend(open);
  }

  // The job that was open last, or the list.
  async start() {
    const last = await this.home.store.remembered("open").catch(() => undefined);
    const job = last === undefined ? undefined : await this.home.store.job(last);
    if (job && !job.removed) this.home.id = job.id;
    const walked = await this.home.store.remembered("walk").catch(() => undefined);
    if (walked) await this.begin(walked); else if (this.home.id === null) await this.show();
  }

  async show() {
    const all = await this.home.store.jobs();
    const jobs = all.sort((a, b) => b.changed - a.changed);
    const removed = jobs.filter((job) => job.removed);
    this.page("Jobs", this.home.id !== null && (() => this.dialog.close()), (body) => {
      const fresh = element("button", { text: "New floor", className: "strong full", click: () => this.begin() });
      fresh.id = "ui-new-floor";
      body.append(fresh, ...this.picker());
      const live = jobs.filter((job) => !job.removed);
      if (!live.length) body.append(element("p", { className: "ask", text: "Nothing is kept here yet. Walk a new floor, or open a sketch." }));
      for (const job of live) body.append(this.row(job));
      if (!removed.length) return;
      body.append(element("h2", { text: "Removed" }));
      for (const job of removed) body.append(this.gone(job));
    });
  }

  page(title, back, fill) {
    this.dialog.replaceChildren();
    const top = element("div", { className: "top" });
    const name = element("h2", { text: title });
    name.id = "ui-jobs-label";
    top.append(name);
    if (back) {
      const button = element("button", { text: "Close", click: back });
      button.id = "ui-jobs-close";
      top.append(button);
    }
    const body = element("div", { className: "jobs" });
    this.dialog.append(top, body);
    fill(body);
    if (!this.dialog.open) this.dialog.showModal();
    this.dialog.scrollTop = 0;
  }

  picker() {
    const input = element("input");
    input.type = "file";
    input.accept = ".yaml,.yml,.zip,application/yaml,application/zip,text/plain";
    input.id = "ui-file";
    input.hidden = true;
    input.addEventListener("change", () => { const [file] = input.files; input.value = ""; if (file) this.takeIn(file); });
    return [element("button", { text: "Open a sketch", className: "full", click: () => input.click() }), input];
  }

  row(job) {
    const row = element("div", { className: "job" });
    const open = element("button", { className: "row", click: () => this.pick(job.id) });
    const words = element("span");
    words.append(element("b", { text: job.name }), element("small", { text: new Date(job.changed).toLocaleString([], { dateStyle: "medium", timeStyle: "short" }) }));
    open.append(words);
    open.dataset.job = job.id;
    const more = element("button", { text: "⋯", click: () => this.about(job) });
    more.setAttribute("aria-label", `More about ${job.name}`);
    row.append(open, more);
    return row;
  }

  gone(job) {
    const row = element("div", { className: "job" });
    const words = element("span", { text: job.name });
    row.append(words, element("button", { text: "Put back", click: () => this.change(() => this.home.store.mark(job.id, { removed: 0 })) }),
      element("button", { text: "Remove for good", click: () => this.change(() => this.home.store.drop(job.id)) }));
    return row;
  }

  about(job) {
    this.page(job.name, () => this.show(), (body) => {
      body.append(
        element("button", { text: "Open", className: "full", click: () => this.pick(job.id) }),
        element("button", { text: "Copy, for a floor like this one", className: "full", click: () => this.copy(job) }),
        element("button", { text: "Save it elsewhere, with its photos", className: "full", click: () => this.save(job) }),
        element("button", { text: "Remove", className: "full", click: () => this.change(() => this.remove(job)) }),
      );
    });
  }

  async change(work) {
    try { await work(); } catch (error) { say(error.message, true); }
    await this.show();
  }

  async remove(job) {
    await this.home.store.mark(job.id, { removed: Date.now() });
    if (this.home.id === job.id) { this.home.id = null; this.home.seen = null; }
  }

  async step(job) {
    const steps = await this.home.store.steps(job.id);
    return steps.find((step) => step.number === job.at) || steps.at(-1);
  }

  async save(job) {
    try {
      const { text } = await this.step(job);
      await give(job.file.replace(/yaml$/, "zip"), await packedJob(this.home.store, job, text));
    } catch (error) { say(error.message, true); }
  }

  async copy(job) {
    try {
      const { text } = await this.step(job);
      const photos = await this.home.store.photos(job.id);
      const id = await this.home.add(`${job.name}, copy`, text, { book: job.book, photos });
      await this.pick(id);
    } catch (error) { say(error.message, true); }
  }

  async pick(id, tab) {
    try {
      await this.home.open(id, tab);
      this.dialog.close();
    } catch (error) { say(error.message, true); await this.show(); }
  }

  // A file from elsewhere as a new job. Nothing that is here is touched.
  async takeIn(file) {
    try {
      const id = /\.zip$/i.test(file.name) || file.type === "application/zip" ? await this.unpack(file) : await this.read(file);
      await this.pick(id);
    } catch (error) { this.wrong(error.message); }
  }

  async read(file) {
    if (file.size > LARGEST_SKETCH) throw new Error(`${file.name} is larger than 16 MiB; no floor needs that much`);
    return this.home.add(file.name.replace(/\.ya?ml$/i, ""), sketchText(file.name, await file.arrayBuffer()));
  }

  // A ZIP holds one sketch, its photos, and the shop book that it names with its logo.
  async unpack(file) {
    const files = await unzip(file);
    const sketches = [...files.keys()].filter((name) => /\.ya?ml$/i.test(name)).map((name) => [name, sketchText(name, files.get(name))]);
    const found = sketches.find(([, text]) => /^slabwalk:/m.test(text));
    if (!found) throw new Error(`${file.name} holds no sketch`);
    const [path, text] = found;
    const folder = path.slice(0, path.lastIndexOf("/") + 1);
    const named = text.match(/^shop:\s*["']?([^"'#\n]+?)["']?\s*(#.*)?$/m)?.[1];
    const book = sketches.find(([name]) => name === folder + named)?.[1];
    // Photos, and the logo that the shop book names.
    const photos = [...files].filter(([name]) => name.startsWith(folder) && /\.(jpe?g|png|svg)$/i.test(name))
      .map(([name, bytes]) => ({ file: name.slice(folder.length), bytes: bytes.slice().buffer }));
    return this.home.add(path.slice(folder.length).replace(/\.ya?ml$/i, ""), text, { book, photos });
  }

  wrong(text) {
    this.dialog.querySelector(".fault")?.remove();
    this.dialog.querySelector(".jobs").prepend(element("p", { className: "fault", text, role: "alert" }));
  }

  // A new floor: its name, its unit, and the walk around it. What is walked is kept, for a phone that dies on the way.
  async begin(kept = null) {
    const keep = (walked) => this.home.remember("walk", walked);
    const walk = new Walk({ send: (path, data) => this.home.work(path, data), keys: openKeys, kept, keep });
    if (kept) await walk.trace().catch(() => {});
    const leave = async () => { await keep(null); await this.show(); };
    this.page("New floor", leave, (body) => walk.draw(body, async ({ name, text }) => {
      const id = await this.home.add(name, text, { walked: true });
      await this.pick(id, "record");
    }));
  }
}
