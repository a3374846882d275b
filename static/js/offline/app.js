/* The app on this phone: its worker, a newer version that waits to take over, the way to the home screen. */

const LONGEST_INSTALL_MS = 10_000;
const listeners = new Set();
const { serviceWorker } = navigator;
let registration = null;
let state = "soon";
let replaced = false;
let installing = null;
let settle;

/* Resolves once the worker keeps this build's files, so that what isn't needed yet needn't come twice, nor before what
   is; before long where there is no worker to wait for. */
export const settled = new Promise((resolve) => {
  settle = resolve;
});
if (!serviceWorker || serviceWorker.controller) settle();

/* Calls back when something of this has changed. Gives the function that ends it. */
export function onApp(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

function tell() {
  for (const listener of listeners) listener();
}

/* Whether the page of this build opens with no signal: "yes", "soon" while it is being put here, "no". */
export async function pageKept(build) {
  const page = await globalThis.caches?.match(location.pathname, { cacheName: `build ${build}`, ignoreVary: true });
  return page && serviceWorker?.controller ? "yes" : state;
}

/* Whether a newer version is here whole and waits until no visit is in hand in any tab. */
export function newerWaits() {
  return replaced || Boolean(registration?.waiting && registration.active);
}

/* Lets a newer version take over. The worker sees to it that no tab has a visit in hand; the page is then loaded anew. */
export function takeNewer() {
  if (replaced) location.reload();
  registration?.waiting?.postMessage("take over");
}

/* Says that another page is kept in the place of this one. It shows as a newer version does, once no visit is in hand. */
export function noteReplaced() {
  replaced = true;
  tell();
}

/* Where a browser offers to put the app on the home screen: asks the person. Null where it doesn't. */
export function installer() {
  return installing && (() => installing.prompt());
}

function follow(worker) {
  worker?.addEventListener("statechange", () => {
    if (worker.state === "redundant" && !registration.active) state = "no";
    if (state === "no") settle();
    tell();
  });
}

/* Says, for as long as this page is open, which build it is of: a newer worker then leaves that build's files here. */
export function holdBuild(build) {
  navigator.locks.request(`build ${build}`, { mode: "shared" }, () => new Promise(() => {}));
}

/* Registers the worker, and looks for a newer one whenever the page comes back into view. */
export async function register() {
  const isFirst = !serviceWorker?.controller;
  serviceWorker?.addEventListener("controllerchange", () => {
    replaced ||= !isFirst && Boolean(serviceWorker.controller); // without one, the browser has cleared it
    settle();
    tell();
  });
  try {
    registration = await serviceWorker.register("/worker.js", { updateViaCache: "none" });
    registration.active?.postMessage("drop others");
    follow(registration.installing);
    registration.addEventListener("updatefound", () => follow(registration.installing));
    document.addEventListener("visibilitychange", () => document.hidden || registration.update().catch(() => {}));
    setTimeout(settle, LONGEST_INSTALL_MS);
  } catch {
    state = "no"; // no worker in this browser, or no signal yet: asked for again with the next load
    settle();
  }
  tell();
}

addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  installing = event;
  tell();
});
addEventListener("appinstalled", () => {
  installing = null;
  tell();
});
