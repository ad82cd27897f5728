// Where the sketch lives: in this phone. The core answers what the program answers elsewhere, and every change is kept the
// moment it is made.

import { developed, drawnLogo } from "./camera.js";
import { Core } from "./core.js";
import { say } from "./dom.js";
import { Jobs, packedJob } from "./jobs.js";
import { Rehearsal } from "./rehearsal.js";
import { Store } from "./store.js";

/// How often a record is tried again when another window changes the job under it.
const TRIES = 5;

const json = (answer) => JSON.parse(new TextDecoder().decode(answer.bytes));

class Home {
  constructor() {
    this.store = new Store();
    this.core = new Core(packedCore);
    this.rehearsal = new Rehearsal(this.core, async () => this.opening(await this.store.job(this.id)));
    this.id = null;
    // The writes of the job that the core has seen.
    this.seen = null;
    this.queue = Promise.resolve();
    // Whether something that was being typed may be kept with the job.
    this.drafted = true;
    // What is still to be kept, by what it is.
    this.newest = new Map();
    this.others = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("slabwalk");
  }

  async start({ refresh, begin }) {
    Object.assign(this, { refresh, begin });
    this.jobs = new Jobs(this);
    await Promise.all([this.store.open(), this.core.begin()]);
    await this.jobs.start();
  }

  // One thing after the other, in the order in which they were asked for.
  turn(work) {
    const mine = this.queue.then(work, work);
    this.queue = mine.catch(() => {});
    return mine;
  }

  // The core with the job as it is kept, if it has another one.
  async current() {
    if (this.id === null) throw new Error("no job is open");
    const job = await this.store.job(this.id);
    if (!job || job.removed) { this.seen = null; throw new Error("this job was removed in another window"); }
    if (this.core.worker && this.seen === job.writes) return job;
    if (!this.core.worker) await this.core.begin();
    this.answered(await this.core.request("POST", "api/open", await this.opening(job)));
    // The photos that it has been brought.
    this.brought = new Set();
    this.seen = job.writes;
    return job;
  }

  // A job as a core opens it.
  async opening({ id, file, book, at }) {
    const steps = (await this.store.steps(id)).map(({ number, label, text }) => ({ number, label, text }));
    return { name: file, book: book ?? null, steps, at };
  }

  answered(answer) {
    if (answer.status === 200) return answer;
    const { message, field } = json(answer);
    throw Object.assign(new Error(message), { field, status: answer.status });
  }

  // Asks the core. Where it ended, it is begun anew for whoever asks next.
  async asked(method, path, body) {
    try { return this.answered(await this.core.request(method, path, body)); } catch (error) {
      if (error.broken) this.seen = null;
      throw error;
    }
  }

  ask(path) {
    return this.turn(async () => {
      if (path !== "api/kinds") await this.current();
      return json(await this.asked("GET", path));
    });
  }

  send(path, data, { photos } = {}) {
    this.rehearsal.end();
    return this.turn(async () => {
      for (let tries = 0; tries < TRIES; tries += 1) {
        // Whether another window changed the job is seen where the change is kept.
        if (!this.core.worker || this.seen === null) await this.current();
        const done = json(await this.asked("POST", path, data));
        // From here on the core is ahead of what is kept, until it is kept.
        const writes = this.seen;
        this.seen = null;
        // The draft that the change comes from must not be kept behind it.
        await this.keeping;
        const only = path === "api/undo" || path === "api/redo";
        if (!only) this.drafted = false;
        try { this.seen = await this.store.keep(this.id, writes, done.step, { only, name: done.glance.job, photos }); } catch (error) {
          this.drafted = true;
          if (error.other) continue;
          throw error;
        }
        this.others?.postMessage(this.id);
        return done;
      }
      throw new Error("another window keeps changing this job; nothing was changed. Try again");
    });
  }

