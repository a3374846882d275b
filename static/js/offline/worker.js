/* The service worker: keeps this build's files and its two pages, so that the sheet opens with no signal. Nobody's data
   is in any cache: what /api/ answers is never touched here. The build puts `BUILD` before this: its id, its `folder`,
   the addresses of its `files`, and the two pages, `sheet` and `offline`. */

const OURS = "build ";
const CACHE = OURS + BUILD.id;
const PAGES = [BUILD.sheet, BUILD.offline];

/* A file or page of this very build. A page may be of a newer one by now, or the way to sign in: then this can't be
   installed, and what was there before stays. */
async function fetched(address) {
  const isPage = PAGES.includes(address);
  const answer = await fetch(address, { redirect: "error", cache: isPage ? "no-cache" : "default" });
  if (answer.status !== 200) throw new Error(`${address} answers ${answer.status}`);
  if (isPage && !(await answer.clone().text()).includes(BUILD.folder)) throw new Error(`${address} is of another build`);
  return answer;
}

async function install() {
  const addresses = [...PAGES, ...BUILD.files];
  const answers = await Promise.all(addresses.map(fetched)); // all, or nothing is kept
  const cache = await caches.open(CACHE);
  await Promise.all(addresses.map((address, at) => cache.put(address, answers[at])));
}

async function dropOlder() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(OURS) && name !== CACHE).map((name) => caches.delete(name)));
  await clients.claim();
}

/* What is kept of an address; should the browser have cleared the cache, what the server answers. */
async function kept(address, request) {
  const answer = await caches.match(address, { cacheName: CACHE, ignoreVary: true });
  return answer ?? fetch(request);
}

/* The sheet always as it is kept; any other page from the server, or words on what works without a signal. */
async function page(request, address) {
  if (address === BUILD.sheet) return kept(BUILD.sheet, request);
  try {
    return await fetch(request);
  } catch (fault) {
    return (await caches.match(BUILD.offline, { cacheName: CACHE, ignoreVary: true })) ?? Promise.reject(fault);
  }
}

/* A newer version takes over when a page asks for it, and only while no tab has a visit in hand (sheet/hold.js). */
async function takeOver() {
  const { held } = await navigator.locks.query();
  if (!held.some(({ name }) => name.startsWith("draft in hand/"))) await skipWaiting();
}

addEventListener("install", (event) => event.waitUntil(install()));
addEventListener("activate", (event) => event.waitUntil(dropOlder()));
addEventListener("message", (event) => event.data === "take over" && event.waitUntil(takeOver()));
addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin) return;
  if (request.mode === "navigate") event.respondWith(page(request, pathname));
  else if (BUILD.files.includes(pathname)) event.respondWith(kept(pathname, request));
});
