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

/* Sets an element's text, unless it is that already: setting it anew would have it laid out anew. */
export function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/* Replaces all of an element's children. */
export function fill(element, ...children) {
  element.replaceChildren(...children.flat(Infinity).filter(Boolean));
  return element;
}
