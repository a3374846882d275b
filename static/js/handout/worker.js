/* The handout's own worker, which is there only once somebody has tapped *keep*: with no signal it gives the page as it
   was kept. The page lies in the database and goes when its link is found stopped; a cache holds files of ours alone. */

const FILES = "handout files";
const PATIENCE_MS = 6000; // a link that is up and brings nothing

/* Does something with the store of kept pages, by their paths: {path, html, policy, kept_at}. */
function inStore(mode, act) {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open("handouts", 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore("pages", { keyPath: "path" });
    opening.onerror = () => reject(opening.error);
    opening.onsuccess = () => {
      const database = opening.result;
      const doing = database.transaction("pages", mode);
      const asked = act(doing.objectStore("pages"));
      doing.oncomplete = () => resolve(asked.result);
      doing.onabort = () => reject(doing.error);
      doing.addEventListener("complete", () => database.close());
      doing.addEventListener("abort", () => database.close());
    };
  });
}

const keptAt = (path) => inStore("readonly", (pages) => pages.get(path));
const drop = (path) => inStore("readwrite", (pages) => pages.delete(path));

/* Keeps a page as the server has it now, and first the files it is shown with. */
async function keep(path) {
  const answer = await fetch(path, { cache: "no-store", redirect: "error" });
  if (answer.status !== 200) throw new Error(`it answers ${answer.status}`);
  const html = await answer.text();
  const files = [...html.matchAll(/(?:href|src)="(\/static\/[^"]+)"/g)].map(([, address]) => address);
  await (await caches.open(FILES)).addAll([...new Set(files)]);
  const page = { path, html, policy: answer.headers.get("Content-Security-Policy"), kept_at: new Date().toISOString() };
  await inStore("readwrite", (pages) => pages.put(page));
}

/* What is kept as it is shown now: with its day, and with a number of its own for what may be reported on it, since the
   server takes two reports of one number for one that was sent twice. */
function shown({ html, kept_at }) {
  const dated = html.replace('data-kept=""', `data-kept="${kept_at}"`);
  return dated.replace(/(name="sent_as" value=")[^"]*/, `$1${crypto.randomUUID()}`);
}

/* The page from the server; what is kept of it where that can't be had. A link that is stopped takes it along. */
async function page(request, path) {
  const kept = await keptAt(path).catch(() => null);
  if (!kept) return fetch(request);
  try {
    const answer = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    if ([404, 410].includes(answer.status)) await drop(path);
    return answer;
  } catch {
    const headers = {
      "Content-Type": "text/html; charset=utf-8",
      "Content-Security-Policy": kept.policy,
      "Referrer-Policy": "no-referrer",
    };
    return new Response(shown(kept), { headers });
  }
}

async function file(request) {
  return (await caches.match(request, { cacheName: FILES, ignoreVary: true })) ?? fetch(request);
}

const ASKED = { keep, drop, kept: keptAt };

/* Answers {done} with when the page was kept, or with nothing where it isn't; or {fault}. */
async function answer({ data: { ask, path }, ports: [port] }) {
  try {
    await ASKED[ask](path);
    port.postMessage({ done: (await keptAt(path))?.kept_at ?? null });
  } catch (fault) {
    port.postMessage({ fault: String(fault) });
  }
}

addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(clients.claim()));
addEventListener("message", (event) => event.waitUntil(answer(event)));
addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin) return;
  if (request.mode === "navigate") event.respondWith(page(request, pathname));
  else if (pathname.startsWith("/static/")) event.respondWith(file(request));
});
