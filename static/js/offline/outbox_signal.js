/* How sending goes, told to whoever shows it, in this tab and the others. */

const listeners = new Set();
const tabs = new BroadcastChannel("outbox");

/* What the last round met: "idle", "sending", "waits" (no answer) or "signed_out"; `since` when it began and `next` when
   it is tried again by itself, for show. */
export const signal = { state: "idle", since: null, next: null };

/* Calls back after every change of what waits, in this tab or another; gives the function that ends it. */
export function onOutbox(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/* Says how it goes now, and that something may have changed. */
export function tell(state, next = null) {
  if (state !== signal.state) signal.since = new Date();
  Object.assign(signal, { state, next });
  tabs.postMessage(signal);
  for (const listener of listeners) listener();
}

tabs.onmessage = ({ data }) => {
  Object.assign(signal, data);
  for (const listener of listeners) listener();
};
