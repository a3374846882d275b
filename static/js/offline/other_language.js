/* The page in another language than the one that is open, put on this phone. */

import { noteReplaced } from "./app.js";

/* Where the member reads another language than the page's: puts the page in that language in place of the kept one. It
   shows as a newer version does, once no visit is in hand. */
export async function takeLanguage({ build, language_files }, wanted) {
  try {
    const addresses = [location.pathname, ...language_files.map((address) => address.replace("{language}", wanted))];
    const answers = await Promise.all(addresses.map((address) => fetch(address, { redirect: "error", cache: "no-cache" })));
    const page = await answers[0].clone().text();
    const isWanted = answers.every(({ ok }) => ok) && page.includes(build) && page.includes(`<html lang="${wanted}"`);
    if (!isWanted) return;
    const name = `build ${build}`;
    if (await globalThis.caches?.has(name)) {
      const cache = await caches.open(name);
      await Promise.all(addresses.map((address, at) => cache.put(address, answers[at])));
    }
    noteReplaced();
  } catch {
    // no signal, or no room: asked for again with the next load
  }
}
