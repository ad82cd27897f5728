// A hand on the page and an eye on it: taps, keys, and what every state of the page must hold. Used by the tests of `live`
// and of the page on a phone.

import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import fs from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";

const tools = path.resolve(process.argv[3]);
const require = createRequire(path.join(tools, "index.js"));
export const { chromium } = require("playwright-core");
const axe = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

export const SIZES = [["phone", 390, 844, true], ["phone held across", 844, 390, true], ["tablet", 820, 1180, true], ["desk", 1440, 900, false]];

// Taps the floor at a place in meters.
export async function tap(page, x, y) {
  const points = await page.locator(".place").count();
  const [left, top] = await page.evaluate(([x, y]) => {
    const svg = document.querySelector("#ui-canvas svg");
    const [bx, by, bw] = svg.getAttribute("viewBox").split(" ").map(Number);
    const r = svg.getBoundingClientRect();
    const k = r.width / bw;
    return [r.left + (x * 1000 - bx) * k, r.top + (-y * 1000 - by) * k];
  }, [x, y]);
  await page.touchscreen.tap(left, top);
  await page.waitForFunction((n) => document.querySelectorAll(".place").length > n, points);
}

export async function keys(page, field, pressed) {
  // The next number that is missing opens its keys by itself.
  const open = await page.evaluate(() => document.querySelector("#ui-keys[open]")?.dataset.field);
  if (open !== undefined && open !== field) await page.keyboard.press("Escape");
  if (open !== field) await page.tap(`[data-field="${field}"]`);
  for (const key of [...pressed, "done"]) await page.tap(`#ui-keys-pad [data-key=${JSON.stringify(key)}]`);
}

/// Contrast of texts and of the edges of keys, read in the sun.
const LEAST_CONTRAST = 7;
/// Least side of a key, px: 12 mm, a finger in a glove, are 45.4 of them.
const LEAST_KEY = 48;

// What the eye and the finger want of every state of the page; prints nothing, fails at the first fault.
export async function accessible(page, name) {
  const found = await page.evaluate(async (source) => {
    if (!window.axe) (0, eval)(source);
    const rules = { "color-contrast-enhanced": { enabled: true } };
    const result = await window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "wcag2aaa"], rules });
    return { passes: result.passes.length, faults: result.violations.map((v) => `${v.id}: ${v.nodes[0].target.join(" ")}`) };
  }, axe);
  assert.ok(found.passes > 5, `${name}: the check itself ran`);
  assert.deepEqual(found.faults, [], name);
  // Half a pixel is what a scaled layout rounds by.
  const small = await page.evaluate((least) => [...document.querySelectorAll("button, input, select, textarea, summary, a")]
    .filter((e) => e.offsetParent && Math.min(e.getBoundingClientRect().width, e.getBoundingClientRect().height) < least - 0.5)
    .map((e) => `${e.id || e.textContent}: ${["width", "height"].map((side) => Math.round(e.getBoundingClientRect()[side])).join(" × ")}`), LEAST_KEY);
  assert.deepEqual(small, [], `${name}: keys smaller than ${LEAST_KEY} px`);
  const faint = await page.evaluate((least) => {
    const color = (text) => (text.match(/[\d.]+/g) || []).map(Number);
    const light = ([r, g, b]) => [r, g, b].map((c) => c / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4))
      .reduce((sum, c, i) => sum + c * [0.2126, 0.7152, 0.0722][i], 0);
    const behind = (e) => { for (let at = e.parentElement; at; at = at.parentElement) { const c = color(getComputedStyle(at).backgroundColor); if (c[3] !== 0) return c; } return [255, 255, 255]; };
    const contrast = (a, b) => { const [x, y] = [light(a), light(b)]; return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05); };
    // A row of a list has one edge, and its words say where it is.
    return [...document.querySelectorAll("button:not(.row), input")].filter((e) => e.offsetParent && !e.disabled).map((e) => {
      const set = getComputedStyle(e);
      const edges = ["Top", "Right", "Bottom", "Left"].map((side) => (parseFloat(set[`border${side}Width`]) ? contrast(color(set[`border${side}Color`]), behind(e)) : 1));
      return [e.id || e.textContent, Math.max(...edges, contrast(color(set.backgroundColor), behind(e)))];
    }).filter(([, most]) => most < least).map(([what, most]) => `${what}: ${most.toFixed(1)}`);
  }, LEAST_CONTRAST);
  assert.deepEqual(faint, [], `${name}: keys whose edge is fainter than ${LEAST_CONTRAST}:1`);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth > window.innerWidth);
  assert.equal(wide, false, `${name}: nothing runs over the side`);
}

