// 3 Stock: what the yard has, what the saw does, and what the chest may be made of.

import { el, fresh, keep, set } from "./dom.js";
import { change as editOf, field, says, typed } from "./field.js";
import { at, edit, faultsAt, on, state } from "./store.js";
import { numbered, table } from "./table.js";
import { sides } from "./units.js";

const FOR = ["chest screws", "drawer screws", "strip", "slides", "wax", "handle", "lock", "lock rod", "carpet", "coating", "angle", "hold-down", "bracket", "hinge", "other"];

/** Two lengths of one list as one text: `96 × 48`. `alone(side)` is what one side by itself stands for, if it does. */
function pair(key, title, alone = (side) => ({ set: [numbered(side)] })) {
  return {
    key, title,
    get: (row) => (Array.isArray(row[key]) ? row[key].map(typed).join(" × ") : typed(row[key])),
    set: (text, row, way) => {
      const list = sides(text);
      if (list.length === 0) return [{ at: [...way, key], remove: true }];
      return [{ at: [...way, key], ...(list.length === 1 ? alone(list[0]) : { set: list.map(numbered) }) }];
    },
  };
}

/** The lengths of a board with their prices: `8 ft = 9.40, 10 ft = 12.10 (most 4)`. */
export const lengths = {
  write: (value) =>
    Object.entries(value ?? {}).map(([long, price]) => {
      if (price === null || typeof price !== "object") return `${long} = ${typed(price)}`;
      const notes = [["most", "most"], ["on_hand", "on hand"]].filter(([key]) => price[key] !== undefined).map(([key, words]) => `${words} ${price[key]}`);
      return `${long} = ${price.price === undefined ? "" : typed(price.price)}${notes.length ? ` (${notes.join(", ")})` : ""}`;
    }).join(", "),
  read: (text) => {
    const read = {};
    for (const [, long, price, notes] of text.matchAll(/\s*([^=,()]+?)\s*=\s*([^,()]*?)\s*(?:\(([^)]*)\))?\s*(?:,|$)/g)) {
      const plain = price === "" ? {} : { price: numbered(price) };
      for (const [, word, number] of (notes ?? "").matchAll(/(most|on hand)\s+(\d+)/g)) plain[word === "most" ? "most" : "on_hand"] = Number(number);
      read[long] = notes === undefined && price !== "" ? plain.price : plain;
    }
    return read;
  },
};

const SHEETS = [
  { key: "name", title: "Name", kind: "words", wide: true }, { key: "material", title: "Material", kind: "words" }, pair("size", "Along × across grain"),
  { key: "thickness", title: "Thickness" }, { key: "price", title: "Price" }, { key: "on_hand", title: "On hand" }, { key: "most", title: "At most" },
  { key: "panel", title: "Span rating", kind: "words" }, { key: "modulus", title: "Stiffness" },
];
const BOARDS = [
  { key: "name", title: "Name", kind: "words" }, pair("section", "Thickness × width"),
  {
    key: "lengths", title: "Lengths = prices", wide: true, get: (row) => lengths.write(row.lengths),
    set: (text, row, way) => {
      const read = lengths.read(text);
      return Object.keys(read).length ? [{ at: [...way, "lengths"], remove: true }, { at: [...way, "lengths"], set: read }] : [{ at: [...way, "lengths"], remove: true }];
    },
  },
  { key: "grade", title: "Grade", kind: "words" },
];
const OFFCUTS = [{ key: "of", title: "Of", kind: "words" }, pair("size", "Along × across grain"), { key: "length", title: "Length, if a board" }, { key: "count", title: "How many" }];
const HARDWARE = [
  { key: "name", title: "Name", kind: "words", wide: true }, { key: "for", title: "For", kind: "choice", options: () => FOR.map((use) => [use, use]) },
  { key: "price", title: "Price" }, { key: "pack", title: "In a pack" }, { key: "length", title: "Length" }, pair("cover", "Covers", (text) => ({ typed: text })), { key: "thickness", title: "Thickness" },
  { key: "weight", title: "Weight" }, { key: "on_hand", title: "On hand" }, { key: "rating", title: "Rated" },
  pair("cut_out", "Cut-out, w × h"), pair("screws", "Screws apart, w × h", (side) => ({ set: [numbered(side), 0] })),
];
const SHOP = [
  ["kerf", "Kerf", "what the blade takes"], ["edge_trim", "Edge trim", "off each edge of a bought sheet"], ["least_rip", "Narrowest rip", "that the saw makes safely"],
  ["step", "Sizes go down to", ""], ["saw_capacity", "Thickest cut", ""],
];
const GAPS = [
  ["handle_room", "Handle room"], ["front_allowance", "At the front wall"], ["fit_allowance", "Off the bed’s width"], ["top_allowance", "Under the limit"],
  ["side_gap", "Beside a drawer"], ["top_clearance", "Above a drawer"], ["stop", "Behind a drawer"], ["deck_overhang", "Deck’s overhang"], ["running_clearance", "Over the tailgate"], ["well_clearance", "Over the wells"],
];
const LIMITS = [["cost", "Cost at most"], ["mass", "Mass at most"], ["pull", "Pull at most"], ["deck_load", "Load on the deck"]];

