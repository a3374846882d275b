/* One draft in one tab: who has it in hand holds a Web Lock on its order, so that no other tab writes over it. The
   browser ends the hold with the page, however that ends. The worker, too, asks for these locks: see offline/worker.js. */

const IN_HAND = "draft in hand/";
const PATIENCE_MS = 300; // a page that was just reloaded may still have it
let held = null;
let end = () => {};

/* Holds an order's draft for this tab; gives whether it does, false once `signal` ended the waiting. While another tab
   has it, `elsewhere` is called with a function that takes it over; `lost`, when another tab has taken this one's. */
export function hold(id, { signal, elsewhere, lost }) {
  if (holds(id)) return Promise.resolve(true);
  letGo();
  return new Promise((resolve) => {
    const waiting = new AbortController();
    const ask = (options) => {
      let granted = false;
      const taken = () => {
        granted = true;
        clearTimeout(timer);
        held = id;
        resolve(true);
        return new Promise((ended) => (end = ended));
      };
      navigator.locks.request(IN_HAND + id, options, taken).catch(() => {
        if (granted && holds(id)) {
          held = null;
          lost();
        } else if (signal.aborted) resolve(false);
      });
    };
    const takeOver = () => {
      waiting.abort();
      ask({ steal: true });
    };
    const timer = setTimeout(() => signal.aborted || elsewhere(takeOver), PATIENCE_MS);
    ask({ signal: AbortSignal.any([signal, waiting.signal]) });
  });
}

export function holds(id) {
  return held === id;
}

/* Lets go of what this tab holds. */
export function letGo() {
  held = null;
  end();
}

/* Does something to a draft while no other tab has it in hand. */
export function withHold(id, act) {
  return holds(id) ? act() : navigator.locks.request(IN_HAND + id, act);
}
