// Where the sketch lives: in a file on a computer, behind the program that gave this page.

/// Longest silence of the program, milliseconds: it gives a sign of life every five seconds.
const LONGEST_SILENCE = 12_000;

async function reach(path, options) {
  try { return await fetch(path, options); } catch {
    home.silent();
    throw Object.assign(new Error("the program does not answer; is it still running?"), { lost: true });
  }
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

  // Photos lie beside the sketch and are named here.
  get camera() { return false; }

  // There is always a sketch here.
  get idle() { return false; }

  // What is being typed outlives the page in the browser. Where it keeps nothing, it lives as long as the page.
  keepDraft(draft) {
    try {
      if (draft) localStorage.setItem(this.place, JSON.stringify(draft));
      else localStorage.removeItem(this.place);
    } catch { /* a private window */ }
  }

  async draft() {
    try { return JSON.parse(localStorage.getItem(this.place)); } catch { return null; }
  }

  // The address is another one after every start of the program; the sketch is the same.
  get place() { return `slabwalk-draft:${this.name}`; }

  async ask(path) {
    const answer = await answered(await reach(path));
    if (path === "api/state") this.name = answer.name;
    return answer;
  }

  // Sends a change; with the same `once` it is made once, however often it is sent.
  async send(path, data, { once = "" } = {}) {
    return answered(await reach(`${path}?once=${once}`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(data) }));
  }

  // Asks for what is about no sketch.
  work(path, data) { return this.send(path, data); }

  // A finished paper, as bytes.
  async paper(name) { return this.blob("api/paper?" + new URLSearchParams({ name })); }

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
