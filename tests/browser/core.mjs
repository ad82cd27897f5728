// The core of the page on a phone against the program: the same bytes of takeoff, maps and proposal for every
// demonstration floor.
//
//   node tests/browser/core.mjs PROGRAM CORE…
//
// Each CORE is a built core (.wasm) or a packed one (.gz). Ends with 1 at the first difference.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import zlib from "node:zlib";

const [program, ...cores] = process.argv.slice(2).map((p) => path.resolve(p));
const sketches = path.resolve(import.meta.dirname, "../../sketches");
/// The packed core goes over a telephone's connection once.
const MOST_PACKED = 2.5e6;

function asker(exports) {
  return (line, body = "") => {
    const request = Buffer.concat([Buffer.from(line + "\n"), Buffer.from(body)]);
    const at = exports.room(request.length);
    new Uint8Array(exports.memory.buffer).set(request, at);
    const length = exports.answer();
    const answer = Buffer.from(exports.memory.buffer.slice(exports.answered(), exports.answered() + length));
    const end = answer.indexOf(10);
    return { head: answer.subarray(0, end).toString(), body: answer.subarray(end + 1) };
  };
}

// What the program writes of a floor, by the names of the papers.
function written(sketch, folder) {
  const run = (...args) => execFileSync(program, args, { stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 28 });
  const file = (...args) => { const out = path.join(folder, args.at(-1)); run(...args.slice(0, -1), "--out", out); return fs.readFileSync(out); };
  run("map", sketch, "--out", path.join(folder, "map.svg"));
  const sheets = fs.readdirSync(folder).filter((name) => /^map(-\d+)?\.svg$/.test(name));
  sheets.sort((a, b) => (Number(a.match(/\d+/)) || 1) - (Number(b.match(/\d+/)) || 1));
  return {
    "takeoff.json": run("takeoff", sketch, "--format", "json"),
    "crew-map.svg": Buffer.concat(sheets.map((name) => fs.readFileSync(path.join(folder, name)))),
    "crew-map.pdf": file("map", sketch, "map.pdf"),
    "customer-drawing.pdf": file("map", sketch, "--for", "customer", "customer.pdf"),
    "proposal.pdf": file("proposal", sketch, "proposal.pdf"),
    "proposal.html": file("proposal", sketch, "proposal.html"),
  };
}

const names = fs.readdirSync(sketches).filter((name) => name.endsWith(".yaml"));
const expected = new Map(names.map((name) => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "slabwalk-core-"));
  try { return [name, written(path.join(sketches, name), folder)]; } finally { fs.rmSync(folder, { recursive: true }); }
}));

for (const core of cores) {
  const bytes = fs.readFileSync(core);
  const packed = core.endsWith(".gz");
  const module = await WebAssembly.compile(packed ? zlib.gunzipSync(bytes) : bytes);
  assert.deepEqual(WebAssembly.Module.imports(module), [], `${core}: the core asks for nothing`);
  if (packed) assert.ok(bytes.length < MOST_PACKED, `${core} has ${bytes.length} bytes`);
  for (const name of names) {
    const ask = asker((await WebAssembly.instantiate(module)).exports);
    const text = fs.readFileSync(path.join(sketches, name), "utf8");
    const shop = text.match(/^shop: (.+)$/m)?.[1];
    const book = shop ? fs.readFileSync(path.join(sketches, shop), "utf8") : null;
    const opened = ask("POST /api/open", JSON.stringify({ name, book, steps: [{ number: 0, label: "", text }], at: 0 }));
    assert.match(opened.head, /^200 /, opened.body.toString());
    for (const photo of fs.readdirSync(path.join(sketches, "photos"))) ask(`POST /api/photo?file=photos/${photo}`, fs.readFileSync(path.join(sketches, "photos", photo)));
    for (const [paper, wanted] of Object.entries(expected.get(name))) {
      const began = performance.now();
      const found = ask(`GET /api/paper?name=${paper}`);
      assert.match(found.head, /^200 /, `${name}, ${paper}: ${found.body}`);
      assert.ok(found.body.equals(wanted), `${core}: ${paper} of ${name} differs from the program's. If the core is older than the program, run .ci/phone and commit what it makes`);
      console.log(`same    ${name}, ${paper}, ${wanted.length} bytes, ${Math.round(performance.now() - began)} ms`);
    }
  }
}
