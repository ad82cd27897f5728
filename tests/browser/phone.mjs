// The page on a phone in a real browser, by touch, without network: a whole floor walked and recorded, killed in between,
// taken out, and made into papers by the program, with the quantities that the phone showed.
//
//   node tests/browser/phone.mjs PROGRAM TOOLS
//
// PROGRAM is the built slabwalk; TOOLS a folder with playwright-core and axe-core in its node_modules. SHOTS, from the environment,
// is a folder for a picture of each screen. Ends with 1 at the first fault.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { accessible, chromium, keys, tap } from "./hand.mjs";

const program = path.resolve(process.argv[2]);
const sketches = path.resolve(import.meta.dirname, "../../sketches");
const folder = fs.mkdtempSync(path.join(os.tmpdir(), "slabwalk-phone-"));
const file = process.env.PAGE || path.join(folder, "slabwalk.html");
if (!process.env.PAGE) execFileSync(program, ["phone", "--out", file]);

/// Taps for a garage with three joints, three cracks, two spalls, two steps, three tests and six runs of outline.
const MOST_TAPS = 120;
const PATIENCE = 60_000;
const whole = setTimeout(() => { console.error("took too long"); process.exit(1); }, 600_000);
const errors = [];
let taps = 0;

// A phone: its own storage, no network. `kill` ends it as a dead battery does.
async function phone(profile, [width, height] = [390, 844]) {
  const context = await chromium.launchPersistentContext(path.join(folder, profile), {
    executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args: ["--no-sandbox", "--allow-file-access-from-files=false"],
    viewport: { width, height }, hasTouch: true, isMobile: true, offline: true, acceptDownloads: true,
  });
  const page = context.pages()[0] || await context.newPage();
  page.setDefaultTimeout(PATIENCE);
  page.on("pageerror", (error) => errors.push(String(error)));
  page.on("console", (message) => { if (message.type() === "error") errors.push(message.text()); });
  page.on("request", (request) => { if (!/^(file|blob|data):/.test(request.url())) errors.push(`asked for ${request.url()}`); });
  await page.exposeFunction("tapped", () => { taps += 1; });
  await page.addInitScript(() => addEventListener("pointerdown", (event) => { if (event.isTrusted) window.tapped(); }, { capture: true }));
  await page.goto("file://" + file);
  await page.waitForSelector("#ui-jobs[open], #ui-canvas svg.floor");
  page.kill = async () => {
    const own = (pid) => { try { return fs.readFileSync(`/proc/${pid}/cmdline`, "utf8"); } catch { return ""; } };
    const mine = fs.readdirSync("/proc").filter((pid) => /^\d+$/.test(pid) && own(pid).includes(path.join(folder, profile)));
    for (const pid of mine) { try { process.kill(Number(pid), "SIGKILL"); } catch { /* it went with another */ } }
    await context.close().catch(() => {});
    for (const name of ["SingletonLock", "SingletonCookie", "SingletonSocket"]) fs.rmSync(path.join(folder, profile, name), { force: true });
  };
  return page;
}

async function shot(page, name) {
  if (process.env.SHOTS) await page.screenshot({ path: path.join(process.env.SHOTS, `${name}.png`) });
}

const pad = async (page, pressed) => {
  for (const key of pressed) await page.tap(key === "'" ? `#ui-keys-pad [data-key="'"]` : `#ui-keys-pad [data-key='${key}']`);
};

async function walk(page, name, runs) {
  await page.tap("#ui-new-floor");
  await page.tap("#ui-job-name");
  await page.fill("#ui-job-name", name);
  for (const [direction, ...length] of runs) {
    const before = await page.locator(".place").count();
    await page.tap(`[data-run="${direction}"]`);
    await pad(page, [...length, "done"]);
    await page.waitForFunction((n) => document.querySelectorAll("#ui-jobs .place").length > n, before);
  }
}

async function begin(page) {
  await page.waitForSelector("#ui-begin:not([disabled])");
  await page.tap("#ui-begin");
  await page.waitForSelector("#ui-canvas svg.floor");
  await page.waitForSelector("#ui-jobs:not([open])", { state: "attached" });
}

