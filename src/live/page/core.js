// The core of slabwalk in this page: a worker that holds it, asked one request at a time.

/// Longest that an answer may take, milliseconds; a core that takes longer is ended and begun anew.
const LONGEST_ANSWER = 60_000;

// The whole of the worker; it is started from its own text.
function worker() {
  let core = null;
  const encoder = new TextEncoder();
  const answered = (line, body) => {
    const head = encoder.encode(line + "\n");
    const request = new Uint8Array(head.length + body.length);
    request.set(head);
    request.set(body, head.length);
    const at = core.room(request.length);
    new Uint8Array(core.memory.buffer).set(request, at);
    const length = core.answer();
    return new Uint8Array(core.memory.buffer).slice(core.answered(), core.answered() + length);
  };
  self.onmessage = async ({ data }) => {
    try {
      if (data.module) {
        core = (await WebAssembly.instantiate(data.module)).exports;
        self.postMessage({ id: data.id });
        return;
      }
      const began = performance.now();
      const bytes = answered(data.line, data.body);
      // How long the core took is for who measures: the way there and back belongs to the page.
      self.postMessage({ id: data.id, bytes, took: performance.now() - began }, [bytes.buffer]);
    } catch (error) {
      self.postMessage({ id: data.id, broken: String(error) });
    }
  };
}

export class Core {
  // `packed` gives the packed bytes of the core.
  constructor(packed) {
    this.packed = packed;
    this.waiting = new Map();
    this.last = 0;
  }

  async module() {
    const unpacked = new Response((await this.packed()).stream().pipeThrough(new DecompressionStream("gzip")));
    this.compiled ||= await WebAssembly.compile(await unpacked.arrayBuffer());
    return this.compiled;
  }

  // Another one that runs the same code in a memory of its own.
  twin() { return Object.assign(new Core(this.packed), { compiled: this.compiled }); }

  // Begins with an empty memory.
  async begin() {
    this.end("begun anew");
    const module = this.compiled || await this.module();
    const url = URL.createObjectURL(new Blob([`(${worker})()`], { type: "text/javascript" }));
    this.worker = new Worker(url);
    URL.revokeObjectURL(url);
    this.worker.onmessage = ({ data }) => this.settle(data);
    this.worker.onerror = (event) => { event.preventDefault(); this.end(event.message || "it can't be started"); };
    await this.post({ module });
  }

  end(why) {
    this.worker?.terminate();
    this.worker = null;
    for (const { failed, timer } of this.waiting.values()) { clearTimeout(timer); failed(why); }
    this.waiting.clear();
  }

  settle({ id, bytes, broken }) {
    const { done, failed, timer } = this.waiting.get(id) || {};
    clearTimeout(timer);
    this.waiting.delete(id);
    if (broken) { failed?.(broken); this.end(broken); } else done?.(bytes);
  }

  post(message) {
    return new Promise((done, failed) => {
      const id = ++this.last;
      const fail = (why) => failed(Object.assign(new Error(`this could not be worked out (${why}); nothing was changed`), { broken: true }));
      const timer = setTimeout(() => this.end("it took too long"), LONGEST_ANSWER);
      this.waiting.set(id, { done, failed: fail, timer });
      this.worker.postMessage({ ...message, id });
    });
  }

  // Asks; `body` is text, bytes, or something for JSON. The answer's status, type and bytes.
  async request(method, path, body = "") {
    const bytes = body instanceof Uint8Array ? body : new TextEncoder().encode(typeof body === "string" ? body : JSON.stringify(body));
    if (!this.worker) throw Object.assign(new Error("the core has ended"), { broken: true });
    const answer = await this.post({ line: `${method} /${path}`, body: bytes });
    const end = answer.indexOf(10);
    const [status, type] = new TextDecoder().decode(answer.subarray(0, end)).split(" ");
    return { status: Number(status), type, bytes: answer.subarray(end + 1) };
  }
}
