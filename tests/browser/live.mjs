// The page of `slabwalk live` in a real browser, by touch, at phone, tablet and desk size.
//
//   node tests/browser/live.mjs PROGRAM TOOLS
//
// PROGRAM is the built slabwalk; TOOLS a folder with playwright-core and axe-core in its node_modules. The
// browser is CHROMIUM from the environment, or the system's chromium. Ends with 1 at the first fault.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { SIZES, accessible, chromium, keys, saysUnshown, tap, unshown } from "./hand.mjs";

const program = path.resolve(process.argv[2]);
const sketches = path.resolve(import.meta.dirname, "../../sketches");
const folder = fs.mkdtempSync(path.join(os.tmpdir(), "slabwalk-browser-"));
fs.cpSync(sketches, folder, { recursive: true });
const file = path.join(folder, "harrow-lane-garage.yaml");
const read = () => fs.readFileSync(file, "utf8");

// Nothing here waits for ever: a page that does not come to what is wanted fails.
const PATIENCE = 30_000;
const whole = setTimeout(() => { console.error("took too long"); process.exit(1); }, 240_000);

const errors = [];

// A program that serves a sketch, and its address.
async function serve(sketch, port = "0") {
  const server = spawn(program, ["live", sketch, "--port", port], { stdio: ["ignore", "pipe", "ignore"] });
  return [server, await new Promise((found) => server.stdout.once("data", (data) => found(String(data).trim())))];
}
const [server, address] = await serve(file);
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args: ["--no-sandbox"] });

async function open([, width, height, touch], at = address) {
  const context = await browser.newContext({ viewport: { width, height }, hasTouch: touch, isMobile: touch });
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENCE);
  page.on("pageerror", (error) => errors.push(String(error)));
  page.on("console", (message) => { if (message.type() === "error" && !/status of 4|net::ERR_(FAILED|INTERNET_DISCONNECTED|CONNECTION_REFUSED|INCOMPLETE_CHUNKED_ENCODING|CONNECTION_RESET|EMPTY_RESPONSE)/.test(message.text())) errors.push(message.text()); });
  await page.goto(at);
  await page.waitForSelector("#ui-canvas svg.floor");
  return page;
}

async function shotOf(page, name) {
  if (process.env.SHOTS) await page.screenshot({ path: path.join(process.env.SHOTS, `live-${name}.png`) });
}

// Records by touch; the new lines of the sketch.
async function record(page, kind, way, taps, fill) {
  const before = read();
  await page.tap("#ui-tab-record");
  await page.tap(`[data-kind="${kind}"]`);
  if (way) await page.tap(`[data-way="${way}"]`);
  for (const [x, y] of taps) await tap(page, x, y);
  await fill();
  await page.tap("#ui-save");
  await page.waitForSelector(`[data-kind="${kind}"]`);
  const old = new Set(before.split("\n"));
  const added = read().split("\n").filter((line) => !old.has(line)).join("\n");
  assert.ok(added, `${kind}: ${await page.innerText("#ui-say")}`);
  return added.trim();
}

