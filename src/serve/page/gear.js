// 2 Gear: what is to be stowed, a row each; pasted, begun from a starter list, or typed.

import { el, put as fillWith, say, set } from "./dom.js";
import { sentence, typed } from "./field.js";
import { get, post } from "./room.js";
import { edit, faultsAt, on, state } from "./store.js";
import { table } from "./table.js";
import { sides } from "./units.js";

const USES = [["", "—"], ["daily", "daily"], ["weekly", "weekly"], ["monthly", "monthly"], ["rarely", "rarely"]];
const TURNS = [["", "spun"], ["base", "spun (said so)"], ["fixed", "not at all"], ["any", "tipped too"]];

/** A size as three texts of one list; what is typed as `19 x 14 1/2 x 5 1/2` fills all three. */
function side(index, title) {
  return {
    key: "size", title,
    faults: (way) => [...faultsAt([...way, "size", index]), ...(index === 0 ? faultsAt([...way, "size"], true) : [])],
    get: (row) => typed(Array.isArray(row.size) ? row.size[index] : ""),
    set: (text, row, way) => {
      const three = sides(text);
      if (three.length === 3) return [{ at: [...way, "size"], set: three.map(number) }];
      if (Array.isArray(row.size) && row.size.length === 3) return [{ at: [...way, "size", index], typed: text.trim() || "0" }];
      const size = [0, 1, 2].map((i) => (i === index ? number(text) : number(typed(row.size?.[i]) || "0")));
      return [{ at: [...way, "size"], set: size }];
    },
  };
}

/** A bare number as a number, anything else as it was typed. */
function number(text) {
  return /^-?\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : text.trim();
}

/** Must fit, or a worth: one column for both. */
const DEMAND = {
  key: "worth", keys: ["worth", "must"], title: "Worth, or “must”",
  get: (row) => (String(row.must) === "true" ? "must" : typed(row.worth)),
  set: (text, row, way) => {
    const trimmed = text.trim();
    const must = /^(must|yes|!)$/i.test(trimmed);
    const edits = [must ? { at: [...way, "must"], set: true } : { at: [...way, "must"], remove: true }];
    edits.push(must || trimmed === "" ? { at: [...way, "worth"], remove: true } : { at: [...way, "worth"], typed: trimmed });
    return edits;
  },
};

const GEAR = [
  { key: "name", title: "Name", kind: "words", wide: true }, side(0, "Length"), side(1, "Width"), side(2, "Height"),
  { key: "weight", title: "Weight" }, { key: "count", title: "How many" }, DEMAND,
  { key: "use", title: "Used" }, { key: "turn", title: "May be turned", kind: "choice", options: () => TURNS },
  { key: "near", title: "Belongs with", kind: "words", rare: true }, { key: "stack", title: "Stacked", rare: true }, { key: "padding", title: "Padding", rare: true },
  { key: "share", title: "Shares a cell", kind: "yes", rare: true }, { key: "pocket", title: "Side pocket", kind: "yes", rare: true },
];
const LOOSE = [
  { key: "name", title: "Name", kind: "words", wide: true }, { key: "volume", title: "Volume" }, { key: "least", title: "Least side" },
  { key: "weight", title: "Weight" }, DEMAND, { key: "use", title: "Used" }, { key: "near", title: "Belongs with", kind: "words" },
];

/** The section's content. */
export function gear() {
  const inches = () => state.document?.units !== "mm";
  const things = table({
    list: "gear", columns: GEAR, title: "Things with a shape", noun: "a thing",
    added: () => (inches() ? { name: nameFor("gear"), size: [12, 8, 6], weight: 5, worth: 1 } : { name: nameFor("gear"), size: [300, 200, 150], weight: 2, worth: 1 }),
  });
  const loose = table({
    list: "loose", columns: LOOSE, title: "Loose things", noun: "something loose",
    added: () => (inches() ? { name: nameFor("loose"), volume: "1 gal", least: 4, weight: 2, worth: 1 } : { name: nameFor("loose"), volume: "4 L", least: 100, weight: 1, worth: 1 }),
  });
  const tell = el("p", { role: "status", class: "quiet" });
  const starters = starterMenu(things, tell);
  const paste = pasteDialog(tell);
  // A table copied from a spreadsheet and pasted anywhere into the list is a list, not a word.
  things.addEventListener("paste", (event) => {
    const text = event.clipboardData?.getData("text/plain") ?? "";
    if (!/\n./.test(text.trim()) && !text.includes("\t")) return;
    event.preventDefault();
    paste.open(text);
  });
  on("document", () => {
    things.show();
    loose.show();
  });
  return el(
    "div", {},
    el("p", {}, "Sizes as the thing stands: length, width, height. Give a worth (points against the other gear) or write must where it has to come along. Used: daily, weekly, monthly, rarely, or times a week."),
    el("div", { class: "row" }, el("button", { type: "button", class: "main", onclick: () => paste.open("") }, "Paste a list…"), starters),
    tell, paste.dialog, things, el("h3", {}, "Loose things: a volume and no shape"), loose,
  );
}

