/* A photo as it will be sent: shrunk in a worker to about 260 kB where that can be done, else as it was taken. */

const MOST_BYTES = 20_000_000;
const LONGEST_MS = 20_000;

/* The file is larger than the server takes, and could not be made smaller. */
export class TooLarge extends Error {}

/* The file does not begin as a picture does. */
export class NotAPicture extends Error {}

function letters(bytes, from, to) {
  return String.fromCharCode(...bytes.subarray(from, to));
}

/* Whether these bytes begin as a JPEG, PNG, WebP or HEIC picture does. The server looks again, and decodes. */
export function looksLikePicture(buffer) {
  const bytes = new Uint8Array(buffer.slice(0, 16));
  if (bytes[0] === 0xff && bytes[1] === 0xd8) return true;
  if (letters(bytes, 1, 4) === "PNG") return true;
  if (letters(bytes, 0, 4) === "RIFF" && letters(bytes, 8, 12) === "WEBP") return true;
  return letters(bytes, 4, 8) === "ftyp" && /^(heic|heix|hevc|mif1|msf1|avif)/.test(letters(bytes, 8, 12));
}

function askedOfWorker(buffer) {
  return new Promise((resolve) => {
    let worker;
    const end = (answer) => {
      clearTimeout(timer);
      worker?.terminate();
      resolve(answer);
    };
    const timer = setTimeout(() => end(null), LONGEST_MS);
    try {
      worker = new Worker(new URL("./shrink_worker.js", import.meta.url), { type: "module" });
      worker.onmessage = ({ data }) => end(data);
      worker.onerror = () => end(null);
      worker.postMessage(buffer);
    } catch {
      end(null);
    }
  });
}

/* {bytes, asTaken}: the bytes to send, and whether they are the file's own because this browser could not shrink them.
   Throws NotAPicture or TooLarge. */
export async function shrunk(buffer) {
  if (!looksLikePicture(buffer)) throw new NotAPicture();
  const small = await askedOfWorker(buffer.slice(0));
  if (small) return { bytes: small, asTaken: false };
  if (buffer.byteLength > MOST_BYTES) throw new TooLarge();
  return { bytes: buffer, asTaken: true };
}
