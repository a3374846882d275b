/**
 * The bench by keys: up and down go from row to row, Home and End to the first and the last; Enter opens, as on any
 * link. And when the page's own asking is answered by another page, signing in, that page is opened.
 */

const STEPS = { ArrowDown: 1, ArrowUp: -1 };

const links = () => [...document.querySelectorAll(".row-link")];

/** Where a key leads from a row, or from no row at all (-1); undefined where it leads nowhere. */
export function leadsTo(key, at, count) {
  if (!count) return undefined;
  if (key === "Home") return 0;
  if (key === "End") return count - 1;
  if (!(key in STEPS)) return undefined;
  if (at < 0) return key === "ArrowDown" ? 0 : count - 1;
  return Math.min(count - 1, Math.max(0, at + STEPS[key]));
}

function go(event) {
  if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  if (event.target.closest("input, select, textarea")) return;
  const rows = links();
  const at = rows.indexOf(document.activeElement);
  if (at < 0 && !(event.key in STEPS)) return;
  const next = rows[leadsTo(event.key, at, rows.length)];
  if (!next) return;
  event.preventDefault();
  next.focus();
}

function openElsewhere(event) {
  if (new URL(event.detail.xhr.responseURL).pathname === location.pathname) return;
  event.detail.shouldSwap = false;
  location.reload();
}

document.addEventListener("keydown", go);
document.addEventListener("htmx:beforeSwap", openElsewhere);
