/* The service worker: keeps this build's files and its two pages, so that the sheet opens with no signal. Nobody's data
   is in any cache: what /api/ answers is never touched here. The build puts `BUILD` before this: its id, its `folder`,
   the addresses of its `files`, of the rule book in each language, `books`, and the two pages, `sheet` and `offline`. */

const OURS = "build ";
const CACHE = OURS + BUILD.id;
const PAGES = [BUILD.sheet, BUILD.offline];
const BUILDS = BUILD.folder.slice(0, -BUILD.id.length - 1); // below it, each build's files have a folder
const PATIENCE_MS = 200;

/* A file or page of this very build. A page may be of a newer one by now, or the way to sign in: then this can't be
   installed, and what was there before stays. */
async function fetched(address) {
  const isPage = PAGES.includes(address);
  const answer = await fetch(address, { redirect: "error", cache: isPage ? "no-cache" : "default" });
  if (answer.status !== 200) throw new Error(`${address} answers ${answer.status}`);
  if (isPage && !(await answer.clone().text()).includes(BUILD.folder)) throw new Error(`${address} is of another build`);
  return answer;
}

/* The address of the rule book in the language of the sheet's page. */
async function bookFor(page) {
  const [, language] = (await page.clone().text()).match(/<html lang="([a-z]+)"/);
  return BUILD.books[language];
}

async function install() {
  const pages = await Promise.all(PAGES.map(fetched)); // all, or nothing is kept
  const files = [await bookFor(pages[0]), ...BUILD.files];
  const addresses = [...PAGES, ...files];
  const answers = [...pages, ...(await Promise.all(files.map(fetched)))];
  const cache = await caches.open(CACHE);
  await Promise.all(addresses.map((address, at) => cache.put(address, answers[at])));
}

/* The locks that pages hold: on the build that each is of (app.js), and on the visit in hand (sheet/hold.js). */
async function heldBy(...beginnings) {
  const { held } = await navigator.locks.query();
  return held.map(({ name }) => name).filter((name) => beginnings.some((beginning) => name.startsWith(beginning)));
}

/* Drops the files of other builds, but for those of a page that is still open. Not while another version is coming,
   whose files they may be: then a later page asks again. */
async function dropOthers() {
  if (registration.installing || registration.waiting) return;
  const needed = new Set([CACHE, ...(await heldBy(OURS))]);
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(OURS) && !needed.has(name)).map((name) => caches.delete(name)));
}

/* What is kept of an address; should the browser have cleared the cache, what the server answers. */
async function kept(address, request, options) {
  const answer = await caches.match(address, { ...options, ignoreVary: true });
  return answer ?? fetch(request);
}

/* The sheet always as it is kept; any other page from the server, or words on what works without a signal. */
async function page(request, address) {
  if (address === BUILD.sheet) return kept(BUILD.sheet, request, { cacheName: CACHE });
  try {
    return await fetch(request);
  } catch (fault) {
    return (await caches.match(BUILD.offline, { cacheName: CACHE, ignoreVary: true })) ?? Promise.reject(fault);
  }
}

/* A newer version takes over when a page asks for it, and only while no tab has a visit in hand. One that was put down a
   moment ago may still seem held. */
async function takeOver() {
  for (let tries = 0; tries < 5; tries += 1) {
    if (!(await heldBy("draft in hand/")).length) return skipWaiting();
    await new Promise((resolve) => setTimeout(resolve, PATIENCE_MS));
  }
}

const ASKED = { "take over": takeOver, "drop others": dropOthers };

addEventListener("install", (event) => event.waitUntil(install()));
addEventListener("activate", (event) => event.waitUntil(dropOthers().then(() => clients.claim())));
addEventListener("message", (event) => event.waitUntil(ASKED[event.data]?.()));
addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin) return;
  if (request.mode === "navigate") event.respondWith(page(request, pathname));
  else if (pathname.startsWith(BUILDS)) event.respondWith(kept(pathname, request));
});