function nameFor(list) {
  const names = new Set(["gear", "loose"].flatMap((key) => state.document?.fields?.[key] ?? []).map((row) => typed(row.name)));
  const base = list === "gear" ? "Thing" : "Loose things";
  let number = 1;
  while (names.has(`${base} ${number}`)) number += 1;
  return `${base} ${number}`;
}

/** Starter lists: generic things, to be measured. */
function starterMenu(things, tell) {
  const choice = el("select", { id: "starter" }, el("option", { value: "" }, "Choose a starter list"));
  const lists = new Map();
  get("/api/starters").then((starters) => {
    for (const starter of starters) {
      lists.set(starter.name, starter);
      choice.append(el("option", { value: starter.name }, starter.what));
    }
  }, () => {});
  const use = el("button", { type: "button", onclick: async () => {
    const list = lists.get(choice.value);
    if (!list) return;
    const names = new Set(things.rows().map((row) => typed(row.name)));
    const rows = list.rows.filter((row) => !names.has(row.name));
    if (rows.length === 0) say(tell, "Everything of that list is there already.");
    else if (await edit([{ at: ["gear"], insert_typical: rows }])) say(tell, `${rows.length} things added. Sizes and weights are typical: measure yours.`);
  } }, "Add the list");
  return el("div", { class: "row no-print" }, el("label", { for: "starter" }, "Starter list (typical, measure yours)"), choice, use);
}

/** Pasting: the program reads the table, says what it cannot read, and only then rows are added. */
function pasteDialog(tell) {
  const area = el("textarea", { id: "paste-text", spellcheck: "false" });
  const found = el("div", { role: "status" });
  const over = el("input", { type: "checkbox", id: "paste-over" });
  const add = el("button", { type: "submit", class: "main", disabled: true }, "Add to the list");
  const dialog = el(
    "dialog", { "aria-labelledby": "paste-title" },
    el("form", { method: "dialog", onsubmit: take },
      el("h3", { id: "paste-title" }, "Paste from a spreadsheet or CSV"),
      el("p", { class: "quiet" }, "Columns with headings (name, length, width, height, weight, count, worth, must, use, turn, near, stack…), or without: name, length, width, height, weight, count."),
      el("label", { for: "paste-text" }, "The table"), area, found,
      el("label", { class: "tick" }, over, "Instead of the gear listed now"),
      el("div", { class: "row" }, add, el("button", { type: "button", onclick: () => dialog.close() }, "Leave it"))),
  );
  let [rows, turn] = [[], 0];
  area.addEventListener("input", () => look());

  async function look() {
    turn += 1;
    const mine = turn;
    rows = [];
    set(add, "disabled", true);
    if (!area.value.trim()) return fillWith(found);
    try {
      const answer = await post("/api/paste", { text: area.value });
      if (mine !== turn) return undefined;
      rows = answer.rows;
      fillWith(found,
        el("p", {}, `${rows.length} ${rows.length === 1 ? "thing" : "things"} read.`),
        el("ul", {}, answer.faults.slice(0, 12).map((fault) => el("li", { class: "fault" }, `${fault.line ? `Line ${fault.line}: ` : ""}${sentence(fault)}`))));
      set(add, "disabled", rows.length === 0);
    } catch (error) {
      fillWith(found, el("p", { class: "fault" }, error.message));
    }
    return undefined;
  }

  async function take(event) {
    event.preventDefault();
    if (rows.length === 0) return;
    const edits = over.checked && state.document.fields?.gear ? [{ at: ["gear"], remove: true }] : [];
    const made = await edit([...edits, { at: ["gear"], insert: rows }]);
    if (!made) return;
    say(tell, `${rows.length} things added.`);
    dialog.close();
  }

  return {
    dialog,
    open(text) {
      area.value = text;
      fillWith(found);
      dialog.showModal();
      area.focus();
      look();
    },
  };
}
