// Photos from the camera or the phone's album: turned upright, scaled down, packed as JPEG.

/// Most pixels of a photo that is opened: unpacked it takes four bytes each of the phone's memory.
const MOST_PIXELS = 64e6;
/// Largest file of a photo that is opened, bytes.
const LARGEST_PHOTO = 48 << 20;
/// Longest side of a photo as it is kept, pixels; no print shows more.
const LONGEST_SIDE = 1600;

// Width and height as the head of a JPEG or PNG says, before anything is unpacked.
export function dimensions(bytes) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length > 24 && view.getUint32(0) === 0x89504e47) return [view.getUint32(16), view.getUint32(20)];
  if (bytes.length < 4 || view.getUint16(0) !== 0xffd8) return null;
  let at = 2;
  while (at + 9 < bytes.length) {
    const marker = view.getUint16(at);
    if (marker < 0xff01) return null;
    const frame = marker >= 0xffc0 && marker <= 0xffcf && ![0xffc4, 0xffc8, 0xffcc].includes(marker);
    if (frame) return [view.getUint16(at + 7), view.getUint16(at + 5)];
    at += 2 + view.getUint16(at + 2);
  }
  return null;
}

// A photo as it is kept: bytes of a JPEG.
export async function developed(file) {
  if (file.size > LARGEST_PHOTO) throw new Error(`this photo has ${Math.round(file.size / 1048576)} MiB; up to 48 are opened. Take it with fewer pixels`);
  const size = dimensions(new Uint8Array(await file.arrayBuffer()));
  if (!size) throw new Error("this is neither a JPEG nor a PNG; take the photo as one of them");
  if (size[0] * size[1] > MOST_PIXELS) throw new Error(`this photo has ${size[0]} × ${size[1]} pixels; up to ${MOST_PIXELS / 1e6} million are opened. Take it with fewer`);
  let picture;
  try { picture = await createImageBitmap(file, { imageOrientation: "from-image" }); } catch { throw new Error("this photo is damaged; take it again"); }
  const scale = Math.min(1, LONGEST_SIDE / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  const context = canvas.getContext("2d");
  context.imageSmoothingQuality = "high";
  context.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.85));
  if (!blob) throw new Error("this phone has no memory left for the photo; close something and take it again");
  return blob.arrayBuffer();
}

/// Longest side of a logo as it is drawn, pixels; no paper shows more.
const LONGEST_LOGO = 1000;
/// Largest file of a logo that is drawn, bytes.
const LARGEST_LOGO = 4 << 20;

// A logo that is an SVG, as a PNG: bytes, or null where it can't be drawn. As a picture it runs no script and asks for nothing.
export async function drawnLogo(bytes) {
  if (bytes.byteLength > LARGEST_LOGO) return null;
  const url = URL.createObjectURL(new Blob([bytes], { type: "image/svg+xml" }));
  try {
    const picture = new Image();
    picture.src = url;
    await picture.decode();
    const scale = LONGEST_LOGO / Math.max(picture.naturalWidth, picture.naturalHeight);
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(picture.naturalWidth * scale));
    canvas.height = Math.max(1, Math.round(picture.naturalHeight * scale));
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
    return blob && new Uint8Array(await blob.arrayBuffer());
  } catch { return null; } finally { URL.revokeObjectURL(url); }
}
