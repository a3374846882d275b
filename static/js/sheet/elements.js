/* Building elements. Text is always set as text; only drawings of our own are read as markup. */

/* An element with attributes, listeners (`onclick`) and children (elements, texts, or nothing). */
export function el(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(
    ...children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false),
  );
  return element;
}

/* An SVG drawing from its markup. */
export function drawn(markup) {
  const template = document.createElement("template");
  template.innerHTML = markup;
  return template.content.firstElementChild;
}

const LINES = {
  back: '<path d="M14 4 6 12l8 8"/>',
  on: '<path d="m9 4 8 8-8 8"/>',
  phone: '<rect x="6.5" y="3" width="11" height="18" rx="2"/><path d="M11 18h2"/>',
  enlarge: '<path d="M13 11 20 4m-6 0h6v6M11 13l-7 7m6 0H4v-6"/>',
  tick: '<path d="m4 12.5 5.5 5.5L20 6.5"/>',
  erase: '<path d="M8 5h13v14H8L2 12zM11 9l6 6m0-6-6 6"/>',
  keys: '<rect x="2.5" y="6" width="19" height="12" rx="1.5"/><path d="M6 10h.01M10 10h.01M14 10h.01M18 10h.01M8 14h8"/>',
  otherWay: '<path d="M3 21h18M8 21V4m-3 2 6-4M17 21v-6m-3 2 6-4"/>',
};

/* A small line drawing, hidden from screen readers: a word always stands beside it or in its label. */
export function line(name) {
  return drawn(`<svg class="line-mark" viewBox="0 0 24 24" aria-hidden="true" focusable="false">${LINES[name]}</svg>`);
}

/* Sets an element's text, unless it is that already: setting it anew would have it laid out anew. */
export function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/* Replaces all of an element's children. */
export function fill(element, ...children) {
  element.replaceChildren(...children.flat(Infinity).filter(Boolean));
  return element;
}