async function record(page, kind, way, places, fill) {
  await page.waitForSelector(`[data-kind="${kind}"]`);
  await page.tap(`[data-kind="${kind}"]`);
  if (way) await page.tap(`[data-way="${way}"]`);
  for (const [x, y] of places) await tap(page, x, y);
  if (fill) await fill();
  await page.tap("#ui-save");
  await page.waitForSelector(`[data-kind="${kind}"]`);
}

// A file that the page gives away.
async function given(page, name) {
  await page.tap("#ui-tab-papers");
  const wait = page.waitForEvent("download");
  await page.tap(`[data-paper="${name}"]`);
  const download = await wait;
  const out = path.join(fs.mkdtempSync(path.join(folder, "given-")), download.suggestedFilename());
  await download.saveAs(out);
  return out;
}

const quantities = async (page) => {
  await page.tap("#ui-tab-quantities");
  return page.$$eval("#ui-quantities .row", (rows) => rows.map((row) => row.innerText.replace(/\s+/g, " ")));
};

const choose = (page, ...names) => async () => { for (const name of names) await page.tap(`[data-choice="${name}"]`); };

const tests = {
  async "a garage is walked and recorded in few taps, killed, and taken out whole"() {
    let page = await phone("one");
    await accessible(page, "jobs");
    await shot(page, "jobs-empty");
    taps = 0;
    await walk(page, "North garage", [["E", "2", "2", "'", "6"], ["N", "2", "2"], ["W", "6"], ["N", "4"], ["W", "1", "6", "'", "6"]]);
    await shot(page, "walk");
    await page.tap("#ui-closing");
    await page.waitForSelector("#ui-begin:not([disabled])");
    await accessible(page, "walk");
    await begin(page);
    const joint = (way, place, ...choices) => record(page, "joint", way, [place], choices.length ? choose(page, ...choices) : null);
    await joint(null, [3.4, 3], "kind:control");
    await joint(null, [5.2, 3]);
    await joint("across-level", [1.5, 4]);
    const crack = (a, b) => record(page, "crack", null, [a, b], async () => { await keys(page, "width", ["f1/16"]); await choose(page, "movement:dormant")(); });
    await crack([1, 1], [2.4, 2.2]);
    await crack([4, 1], [4.8, 2]);
    await crack([1, 5], [2.4, 6]);
    const spall = (at) => record(page, "spall", null, [at], async () => { await keys(page, "diameter", ["5", '"']); await keys(page, "depth", ["f3/8"]); });
    await spall([2, 3]);
    await spall([4.4, 5]);
    const step = (a, b) => record(page, "lippage", null, [a, b], async () => { await choose(page, "high:E")(); await keys(page, "step-1", ["f1/4"]); await keys(page, "step-2", ["f1/8"]); });
    await step([3.4, 1], [3.4, 2]);
    await step([5.2, 1], [5.2, 2.2]);
    const moist = (at) => record(page, "moisture", null, [at], () => keys(page, "rh", ["7", "5"]));
    await moist([1, 2]);
    await moist([4.4, 3]);
    await moist([2, 5]);
    await shot(page, "recorded");
    console.log(`        ${taps} taps`);
    assert.ok(taps < MOST_TAPS, `${taps} taps`);

    // Half of another record, and the battery dies.
    await page.tap('[data-kind="crack"]');
    await tap(page, 1, 3);
    await tap(page, 2, 3.4);
    await keys(page, "width", ["f1/8"]);
    await page.waitForTimeout(300);
    await page.kill();
    page = await phone("one");
    await page.waitForSelector("#ui-save");
    assert.equal(await page.locator(".place").count(), 2, "what was being typed is there");
    assert.equal(await page.innerText('[data-field="width"]'), '1/8"');
    await shot(page, "draft");
    await page.tap('[data-choice="movement:dormant"]');
    await page.tap("#ui-save");
    await page.waitForSelector("#ui-undo");
    assert.match(await page.innerText("#ui-undo"), /Crack C4/);
    await page.tap("#ui-undo");
    await page.waitForSelector("#ui-redo");
    await shot(page, "redo");

    const shown = await quantities(page);
    await shot(page, "quantities");
    const sketch = await given(page, "North-garage.yaml");
    const takeoff = JSON.parse(execFileSync(program, ["takeoff", sketch, "--format", "json"], { stdio: ["ignore", "pipe", "ignore"] }));
    assert.equal(takeoff.cracks.length, 3);
    assert.equal(takeoff.joints.length, 3);
    assert.equal(takeoff.lippage.length, 2);
    // The same floor taken in again shows the same.
    await page.tap("#ui-open-jobs");
    await page.setInputFiles("#ui-file", sketch);
    await page.waitForSelector("#ui-canvas svg.floor");
    await page.waitForSelector("#ui-jobs:not([open])", { state: "attached" });
    assert.deepEqual(await quantities(page), shown);
    // Papers made on the phone are those that the program makes of the file.
    for (const [paper, ...command] of [["crew-map.pdf", "map"], ["customer-drawing.pdf", "map", "--for", "customer"], ["field-sheet.pdf", "map", "--for", "field"]]) {
      const out = path.join(folder, paper);
      execFileSync(program, [command[0], sketch, ...command.slice(1), "--out", out], { stdio: "ignore" });
      assert.ok(fs.readFileSync(await given(page, paper)).equals(fs.readFileSync(out)), paper);
    }
    await shot(page, "papers");
    await page.context().close();
  },

  async "records, outline and the forms are changed, and only what was changed is another"() {
    const page = await phone("two");
    const garage = path.join(sketches, "harrow-lane-garage.yaml");
    const start = fs.readFileSync(garage, "utf8");
    await page.setInputFiles("#ui-file", garage);
    await page.waitForSelector("#ui-canvas svg.floor");
    const text = async () => fs.readFileSync(await given(page, "harrow-lane-garage.yaml"), "utf8");
    const saved = async () => { await page.tap("#ui-save"); await page.waitForSelector("[data-kind]"); };
    await page.tap("#ui-tab-record");
    await page.tap('[data-path="cracks.2"]');
    await shot(page, "change");
    await accessible(page, "change");
    await keys(page, "width", ["f1/8"]);
    await saved();
    let wanted = start.replace('    width: 1/16"\n', '    width: 1/8"\n');
    assert.equal(await text(), wanted);
    await page.tap("#ui-tab-record");
    await page.tap('[data-path="spalls.2"]');
    await page.tap("#ui-remove");
    await page.waitForSelector("[data-kind]");
    const gone = start.split("\n").find((line) => line.includes("id: S2"));
    wanted = wanted.replace(`${gone}\n`, "");
    assert.equal(await text(), wanted);
    await page.tap("#ui-tab-record");
    await page.tap('[data-path="joints.1"]');
    await page.tap("#ui-move");
    await tap(page, 4, 2);
    await saved();
    assert.match(await text(), /    x: 13' .+\n    width: 1\/4\n/);
    await page.tap("#ui-tab-record");
    await page.tap("#ui-undo");
    await page.waitForFunction(() => document.querySelector("#ui-redo"));
    assert.equal(await text(), wanted);
    await page.tap("#ui-tab-record");
    await page.tap('[data-part="job"]');
    await shot(page, "job");
    await accessible(page, "job");
    await page.fill('[id="ui-field-job.client"]', "B. Other");
    await saved();
    wanted = wanted.replace("client: A. Sample", "client: B. Other");
    assert.equal(await text(), wanted);
    await page.tap("#ui-tab-record");
    await page.tap("#ui-outline");
    await page.waitForSelector("#ui-begin:not([disabled])");
    await shot(page, "outline");
    await accessible(page, "outline");
    await page.tap('[aria-label^="Wall 3: W 6"]');
    await pad(page, ["6", "'", "1", '"', "done"]);
    await page.waitForFunction(() => document.querySelector('[aria-label^="Wall 3: W 6\' 1"]'));
    await page.waitForSelector("#ui-begin:not([disabled])");
    await page.tap("#ui-begin");
    await page.waitForSelector("#ui-jobs:not([open])", { state: "attached" });
    wanted = wanted.replace("W 6', N 4 ft", "W 6' 1\", N 4 ft");
    assert.equal(await text(), wanted);
    for (;;) {
      await page.tap("#ui-tab-record");
      const undo = await page.$("#ui-undo");
      if (!undo) break;
      const shown = await undo.innerText();
      await undo.tap();
      await page.waitForFunction((shown) => document.querySelector("#ui-undo")?.innerText !== shown, shown);
    }
    assert.equal(await text(), start, "all taken back, to the last byte");
    await page.context().close();
  },

  async "photos, a ZIP out and in, and what is refused"() {
    const page = await phone("three");
    await walk(page, "Shed", [["E", "1", "2"], ["N", "1", "0"], ["W", "1", "2"]]);
    await page.tap("#ui-closing");
    await begin(page);
    await record(page, "moisture", null, [[1, 1]], () => keys(page, "rh", ["7", "5"]));
    await page.tap('[data-kind="photo"]');
    await page.fill("#ui-field-item", "M1");
    const chosen = (bytes, name) => page.setInputFiles("#ui-field-file", { name, mimeType: "image/jpeg", buffer: bytes });
    // The head of a JPEG of 20,000 by 10,000 pixels.
    const huge = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xc0, 0, 17, 8, 0x27, 0x10, 0x4e, 0x20, 3]), Buffer.alloc(200)]);
    await chosen(huge, "huge.jpg");
    await page.waitForFunction(() => document.querySelector("#ui-record .fault")?.innerText.includes("20000 × 10000"));
    await chosen(Buffer.from("no photo at all"), "text.jpg");
    await page.waitForFunction(() => document.querySelector("#ui-record .fault")?.innerText.includes("neither a JPEG nor a PNG"));
    await chosen(fs.readFileSync(path.join(sketches, "photos/broken-sill.jpg")), "a.jpg");
    await page.waitForFunction(() => document.querySelector("#ui-camera")?.innerText.startsWith("photos/M1-"));
    await page.tap("#ui-save");
    await page.waitForSelector("[data-kind]");
    const photos = fs.readFileSync(await given(page, "photos.pdf"));
    assert.equal(photos.subarray(0, 5).toString(), "%PDF-");
    const packed = await given(page, "Shed.zip");
    const unpacked = fs.mkdtempSync(path.join(folder, "unpacked-"));
    execFileSync("python3", ["-m", "zipfile", "-e", packed, unpacked]);
    const check = execFileSync(program, ["takeoff", path.join(unpacked, "Shed.yaml"), "--format", "json"], { stdio: ["ignore", "pipe", "pipe"] });
    assert.equal(JSON.parse(check).moisture?.length ?? 1, 1);
    assert.equal(fs.readdirSync(path.join(unpacked, "photos")).length, 1);

    const shown = await quantities(page);
    const open = async (name, buffer) => {
      await page.tap("#ui-open-jobs");
      await page.setInputFiles("#ui-file", { name, mimeType: "application/octet-stream", buffer });
    };
    const refused = async (name, buffer, words) => {
      await open(name, buffer);
      await page.waitForFunction((words) => document.querySelector("#ui-jobs .fault")?.innerText.includes(words), words);
      await page.tap("#ui-jobs-close");
    };
    // A ZIP whose list promises 4 GiB, and one that unpacks to more than it says.
    const bomb = fs.readFileSync(packed);
    const list = bomb.lastIndexOf(Buffer.from([0x50, 0x4b, 1, 2]));
    bomb.writeUInt32LE(0xfffffff0, list + 24);
    await refused("bomb.zip", bomb, "would be too large unpacked");
    const script = "import sys,zipfile\nz=zipfile.ZipFile(sys.argv[1],'w',zipfile.ZIP_DEFLATED)\nz.writestr('a.yaml',b' '*50000000)\nz.close()";
    execFileSync("python3", ["-c", script, path.join(folder, "long.zip")]);
    await refused("long.zip", fs.readFileSync(path.join(folder, "long.zip")), "would be too large unpacked");
    const liar = fs.readFileSync(path.join(folder, "long.zip"));
    liar.writeUInt32LE(1000, liar.lastIndexOf(Buffer.from([0x50, 0x4b, 1, 2])) + 24);
    await refused("liar.zip", liar, "is not what the list says");
    await refused("noise.zip", Buffer.from("PK noise"), "it has no end");
    await refused("noise.yaml", Buffer.from([0xff, 0xfe, 0x00]), "is not UTF-8 text");
    await shot(page, "refused");
    // A sketch of a newer version is taken in and says so.
    await open("newer.yaml", Buffer.from("slabwalk: 9\njob: {name: later}\n"));
    await page.waitForSelector(".found.error");
    assert.match(await page.innerText(".found.error"), /version|slabwalk/i);
    await shot(page, "newer");
    // The ZIP brings everything back.
    await open("Shed.zip", fs.readFileSync(packed));
    await page.waitForSelector("#ui-canvas svg.floor");
    await page.waitForSelector("#ui-jobs:not([open])", { state: "attached" });
    assert.deepEqual(await quantities(page), shown);
    assert.ok(fs.readFileSync(await given(page, "photos.pdf")).equals(photos));
    await page.tap("#ui-open-jobs");
    await shot(page, "jobs");
    await accessible(page, "jobs, full");
    await page.context().close();
  },

  async "two windows keep both records, and a full storage keeps what was typed"() {
    const page = await phone("four");
    await walk(page, "Shed", [["E", "1", "2"], ["N", "1", "0"], ["W", "1", "2"]]);
    await page.tap("#ui-closing");
    await begin(page);
    const other = await page.context().newPage();
    await other.goto("file://" + file);
    await other.waitForSelector("#ui-canvas svg.floor");
    await page.bringToFront();
    await record(page, "moisture", null, [[1, 1]], () => keys(page, "rh", ["7", "5"]));
    await other.bringToFront();
    await other.tap("#ui-tab-record");
    await record(other, "moisture", null, [[2, 2]], () => keys(other, "rh", ["8", "0"]));
    await page.bringToFront();
    await page.waitForFunction(() => document.querySelectorAll("#ui-canvas g.moisture").length === 2);
    await page.evaluate(() => {
      const put = IDBObjectStore.prototype.put;
      window.free = () => { IDBObjectStore.prototype.put = put; };
      IDBObjectStore.prototype.put = function full(...given) {
        if (this.name === "steps") throw new DOMException("full", "QuotaExceededError");
        return put.apply(this, given);
      };
    });
    await page.tap('[data-kind="moisture"]');
    await tap(page, 3, 2);
    await keys(page, "rh", ["8", "1"]);
    await page.tap("#ui-save");
    await page.waitForFunction(() => document.querySelector("#ui-record .fault")?.innerText.includes("is full"));
    await shot(page, "full");
    assert.equal(await page.innerText('[data-field="rh"]'), "81");
    await page.evaluate(() => window.free());
    await page.tap("#ui-save");
    await page.waitForFunction(() => document.querySelectorAll("#ui-canvas g.moisture").length === 3);
    await page.context().close();
  },

  async "every size is accessible"() {
    for (const size of [[320, 568], [360, 780], [390, 844], [844, 390], [820, 1180], [1180, 820]]) {
      const page = await phone(`size-${size.join("-")}`, size);
      await accessible(page, `${size}, jobs`);
      await page.setInputFiles("#ui-file", path.join(sketches, "harrow-lane-garage.yaml"));
      await page.waitForSelector("#ui-canvas svg.floor");
      for (const part of ["findings", "quantities", "papers", "record"]) {
        await page.tap(`#ui-tab-${part}`);
        await accessible(page, `${size}, ${part}`);
        await shot(page, `${size.join("x")}-${part}`);
      }
      await page.tap("#ui-outline");
      await page.waitForSelector("#ui-begin");
      await accessible(page, `${size}, outline`);
      await page.context().close();
    }
  },
};

let failed = 0;
const only = process.env.ONLY;
for (const [name, test] of Object.entries(tests)) {
  if (only && !name.includes(only)) continue;
  try {
    await test();
    console.log(`ok      ${name}`);
  } catch (error) {
    failed += 1;
    console.log(`FAILED  ${name}\n${error.stack}`);
    break;
  }
}
if (errors.length) {
  failed += 1;
  console.log("errors on the page:", errors);
}
fs.rmSync(folder, { recursive: true, force: true });
clearTimeout(whole);
process.exit(failed ? 1 : 0);
