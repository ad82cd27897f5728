// A ZIP of a sketch and what belongs to it, written and read. What is read comes from anywhere: every number in it is held against
// a limit, and nothing is unpacked further than it says.

/// Most files of one ZIP.
const MOST_FILES = 500;
/// Most bytes of one file and of all of them, unpacked.
const LARGEST_FILE = 32 << 20;
const LARGEST_ZIP = 256 << 20;

const CRC = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k += 1) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});

function crc32(bytes) {
  let c = 0xffffffff;
  for (const byte of bytes) c = CRC[(c ^ byte) & 255] ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

// Little-endian numbers: [bytes, value] pairs.
function packed(pairs) {
  const out = new Uint8Array(pairs.reduce((sum, [size]) => sum + size, 0));
  const view = new DataView(out.buffer);
  let at = 0;
  for (const [size, value] of pairs) {
    if (size === 2) view.setUint16(at, value, true); else view.setUint32(at, value, true);
    at += size;
  }
  return out;
}

// A ZIP of files that are packed already or small: they are only put together. The day in it is always the same.
export function zip(files) {
  const parts = [];
  const directory = [];
  let at = 0;
  for (const { name, bytes } of files) {
    const path = new TextEncoder().encode(name);
    // Version 2.0, names in UTF-8, stored, 1 January 1980.
    const common = [[2, 20], [2, 0x800], [2, 0], [2, 0], [2, 0x21], [4, crc32(bytes)], [4, bytes.length], [4, bytes.length], [2, path.length], [2, 0]];
    const head = packed([[4, 0x04034b50], ...common]);
    directory.push(packed([[4, 0x02014b50], [2, 20], ...common, [2, 0], [2, 0], [2, 0], [4, 0], [4, at]]), path);
    parts.push(head, path, bytes);
    at += head.length + path.length + bytes.length;
  }
  const size = directory.reduce((sum, part) => sum + part.length, 0);
  const end = packed([[4, 0x06054b50], [2, 0], [2, 0], [2, files.length], [2, files.length], [4, size], [4, at], [2, 0]]);
  return new Blob([...parts, ...directory, end], { type: "application/zip" });
}

const damaged = (why) => new Error(`this ZIP can't be read: ${why}`);

// The files of a ZIP by name.
export async function unzip(blob) {
  if (blob.size > LARGEST_ZIP) throw damaged("it is larger than 256 MiB");
  const bytes = new Uint8Array(await blob.arrayBuffer());
  const view = new DataView(bytes.buffer);
  let end = bytes.length - 22;
  while (end >= 0 && end > bytes.length - 66_000 && view.getUint32(end, true) !== 0x06054b50) end -= 1;
  if (end < 0 || view.getUint32(end, true) !== 0x06054b50) throw damaged("it has no end");
  const count = view.getUint16(end + 10, true);
  if (count > MOST_FILES) throw damaged(`it holds ${count} files; ${MOST_FILES} are read`);
  let at = view.getUint32(end + 16, true);
  const found = new Map();
  let all = 0;
  for (let i = 0; i < count; i += 1) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== 0x02014b50) throw damaged("its list of files is broken");
    const [flags, method] = [view.getUint16(at + 8, true), view.getUint16(at + 10, true)];
    const [size, whole] = [view.getUint32(at + 20, true), view.getUint32(at + 24, true)];
    const lengths = [28, 30, 32].map((offset) => view.getUint16(at + offset, true));
    const start = view.getUint32(at + 42, true);
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + lengths[0]));
    at += 46 + lengths[0] + lengths[1] + lengths[2];
    if (name.endsWith("/")) continue;
    if (flags & 1) throw damaged("it is locked with a password");
    all += whole;
    if (whole > LARGEST_FILE || all > LARGEST_ZIP) throw damaged(`${name} would be too large unpacked`);
    if (start + 30 > bytes.length) throw damaged("it ends too soon");
    const from = start + 30 + view.getUint16(start + 26, true) + view.getUint16(start + 28, true);
    if (from + size > bytes.length) throw damaged("it ends too soon");
    found.set(name, await unpacked(bytes.subarray(from, from + size), method, whole, name));
  }
  return found;
}

// The bytes of a file, and not one more than were promised.
async function unpacked(bytes, method, whole, name) {
  if (method === 0 && bytes.length === whole) return bytes;
  if (method !== 8) throw damaged(`${name} is packed in a way that is not known here`);
  const out = new Uint8Array(whole);
  let at = 0;
  const reader = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw")).getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      if (at + value.length > whole) throw new Error("more");
      out.set(value, at);
      at += value.length;
    }
  } catch { await reader.cancel().catch(() => {}); throw damaged(`${name} is not what the list says`); }
  if (at !== whole) throw damaged(`${name} is not what the list says`);
  return out;
}
