// Tables that are filled in: a row for each `[[table]]` of the scenario.

import { el, fresh, keep, say, set } from "./dom.js";
import { says, sending, typed } from "./field.js";
import { at, edit, faultsAt, toMeasure } from "./store.js";

/**
 * A table over the rows at `[list]`. A column: `{key, title, kind: "text" | "words" | "choice" | "yes", options, wide, rare, get(row),
 * set(text, row, path)}`; `get` and `set` are for what is not a key of its own, `keys` and `faults(path of the row)` say what stands beneath it. `rare` ones are
 * hidden until asked for. `added()` gives a new row.
 */
export function table({ list, columns, title, added, noun }) {
  const head = el("thead", {}, el("tr", {}, columns.map((column) => el("th", { scope: "col", class: column.rare ? "rare" : null }, column.title)), el("th", { scope: "col" }, "Row")));
  const body = el("tbody");
  const empty = el("p", { class: "quiet" }, `No ${noun} yet.`);
  const spoken = el("p", { class: "only-read", "aria-live": "polite" });
  const rare = columns.some((column) => column.rare) && el("button", { type: "button", "aria-pressed": "false", onclick: () => {
    const all = root.classList.toggle("all-columns");
    set(rare, "aria-pressed", all ? "true" : "false");
  } }, "All columns");
  const add = el("button", { type: "button", onclick: () => insert(rows().length, added()) }, `Add ${noun}`);
  const root = el("div", { class: "sheet", "data-list": list }, el("div", { class: "sheet-scroll", tabindex: -1 }, el("table", { class: "grid-table cards" }, el("caption", { class: "only-read" }, title), head, body)), empty, spoken, el("div", { class: "row" }, add, rare));
  let ids = []; // which element is of which row, kept through moves and removals

  const rows = () => (Array.isArray(at([list])) ? at([list]) : []);

  async function insert(index, row) {
    ids.splice(index, 0, fresh(list));
    const made = await edit([index >= rows().length ? { at: [list], insert: row } : { at: [list, index], insert: row }]);
    if (!made) return;
    const field = body.children[index]?.querySelector("input, select");
    field?.focus();
    field?.select?.();
  }
  async function move(index, to) {
    if (to < 0 || to >= rows().length) return;
    const [id] = ids.splice(index, 1);
    ids.splice(to, 0, id);
    await edit([{ at: [list, index], move_to: to }]);
    say(spoken, `Row ${index + 1} is now row ${to + 1} of ${rows().length}`);
  }
  async function remove(index) {
    const name = typed(rows()[index]?.name) || `row ${index + 1}`;
    ids.splice(index, 1);
    await edit([{ at: [list, index], remove: true }]);
    say(spoken, `${name} removed; Undo brings it back`);
    const next = body.children[Math.min(index, body.children.length - 1)];
    (next?.querySelector("input") ?? add).focus();
  }

  function makeRow() {
    const tr = el("tr");
    const cells = columns.map((column) => cell(column, () => tr.index));
    const whole = el("div", { id: fresh("row-says") });
    const doings = [
      ["↑", "Move up", () => move(tr.index, tr.index - 1)], ["↓", "Move down", () => move(tr.index, tr.index + 1)],
      ["×2", "Duplicate", () => insert(tr.index + 1, copy(rows()[tr.index], rows()))], ["✕", "Remove", () => remove(tr.index)],
    ].map(([sign, what, onclick]) => ({ what, button: el("button", { type: "button", class: "icon", title: what, onclick }, sign) }));
    const measured = el("button", { type: "button", class: "plain", onclick: () => edit(toMeasure([list, tr.index]).map((at) => ({ at, measured: true }))) }, "Typical…");
    tr.append(...cells.map(({ td }) => td), el("td", { class: "doings", "data-name": "Row" }, doings.map(({ button }) => button), measured, whole));
    tr.addEventListener("keydown", (event) => {
      if (event.altKey && (event.key === "ArrowUp" || event.key === "ArrowDown")) {
        event.preventDefault();
        const focused = document.activeElement;
        move(tr.index, tr.index + (event.key === "ArrowUp" ? -1 : 1)).then(() => focused.focus());
      }
    });
    tr.update = (row, index) => {
      tr.index = index;
      const name = typed(row.name) || `row ${index + 1}`;
      for (const one of cells) one.show(row, index, name);
      for (const { what, button } of doings) set(button, "aria-label", `${what}: ${name}`);
      const typical = toMeasure([list, index]);
      set(measured, "hidden", typical.length === 0);
      set(measured, "aria-label", `Typical size of ${name}: press once it is measured`);
      set(measured, "title", "Typical size: press once it is measured");
      const own = faultsAt([list, index]).filter((fault) => !columns.some((column) => (column.keys ?? [column.key]).includes(fault.path[2])));
      says(doings[0].button, whole, own);
      set(doings[0].button, "aria-invalid", null);
      tr.classList.toggle("typical", typical.length > 0);
      tr.classList.toggle("bad", faultsAt([list, index]).some((fault) => fault.refusing));
    };
    return tr;
  }

  function cell(column, index) {
    const id = fresh("cell");
    const options = column.kind === "yes" ? null : column.options?.() ?? [];
    const input =
      column.kind === "yes" ? el("input", { type: "checkbox", id })
      : column.kind === "choice" ? el("select", { id }, options.map(([value, words]) => el("option", { value }, words)))
      : el("input", { type: "text", id, autocomplete: "off", spellcheck: "false", class: column.wide ? "wide-in" : null });
    const below = el("div", { id: `${id}-says` });
    set(input, "aria-describedby", below.id);
    const way = () => [list, index(), column.key];
    if (column.kind === "yes") input.addEventListener("change", () => edit([input.checked ? { at: way(), set: true } : { at: way(), remove: true }].filter((one) => !one.remove || at(way()) !== undefined)));
    else sending(input, (text) => (column.set ? column.set(text, rows()[index()], [list, index()]) : [put(way(), text, column.kind)]));
    const td = el("td", { "data-name": column.title, class: [column.wide && "span", column.rare && "rare"].filter(Boolean).join(" ") || null }, input, below);
    const show = (row, i, name) => {
      set(input, "aria-label", `${column.title}: ${name}`);
      if (column.kind === "yes") input.checked = row[column.key] === true || row[column.key] === "true";
      else {
        const text = column.get ? column.get(row) : typed(row[column.key]);
        if (column.kind === "choice" && ![...input.options].some((option) => option.value === text)) input.append(el("option", { value: text }, text));
        if (!input.busy() && input.value !== text) input.value = text;
      }
      says(input, below, column.faults?.([list, i]) ?? (column.keys ?? [column.key]).flatMap((key) => faultsAt([list, i, key])));
    };
    input.shown = () => rows()[index()] && show(rows()[index()], index(), typed(rows()[index()].name));
    return { td, show };
  }

  root.show = () => {
    const all = rows();
    while (ids.length < all.length) ids.push(fresh(list));
    ids.length = all.length;
    keep(body, all, (_, index) => ids[index], makeRow);
    // On paper a column in which nothing stands would only take room.
    columns.forEach((column, i) => {
      const bare = all.every((row) => (column.get ? column.get(row) : typed(row[column.key])) === "");
      for (const tr of [head.firstChild, ...body.children]) tr.children[i].classList.toggle("bare", bare);
    });
    set(empty, "hidden", all.length > 0);
    set(root.querySelector(".sheet-scroll"), "hidden", all.length === 0);
  };
  root.insert = insert;
  root.rows = rows;
  return root;
}

/** The edit for one key of a row. */
export function put(way, text, kind) {
  const trimmed = text.trim();
  if (trimmed === "") return { at: way, remove: true };
  return kind === "choice" || kind === "words" ? { at: way, set: trimmed } : { at: way, typed: trimmed };
}

/** A copy of a row under a name that no row has. */
export function copy(row, rows) {
  const base = typed(row.name).replace(/ \(\d+\)$/, "");
  const names = new Set(rows.map((one) => typed(one.name)));
  let number = 2;
  while (names.has(`${base} (${number})`)) number += 1;
  return { ...numbered(row), name: `${base} (${number})` };
}

/** Numbers, which the document gives as they were typed, as numbers again. */
export function numbered(value) {
  if (Array.isArray(value)) return value.map(numbered);
  if (value && typeof value === "object") return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, key === "name" ? inner : numbered(inner)]));
  return typeof value === "string" && /^-?\d+(\.\d+)?$/.test(value) ? Number(value) : value;
}
