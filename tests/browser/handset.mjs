// A phone with the page on it, for the tests: its own storage, no network, by touch, and dead from one moment to the next.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { chromium, tap } from "./hand.mjs";

export const program = path.resolve(process.argv[2]);
export const sketches = path.resolve(import.meta.dirname, "../../sketches");
export const folder = fs.mkdtempSync(path.join(os.tmpdir(), "slabwalk-phone-"));
export const file = process.env.PAGE || path.join(folder, "slabwalk.html");
if (!process.env.PAGE) execFileSync(program, ["phone", "--out", file]);

const PATIENCE = 60_000;
const whole = setTimeout(() => { console.error("took too long"); process.exit(1); }, 900_000);
export const errors = [];
export const hand = { taps: 0 };

// A phone: its own storage, no network unless the page comes from an `address`. `kill` ends it as a dead battery does.
export async function phone(profile, [width, height] = [390, 844], { address, first = () => {} } = {}) {
  const context = await chromium.launchPersistentContext(path.join(folder, profile), {
    executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args: ["--no-sandbox", "--allow-file-access-from-files=false"],
    viewport: { width, height }, hasTouch: true, isMobile: true, offline: !address, acceptDownloads: true,
  });
  const page = context.pages()[0] || await context.newPage();
  page.setDefaultTimeout(PATIENCE);
  page.on("pageerror", (error) => errors.push(String(error)));
  page.on("console", (message) => { if (message.type() === "error") errors.push(message.text()); });
  page.on("request", (request) => { if (!/^(file|blob|data):/.test(request.url()) && !(address && request.url().startsWith(address))) errors.push(`asked for ${request.url()}`); });
  await page.exposeFunction("tapped", () => { hand.taps += 1; });
  await page.addInitScript(() => addEventListener("pointerdown", (event) => { if (event.isTrusted) window.tapped(); }, { capture: true }));
  await page.addInitScript(first);
  await page.goto(address || "file://" + file);
  await page.waitForSelector("body[data-begun]");
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

export async function shot(page, name) {
  if (process.env.SHOTS) await page.screenshot({ path: path.join(process.env.SHOTS, `${name}.png`) });
}

export const pad = async (page, pressed) => {
  for (const key of pressed) await page.tap(`#ui-keys-pad [data-key=${JSON.stringify(key)}]`);
};

export async function walk(page, name, runs) {
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

export async function begin(page) {
  await page.waitForSelector("#ui-begin:not([disabled])");
  await page.tap("#ui-begin");
  await page.waitForSelector("#ui-canvas svg.floor");
  await page.waitForSelector("#ui-jobs:not([open])", { state: "attached" });
}

export async function record(page, kind, way, places, fill) {
  await page.waitForSelector(`[data-kind="${kind}"]`);
  await page.tap(`[data-kind="${kind}"]`);
  if (way) await page.tap(`[data-way="${way}"]`);
  for (const [x, y] of places) await tap(page, x, y);
  if (fill) await fill();
  await page.tap("#ui-save");
  await page.waitForSelector(`[data-kind="${kind}"]`);
}

// A file that the page gives away.
export async function given(page, name) {
  await page.tap("#ui-tab-papers");
  const wait = page.waitForEvent("download");
  await page.tap(`[data-paper="${name}"]`);
  const download = await wait;
  const out = path.join(fs.mkdtempSync(path.join(folder, "given-")), download.suggestedFilename());
  await download.saveAs(out);
  return out;
}

export const quantities = async (page) => {
  await page.tap("#ui-tab-quantities");
  await page.waitForSelector("#ui-quantities .row");
  return page.$$eval("#ui-quantities .row", (rows) => rows.map((row) => row.innerText.replace(/\s+/g, " ")));
};

export const choose = (page, ...names) => async () => { for (const name of names) await page.tap(`[data-choice="${name}"]`); };

// The sketch as it is kept.
export async function text(page) {
  await page.tap("#ui-tab-papers");
  return fs.readFileSync(await given(page, await page.getAttribute('[data-paper$=".yaml"]', "data-paper")), "utf8");
}

// Runs tests one after another and ends with 1 at the first fault.
export async function run(tests) {
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
}
