/* Shrinks a photo beside the page, so that typing never waits. Answers with a JPEG's bytes, or with null where this
   browser can't: the photo is then sent as it was taken. */

const SIDES = [2000, 1600, 1280, 1024];
const QUALITIES = [0.82, 0.7];
const AIM_BYTES = 256 * 1024; // one part (offline/photo_parts.js): sent in one call
const SAMPLES = 4096;

/* A canvas too large for the browser comes out blank, without any error: all its points are alike. */
function isBlank(context, { width, height }) {
  const points = new Uint32Array(context.getImageData(0, 0, width, height).data.buffer);
  const step = Math.max(1, Math.floor(points.length / SAMPLES));
  for (let at = 0; at < points.length; at += step) if (points[at] !== points[0]) return false;
  return true;
}

/* The picture on a canvas whose longer side is at most so long, or null. */
function drawnSmall(bitmap, side) {
  const scale = Math.min(1, side / Math.max(bitmap.width, bitmap.height));
  const [width, height] = [bitmap.width, bitmap.height].map((length) => Math.max(1, Math.round(length * scale)));
  const canvas = new OffscreenCanvas(width, height);
  const context = canvas.getContext("2d", { willReadFrequently: true });
  context.imageSmoothingQuality = "high";
  context.fillStyle = "#fff";
  context.fillRect(0, 0, width, height);
  context.drawImage(bitmap, 0, 0, width, height);
  return isBlank(context, canvas) ? null : canvas;
}

async function shrink(buffer) {
  const bitmap = await createImageBitmap(new Blob([buffer]), { imageOrientation: "from-image" });
  let smallest = null;
  for (const side of SIDES) {
    const canvas = drawnSmall(bitmap, side);
    if (!canvas) return null;
    for (const quality of QUALITIES) {
      smallest = await canvas.convertToBlob({ type: "image/jpeg", quality });
      if (smallest.size <= AIM_BYTES) return smallest.arrayBuffer();
    }
  }
  return smallest.arrayBuffer();
}

onmessage = async ({ data }) => {
  try {
    const bytes = await shrink(data);
    postMessage(bytes, bytes ? [bytes] : []);
  } catch {
    postMessage(null);
  }
};
