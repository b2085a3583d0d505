// One field of the scenario: what is typed goes to the program as it is, and what is wrong with it stands beneath.

import { el, fresh, keep, quiet, say, set } from "./dom.js";
import { at, edit, faultsAt, state } from "./store.js";

/** How long after the last key what was typed is sent; leaving the field or Enter sends it at once. */
const PAUSE = 450;

/**
 * Makes an input send what is typed: `send(text)` gives the edits. Until these are answered the input is left alone, then it
 * shows what the document says, unless it has been typed in again.
 */
export function sending(input, send) {
  const later = quiet(PAUSE, async () => {
    const sent = input.value;
    const edits = send(sent).filter((one) => !one.remove || at(one.at) !== undefined);
    if (edits.length === 0) return;
    input.pending = sent;
    await edit(edits);
    if (input.pending === sent) input.pending = undefined;
    input.shown?.();
  });
  input.addEventListener("input", () => later());
  input.addEventListener("change", () => later.flush());
  input.addEventListener("blur", () => later.flush());
  input.addEventListener("keydown", (event) => {
    if (event.key === "Enter") later.flush();
  });
  input.busy = () => later.due() || input.pending !== undefined;
  input.flush = () => later.flush();
  return input;
}

/** A text as the document has it: a measured length with a tolerance is one text, `78 3/4 ± 1/8`. */
export function typed(value) {
  if (value === undefined || value === null) return "";
  if (Array.isArray(value)) return value.map(typed).join(", ");
  if (typeof value === "object") return value.at === undefined ? "" : value.tol === undefined ? value.at : `${value.at} ± ${value.tol}`;
  return String(value);
}

/**
 * A labelled field at `path`. `kind`: "text" (a quantity or words), "choice" (of `options`: `[value, words]`), "yes". Empty text
 * takes the key out of the scenario; what stands in then is shown beneath (`defaults`). Focus and leaving call `focus(path)`.
 */
export function field({ path, title, kind = "text", options = [], hint = "", focus, words = false }) {
  const id = fresh("field");
  const name = path.join(".");
  const input =
    kind === "choice"
      ? el("select", { id }, options.map(([value, text]) => el("option", { value }, text)))
      : kind === "yes"
        ? el("select", { id }, [["", "as usual"], ["true", "yes"], ["false", "no"]].map(([value, text]) => el("option", { value }, text)))
        : el("input", { id, type: "text", autocomplete: "off", spellcheck: "false", inputmode: words ? "text" : "text" });
  const below = el("div", { id: `${id}-says` });
  const label = el("label", { for: id }, title);
  const root = el("div", { class: "field", "data-path": name }, label, input, below);
  set(input, "aria-describedby", below.id);
  sending(input, (text) => [change(path, text, kind, words)]);
  input.addEventListener("focus", () => focus?.(name));
  input.shown = show;

  function show() {
    const value = at(path);
    const text = typed(value);
    if (!input.busy() && input.value !== text) input.value = text;
    if (kind === "choice" && !input.busy() && input.value !== text) {
      // The file holds a word that is none of these: it is shown, and found fault with.
      input.append(el("option", { value: text }, text));
      input.value = text;
    }
    const stands = state.document?.defaults?.find(({ key }) => key === name);
    says(input, below, faultsAt(path), stands ? `${stands.value} if left out (${stands.why})` : hint);
  }
  root.show = show;
  root.input = input;
  return root;
}

/** Shows faults beneath a field, or else the hint. */
export function says(input, below, faults, hint = "") {
  const refusing = faults.some((fault) => fault.refusing);
  set(input, "aria-invalid", refusing ? "true" : null);
  const lines = faults.map((fault) => ({ class: fault.refusing ? "fault" : "fault warn", text: sentence(fault) }));
  if (lines.length === 0 && hint) lines.push({ class: "hint", text: hint });
  keep(below, lines, (line, i) => `${i}${line.class}`, (line) => {
    const p = el("p", { class: line.class });
    p.update = (now) => say(p, now.text);
    return p;
  });
}

/** A fault's words: what is wrong, what would be right. */
export function sentence({ what, cure }) {
  return cure ? `${what}: ${cure}` : what;
}

/** The edit that puts a typed text at a path; empty takes it out. */
export function change(path, text, kind = "text", words = false) {
  const trimmed = text.trim();
  if (trimmed === "") return { at: path, remove: true };
  if (kind === "yes") return { at: path, set: trimmed === "true" };
  if (kind === "choice" || words) return { at: path, set: trimmed };
  return { at: path, typed: trimmed };
}