  // Asks for something once the core has all photos of the job. They are brought one at a time: whoever asks meanwhile waits for one.
  async illustrated(path) {
    const { id } = this;
    let answer = null;
    while (!answer) {
      answer = await this.turn(async () => {
        if (this.id !== id) throw new Error("another job was opened");
        await this.current();
        const file = (await this.store.named(id)).find((name) => !this.brought.has(name));
        if (file === undefined) return this.asked("GET", path);
        const { bytes } = await this.store.read("photos", [id, file]);
        const drawn = /\.svg$/i.test(file) ? await drawnLogo(bytes) : null;
        await this.asked("POST", "api/photo?" + new URLSearchParams({ file }), drawn || new Uint8Array(bytes));
        this.brought.add(file);
        return null;
      });
    }
    return answer;
  }

  // A finished paper, as bytes.
  async paper(name) {
    const { type, bytes } = await this.illustrated("api/paper?" + new URLSearchParams({ name }));
    return new Blob([bytes], { type });
  }

  // What is wrong with photos and logo.
  async pictures() { return json(await this.illustrated("api/pictures")); }

  // Asks the core for what is about no job.
  work(path, data) { return this.turn(async () => { if (!this.core.worker) await this.core.begin(); return json(await this.asked("POST", path, data)); }); }

  // What can be taken from here besides papers: name, label, what it is, how it is made.
  files({ name }) {
    const text = async () => new Blob([(await this.ask("api/text")).text], { type: "application/yaml" });
    const all = async () => {
      const [{ text: sketch }, job] = [await this.ask("api/text"), await this.store.job(this.id)];
      return packedJob(this.store, job, sketch);
    };
    return [
      [name, "Sketch", "For the program on a computer, or another phone. YAML", text],
      [name.replace(/yaml$/, "zip"), "Sketch and photos", "The same with everything that belongs to it. ZIP", all],
    ];
  }

  watch() {
    if (this.others) this.others.onmessage = ({ data }) => { if (data === this.id) this.refresh(); };
  }

  // Puts another job on the glass.
  async open(id, tab) {
    await this.turn(async () => {
      this.id = id;
      this.seen = null;
      this.drafted = true;
      await this.current();
      await this.store.remember("open", id).catch(() => {});
    });
    await this.begin(tab);
  }

  // A change is made at once, or not at all.
  get remote() { return false; }

  // Photos are taken here and kept with the job; there is nothing beside it.
  get beside() { return false; }

  develop(file) { return developed(file); }

  // The page shows all that it has to show.
  rest() { this.rehearsal.rest(); }

  // No job is open yet.
  get idle() { return this.id === null; }

  // What is being typed is kept with the job.
  keepDraft(draft) {
    if (this.idle || (!draft && !this.drafted)) return;
    this.drafted = !!draft;
    const id = this.id;
    this.keep("draft", draft, (now) => this.store.mark(id, { draft: now }));
  }

  // What belongs to no job.
  remember(key, value) { return this.keep(key, value, (now) => this.store.remember(key, now)); }

  // Keeps the last of what changes quickly, as soon as what was before is kept. `data-keeping` of the page says that something is
  // still on its way.
  keep(key, value, write) {
    this.newest.set(key, [value && structuredClone(value), write]);
    document.body.dataset.keeping = "yes";
    this.keeping ||= (async () => {
      while (this.newest.size) {
        const [[next, [now, written]]] = this.newest;
        this.newest.delete(next);
        await written(now).catch((error) => say(error.message, true));
      }
      this.keeping = null;
      delete document.body.dataset.keeping;
    })();
    return this.keeping;
  }

  async draft() { return this.idle ? null : (await this.store.job(this.id))?.draft; }

  // A text as a new job; what is wrong with it stands among the findings.
  async add(name, text, { book, photos, walked } = {}) {
    const file = `${name.trim().replace(/[^\p{L}\p{N}._-]+/gu, "-").replace(/^-+|-+$/g, "").slice(0, 60) || "floor"}.yaml`;
    const at = Date.now();
    return this.store.add({ name, file, book, at: 0, opened: at, changed: at }, [{ number: 0, label: "", text }], photos, walked);
  }
}

export const home = new Home();
