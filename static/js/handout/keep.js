/* The handout kept on this phone, for when there is no signal: at a tap, and let go of at another. Without a worker, a
   database or https there is no button, and the page is as it was. */

const WORKER = "/h/worker.js";
const SCOPE = "/h/";
const place = document.querySelector("#keep");
const [keepButton, dropButton] = ["keep", "drop"].map((ask) => place.querySelector(`button[value="${ask}"]`));
const says = place.querySelector("[role=status]");
const language = document.documentElement.lang;

/* Asks the worker; resolves with when the page was kept, or null. */
async function asked(registration, ask) {
  const worker = registration.active ?? registration.waiting ?? registration.installing;
  const { port1, port2 } = new MessageChannel();
  const answer = new Promise((resolve) => {
    port1.onmessage = ({ data }) => resolve(data);
  });
  worker.postMessage({ ask, path: location.pathname }, [port2]);
  const { done, fault } = await answer;
  if (fault) throw new Error(fault);
  return done;
}

function show(keptAt, words = "") {
  keepButton.hidden = Boolean(keptAt);
  dropButton.hidden = !keptAt;
  says.textContent = words || (keptAt ? place.dataset.kept : "");
}

async function keep() {
  try {
    await navigator.serviceWorker.register(WORKER, { scope: SCOPE });
    show(await asked(await navigator.serviceWorker.ready, "keep"));
    navigator.storage?.persist?.().catch(() => {});
  } catch {
    show(null, place.dataset.failed);
  }
}

async function drop() {
  show(await asked(await navigator.serviceWorker.ready, "drop"));
  keepButton.focus();
}

/* Says of a page that was given from what is kept that it is that, and since when. */
function sayOld(keptAt) {
  const notice = document.querySelector("#kept-copy");
  const day = new Intl.DateTimeFormat(language, { dateStyle: "long" }).format(new Date(keptAt));
  notice.querySelector("bdi").textContent = day;
  notice.hidden = false;
}

async function begin() {
  const { kept } = document.querySelector("#kept-copy").dataset;
  if (kept) sayOld(kept);
  if (!navigator.serviceWorker || !globalThis.indexedDB) return;
  place.hidden = false;
  const registration = await navigator.serviceWorker.getRegistration(SCOPE);
  if (!registration?.active || !registration.scope.endsWith(SCOPE)) return show(null); // none, or the measuring phone's
  // As long as it is kept, it is kept as it is now.
  const since = await asked(registration, "kept");
  show(since && !kept ? await asked(registration, "keep").catch(() => since) : since);
}

keepButton.addEventListener("click", keep);
dropButton.addEventListener("click", drop);
begin();
