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
import http from "node:http";
import path from "node:path";
import { accessible, keys, saysUnshown, tap, unshown } from "./hand.mjs";
import { begin, choose, file, folder, given, hand, pad, phone, program, quantities, record, run, shot, sketches, text, walk } from "./handset.mjs";

/// Taps for a garage with three joints, three cracks, two spalls, two offsets, three tests and six runs of outline.
const MOST_TAPS = 120;
/// What a phone four times slower than this machine may take to the first drawing, and to keep and redraw an edit, ms. Printed beside
/// what was measured; times never decide a test.
const MOST_FIRST = 1500;
const MOST_EDIT = 150;

const tests = {
  async "a garage is walked and recorded in few taps, killed, and taken out whole"() {
    let page = await phone("one");
    await accessible(page, "jobs");
    await shot(page, "jobs-empty");
    hand.taps = 0;
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
    console.log(`        ${hand.taps} taps`);
    assert.ok(hand.taps < MOST_TAPS, `${hand.taps} taps`);

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
    await page.tap("#ui-copy");
    await page.waitForFunction(() => document.getElementById("ui-say").textContent.startsWith("The sketch is copied"));
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
    const saved = async () => { await page.tap("#ui-save"); await page.waitForSelector("[data-kind]"); };
    await page.tap("#ui-tab-record");
    await page.tap('[data-path="cracks.2"]');
    await shot(page, "change");
    await accessible(page, "change");
    await keys(page, "width", ["f1/8"]);
    await saved();
    let wanted = start.replace('    width: 1/16"\n', '    width: 1/8"\n');
    assert.equal(await text(page), wanted);
    await page.tap("#ui-tab-record");
    await page.tap('[data-path="spalls.2"]');
    await page.tap("#ui-remove");
    await page.waitForSelector("[data-kind]");
    const gone = start.split("\n").find((line) => line.includes("id: S2"));
    wanted = wanted.replace(`${gone}\n`, "");
    assert.equal(await text(page), wanted);
    await page.tap("#ui-tab-record");
    await page.tap('[data-path="joints.1"]');
    await page.tap("#ui-move");
    await tap(page, 4, 2);
    await saved();
    assert.match(await text(page), /    x: 13' .+\n    width: 1\/4\n/);
    await page.tap("#ui-tab-record");
    await page.tap("#ui-undo");
    await page.waitForFunction(() => document.querySelector("#ui-redo"));
    assert.equal(await text(page), wanted);
    await page.tap("#ui-tab-record");
    await page.tap('[data-part="job"]');
    await shot(page, "job");
    await accessible(page, "job");
    await page.fill('[id="ui-field-job.client"]', "B. Other");
    await saved();
    wanted = wanted.replace("client: A. Sample", "client: B. Other");
    assert.equal(await text(page), wanted);
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
    assert.equal(await text(page), wanted);
    for (;;) {
      await page.tap("#ui-tab-record");
      const undo = await page.$("#ui-undo");
      if (!undo) break;
      const shown = await undo.innerText();
      await undo.tap();
      await page.waitForFunction((shown) => document.querySelector("#ui-undo")?.innerText !== shown, shown);
    }
    assert.equal(await text(page), start, "all taken back, to the last byte");
    await page.context().close();
  },

  async "an outline with a curve, a doorway and a diagonal is walked, and corrected wherever it is wrong"() {
    let page = await phone("walked");
    const listed = () => page.$$eval("#ui-jobs .place .run", (runs) => runs.map((run) => run.textContent));
    const wait = async (wanted) => {
      await page.waitForFunction((wanted) => [...document.querySelectorAll("#ui-jobs .place .run")].map((r) => r.textContent).join(", ") === wanted && !document.getElementById("ui-begin")?.disabled, wanted, { timeout: 20_000 })
        .catch(async () => assert.equal((await listed()).join(", "), wanted));
    };
    await walk(page, "Curved shop", [["E", "3", "0"], ["N", "2", "0"]]);
    // By chord and rise, by chord and radius in the direction of the wall before, by three points.
    await page.tap('[data-shape="rise"]');
    await shot(page, "curved");
    await accessible(page, "curved");
    await page.tap('[data-run="W"]');
    await pad(page, ["1", "2", "done", "2", "done"]);
    await wait("E 30', N 20', arc W 12' rise 2' left");
    await page.tap('[data-shape="point"]');
    await page.tap('[data-shape="right"]');
    await page.tap('[data-run="W"]');
    // The corner of a square over its diagonal: half a circle.
    await pad(page, ["1", "0", "done", "6", "done", "8", "done"]);
    await wait("E 30', N 20', arc W 12' rise 2' left, arc W 10' rise 5' right");
    await page.tap('[aria-label^="Wall 4: arc"]');
    await pad(page, ["8", "done"]);
    await wait("E 30', N 20', arc W 12' rise 2' left, arc W 8' rise 5' right");
    await page.tap('[aria-label^="Wall 4: a wall"]');
    await page.tap('[data-wall="anew"]');
    await page.tap('[data-run="W"]');
    await pad(page, ["1", "8", "done"]);
    await wait("E 30', N 20', arc W 12' rise 2' left, W 18'");
    await page.tap("#ui-closing");
    await wait("E 30', N 20', arc W 12' rise 2' left, W 18', S 20'");
    // A doorway on the first wall, and a diagonal.
    await page.tap('[aria-label^="Wall 1: a wall"]');
    await shot(page, "walk-wall");
    await accessible(page, "walk, a wall");
    await page.tap('[data-wall="door"]');
    await pad(page, ["4", "done", "1", "2", "done"]);
    await page.tap("#ui-diagonal");
    await pad(page, ["1", "done", "3", "done", "3", "6", "'", "1", '"', "done"]);
    await page.waitForFunction(() => document.querySelector("#ui-jobs").innerText.includes("36' 1\" taped, 36'-0"));
    // A jog behind wall 1: what was counted behind it is counted anew.
    await page.tap('[aria-label^="Wall 1: E 30"]');
    await pad(page, ["2", "8", "done"]);
    await page.tap('[aria-label^="Wall 1: a wall"]');
    await page.tap('[data-run="N45E"]');
    await pad(page, ["2", "done"]);
    await wait("E 28', N45E 2', N 20', arc W 12' rise 2' left, W 18', S 20'");
    // A corner goes, and the walls on both sides with it.
    // The wall that was put in is the one that is chosen now.
    await page.tap('[data-wall="corner-3"]');
    await shot(page, "corner");
    await page.tap('[data-run="E"]');
    await pad(page, ["7", '"', "done"]);
    await wait("E 28', N54.7E 2' 5 3/8\", N1.67W 20' 0 1/8\", arc W 12' rise 2' left, W 18', S 20'");
    await page.tap('[aria-label^="Remove wall 3"]');
    await page.tap('[aria-label^="Wall 2: a wall"]');
    await page.tap('[data-run="N"]');
    await pad(page, ["1", "8", "'", "7", '"', "done"]);
    const runs = "E 28', N54.7E 2' 5 3/8\", N 18' 7\", arc W 12' rise 2' left, W 18', S 20'";
    await wait(runs);
    await shot(page, "walked");
    await accessible(page, "walked");
    assert.equal((await listed()).length, 6);
    await begin(page);
    const start = await text(page);
    assert.ok(start.includes(`walk: [${runs}]`), start);
    assert.match(start, /^ +- \{wall: 1, from: 4', to: 12'\}$/m);
    // Its other end was counted anew with the walls before it.
    assert.match(start, /^ +- \{from: 1, to: 4, measured: 36' 1"\}$/m);
    const sketch = path.join(folder, "curved.yaml");
    fs.writeFileSync(sketch, start);
    const takeoff = JSON.parse(execFileSync(program, ["takeoff", sketch, "--format", "json"], { stdio: ["ignore", "pipe", "ignore"] }));
    assert.ok(takeoff.area);
    // Later: what was taped from a wall still is.
    await page.tap("#ui-tab-record");
    await record(page, "diagonal", null, [], async () => { await keys(page, "from", ["1"]); await keys(page, "to", ["4"]); await keys(page, "measured", ["3", "6"]); });
    await record(page, "moisture", null, [[1, 5]], () => keys(page, "rh", ["7", "5"]));
    await page.tap("#ui-outline");
    await page.waitForSelector("#ui-begin:not([disabled])");
    await page.tap('[aria-label^="Wall 1: E 28"]');
    await pad(page, ["2", "0", "done"]);
    await page.tap('[aria-label^="Wall 1: a wall"]');
    await page.tap('[data-run="E"]');
    await pad(page, ["8", "done"]);
    await wait(runs.replace("E 28'", "E 20', E 8'"));
    await page.waitForFunction(() => !document.body.dataset.keeping);
    await page.kill();
    page = await phone("walked");
    await wait(runs.replace("E 28'", "E 20', E 8'"));
    await shot(page, "outline-kept");
    await page.tap("#ui-begin");
    await page.waitForSelector("#ui-jobs:not([open])", { state: "attached" });
    const later = await text(page);
    assert.ok(later.includes(runs.replace("E 28'", "E 20', E 8'")), later);
    assert.match(later, /- \{from: 1, to: 5, measured: 36'\}/);
    assert.match(later, /wall: 7, along:/);
    // A wall that something is taped from does not go unsaid.
    await page.tap("#ui-tab-record");
    await page.tap("#ui-outline");
    await page.waitForSelector("#ui-begin:not([disabled])");
    await page.tap('[aria-label="Remove wall 1"]');
    await page.waitForSelector("#ui-begin:not([disabled])");
    await page.tap("#ui-begin");
    await page.waitForFunction(() => /corner 1 would go, and line \d+ of the sketch is taped from it/.test(document.querySelector("#ui-jobs .fault")?.innerText));
    await page.context().close();
  },

  async "corner 1, and an outline that is a list of corners, are changed on the glass"() {
    let page = await phone("corners");
    const open = async (name, rows) => {
      if (!await page.$("#ui-jobs[open]")) await page.tap("#ui-open-jobs");
      await page.setInputFiles("#ui-file", { name, mimeType: "application/yaml", buffer: Buffer.from(rows.join("\n")) });
      await page.waitForSelector("#ui-jobs:not([open])", { state: "attached" });
      await page.tap("#ui-tab-record");
      await page.tap("#ui-outline");
      await page.waitForSelector("#ui-begin:not([disabled])");
    };
    const listed = () => page.$$eval("#ui-jobs .place .run", (runs) => runs.map((run) => run.textContent).join(", "));
    const wait = (wanted) => page.waitForFunction((wanted) => [...document.querySelectorAll("#ui-jobs .place .run")].map((r) => r.textContent).join(", ") === wanted && !document.getElementById("ui-begin")?.disabled, wanted, { timeout: 20_000 })
      .catch(async () => assert.equal(await listed(), wanted));
    const save = async () => { await page.tap("#ui-begin"); await page.waitForSelector("#ui-jobs:not([open])", { state: "attached" }); };
    const walked = ["slabwalk: 1", "job: {name: Shed}   # ours", "slab:", "  outline:", "    start: [0, 0]", "    walk: [E 24', N 20', W 24', S 20']", "spalls:", "  - {circle: {center: [5', 5'], diameter: 2\"}, depth: 1/2}", ""];
    await open("walked.yaml", walked);
    await page.tap('[aria-label^="Wall 1: a wall"]');
    await page.tap('[data-wall="corner-1"]');
    await page.tap('[data-run="E"]');
    await pad(page, ["2", "done"]);
    await wait("E 22', N 20', W 24', S5.71E 20' 1 1/4\"");
    await save();
    const moved = walked.join("\n").replace("[0, 0]", "[2', 0]").replace("E 24'", "E 22'").replace("S 20'", "S5.71E 20' 1 1/4\"");
    assert.equal(await text(page), moved);

    const corners = ["slabwalk: 1", "job: {name: Hall}   # ours", "slab:", "  outline: [[0, 0],  # the post", "    [24', 0], {to: [24', 20'], via: [27', 10']}, [0, 20']]", "  openings: [{wall: 4, from: 2', to: 5'}]", "spalls:", "  - {circle: {center: [5', 5'], diameter: 2\"}, depth: 1/2}", ""];
    await open("hall.yaml", corners);
    await shot(page, "corners");
    await accessible(page, "corners");
    await page.tap('[aria-label^="Corner 2: move"]');
    await page.tap('[data-run="S"]');
    await pad(page, ["1", "done"]);
    await wait("[0, 0], [24', -1'], {to: [24', 20'], via: [27', 10']}, [0, 20']");
    await page.tap('[aria-label^="Corner 1: move"]');
    await page.tap('[data-corner="behind"]');
    await shot(page, "corner-behind");
    await accessible(page, "corner behind");
    await page.tap('[data-run="E"]');
    await pad(page, ["1", "2", "done"]);
    await wait("[0, 0], [12', 0], [24', -1'], {to: [24', 20'], via: [27', 10']}, [0, 20']");
    await page.tap('[aria-label^="Corner 5: ["]');
    await pad(page, ["0", "done", "1", "9", "'", "6", "done"]);
    await wait("[0, 0], [12', 0], [24', -1'], {to: [24', 20'], via: [27', 10']}, [0', 19' 6\"]");
    await page.waitForFunction(() => !document.body.dataset.keeping);
    await page.kill();
    page = await phone("corners");
    await wait("[0, 0], [12', 0], [24', -1'], {to: [24', 20'], via: [27', 10']}, [0', 19' 6\"]");
    // A corner that would make it cross itself is said.
    await page.tap('[aria-label^="Corner 2: move"]');
    await page.tap('[data-run="N"]');
    await pad(page, ["3", "0", "done"]);
    await page.waitForFunction(() => /crosses/.test(document.querySelector("#ui-jobs .fault")?.innerText));
    await page.tap('[aria-label="Remove corner 2"]');
    await wait("[0, 0], [24', -1'], {to: [24', 20'], via: [27', 10']}, [0', 19' 6\"]");
    await page.tap('[aria-label^="Corner 3: move"]');
    await page.tap('[data-corner="behind"]');
    await page.tap('[data-run="W"]');
    await pad(page, ["1", "done"]);
    await wait("[0, 0], [24', -1'], {to: [24', 20'], via: [27', 10']}, [23', 20'], [0', 19' 6\"]");
    await save();
    const changed = corners.join("\n").replace("[24', 0]", "[24', -1']").replace("[0, 20']", "[23', 20'], [0', 19' 6\"]").replace("wall: 4", "wall: 5");
    assert.equal(await text(page), changed);
    await page.context().close();
  },

  async "a record for several alike says so, and changes all of them or none"() {
    const page = await phone("row");
    const rows = ["slabwalk: 1", "job: {name: Hall}", "slab:", "  outline: [[0, 0], [60', 0], [60', 40'], [0, 40']]", "  keep_outs:",
      "    - {id: K1, what: column, circle: {center: [10', 10'], diameter: 8\"}, repeat: {count: 3, by: [15', 0]}}   # steel",
      "    - {id: K2, what: column, circle: {center: [10', 30'], diameter: 8\"}, repeat: {x: [10', 25', 35'], y: [30', 35']}}",
      "joints:", "  - {id: J1, kind: control, x: [20', 40'], width: 1/8}", "spalls:", "  - {circle: {center: [5', 5'], diameter: 2\"}, depth: 1/2, repeat: {count: 4, by: [4', 0]}}", ""];
    const start = rows.join("\n");
    await page.setInputFiles("#ui-file", { name: "hall.yaml", mimeType: "application/yaml", buffer: Buffer.from(start) });
    await page.waitForSelector("#ui-canvas svg.floor");
    const saved = async () => { await page.tap("#ui-save"); await page.waitForSelector("[data-kind]"); };
    // Tapped, one of them leads to the record of all.
    await page.evaluate(() => document.querySelector("#ui-canvas").scrollIntoView());
    const box = await page.locator("#ui-canvas g#K1\\.2 .hit").first().boundingBox();
    await page.touchscreen.tap(box.x + box.width / 2, box.y + box.height / 2);
    await page.waitForSelector("#ui-change");
    assert.equal(await page.innerText("#ui-change"), "Change or remove all 3 alike");
    await page.tap("#ui-change");
    assert.match(await page.innerText("#ui-alike"), /^One record for 3 alike, K1.1 to K1.3\. What you change here is changed of all of them/);
    await shot(page, "alike");
    await accessible(page, "alike");
    assert.deepEqual([await page.innerText('[data-field="count"]'), await page.innerText('[data-field="right"]')], ["3", "15'"]);
    await keys(page, "count", ["4"]);
    await keys(page, "right", ["1", "2", "'", "6"]);
    await saved();
    let wanted = start.replace("{count: 3, by: [15', 0]}", "{count: 4, by: [12' 6\", 0]}");
    assert.equal(await text(page), wanted);
    await page.tap("#ui-tab-record");
    await page.tap('[data-path="slab.keep_outs.1"]');
    await keys(page, "count", ["clear"]);
    await saved();
    wanted = wanted.replace(", repeat: {count: 4, by: [12' 6\", 0]}", "");
    assert.equal(await text(page), wanted);
    // At the places of a list: its sizes change, its places only in the file.
    for (const [path, items] of [["joints.1", "J1.1 to J1.2"], ["slab.keep_outs.2", "K2.1 to K2.6"]]) {
      await page.tap("#ui-tab-record");
      await page.tap(`[data-path="${path}"]`);
      assert.match(await page.innerText("#ui-alike"), new RegExp(`${items}\\. .+only the file changes`));
      assert.equal(await page.locator('#ui-move, #ui-record [data-field="count"]').count(), 0);
      if (path !== "joints.1") break;
      await keys(page, "width", ["f1/4"]);
      await saved();
    }
    wanted = wanted.replace("width: 1/8}", 'width: 1/4"}');
    await page.tap("#ui-remove");
    await page.waitForSelector("[data-kind]");
    wanted = wanted.replace(/    - \{id: K2.+\n/, "");
    assert.equal(await text(page), wanted);
    await page.context().close();
  },

  async "a grid of columns is one record: seen before it is saved, and changed as one"() {
    let page = await phone("grid");
    const rows = ["slabwalk: 1", "job: {name: Hall}", "slab: {outline: [[0, 0], [60', 0], [60', 40'], [0, 40']]}", ""];
    const start = rows.join("\n");
    await page.setInputFiles("#ui-file", { name: "hall.yaml", mimeType: "application/yaml", buffer: Buffer.from(start) });
    await page.waitForSelector("#ui-canvas svg.floor");
    await page.tap("#ui-tab-record");
    await page.tap('[data-kind="keep-out"]');
    await page.tap('[data-way="round"]');
    await tap(page, 3.048, 3.048);
    await keys(page, "diameter", ["8", '"']);
    await page.fill("#ui-field-what", "column");
    const copies = () => page.$$eval("#ui-canvas .copy", (all) => all.map((one) => [one.getAttribute("cx"), one.getAttribute("cy")].map((mm) => Math.round(Number(mm)))));
    // A row is seen as it is typed, and then all of its rows.
    await keys(page, "count", ["4"]);
    await keys(page, "right", ["1", "2"]);
    await page.waitForFunction(() => document.querySelectorAll("#ui-canvas .copy").length === 3);
    assert.equal(await page.innerText("#ui-in-all"), "4 in all, shown on the floor.");
    await keys(page, "rows", ["3"]);
    await page.waitForFunction(() => document.querySelectorAll("#ui-canvas .copy").length === 0, null, { timeout: 5_000 });
    await keys(page, "apart", ["9", "'", "6", '"']);
    await page.waitForFunction(() => document.querySelectorAll("#ui-canvas .copy").length === 11);
    assert.equal(await page.innerText("#ui-in-all"), "12 in all, shown on the floor.");
    assert.deepEqual((await copies()).at(-1), [Math.round(304.8 * 46), -Math.round(304.8 * 29)]);
    await page.locator("#ui-in-all").scrollIntoViewIfNeeded();
    await shot(page, "grid");
    await accessible(page, "grid");
    // The phone dies, and the form is there with all of it.
    await page.waitForFunction(() => !document.body.dataset.keeping);
    await page.kill();
    page = await phone("grid");
    await page.waitForFunction(() => document.querySelectorAll("#ui-canvas .copy").length === 11);
    await page.tap("#ui-save");
    await page.waitForSelector("[data-kind]");
    assert.equal(await page.locator("#ui-canvas .copy").count(), 0);
    assert.equal(await page.locator('#ui-canvas g[id^="K1."]').count(), 12);
    const record = `{id: K1, what: column, circle: {center: [10', 10'], diameter: 8"}, repeat: {x: [10', 22', 34', 46'], y: [10', 19' 6", 29']}}`;
    const sketch = await given(page, "hall.yaml");
    assert.ok(fs.readFileSync(sketch, "utf8").includes(record), fs.readFileSync(sketch, "utf8"));
    const takeoff = JSON.parse(execFileSync(program, ["takeoff", sketch, "--format", "json"], { stdio: ["ignore", "pipe", "ignore"] }));
    assert.ok(JSON.stringify(takeoff).includes('"K1.12"'), "the program finds twelve");
    // One row more, closer together.
    await page.tap("#ui-tab-record");
    await page.tap('[data-path="slab.keep_outs.1"]');
    assert.match(await page.innerText("#ui-alike"), /^One record for 12 alike, K1.1 to K1.12\./);
    assert.deepEqual(await page.$$eval("[data-field]", (all) => all.map((one) => `${one.dataset.field} ${one.innerText}`).filter((text) => /^(count|right|up|rows|apart)/.test(text))), ["count 4", "right 12'", "up 0", "rows 3", "apart 9' 6\""]);
    await keys(page, "rows", ["4"]);
    await keys(page, "apart", ["8"]);
    // Sixteen are shown from the fourth row on, at the old distance until the new one is read.
    await page.waitForFunction((y) => Math.round(Number([...document.querySelectorAll("#ui-canvas .copy")].at(-1)?.getAttribute("cy"))) === y, -Math.round(304.8 * 34));
    assert.equal((await copies()).length, 15);
    assert.deepEqual((await copies()).at(-1), [Math.round(304.8 * 46), -Math.round(304.8 * 34)]);
    await shot(page, "grid-changed");
    await page.tap("#ui-save");
    await page.waitForSelector("[data-kind]");
    assert.ok((await text(page)).includes("repeat: {x: [10', 22', 34', 46'], y: [10', 18', 26', 34']}}"));
    // What can't stand as one record is said at its field.
    await page.tap("#ui-tab-record");
    await page.tap('[data-path="slab.keep_outs.1"]');
    await keys(page, "up", ["1"]);
    await page.tap("#ui-save");
    await page.waitForFunction(() => document.querySelector("#ui-record .fault")?.innerText.startsWith("one record takes several rows that run to the right or straight up"));
    await shot(page, "grid-slanted");
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

    // The logo of a shop book that comes in with a job stands on its papers: a PNG as the program sets it, an SVG as the browser draws it.
    const logos = { "logo.png": fs.readFileSync(path.join(sketches, "photos/black-adhesive.png")), "logo.svg": Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 20"><rect width="60" height="20" fill="#14506e"/></svg>') };
    for (const [logo, bytes] of Object.entries(logos)) {
      const job = fs.mkdtempSync(path.join(folder, "logo-"));
      fs.mkdirSync(path.join(job, "shop"));
      fs.writeFileSync(path.join(job, "shop/own.yaml"), `slabwalk_shop: 1\nproposal:\n  company: Shed and Sons\n  logo: ${logo}\n`);
      fs.writeFileSync(path.join(job, "shop", logo), bytes);
      fs.writeFileSync(path.join(job, "head.yaml"), fs.readFileSync(path.join(unpacked, "Shed.yaml"), "utf8").replace("slabwalk: 1\n", "slabwalk: 1\nshop: shop/own.yaml\n"));
      execFileSync("python3", ["-m", "zipfile", "-c", path.join(job, "head.zip"), path.join(job, "head.yaml"), path.join(job, "shop/")]);
      await page.tap("#ui-open-jobs");
      await page.setInputFiles("#ui-file", path.join(job, "head.zip"));
      await page.waitForSelector("#ui-jobs:not([open])", { state: "attached" });
      const made = fs.readFileSync(await given(page, "customer-drawing.pdf"));
      execFileSync(program, ["map", path.join(job, "head.yaml"), "--for", "customer", "--out", path.join(job, "map.pdf")], { stdio: "ignore" });
      if (logo.endsWith("png")) assert.ok(made.equals(fs.readFileSync(path.join(job, "map.pdf"))), logo);
      assert.ok(made.includes("/Subtype /Image") || made.includes("/Subtype/Image"), `${logo} is on the drawing`);
    }
    await page.tap("#ui-open-jobs");
    await page.tap('[data-job="1"]');
    await page.waitForSelector("#ui-jobs:not([open])", { state: "attached" });

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

  async "what papers can't show of photos and logo is said in the words of the program"() {
    const page = await phone("lacking");
    const job = fs.mkdtempSync(path.join(folder, "lacking-"));
    const sketch = unshown(job, sketches);
    execFileSync("python3", ["-m", "zipfile", "-c", path.join(job, "lacking.zip"), ...["lacking.yaml", "own.yaml", "logo.png", "photos/"].map((name) => path.join(job, name))]);
    await page.setInputFiles("#ui-file", path.join(job, "lacking.zip"));
    await page.waitForSelector("#ui-canvas svg.floor");
    await saysUnshown(page, sketch, program, "it is not kept with the job", (part) => shot(page, `unshown-${part}`));
    // The papers are made, and are those of the program.
    for (const [paper, ...command] of [["customer-drawing.pdf", "map", "--for", "customer"], ["proposal.pdf", "proposal", "--format", "pdf"]]) {
      const out = path.join(folder, `lacking-${paper}`);
      execFileSync(program, [command[0], sketch, ...command.slice(1), "--out", out], { stdio: "ignore" });
      assert.ok(fs.readFileSync(await given(page, paper)).equals(fs.readFileSync(out)), paper);
      await page.waitForFunction(() => document.getElementById("ui-say").textContent.endsWith("is ready. What papers can't show is said below them."));
    }
    // A photo that is named and never was taken is said as soon as it is recorded; taken out, it is said no more.
    await page.tap("#ui-tab-record");
    const listed = () => page.locator('[data-path^="photos."] .fault').count();
    await page.tap('[data-path="photos.2"]');
    await page.tap("#ui-remove");
    await page.waitForFunction(() => document.querySelectorAll('[data-path^="photos."] .fault').length === 2);
    await page.tap("#ui-undo");
    await page.waitForFunction(() => document.querySelectorAll('[data-path^="photos."] .fault').length === 3);
    assert.equal(await listed(), 3);
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

  async "an edit is rehearsed while nobody touches the page, and leaves no trace"() {
    // Every core, what it was asked while which drawing was on the glass, and whether it is ended. `touch` touches the page in the middle.
    const first = () => {
      Object.assign(window, { cores: [], touch: false });
      const Plain = window.Worker;
      window.Worker = class extends Plain {
        constructor(...given) {
          super(...given);
          this.own = { asked: [], drawn: [], ended: false };
          window.cores.push(this.own);
          const post = this.postMessage.bind(this);
          this.postMessage = (message) => {
            post(message);
            this.own.asked.push(message.line || "begin");
            this.own.drawn.push(!!document.body.dataset.drawn);
            if (!window.touch || message.line !== "POST /api/amend") return;
            window.touch = false;
            dispatchEvent(new Event("pointerdown"));
          };
        }
        terminate() { this.own.ended = true; super.terminate(); }
      };
    };
    const page = await phone("rehearsed", [390, 844], { first });
    const garage = path.join(sketches, "harrow-lane-garage.yaml");
    const start = fs.readFileSync(garage, "utf8");
    const kept = () => page.evaluate(async () => {
      const db = await new Promise((done) => { indexedDB.open("slabwalk").onsuccess = (event) => done(event.target.result); });
      const all = (name) => new Promise((done) => { db.transaction(name).objectStore(name).getAll().onsuccess = (event) => done(event.target.result); });
      const out = { jobs: await all("jobs"), steps: await all("steps"), page: await all("page") };
      db.close();
      return out;
    });
    await page.setInputFiles("#ui-file", garage);
    await page.waitForSelector("body[data-rehearsed]");
    const cores = await page.evaluate(() => window.cores);
    assert.equal(cores.length, 2);
    assert.deepEqual(cores.map((core) => core.ended), [false, true], "the second one is thrown away");
    assert.deepEqual(cores[0].asked.filter((line) => /POST/.test(line)), ["POST /api/open"], "the job's own core was asked for no change");
    assert.ok(cores[1].asked.includes("POST /api/amend") && cores[1].drawn.every(Boolean), "rehearsed behind the first drawing");
    const { jobs: [job], steps, page: marks } = await kept();
    assert.deepEqual([job.writes, job.at, job.draft ?? null, steps.map((step) => step.text), marks.map((mark) => mark.key)], [0, 0, null, [start], ["open"]]);
    // A touch ends it at once, and it is begun anew once the page rests.
    await page.addInitScript(() => { window.touch = true; });
    await page.reload();
    await page.waitForSelector("body[data-rehearsed]");
    const again = await page.evaluate(() => window.cores);
    assert.deepEqual(again.map((core) => core.ended), [false, true, true]);
    assert.equal(again[1].asked.at(-1), "POST /api/amend", "nothing more was asked of it");
    assert.deepEqual(await kept(), { jobs: [job], steps, page: marks });
    await page.tap("#ui-tab-record");
    assert.equal(await page.locator("#ui-undo, #ui-redo").count(), 0, "nothing to be taken back");
    await record(page, "moisture", null, [[1, 2]], () => keys(page, "rh", ["7", "5"]));
    assert.match(await page.innerText("#ui-undo"), /Moisture/);
    assert.ok((await text(page)).includes("rh: 75%") && !(await text(page)).includes("number: \"2\""));
    await page.context().close();
  },

  async "what a phone of a quarter of this machine's speed would take is printed"() {
    // A browser slows the page down and not its workers: what the core takes is counted by itself. A drawing counts once its frame is
    // on the glass, an edit from the finger on.
    const first = () => {
      Object.assign(window, { core: 0, drawn: 0, touched: 0 });
      const Plain = window.Worker;
      window.Worker = class extends Plain {
        constructor(...given) {
          super(...given);
          this.addEventListener("message", ({ data }) => { window.core += data.took || 0; });
        }
      };
      addEventListener("click", (event) => { if (event.target.id === "ui-save") Object.assign(window, { touched: event.timeStamp, core: 0, drawn: 0 }); }, { capture: true });
      const seen = () => {
        const frame = new MessageChannel();
        frame.port1.onmessage = () => Object.assign(window, { drawn: performance.now(), answered: window.core });
        requestAnimationFrame(() => frame.port2.postMessage(0));
      };
      addEventListener("DOMContentLoaded", () => new MutationObserver(seen).observe(document.body, { attributeFilter: ["data-drawn"] }));
    };
    const page = await phone("slow", [390, 844], { first });
    await page.setInputFiles("#ui-file", path.join(sketches, "harrow-lane-garage.yaml"));
    await page.waitForSelector("#ui-canvas svg.floor");
    const slow = await page.context().newCDPSession(page);
    await slow.send("Emulation.setCPUThrottlingRate", { rate: 4 });
    const times = async () => {
      await page.waitForFunction(() => window.drawn);
      return page.evaluate(() => [window.drawn - window.touched, window.answered]);
    };
    const print = (what, [whole, core], most) => console.log(`        ${what}: ${Math.round(whole)} ms, of them ${Math.round(core)} in the core at full speed; all of it at a quarter ${Math.round(whole + 3 * core)} ms, wanted ${most}`);
    await page.reload();
    print("first drawing", await times(), MOST_FIRST);
    await page.waitForSelector("body[data-rehearsed]");
    await page.tap("#ui-tab-record");
    const edits = [];
    for (const width of ["1/8", "1/16", "1/8", "1/16"]) {
      await page.tap('[data-path="cracks.2"]');
      await keys(page, "width", [`f${width}`]);
      await page.tap("#ui-save");
      edits.push(await times());
      await page.waitForSelector("[data-kind]");
      await page.waitForFunction(() => !document.body.dataset.keeping);
    }
    print("the first edit, kept and redrawn", edits[0], MOST_EDIT);
    const by = ([whole, core]) => whole + 3 * core;
    print(`the middle one of the ${edits.length - 1} behind it`, edits.slice(1).sort((a, b) => by(a) - by(b))[(edits.length - 1) >> 1], MOST_EDIT);
    await page.context().close();
  },

  async "from a web space it is installed, and opens without it"() {
    const web = path.join(folder, "web");
    execFileSync(program, ["phone", "--out", web]);
    const types = { html: "text/html", js: "text/javascript", webmanifest: "application/manifest+json", svg: "image/svg+xml", png: "image/png", bin: "application/octet-stream" };
    const server = http.createServer((request, response) => {
      const name = new URL(request.url, "http://x").pathname.slice(1) || "index.html";
      if (!fs.existsSync(path.join(web, name))) { response.writeHead(404).end(); return; }
      response.writeHead(200, { "Content-Type": types[name.split(".").at(-1)] }).end(fs.readFileSync(path.join(web, name)));
    });
    await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
    const address = `http://127.0.0.1:${server.address().port}/`;
    let page = await phone("web", [390, 844], { address });
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.waitForFunction(() => navigator.serviceWorker.controller);
    const kept = await page.evaluate(async () => (await (await caches.open((await caches.keys())[0])).keys()).map((request) => new URL(request.url).pathname).sort());
    assert.deepEqual(kept.map((name) => name.replace(/core-.+/, "core")), ["/", "/core", "/icon-180.png", "/icon.svg", "/manifest.webmanifest"]);
    const manifest = await (await page.context().newCDPSession(page)).send("Page.getAppManifest");
    assert.deepEqual(manifest.errors, [], "its manifest");
    // The web space is gone, and the network with it.
    await new Promise((ended) => { server.close(ended); server.closeAllConnections(); });
    await page.context().setOffline(true);
    await page.reload();
    await walk(page, "Shed", [["E", "1", "2"], ["N", "1", "0"], ["W", "1", "2"]]);
    await page.tap("#ui-closing");
    await begin(page);
    await page.kill();
    page = await phone("web", [390, 844], { address });
    await page.waitForSelector("#ui-canvas svg.floor");
    assert.equal(await page.innerText("#ui-name"), "Shed");
    await page.context().close();
  },

  async "every size is accessible"() {
    for (const size of [[320, 568], [360, 780], [390, 844], [844, 390], [768, 1024], [1180, 820]]) {
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

await run(tests);