/** The section's content. */
export function stock() {
  const inches = () => state.document?.units !== "mm";
  const name = (list, base) => {
    const names = new Set((Array.isArray(at([list])) ? at([list]) : []).map((row) => typed(row.name)));
    let number = 1;
    while (names.has(`${base} ${number}`)) number += 1;
    return `${base} ${number}`;
  };
  const tables = [
    table({ list: "sheet", columns: SHEETS, title: "Sheets", noun: "a sheet", added: () => ({ name: name("sheet", "Sheet"), size: inches() ? [96, 48] : [2440, 1220], thickness: inches() ? "23/32" : 18, price: 0 }) }),
    table({ list: "board", columns: BOARDS, title: "Boards", noun: "a board", added: () => ({ name: name("board", "Board"), section: inches() ? ["1 1/2", "5 1/2"] : [38, 140], lengths: inches() ? { "8 ft": 0 } : { "2.4 m": 0 } }) }),
    table({ list: "offcut", columns: OFFCUTS, title: "Offcuts", noun: "an offcut", added: () => ({ of: typed(at(["sheet", 0, "material"]) ?? at(["sheet", 0, "name"])) || "plywood", size: inches() ? [24, 24] : [600, 600] }) }),
    table({ list: "hardware", columns: HARDWARE, title: "Hardware", noun: "hardware", added: () => ({ name: name("hardware", "Hardware"), for: "other", price: 0 }) }),
  ];
  const fields = [];
  const one = (spec) => {
    const made = field(spec);
    fields.push(made);
    return made;
  };
  const group = (root, list) => el("div", { class: "fields" }, list.map(([key, title, hint]) => one({ path: [...root, key], title, hint })));
  const materials = () => [...new Set([...rowsOf("sheet").map((row) => typed(row.material ?? row.name)), ...rowsOf("board").map((row) => typed(row.name))])].filter(Boolean);
  const choices = [
    choice(["chest", "tiers"], "Tiers", () => ["1", "2", "3"]), choice(["chest", "columns"], "Drawers across", () => ["1", "2", "3", "4"]),
    choice(["chest", "families"], "Where it may stand", () => ["between wells", "above wells"], true), choice(["chest", "runs_on"], "Drawers run on", () => ["strip", "waxed", "slides"], true),
    choice(["chest", "members"], "Members", materials, true), choice(["chest", "bottom"], "Bottom and shelves", materials, true), choice(["chest", "deck"], "Deck", materials, true),
    choice(["chest", "drawer_sides"], "Drawer sides", materials, true), choice(["chest", "drawer_bottoms"], "Drawer bottoms", materials, true), choice(["chest", "fronts"], "Fronts", materials, true), choice(["chest", "dividers"], "Dividers", materials, true),
  ];
  on("document", () => {
    for (const made of [...tables, ...fields, ...choices]) made.show();
  });
  const [sheets, boards, offcuts, hardware] = tables;
  return el(
    "div", {},
    el("h3", {}, "Sheets"), sheets, el("h3", {}, "Boards"), el("p", { class: "quiet" }, "Lengths with their prices: 8 ft = 9.40, 10 ft = 12.10 (most 4, on hand 1)."), boards,
    el("details", {}, el("summary", {}, "Offcuts at hand"), offcuts), el("details", {}, el("summary", {}, "Hardware"), hardware),
    el("h3", {}, "The shop"), group(["shop"], SHOP),
    el("h3", {}, "What the chest may be"), el("p", { class: "quiet" }, "Tick several to have them compared; tick one to settle it. Nothing ticked leaves it to the explorer."),
    el("div", { class: "choices two even" }, choices),
    el("div", { class: "fields" }, one({ path: ["chest", "locks"], title: "Locks", kind: "yes" }), one({ path: ["chest", "pockets"], title: "Side pockets", kind: "yes" }), one({ path: ["chest", "corner_blocks"], title: "Corner blocks of", words: true, hint: "square stock, or none" })),
    el("details", {}, el("summary", {}, "Gaps and allowances"), group(["chest"], GAPS)),
    el("h3", {}, "Limits"), group(["aims", "limits"], LIMITS),
  );
}

function rowsOf(list) {
  const rows = at([list]);
  return Array.isArray(rows) ? rows : [];
}

/** Several of a few, as ticks: a list in the scenario, or one word, or nothing. */
function choice(path, title, options, words = false) {
  const legend = el("legend", {}, title);
  const boxes = el("div");
  const below = el("div", { id: fresh("choice-says") });
  const root = el("fieldset", { "data-path": path.join("."), "aria-describedby": below.id }, legend, boxes, below);
  const ticked = () => {
    const value = at(path);
    return value === undefined ? [] : (Array.isArray(value) ? value : [value]).map(typed);
  };
  function toggle(value, checked) {
    const before = ticked();
    const after = checked ? [...before, value] : before.filter((one) => one !== value);
    const order = options();
    after.sort((a, b) => order.indexOf(a) - order.indexOf(b));
    edit([after.length === 0 ? editOf(path, "") : { at: path, set: after.map((one) => (words ? one : Number(one))) }]);
  }
  root.show = () => {
    const now = ticked();
    keep(boxes, [...new Set([...options(), ...now])], (value) => value, (value) => {
      const box = el("input", { type: "checkbox", onchange: () => toggle(value, box.checked) });
      const label = el("label", { class: "tick" }, box, value);
      label.update = () => {
        box.checked = ticked().includes(value);
      };
      return label;
    });
    const stands = state.document?.defaults?.find(({ key }) => key === path.join("."));
    says(root, below, faultsAt(path), stands ? `${stands.value} if nothing is ticked (${stands.why})` : "");
    set(root, "aria-invalid", null);
  };
  return root;
}
