/* Shrinks a photo beside the page, so that typing never waits. Answers with a JPEG's bytes, or with null where this
   browser can't: the photo is then sent as it was taken. */

const SIDES = [2000, 1600, 1280, 1024];
const QUALITIES = [0.82, 0.7];
const AIM_BYTES = 300_000;

/* A canvas too large for the browser comes out blank, without any error: all its points are alike. */
function isBlank(context, width, height) {
  const { data } = context.getImageData(0, 0, width, height);
  const first = new Uint32Array(data.buffer);
  const step = Math.max(1, Math.floor(first.length / 4096));
  for (let at = 0; at < first.length; at += step) if (first[at] !== first[0]) return false;
  return first[0] === 0;
}

async function jpegOf(bitmap, side, quality) {
  const scale = Math.min(1, side / Math.max(bitmap.width, bitmap.height));
  const [width, height] = [Math.max(1, Math.round(bitmap.width * scale)), Math.max(1, Math.round(bitmap.height * scale))];
  const canvas = new OffscreenCanvas(width, height);
  const context = canvas.getContext("2d", { willReadFrequently: true });
  context.fillStyle = "#fff";
  context.fillRect(0, 0, width, height);
  context.drawImage(bitmap, 0, 0, width, height);
  if (isBlank(context, width, height)) return null;
  return canvas.convertToBlob({ type: "image/jpeg", quality });
}

async function shrink(buffer) {
  const bitmap = await createImageBitmap(new Blob([buffer]), { imageOrientation: "from-image" });
  for (const side of SIDES) {
    for (const quality of QUALITIES) {
      const blob = await jpegOf(bitmap, side, quality);
      if (!blob) return null;
      const last = side === SIDES.at(-1) && quality === QUALITIES.at(-1);
      if (blob.size <= AIM_BYTES || last) return blob.arrayBuffer();
    }
  }
  return null;
}

onmessage = async ({ data }) => {
  try {
    const bytes = await shrink(data);
    postMessage(bytes, bytes ? [bytes] : []);
  } catch {
    postMessage(null);
  }
};
