// What a phone keeps: jobs, each with its sketch after every change, and photos. In IndexedDB, so that a page that is
// ended in the middle of anything finds all of it again.

const promised = (request) => new Promise((done, failed) => {
  request.onsuccess = () => done(request.result);
  request.onerror = () => failed(request.error);
});

// The words for what the storage says.
function storageFault(error) {
  const full = error?.name === "QuotaExceededError";
  return Object.assign(new Error(full
    ? "the storage of this phone is full; nothing was changed. Free some space, or save old jobs elsewhere and remove them here"
    : `this phone keeps nothing at the moment (${error?.name || "unknown"}); nothing was changed`), { full });
}

export class Store {
  async open() {
    try {
      const request = indexedDB.open("slabwalk", 1);
      request.onupgradeneeded = () => {
        const db = request.result;
        db.createObjectStore("jobs", { keyPath: "id", autoIncrement: true });
        db.createObjectStore("steps", { keyPath: ["job", "number"] });
        db.createObjectStore("photos", { keyPath: ["job", "file"] });
        db.createObjectStore("page", { keyPath: "key" });
      };
      this.db = await promised(request);
    } catch {
      throw new Error("This browser gives the page no room to keep anything (a private window, or a page opened inside another program). Open it in the browser itself; nothing would be kept here.");
    }
    // A newer page wants to change what is kept.
    this.db.onversionchange = () => this.db.close();
    navigator.storage?.persist?.().catch(() => {});
  }

  // Does something in one step: all of it is kept, or nothing.
  async change(stores, work) {
    let tx;
    try { tx = this.db.transaction(stores, "readwrite", { durability: "strict" }); } catch (error) { throw storageFault(error); }
    const done = new Promise((ok, failed) => {
      tx.oncomplete = ok;
      tx.onabort = () => failed(storageFault(tx.error));
      tx.onerror = (event) => event.preventDefault();
    });
    let result;
    try { result = await work((name) => tx.objectStore(name)); } catch (error) {
      try { tx.abort(); } catch { /* it is ended already */ }
      await done.catch(() => {});
      throw error.said ? error : storageFault(error);
    }
    await done;
    return result;
  }

  read(store, key) { return promised(this.db.transaction(store).objectStore(store).get(key)); }
  all(store, range) { return promised(this.db.transaction(store).objectStore(store).getAll(range)); }

  async jobs() { return this.all("jobs"); }
  job(id) { return this.read("jobs", id); }
  steps(id) { return this.all("steps", IDBKeyRange.bound([id, -Infinity], [id, Infinity])); }
  photos(id) { return this.all("photos", IDBKeyRange.bound([id, ""], [id, "\uffff"])); }

  // The names of the photos of a job.
  async named(id) {
    const range = IDBKeyRange.bound([id, ""], [id, "\uffff"]);
    return (await promised(this.db.transaction("photos").objectStore("photos").getAllKeys(range))).map(([, file]) => file);
  }

  // What the page itself remembers, such as the job that was open.
  async remembered(key) { return (await this.read("page", key))?.value; }
  remember(key, value) { return this.change(["page"], (at) => promised(at("page").put({ key, value }))); }

  // A new job from a text, or from all steps of another. It is the one that is open then; one that was `walked` is no draft any more.
  add(job, steps, photos = [], walked = false) {
    return this.change(["jobs", "steps", "photos", "page"], async (at) => {
      const id = await promised(at("jobs").add({ ...job, writes: 0 }));
      await promised(at("page").put({ key: "open", value: id }));
      if (walked) await promised(at("page").delete("walk"));
      for (const step of steps) await promised(at("steps").put({ ...step, job: id }));
      for (const photo of photos) await promised(at("photos").put({ ...photo, job: id }));
      return id;
    });
  }

  // Keeps a change of a job: the step it leads to, and what else is new; the form that it comes from is no draft any more. Refused where another page changed the job since
  // `writes`; what is kept then is the other's.
  keep(id, writes, step, { only, photos = [], name }) {
    return this.change(["jobs", "steps", "photos"], async (at) => {
      const job = await promised(at("jobs").get(id));
      if (!job || job.removed) throw Object.assign(new Error("this job was removed in another window"), { said: true });
      if (job.writes !== writes) throw Object.assign(new Error("this job was changed in another window"), { said: true, other: true });
      // Asked for at once; the storage does one after the other.
      const parts = only ? [] : [at("steps").delete(IDBKeyRange.bound([id, job.at], [id, Infinity], true)), at("steps").put({ ...step, job: id })];
      for (const photo of photos) parts.push(at("photos").put({ ...photo, job: id }));
      parts.push(at("jobs").put({ ...job, name: name || job.name, draft: only ? job.draft : null, at: step.number, writes: writes + 1, changed: Date.now() }));
      await Promise.all(parts.map(promised));
      return writes + 1;
    });
  }

  // Changes what is known of a job itself.
  mark(id, set) {
    return this.change(["jobs"], async (at) => {
      const job = await promised(at("jobs").get(id));
      if (job) await promised(at("jobs").put({ ...job, ...set }));
    });
  }

  // Removes for good.
  drop(id) {
    return this.change(["jobs", "steps", "photos"], async (at) => {
      await promised(at("jobs").delete(id));
      await promised(at("steps").delete(IDBKeyRange.bound([id, -Infinity], [id, Infinity])));
      await promised(at("photos").delete(IDBKeyRange.bound([id, ""], [id, "\uffff"])));
    });
  }
}
