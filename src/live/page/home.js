// Where the sketch lives: in a file on a computer, behind the program that gave this page.

import { developed } from "./camera.js";

/// Longest silence of the program, milliseconds: it gives a sign of life every five seconds.
const LONGEST_SILENCE = 12_000;

async function reach(path, options) {
  try { return await fetch(path, options); } catch {
    home.silent();
    throw Object.assign(new Error("the program does not answer; is it still running?"), { lost: true });
  }
}

// Bytes as text, for a storage that keeps nothing else; made once of a photo.
const texts = new WeakMap();
function coded(bytes) {
  if (!texts.has(bytes)) texts.set(bytes, btoa(Array.from(new Uint8Array(bytes), (byte) => String.fromCharCode(byte)).join("")));
  return texts.get(bytes);
}

async function refused(response) {
  const data = await response.json().catch(() => ({ message: "the program's answer can't be read" }));
  return Object.assign(new Error(data.message), { field: data.field, status: response.status });
}

async function answered(response) {
  if (!response.ok) throw await refused(response);
  return response.json().catch(() => { throw new Error("the program's answer can't be read"); });
}

class Home {
  async start({ refresh, lost, back }) { Object.assign(this, { refresh, lost, back }); }

  // A change may get lost on its way here.
  get remote() { return true; }

  // Photos that lie beside the sketch already can be named.
  get beside() { return true; }

  develop(file) { return developed(file); }

  // The program is as fast the first time as later.
  rest() {}

  // There is always a sketch here.
  get idle() { return false; }

  // What is being typed outlives the page in the browser, with its photo where there is room. Where it keeps nothing, it lives as long as
  // the page.
  keepDraft(draft) {
    const keep = (kept) => localStorage.setItem(this.place, JSON.stringify(kept));
    try {
      if (!draft) { localStorage.removeItem(this.place); return; }
      try { keep({ ...draft, photo: draft.photo ? coded(draft.photo) : null }); } catch { keep({ ...draft, photo: null }); }
    } catch { /* a private window */ }
  }

  async draft() {
    try {
      const draft = JSON.parse(localStorage.getItem(this.place));
      return draft?.photo ? { ...draft, photo: Uint8Array.from(atob(draft.photo), (c) => c.charCodeAt(0)).buffer } : draft;
    } catch { return null; }
  }

  // The address is another one after every start of the program; the sketch is the same.
  get place() { return `slabwalk-draft:${this.name}`; }

  async ask(path) {
    const answer = await answered(await reach(path));
    if (path === "api/state" || path === "api/glance") this.name = (answer.glance || answer).name;
    return answer;
  }

  // Sends a change; with the same `once` it is made once, however often it is sent. A photo is there before the record that names it.
  async send(path, data, { once = "", photos = [] } = {}) {
    for (const { file, bytes } of photos) {
      await answered(await reach("api/photo?" + new URLSearchParams({ file }), { method: "POST", headers: { "Content-Type": "image/jpeg" }, body: bytes }));
    }
    return answered(await reach(`${path}?once=${once}`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(data) }));
  }

  // Asks for what is about no sketch.
  work(path, data) { return this.send(path, data); }

  // A finished paper, as bytes.
  async paper(name) { return this.blob("api/paper?" + new URLSearchParams({ name })); }

  // What is wrong with photos and logo.
  pictures() { return this.ask("api/pictures"); }

  async blob(path) {
    const response = await reach(path);
    if (!response.ok) throw await refused(response);
    return response.blob();
  }

  // What can be taken from here besides papers: name, label, what it is, how it is made.
  files({ name, phone }) {
    const text = async () => new Blob([(await this.ask("api/text")).text], { type: "application/yaml" });
    const page = ["slabwalk.html", "This page for a phone", "Works without the program and without network", () => this.blob("slabwalk.html")];
    return [[name, "Sketch", "As it is in its file. YAML", text], ...(phone ? [page] : [])];
  }

  // Follows every change from now on, and notices at once when the program can't be reached.
  watch() {
    const events = new EventSource("api/events");
    const heard = () => {
      clearTimeout(this.silence);
      this.silence = setTimeout(() => this.silent(), LONGEST_SILENCE);
      this.back();
    };
    events.addEventListener("change", () => { heard(); this.refresh(); });
    events.addEventListener("alive", heard);
    events.addEventListener("error", () => {
      if (events.readyState !== EventSource.CLOSED) { this.silent(); return; }
      clearTimeout(this.silence);
      this.lost("The program was ended or started again. Open the address that it prints now. What you typed stays here.");
    });
    window.addEventListener("offline", () => this.silent());
  }

  silent() { this.lost("No connection to the program. What you type stays here and is sent when it is back."); }
}

export const home = new Home();
