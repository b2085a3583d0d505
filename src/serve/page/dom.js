// Elements without a framework: made in one call, and lists that keep the elements (and so the focus) of what stays.

const SVG = "http://www.w3.org/2000/svg";

/** An element of HTML. `attributes`: `on…` functions listen, `true` sets an empty attribute, `null` and `false` leave it out. */
export function el(tag, attributes = {}, ...children) {
  return fill(document.createElement(tag), attributes, children);
}

/** An element of SVG, made alike. */
export function svg(tag, attributes = {}, ...children) {
  return fill(document.createElementNS(SVG, tag), attributes, children);
}

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else set(element, name, value);
  }
  element.append(...children.flat(9).filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

/** Sets an attribute, or takes it away, only where that changes anything. */
export function set(element, name, value) {
  if (value === null || value === undefined || value === false) element.removeAttribute(name);
  else if (element.getAttribute(name) !== String(value === true ? "" : value)) {
    element.setAttribute(name, value === true ? "" : value);
  }
}

/** Puts text, only where it changes: a live region speaks once, a selection is kept. */
export function say(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** Replaces what is in an element. */
export function put(element, ...children) {
  element.replaceChildren(...children.flat(9).filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

/**
 * Makes an element's children show `items` in order. `key(item)` tells which is which; `make(item)` makes an element with an
 * `update(item, index)` function of its own; elements that stay are moved only when out of order, so that focus survives.
 */
export function keep(parent, items, key, make) {
  const there = new Map([...parent.children].map((child) => [child.dataset.key, child]));
  const wanted = items.map((item, index) => {
    const name = String(key(item, index));
    let child = there.get(name);
    if (child) there.delete(name);
    else {
      child = make(item, index);
      child.dataset.key = name;
    }
    child.update?.(item, index);
    return child;
  });
  for (const gone of there.values()) gone.remove();
  wanted.forEach((child, index) => {
    if (parent.children[index] !== child) parent.insertBefore(child, parent.children[index] ?? null);
  });
}

let counter = 0;
/** A name for an element that no other has. */
export function fresh(prefix) {
  counter += 1;
  return `${prefix}-${counter}`;
}

/** Calls `act` once things have been quiet for `wait` ms; `flush()` calls it now if it is due, `drop()` forgets it. */
export function quiet(wait, act) {
  let timer = null;
  let last = [];
  const run = () => {
    clearTimeout(timer);
    timer = null;
    return act(...last);
  };
  const later = (...given) => {
    last = given;
    clearTimeout(timer);
    timer = setTimeout(run, wait);
  };
  later.flush = () => (timer === null ? undefined : run());
  later.drop = () => {
    clearTimeout(timer);
    timer = null;
  };
  later.due = () => timer !== null;
  return later;
}

/** Whether things should jump rather than move. */
export function still() {
  return matchMedia("(prefers-reduced-motion: reduce)").matches;
}

/** A name as it begins a line. */
export function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
