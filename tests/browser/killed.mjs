// The page on a phone that dies in the middle of every step of a garage: with each form open, while each save is under way, with a
// photo taken, while a change is taken back, a job renamed, taken out, taken in, copied, removed. Whatever was seen on the glass is
// found again; what was under way is there whole, or not at all and its form still open; nothing is there twice.
//
//   node tests/browser/killed.mjs PROGRAM TOOLS
//
// The browser's processes are killed, not closed. Ends with 1 at the first fault.

import assert from "node:assert/strict";
import fs from "node:fs";
import path from "node:path";
import { keys, tap } from "./hand.mjs";
import { begin, choose, folder, given, pad, phone, run, sketches } from "./handset.mjs";

/// Moments after a tap at which the phone dies, ms, one after another: before, while and after it is kept.
const MOMENTS = [0, 15, 40, 90, 180];

let page;
let deaths = 0;

async function dies() {
  deaths += 1;
  await page.kill();
  page = await phone("killed");
}

// Taps, and dies before the page has said anything.
async function diesAt(selector) {
  await page.tap(selector);
  await page.waitForTimeout(MOMENTS[deaths % MOMENTS.length]);
  await dies();
}

// What the storage of the browser holds, read past the page.
const kept = () => page.evaluate(async () => {
  const done = (request) => new Promise((ok, failed) => { request.onsuccess = () => ok(request.result); request.onerror = () => failed(request.error); });
  const db = await done(indexedDB.open("slabwalk"));
  const all = (name) => done(db.transaction(name).objectStore(name).getAll());
  const [jobs, steps, photos, pages] = [await all("jobs"), await all("steps"), await all("photos"), await all("page")];
  db.close();
  const open = pages.find((one) => one.key === "open")?.value;
  const text = (job) => steps.find((step) => step.job === job.id && step.number === job.at)?.text;
  return { open, jobs: jobs.map((job) => ({ id: job.id, name: job.name, removed: !!job.removed, text: text(job), photos: photos.filter((p) => p.job === job.id).length })) };
});
const job = async () => { const { open, jobs } = await kept(); return jobs.find((one) => one.id === open); };
const quiet = () => page.waitForFunction(() => !document.body.dataset.keeping);

// All that a form shows.
async function form() {
  await page.waitForSelector("#ui-save");
  return page.evaluate(() => [document.querySelector("#ui-record").innerText, ...[...document.querySelectorAll("#ui-record input:not([type=file])")].map((input) => input.value)]);
}

// Opens a form and fills it, dies with it open, saves it, and dies while it is saved.
async function step(name, fill, { at = "#ui-save" } = {}) {
  await page.tap("#ui-tab-record");
  const before = await job();
  await fill();
  await quiet();
  const typed = await form();
  await dies();
  assert.deepEqual(await form(), typed, `${name}: the form that was open`);
  assert.deepEqual(await job(), before, `${name}: nothing else`);
  await diesAt(at);
  // It is there already, or sent again by itself, or was not sent yet.
  const left = await page.evaluate(() => { const save = document.getElementById("ui-save"); return save && !save.disabled; });
  if (left) {
    assert.deepEqual([await form(), (await job()).text], [typed, before.text], `${name}: what was not sent yet is in its form`);
    await page.tap(at);
  }
  await page.waitForFunction(() => !document.getElementById("ui-save"));
  const after = await job();
  assert.notEqual(after.text, before.text, name);
  return [before, after];
}

// One new line is this one.
function added([before, after], name, line) {
  const old = before.text.split("\n");
  const fresh = after.text.split("\n").filter((one) => !old.includes(one));
  assert.equal(fresh.filter((one) => line.test(one)).length, 1, `${name}: ${fresh.join("\n")}`);
}

const walls = () => page.$$eval("#ui-jobs .place .run", (runs) => runs.map((run) => run.textContent));

