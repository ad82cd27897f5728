// A hand on the page and an eye on it: taps, keys, and what every state of the page must hold. Used by the tests of `live`
// and of the page on a phone.

import assert from "node:assert/strict";
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
  for (const key of [...pressed, "done"]) await page.tap(`#ui-keys-pad [data-key='${key}']`);
}

export async function accessible(page, name) {
  const found = await page.evaluate(async (source) => {
    if (!window.axe) (0, eval)(source);
    const result = await window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"] });
    return { passes: result.passes.length, faults: result.violations.map((v) => `${v.id}: ${v.nodes[0].target.join(" ")}`) };
  }, axe);
  assert.ok(found.passes > 5, `${name}: the check itself ran`);
  assert.deepEqual(found.faults, [], name);
  const small = await page.evaluate(() => [...document.querySelectorAll("button, input")]
    .filter((e) => e.offsetParent && Math.min(e.getBoundingClientRect().width, e.getBoundingClientRect().height) < 44)
    .map((e) => e.id || e.textContent));
  assert.deepEqual(small, [], `${name}: targets smaller than 44 px`);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth > window.innerWidth);
  assert.equal(wide, false, `${name}: nothing runs over the side`);
}
