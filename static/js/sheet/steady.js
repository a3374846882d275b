/* What is shown again and again while it changes little: an element is made anew only for what it didn't show before,
   and what stays keeps its place in the page, so that only the rest is laid out and painted. */

const FOCUSABLE = "a, button, summary";

/* Gives an element these children; those that it has already aren't moved unless their order has changed. */
export function refill(parent, ...children) {
  const wanted = children.flat(Infinity).filter(Boolean);
  const focused = document.activeElement;
  for (const child of [...parent.children]) if (!wanted.includes(child)) child.remove();
  wanted.forEach((child, at) => {
    if (parent.children[at + 1] === child) parent.children[at].remove(); // it has its place further down
    if (parent.children[at] !== child) parent.insertBefore(child, parent.children[at] ?? null);
  });
  if (parent.contains(focused)) focused.focus({ preventScroll: true });
  return parent;
}

export class Steady {
  made = new Map();
  refocus = null;

  /* The element of that name: the one made before if it shows the same, as told by `shows`, else what `make` gives. */
  of(name, shows, make) {
    const text = JSON.stringify(shows);
    const before = this.made.get(name);
    if (before?.text === text) return before.element;
    const element = make();
    const at = [...(before?.element?.querySelectorAll(FOCUSABLE) ?? [])].indexOf(document.activeElement);
    if (at >= 0) this.refocus = element.querySelectorAll(FOCUSABLE)[at];
    this.made.set(name, { text, element });
    return element;
  }

  /* The element made before if it is like this one, else this one. */
  like(name, element) {
    return element && this.of(name, element.outerHTML, () => element);
  }

  /* Everything is in the page: the focus goes to what took the place of what had it. */
  shown() {
    this.refocus?.focus({ preventScroll: true });
    this.refocus = null;
  }
}