await run({
  async "a phone that dies in the middle of every step of a garage loses nothing"() {
    page = await phone("killed");
    await page.tap("#ui-new-floor");
    await page.fill("#ui-job-name", "North garage");
    await quiet();
    await dies();
    const walked = [];
    for (const [direction, ...length] of [["E", "2", "2", "'", "6"], ["N", "2", "2"], ["W", "6"], ["N", "4"], ["W", "1", "6", "'", "6"]]) {
      assert.equal(await page.inputValue("#ui-job-name"), "North garage");
      assert.deepEqual(await walls(), walked, "the walk so far");
      await page.tap(`[data-run="${direction}"]`);
      await pad(page, length);
      await pad(page, ["done"]);
      await page.waitForFunction((n) => document.querySelectorAll("#ui-jobs .place .run").length > n, walked.length);
      await quiet();
      walked.push((await walls()).at(-1));
      await dies();
    }
    await page.tap("#ui-closing");
    await page.tap('[aria-label^="Wall 1: a wall"]');
    await page.tap('[data-wall="door"]');
    await pad(page, ["4", "done", "1", "2", "done"]);
    await page.waitForFunction(() => document.querySelector("#ui-jobs").innerText.includes("Doorway in wall 1"));
    await quiet();
    await dies();
    assert.match(await page.innerText("#ui-jobs"), /Doorway in wall 1, 4' to 12'/);
    await page.waitForSelector("#ui-begin:not([disabled])");
    await diesAt("#ui-begin");
    if (await page.locator("#ui-begin").isVisible()) await begin(page);
    await page.waitForSelector("#ui-canvas svg.floor");
    assert.deepEqual((await kept()).jobs.map((one) => one.name), ["North garage"], "one job, not two");
    assert.match((await job()).text, /wall: 1, from: 4', to: 12'/);

    const record = (kind, places, fill) => async () => {
      await page.tap(`[data-kind="${kind}"]`);
      for (const [x, y] of places) await tap(page, x, y);
      await fill?.();
    };
    const pick = (...names) => choose(page, ...names)();
    const rows = [
      ["joint", [[3.4, 3]], () => pick("kind:control"), /\{id: J1, kind: control, x: .+\}/],
      ["crack", [[1, 1], [2.4, 2.2]], async () => { await keys(page, "width", ["f1/16"]); await pick("movement:dormant"); }, /\{id: C1, path: .+\}/],
      ["spall", [[2, 3]], async () => { await keys(page, "diameter", ["5", '"']); await keys(page, "depth", ["f3/8"]); }, /\{id: S1, circle: .+\}/],
      ["lippage", [[3.4, 1], [3.4, 2]], async () => { await pick("high:E"); await keys(page, "step-1", ["f1/4"]); await keys(page, "step-2", ["f1/8"]); }, /\{id: L1, along: J1, .+\}/],
      ["moisture", [[1, 2]], () => keys(page, "rh", ["7", "5"]), /\{id: M1, at: .+, rh: 75%\}/],
      ["keep-out", [[4.2, 2.2], [4.9, 2.9]], () => page.fill("#ui-field-what", "post"), /\{id: K1, what: post, box: .+\}/],
      ["diagonal", [], async () => { await keys(page, "from", ["1"]); await keys(page, "to", ["3"]); await keys(page, "measured", ["3", "1", "'", "6"]); }, /\{from: 1, to: 3, measured: 31' 6"\}/],
    ];
    for (const [kind, places, fill, line] of rows) added(await step(kind, record(kind, places, fill)), kind, line);
    const [before, after] = await step("photo", async () => {
      await page.tap('[data-kind="photo"]');
      await page.fill("#ui-field-item", "C1");
      await page.setInputFiles("#ui-field-file", path.join(sketches, "photos/broken-sill.jpg"));
      await page.waitForFunction(() => document.querySelector("#ui-camera")?.innerText.startsWith("photos/C1-"));
    });
    added([before, after], "photo", /\{item: C1, file: photos\/C1-.+\}/);
    assert.equal(after.photos, 1, "the photo of the form that was open is kept with the record");

    await step("a record changed", async () => { await page.tap('[data-path="cracks.1"]'); await keys(page, "width", ["f1/8"]); });
    assert.match((await job()).text, /\{id: C1, .+width: 1\/8"/);
    await step("a record placed again", async () => { await page.tap('[data-path="tests.moisture.1"]'); await page.tap("#ui-move"); await tap(page, 4, 3); });
    const [, removed] = await step("a record removed", () => page.tap('[data-path="spalls.1"]'), { at: "#ui-remove" });
    assert.doesNotMatch(removed.text, /id: S1,/);
    await step("the slab", async () => { await page.tap('[data-part="slab"]'); await keys(page, "slab.thickness", ["4"]); });
    await step("prices", async () => { await page.tap('[data-part="price"]'); await keys(page, "price.unit_prices.joint", ["1", "4", ".", "5"]); });
    await step("the job's name", async () => { await page.tap('[data-part="job"]'); await page.fill('[id="ui-field-job.name"]', "South garage"); });
    assert.equal((await job()).name, "South garage");

    // The outline corrected.
    await page.tap("#ui-tab-record");
    await page.tap("#ui-outline");
    await page.tap('[aria-label^="Wall 1: E 22"]');
    await pad(page, ["2", "2", "'", "6", "f1/2", "done"]);
    const longer = "E 22' 6 1/2\"";
    const there = () => page.waitForFunction((run) => [...document.querySelectorAll("#ui-jobs .place .run")].some((r) => r.textContent === run) && !document.getElementById("ui-begin").disabled, longer);
    await there();
    await quiet();
    await dies();
    await there();
    await diesAt("#ui-begin");
    if (!(await job()).text.includes(longer)) {
      await there();
      await page.tap("#ui-begin");
      await page.waitForSelector("#ui-jobs:not([open])", { state: "attached" });
    }
    const open = page.locator("#ui-begin");
    assert.ok(!(await open.count() && await open.isVisible()), "saved, the walk is no draft any more");

    // Back and forth.
    for (const way of ["undo", "redo"]) {
      await page.tap("#ui-tab-record");
      await page.waitForSelector("#ui-undo");
      const now = (await job()).text;
      await diesAt(`#ui-${way}`);
      await page.tap("#ui-tab-record");
      if ((await job()).text === now) {
        const shown = await page.innerText(`#ui-${way}`);
        await page.tap(`#ui-${way}`);
        await page.waitForFunction(([way, shown]) => document.querySelector(`#ui-${way}`)?.innerText !== shown, [way, shown]);
      }
      assert.notEqual((await job()).text, now);
      assert.equal((await job()).text.includes(longer), way === "redo", way);
    }

    // Out and in.
    const whole = await kept();
    const packed = await given(page, "North-garage.zip");
    await page.tap("#ui-tab-papers");
    await diesAt('[data-paper="crew-map.pdf"]');
    assert.deepEqual(await kept(), whole, "a paper that was being made");
    const name = path.join(folder, "taken.zip");
    fs.copyFileSync(packed, name);
    await page.tap("#ui-open-jobs");
    await page.setInputFiles("#ui-file", name);
    await page.waitForTimeout(MOMENTS[2]);
    await dies();
    if ((await kept()).jobs.length === 1) {
      assert.deepEqual(await kept(), whole, "a job that was being taken in");
      await page.tap("#ui-open-jobs");
      await page.setInputFiles("#ui-file", name);
      await page.waitForFunction(() => !document.querySelector("#ui-jobs[open]"));
    }
    const both = await kept();
    const [first, second] = both.jobs;
    assert.deepEqual([first, second.text, second.photos, both.jobs.length], [whole.jobs[0], first.text, 1, 2], "a job taken in is whole, beside the other");

    // Copied, removed, put back, removed for good.
    const more = async (text) => { await page.tap("#ui-open-jobs"); await page.tap('#ui-jobs .job [aria-label^="More about"]'); await diesAt(`#ui-jobs button:text-is("${text}")`); };
    await more("Copy, for a floor like this one");
    for (const one of (await kept()).jobs) assert.deepEqual([one.text, one.photos], [first.text, 1], "a copy is whole or not there");
    await more("Remove");
    const left = (await kept()).jobs;
    assert.ok(left.filter((one) => one.removed).length <= 1 && left.length >= 2, "removed, it can be put back");
    for (const one of left) assert.deepEqual([one.text, one.photos], [first.text, 1]);
    console.log(`        ${deaths} deaths`);
    await page.context().close();
  },
});
