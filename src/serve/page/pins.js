// What the person has settled: where a thing stands, how wide and high a drawer is, a tier's drawers and members. It is part of
// the scenario: the explorer keeps it and completes the rest, and undo takes it back.

import { typed } from "./field.js";
import { at, edit, state } from "./store.js";
import { exact } from "./units.js";

const rows = (list) => (Array.isArray(at([list])) ? at([list]) : []);

/** The way to the row of `list` with that name, or none. */
function named(list, name) {
  const index = rows(list).findIndex((row) => typed(row.name) === name);
  return index < 0 ? null : [list, index];
}

const thing = (name) => named("gear", name) ?? named("loose", name);

/** Where a thing must stand (`A1`, `A`, `left`), or none. */
export function pinned(name) {
  const way = thing(name);
  return (way && typed(at([...way, "in"]))) || null;
}

/** A thing has to stand in a drawer. */
export function pin(name, drawer) {
  const way = thing(name);
  return way && edit([{ at: [...way, "in"], set: drawer }]);
}

/** A thing may stand anywhere again. */
export function unpin(name) {
  const way = thing(name);
  const edits = ["in", "end"].filter((key) => way && at([...way, key]) !== undefined).map((key) => ({ at: [...way, key], remove: true }));
  return edits.length ? edit(edits) : null;
}

/** A drawer has to have this inside width and clear height, in millimetres. */
export function pinDrawer(name, width, height) {
  const [wide, high] = [width, height].map((mm) => exact(mm, state.document.units));
  return put("drawer", { name, width: wide, height: high });
}

/** A tier has to have so many drawers and these members. */
export function pinTier(name, columns, members) {
  return put("tier", { name, columns, members });
}

function put(list, row) {
  const way = named(list, row.name);
  return edit([way ? { at: way, set: row } : { at: [list], insert: row }]);
}

/** Everything that is settled: `{words, free()}`. */
export function settled() {
  const things = ["gear", "loose"].flatMap((list) => rows(list).filter((row) => row.in !== undefined).map((row) => ({ words: `${typed(row.name)} in ${typed(row.in)}`, free: () => unpin(typed(row.name)) })));
  const remove = (list, name) => () => edit([{ at: named(list, name), remove: true }]);
  const drawers = rows("drawer").map((row) => ({ words: `drawer ${typed(row.name)}${row.width === undefined ? "" : `, ${typed(row.width)} wide`}${row.height === undefined ? "" : `, ${typed(row.height)} high`}`, free: remove("drawer", typed(row.name)) }));
  const tiers = rows("tier").map((row) => ({ words: `tier ${typed(row.name)}${row.columns === undefined ? "" : `, ${typed(row.columns)} drawers`}${row.members === undefined ? "" : `, members of ${typed(row.members)}`}`, free: remove("tier", typed(row.name)) }));
  return [...tiers, ...drawers, ...things];
}
