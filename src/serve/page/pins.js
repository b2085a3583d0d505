// Pins: what the person has settled. They are part of the scenario, so the explorer keeps them and undo takes them back.

import { typed } from "./field.js";
import { at, edit } from "./store.js";

/** The row of a thing in the scenario: `["gear", 3]`, or none. */
function rowOf(name) {
  for (const list of ["gear", "loose"]) {
    const rows = at([list]);
    const index = Array.isArray(rows) ? rows.findIndex((row) => typed(row.name) === name) : -1;
    if (index >= 0) return [list, index];
  }
  return null;
}

/** The drawer that a thing is pinned to, or none. */
export function pinned(name) {
  const way = rowOf(name);
  return (way && typed(at([...way, "drawer"]))) || null;
}

/** Pins a thing to a drawer. */
export function pin(name, drawer) {
  const way = rowOf(name);
  return way && edit([{ at: [...way, "drawer"], set: drawer }]);
}

/** Takes a thing's pin out. */
export function unpin(name) {
  const way = rowOf(name);
  return way && pinned(name) && edit([{ at: [...way, "drawer"], remove: true }]);
}