const tests = {
  async "every size is accessible in every part"() {
    for (const size of SIZES) {
      const page = await open(size);
      for (const part of ["findings", "quantities", "papers", "record"]) {
        await page.click(`#ui-tab-${part}`);
        await accessible(page, `${size[0]}, ${part}`);
      }
      await page.click('[data-kind="spall"]');
      await accessible(page, `${size[0]}, form`);
      await page.click('[data-field="depth"]');
      await accessible(page, `${size[0]}, keys`);
      await page.context().close();
    }
  },

  async "every kind is recorded by touch and taken back"() {
    const start = read();
    const page = await open(SIZES[0]);
    // A slow answer: what can be taken back must be the last record all the same.
    await page.route("**/api/state", async (route) => { await new Promise((go) => setTimeout(go, 150)); await route.continue(); });
    let offered = null;
    const shape = (then) => async () => { await keys(page, "depth", ["f3/8"]); if (then) await then(); };
    const choose = (...names) => async () => { for (const name of names) await page.tap(`[data-choice="${name}"]`); };
    const rows = [
      ["crack", null, [[1.6, 4.4], [2.3, 5.0]], async () => { await keys(page, "width", ["f1/16"]); await choose("movement:unknown")(); }, /^- \{id: C3, path: \[.+\], width: 1\/16", movement: unknown\}$/],
      ["spall", "round", [[1.2, 4.2]], shape(() => keys(page, "diameter", ["5", '"'])), /^- \{id: S4, circle: \{center: .+, diameter: 5"\}, depth: 3\/8"\}$/],
      ["spall", "strip", [[4.2, 4.6], [5.0, 5.0]], shape(() => keys(page, "width", ["3", '"'])), /^- \{id: S5, band: /],
      ["spall", "corners", [[4.2, 1.0], [5.2, 1.0], [5.0, 1.7]], shape(), /^- \{id: S6, polygon: /],
      ["joint", "across-up", [[6.0, 1.5]], choose("kind:control", "formed:sawn"), /^- \{id: J3, kind: control, formed: sawn, x: 19' .+, width: 1\/4", depth: 0.75\}$/],
      ["lippage", null, [[3.43, 6.6], [3.43, 7.4]], async () => { await choose("high:E")(); await keys(page, "step-1", ["f1/4"]); await keys(page, "step-2", ["f1/8"]); }, /^- \{id: L3, along: J1, high: E, readings: \[\[.+, 1\/4"\], \[.+, 1\/8"\]\]\}$/],
      ["blemish", "box", [[4.2, 4.4], [5.2, 5.4]], choose("what:paint"), /^- \{id: B2, what: paint, box: /],
      ["delamination", "box", [[4.2, 6.0], [4.9, 6.6]], choose("treatment:inject"), /^delaminations:\n +- \{id: D1, box: .+, treatment: inject\}$/],
      ["moisture", null, [[1.2, 7.2]], () => keys(page, "rh", ["7", "5"]), /\{id: M4, at: \{.+\}, rh: 75%\}\]$/],
      ["hardness", null, [[2.2, 7.2]], () => keys(page, "mohs", ["5"]), /, mohs: 5\}\]$/],
      ["level", null, [[2.0, 1.2]], () => keys(page, "height", ["minus", "f1/2"]), /^- \{at: \{.+\}, height: -1\/2"\}$/],
      ["keep-out", "box", [[4.2, 2.2], [4.9, 2.9]], async () => { await page.fill("#ui-field-what", "pad: old"); }, /^- \{id: K3, what: "pad: old", box: /],
      ["tier", "box", [[5.4, 5.6], [6.4, 6.4]], async () => { await page.fill("#ui-field-what", "plinth"); await keys(page, "height", ["7"]); await choose("riser:leave")(); }, /^tiers:\n +- \{id: V1, what: plinth, box: .+, height: 7", riser: leave\}$/],
      ["uncoated", "box", [[2.2, 6.0], [3.0, 6.6]], async () => { await page.fill("#ui-field-what", "mat well"); }, /^- \{id: U2, what: mat well, box: /],
      ["opening", null, [[6.8, 1.5], [6.8, 2.5]], async () => { await page.fill("#ui-field-name", "hatch"); }, /^- \{name: hatch, wall: 2, from: .+, to: .+\}$/],
      ["photo", null, [], async () => { await page.fill("#ui-field-item", "C1"); await page.fill("#ui-field-file-name", "photos/a.jpg"); }, /^- \{item: C1, file: photos\/a.jpg\}$/],
    ];
    for (const [kind, way, taps, fill, wanted] of rows) {
      const line = await record(page, kind, way, taps, fill);
      assert.match(line, wanted);
      const now = await page.innerText("#ui-undo");
      assert.notEqual(now, offered, `${kind}: the record that can be taken back`);
      offered = now;
    }
    for (let left = rows.length; left > 0; left -= 1) {
      const before = read();
      await page.waitForSelector("#ui-undo");
      const shown = await page.innerText("#ui-undo");
      await page.tap("#ui-undo");
      await page.waitForFunction((text) => document.querySelector("#ui-undo")?.innerText !== text, shown);
      assert.notEqual(read(), before);
    }
    assert.equal(read(), start, "all taken back, to the last byte");
    await page.context().close();
  },

  async "a typed place moves the point"() {
    const page = await open(SIZES[2]);
    await page.tap("#ui-tab-record");
    await page.tap('[data-kind="moisture"]');
    await tap(page, 1.2, 7.2);
    await page.tap("#ui-keys-close");
    await page.tap(".place button");
    for (const key of ["5", "'", "6", "f1/2", "done"]) await page.tap(`#ui-keys-pad [data-key="${key}"]`);
    await page.waitForFunction(() => document.querySelector(".place").innerText.includes("5' 6 1/2\""));
    await page.context().close();
  },

  async "a photo of the camera is kept beside the sketch and named in it"() {
    const start = read();
    const page = await open(SIZES[0]);
    await page.tap("#ui-tab-record");
    await page.tap('[data-kind="photo"]');
    await page.fill("#ui-field-item", "C1");
    const chosen = (buffer) => page.setInputFiles("#ui-field-file", { name: "a.jpg", mimeType: "image/jpeg", buffer });
    const huge = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xc0, 0, 17, 8, 0x27, 0x10, 0x4e, 0x20, 3]), Buffer.alloc(200)]);
    await chosen(huge);
    await page.waitForFunction(() => document.querySelector("#ui-record .fault")?.innerText.includes("20000 × 10000"));
    await chosen(fs.readFileSync(path.join(sketches, "photos/broken-sill.jpg")));
    await page.waitForFunction(() => document.querySelector("#ui-camera")?.innerText.startsWith("photos/C1-"));
    await accessible(page, "photo");
    await shotOf(page, "photo");
    // The connection is lost while the photo is on its way, and the page ends: both are kept, and sent when it is back.
    await page.route("**/api/photo**", (route) => route.abort(), { times: 1 });
    await page.tap("#ui-save");
    await page.waitForFunction(() => document.getElementById("ui-save").innerText === "Waiting for the connection");
    assert.equal(read(), start);
    await page.reload();
    await page.waitForSelector("#ui-undo");
    const [line, name] = read().match(/- \{item: C1, file: (photos\/C1-[a-z0-9]+\.jpg)\}/);
    assert.ok(line && fs.readFileSync(path.join(folder, name)).length > 1000);
    await page.tap("#ui-tab-papers");
    const wait = page.waitForEvent("download");
    await page.tap('[data-paper="photos.pdf"]');
    assert.equal(fs.readFileSync(await (await wait).path()).subarray(0, 5).toString(), "%PDF-");
    fs.writeFileSync(file, start);
    await page.context().close();
  },

  async "what papers can't show of photos and logo is said in the words of the program"() {
    const job = fs.mkdtempSync(path.join(folder, "lacking-"));
    const sketch = unshown(job, sketches);
    const [own, at] = await serve(sketch);
    const page = await open(SIZES[0], at);
    await saysUnshown(page, sketch, program, "No such file or directory (os error 2)", (part) => shotOf(page, `unshown-${part}`));
    // Put where it belongs, it is said no more.
    fs.copyFileSync(path.join(job, "photos/good.png"), path.join(job, "photos/gone.jpg"));
    await page.tap("#ui-tab-papers");
    await page.waitForFunction(() => document.querySelectorAll("#ui-papers .found").length === 3);
    const wait = page.waitForEvent("download");
    await page.tap('[data-paper="customer-drawing.pdf"]');
    await wait;
    await page.context().close();
    own.kill("SIGINT");
  },

  async "a saved change, a broken file and its mending are seen without a reload, on two pages"() {
    const start = read();
    const [phone, desk] = [await open(SIZES[0]), await open(SIZES[3])];
    const cracks = (n) => [phone, desk].map((page) => page.waitForFunction((n) => document.querySelectorAll("#ui-canvas g.crack").length === n, n));
    await Promise.all(cracks(2));
    fs.writeFileSync(file, start.replace("\nspalls:", "  - {path: [[2', 15'], [5', 18']], width: 1/16}\n\nspalls:"));
    await Promise.all(cracks(3));
    fs.writeFileSync(file, start.replace("width: 1/4\n", "width: thin\n"));
    for (const page of [phone, desk]) {
      await page.waitForSelector("#ui-map.dimmed");
      await page.waitForSelector(".found.error mark");
      assert.equal(await page.innerText(".found.error mark"), "thin");
      assert.equal(await page.locator("#ui-canvas g.crack").count(), 3, "the last good floor");
    }
    fs.writeFileSync(file, start);
    await Promise.all(cracks(2));
    for (const page of [phone, desk]) await page.waitForSelector("#ui-map:not(.dimmed)");
    for (const page of [phone, desk]) await page.context().close();
  },

  async "the connection drops: it is said at once, what was typed stays, and is written once when it is back"() {
    const start = read();
    const page = await open(SIZES[0]);
    const said = (words) => page.waitForFunction((words) => !document.getElementById("ui-broken").hidden && document.getElementById("ui-broken").innerText.includes(words), words);
    const cracks = () => read().split("\n").filter((line) => !start.includes(line) && line.includes("path:")).length;
    const fill = async () => {
      await page.tap("#ui-tab-record");
      await page.tap('[data-kind="crack"]');
      for (const [x, y] of [[1.6, 4.4], [2.3, 5.0]]) await tap(page, x, y);
      await keys(page, "width", ["f1/16"]);
      await page.tap('[data-choice="movement:unknown"]');
    };
    // The network goes while a form is open.
    await fill();
    await page.context().setOffline(true);
    await said("No connection");
    assert.equal(await page.innerText('[data-field="width"]'), '1/16"');
    await keys(page, "width", ["f1/8"]);
    await page.tap("#ui-save");
    await page.waitForFunction(() => document.getElementById("ui-save").innerText === "Waiting for the connection");
    await shotOf(page, "lost");
    await accessible(page, "without connection");
    assert.equal(read(), start);
    await page.context().setOffline(false);
    await page.waitForFunction(() => document.querySelector("#ui-undo"));
    await page.waitForFunction(() => document.getElementById("ui-broken").hidden);
    assert.equal(cracks(), 1);
    assert.match(read(), /width: 1\/8", movement: unknown/);

    // The answer is lost on its way, and the page with it: sent again it is the same record.
    await fill();
    await page.route("**/api/record**", async (route) => { await route.fetch().catch(() => {}); await route.abort().catch(() => {}); }, { times: 1 });
    await page.tap("#ui-save");
    await page.waitForFunction(() => document.querySelectorAll("#ui-canvas g.crack").length === 4);
    assert.equal(cracks(), 2);
    await page.reload();
    await page.waitForSelector("#ui-canvas svg.floor");
    await page.waitForFunction(() => !Object.values(localStorage).some((draft) => draft.includes('"waiting":{')));
    assert.equal(cracks(), 2, "written once");

    // The page ends before it hears of its record.
    await fill();
    await page.route("**/api/record**", (route) => route.fetch().catch(() => {}), { times: 1 });
    await page.tap("#ui-save");
    await page.waitForFunction(() => document.querySelectorAll("#ui-canvas g.crack").length === 5);
    await page.reload();
    await page.waitForSelector("body[data-begun]");
    await page.waitForFunction(() => !document.getElementById("ui-save"));
    assert.equal(cracks(), 3, "written once");

    // A program that hangs is missed too.
    server.kill("SIGSTOP");
    await said("No connection");
    server.kill("SIGCONT");
    await page.waitForFunction(() => document.getElementById("ui-broken").hidden);
    fs.writeFileSync(file, start);
    await page.context().close();
  },

  async "the program ends and is started again: what was typed is there at its new address"() {
    const own = path.join(folder, "own.yaml");
    fs.copyFileSync(path.join(sketches, "harrow-lane-garage.yaml"), own);
    const [first, before] = await serve(own);
    const page = await open(SIZES[0], before);
    await page.tap("#ui-tab-record");
    await page.tap('[data-kind="moisture"]');
    await tap(page, 1.2, 7.2);
    await keys(page, "rh", ["7", "5"]);
    first.kill("SIGKILL");
    await page.waitForFunction(() => !document.getElementById("ui-broken").hidden);
    await page.tap("#ui-save");
    await page.waitForFunction(() => document.getElementById("ui-save").innerText === "Waiting for the connection");
    const [second, after] = await serve(own, new URL(before).port);
    await page.waitForFunction(() => document.getElementById("ui-broken").innerText.includes("Open the address that it prints now"));
    await page.goto(after);
    await page.waitForSelector("#ui-undo");
    assert.match(fs.readFileSync(own, "utf8"), /\{id: M4, at: \{.+\}, rh: 75%\}/);
    assert.equal(fs.readFileSync(own, "utf8").match(/id: M4/g).length, 1);
    const ended = new Promise((done) => second.once("exit", done));
    second.kill("SIGINT");
    await ended;
    await page.context().close();
  },

  async "findings, arithmetic and the drawings"() {
    const page = await open(SIZES[3]);
    await page.locator(".found", { hasText: "panel P1" }).first().click();
    await page.waitForSelector("#ui-canvas g#P1.marked");
    assert.match(await page.innerText("#ui-say"), /^Line \d+ of harrow-lane-garage\.yaml\.$/);
    for (const view of ["crew", "customer", "field"]) {
      await page.click(`[data-view="${view}"]`);
      await page.waitForFunction((view) => document.body.dataset.drawn?.startsWith(view + ":"), view);
    }
    await page.click("#ui-tab-quantities");
    await page.locator(".row", { hasText: "Coated floor" }).click();
    await page.waitForFunction(() => document.querySelectorAll("#ui-detail .steps li").length > 1);
    const seen = () => page.evaluate(() => Number(document.querySelector("#ui-canvas svg").getAttribute("viewBox").split(" ")[2]));
    const width = await seen();
    await page.mouse.move(400, 400);
    await page.mouse.wheel(0, -400);
    await page.waitForFunction((w) => Number(document.querySelector("#ui-canvas svg").getAttribute("viewBox").split(" ")[2]) < w * 0.8, width);
    await page.context().close();
  },

  async "two fingers enlarge"() {
    const page = await open(SIZES[0]);
    const seen = () => page.evaluate(() => Number(document.querySelector("#ui-canvas svg").getAttribute("viewBox").split(" ")[2]));
    const before = await seen();
    const touch = await page.context().newCDPSession(page);
    const at = (d) => [{ x: 150 - d, y: 300, id: 1 }, { x: 150 + d, y: 300, id: 2 }];
    await touch.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: at(20) });
    for (let d = 25; d <= 60; d += 5) await touch.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: at(d) });
    await touch.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
    const ratio = before / (await seen());
    assert.ok(ratio > 2 && ratio < 4, `three times as far apart: ${ratio}`);
    await page.context().close();
  },
};

let failed = 0;
for (const [name, test] of Object.entries(tests)) {
  if (process.env.ONLY && !name.includes(process.env.ONLY)) continue;
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
await browser.close();
const ended = new Promise((done) => server.once("exit", (code, signal) => done(code ?? signal)));
server.kill("SIGINT");
const code = await ended;
if (code !== 0) {
  failed += 1;
  console.log("the program ended with", code);
}
fs.rmSync(folder, { recursive: true, force: true });
clearTimeout(whole);
process.exit(failed ? 1 : 0);