// A job of which papers can't show a logo and three of four photos, in a folder of its own.
export function unshown(job, sketches) {
  fs.mkdirSync(path.join(job, "photos"));
  const write = (name, text) => fs.writeFileSync(path.join(job, name), text);
  write("lacking.yaml", ["slabwalk: 1", "shop: own.yaml", "job: {name: Lacking}", "slab: {outline: [[0, 0], [12', 0], [12', 10'], [0, 10']]}",
    "cracks:", "  - {id: C1, path: [[1', 1'], [4', 5']], width: 1/16}",
    "photos:", "  - {item: C1, file: photos/gone.jpg}", "  - {item: C1, file: photos/noise.jpg, note: at the door}",
    "  - {item: C1, file: ../out.jpg}", "  - {item: C1, file: photos/good.png}", ""].join("\n"));
  write("own.yaml", "slabwalk_shop: 1\nproposal:\n  company: Shed and Sons\n  logo: logo.png\n");
  write("logo.png", "no picture");
  write("photos/noise.jpg", "no picture");
  fs.copyFileSync(path.join(sketches, "photos/black-adhesive.png"), path.join(job, "photos/good.png"));
  return path.join(job, "lacking.yaml");
}

// What the page says of that job, wherever it lists photos and makes papers, in the words of the program. Of a file that is not there only
// the folder's system or the phone knows more; `missing` is what it says.
export async function saysUnshown(page, sketch, program, missing, shot) {
  const words = (text) => text.replace(/\s+/g, " ");
  const said = words(spawnSync(program, ["check", sketch], { encoding: "utf8" }).stderr);
  const wanted = ["the logo logo.png is neither PNG nor SVG; the papers have the shop's name without it",
    `the photo photos/gone.jpg can't be read: ${missing}`, "the photo photos/noise.jpg is neither JPEG nor PNG",
    "the photo ../out.jpg lies outside the sketch's folder and is not opened"];
  for (const part of ["findings", "papers"]) {
    await page.tap(`#ui-tab-${part}`);
    const found = `#ui-${part} .found:has-text("the photo"), #ui-${part} .found:has-text("the logo")`;
    await page.waitForFunction(([part, n]) => [...document.querySelectorAll(`#ui-${part} .found`)].filter((f) => /the (photo|logo) /.test(f.textContent)).length === n, [part, wanted.length]);
    const rows = await page.$$eval(found, (all) => all.map((one) => [one.children[0].textContent, one.querySelector(".hint").textContent]));
    for (const [i, message] of wanted.entries()) {
      assert.ok(rows[i][0].endsWith(message), `${part}: ${rows[i][0]}`);
      if (!message.includes("gone")) assert.ok(said.includes(message), `${message} is the program's: ${said}`);
      assert.ok(said.includes(`= hint: ${rows[i][1]}`), `${rows[i][1]} is the program's`);
    }
    await shot(part);
    await accessible(page, `${part}, photos that can't be shown`);
  }
  await page.tap("#ui-tab-record");
  const listed = await page.$$eval('[data-path^="photos."]', (rows) => rows.map((row) => row.querySelector(".fault")?.textContent || ""));
  assert.deepEqual(listed.map((text) => text.split(" can't ")[0].split(" is ")[0].split(" lies ")[0]), ["the photo photos/gone.jpg", "the photo photos/noise.jpg", "the photo ../out.jpg", ""]);
  assert.ok(listed[1].endsWith("is neither JPEG nor PNG: save it as JPEG or PNG"), listed[1]);
  await page.locator('[data-path="photos.1"]').scrollIntoViewIfNeeded();
  await shot("listed");
  await page.tap('[data-path="photos.2"]');
  assert.equal(await page.innerText("#ui-record .fault"), listed[1]);
  await shot("form");
  await accessible(page, "the form of a photo that can't be shown");
  await page.tap("#ui-actions button:first-child");
}
