// An edit rehearsed before the first one is made: what a browser runs for the first time it runs slowly, and it makes fast code only of what
// it has run. A second core is asked what an edit asks, while nobody touches the page, and is thrown away with all that it did. The code is
// the same for both, so the job's own core is fast from then on.

/// How long nobody touches the page before it begins, ms.
const REST = 300;
/// How often an edit is made: often enough for fast code of what takes the time.
const ROUNDS = 8;

export class Rehearsal {
  // `core` is the one that becomes fast; `opened` gives the job as a core opens it.
  constructor(core, opened) {
    Object.assign(this, { core, opened, second: null, begun: false, over: false });
    for (const touch of ["pointerdown", "keydown"]) addEventListener(touch, () => this.cut(), { capture: true });
  }

  // Nothing is left to be done before the next touch.
  rest() {
    if (this.over) return;
    this.begun = true;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.run(), REST);
  }

  // The page is touched, and has the machine to itself. What was not rehearsed to its end is begun anew later.
  cut() {
    if (!this.begun) return;
    this.drop();
    this.rest();
  }

  // There is nothing to rehearse any more. `data-rehearsed` of the page says so.
  end() {
    this.over = true;
    clearTimeout(this.timer);
    this.drop();
    document.body.dataset.rehearsed = "yes";
  }

  drop() {
    const { second } = this;
    this.second = null;
    second?.end("it is not wanted any more");
  }

  async run() {
    const second = this.core.twin();
    this.second = second;
    const ask = async (...request) => JSON.parse(new TextDecoder().decode((await second.request(...request)).bytes));
    try {
      await second.begin();
      await ask("POST", "api/open", await this.opened());
      let { glance } = await ask("GET", "api/glance");
      for (let round = 0; round < ROUNDS; round += 1) {
        ({ glance } = await ask("POST", "api/amend", { version: glance.version, path: "job", values: { "job.number": String(round) } }));
        await ask("GET", "api/state");
      }
    } catch { /* cut off, or there is no floor to change */ }
    if (this.second === second) this.end();
  }
}
