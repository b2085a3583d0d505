// The page: the job in its order, what was done and undone, the title block at the foot.

import { compare } from "./compare.js";
import { build } from "./build.js";
import { designs, statusLine } from "./designs.js";
import { el, keep, put, say, set } from "./dom.js";
import { gear } from "./gear.js";
import { measure } from "./measure.js";
import { stock } from "./stock.js";
import { change, on, redo, refresh, save, start, state, undo } from "./store.js";
import { source } from "./source.js";

const STAGES = [
  ["measure", "Measure", measure],
  ["gear", "Gear", gear],
  ["stock", "Stock", stock],
  ["designs", "Designs", () => [designs({ open }), compare()]],
  ["build", "Build", build],
];

const alarms = el("div", { class: "alarms" });

/** The address of a sheet; that of the last names the design too, so that it is there again when the page is opened anew. */
function address(sheet) {
  return sheet === "build" && state.chosen ? `#build/${state.chosen}` : `#${sheet}`;
}

/** Shows one sheet of the five, by its name in the address, so that Back goes to the sheet before. */
function turn(focus = true) {
  const [id, design] = location.hash.slice(1).split("/");
  const shown = STAGES.some(([name]) => name === id) ? id : STAGES[0][0];
  if (design && design !== state.chosen) {
    state.replaced = false;
    change("chosen", design);
  }
  for (const [name] of STAGES) set(document.getElementById(name), "hidden", name !== shown);
  for (const link of document.querySelectorAll(".way a")) set(link, "aria-current", link.hash.split("/")[0] === `#${shown}` ? "page" : null);
  if (!focus) return;
  scrollTo(0, 0);
  document.querySelector(`#${shown} h2`).focus({ preventScroll: true });
}

/** A design was chosen: the sheet that shows it comes up. */
function open() {
  location.hash = address("build");
}

/** Another design was chosen, or came in the place of the one before: the ways to it name it. */
function follow() {
  for (const link of document.querySelectorAll('a[href^="#build"]')) set(link, "href", address("build"));
  if (location.hash.startsWith("#build")) history.replaceState(null, "", address("build"));
}

function header() {
  const undoing = el("button", { type: "button", onclick: undo, "aria-keyshortcuts": "Control+Z" }, "Undo");
  const redoing = el("button", { type: "button", onclick: redo, "aria-keyshortcuts": "Control+Y" }, "Redo");
  const saving = el("button", { type: "button", onclick: () => (state.document.file ? keepIt() : source.download()), "aria-keyshortcuts": "Control+S" }, "Save");
  const text = el("button", { type: "button", onclick: () => source.open() }, "As text");
  const links = STAGES.map(([id, title], i) => el("a", { href: `#${id}` }, el("span", { class: "balloon", "aria-hidden": "true" }, String(i + 1)), title));
  on("document", () => {
    const { can_undo, can_redo, saved, file } = state.document;
    undoing.disabled = !can_undo;
    redoing.disabled = !can_redo;
    say(saving, file ? "Save" : "Download");
    saving.disabled = Boolean(file) && saved && !state.document.changed_outside;
  });
  return el(
    "header", { class: "top" },
    el("div", { class: "top-in" }, el("h1", {}, "Bedwright"), el("nav", { "aria-label": "The job" }, el("ol", { class: "way" }, links.map((link) => el("li", {}, link)))), el("div", { class: "deeds" }, undoing, redoing, saving, text)),
    alarms,
  );
}

/** Saves; if another program changed the file, asks first. */
async function keepIt(over = false) {
  if ((await save(over)) === "outside") drawAlarms();
}

/** What needs to be known at once, each with what can be done about it. */
function drawAlarms() {
  const list = []; // what it is, and the words and buttons
  const button = (words, act) => el("button", { type: "button", onclick: act }, words);
  if (state.line === "gone") list.push(["gone", el("strong", {}, "Bedwright does not answer."), " What is typed is not taken until it does. Start it again with the same port; the page goes on by itself."]);
  if (state.line === "strange") list.push(["strange", el("strong", {}, "Bedwright was started anew with another key."), " Open the address that it printed in its terminal."]);
  if (state.document?.recovered) list.push(["recovered", el("strong", {}, "Back from last time:"), " what was changed and not saved then. ", button("Take what the file holds", undo)]);
  if (state.document?.changed_outside) list.push(["outside", el("strong", {}, "Another program changed the file."), " ", button("Save over it", () => keepIt(true)), " ", button("Take the file", () => reload())]);
  if (state.document?.unkept) list.push([state.document.unkept, el("strong", {}, "Unsaved changes are nowhere but here: "), `${state.document.unkept}. Make room, or copy the text from As text, before Bedwright is ended.`]);
  if (state.trouble) list.push([state.trouble, el("strong", {}, "That did not work: "), state.trouble, " ", button("All right", () => change("trouble", null))]);
  // One that is there already is left alone: it has been read out, and may have the focus.
  keep(alarms, list, ([what]) => what, ([, ...content]) => el("div", { class: "alarm", role: "alert" }, content));
}

async function reload() {
  const { post } = await import("./room.js");
  await post("/api/reload", { revision: state.document.revision });
  await refresh();
}

/** The title block: the job, how the run stands, where the file is. */
function foot() {
  const [title, run, file] = [el("span"), el("span"), el("span")];
  // Read out when something has come about, not at every step.
  const aloud = el("p", { class: "only-read", role: "status", "aria-live": "polite" });
  let heard = "";
  on("document run list line", () => {
    if (!state.document) return;
    say(title, state.document.fields?.title ?? "no name yet");
    say(run, state.line === "open" ? statusLine(state) : "The line to Bedwright is lost.");
    const news = [state.line, state.document.sound, state.run?.state, (state.run?.found ?? 0) > 0].join();
    if (news !== heard) say(aloud, run.textContent);
    heard = news;
    say(file, state.document.file ? `${state.document.file}${state.document.saved ? "" : " · not saved"}` : "no file");
  });
  return el("footer", { class: "block", "aria-label": "Title block" }, el("div", { class: "block-in" },
    el("div", {}, el("small", {}, "Job"), title), el("div", { class: "run" }, el("small", {}, "Explorer"), run), el("div", {}, el("small", {}, "File"), file)), aloud);
}

function keys(event) {
  const key = event.key.toLowerCase();
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const typing = document.activeElement?.matches?.("textarea, input[type=text]") && (document.activeElement.matches("textarea") || document.activeElement.busy?.());
  if (key === "s") {
    event.preventDefault();
    document.activeElement?.flush?.();
    if (state.document?.file) keepIt();
    else source.download();
  } else if (!typing && (key === "z" || key === "y")) {
    event.preventDefault();
    if (key === "y" || event.shiftKey) redo();
    else undo();
  }
}

/** One sheet: its number and name, its content, the way to the sheets before and after. */
function sheet([id, title, make], i) {
  const way = [[STAGES[i - 1], "←", "before"], [STAGES[i + 1], "→", "next"]].filter(([other]) => other)
    .map(([[other, name], arrow, side]) => el("a", { class: `button${side === "next" ? " main" : ""}`, href: `#${other}` }, side === "next" ? `${name} ${arrow}` : `${arrow} ${name}`));
  return el("section", { class: "stage", id, "aria-labelledby": `${id}-title`, hidden: true },
    el("header", {}, el("span", { class: "balloon", "aria-hidden": "true" }, String(i + 1)), el("h2", { id: `${id}-title`, tabindex: -1 }, title)),
    make(), el("nav", { class: "row onward", "aria-label": `From ${title} onward` }, way));
}

const main = document.getElementById("page");
put(main, STAGES.map(sheet));
set(main, "tabindex", -1);
const skip = el("a", { class: "skip", href: "#page", onclick: (event) => {
  event.preventDefault();
  main.querySelector("section:not([hidden]) h2").focus();
} }, "To the content");
document.body.prepend(skip, header());
addEventListener("hashchange", () => turn());
document.body.append(foot(), source.dialog);
addEventListener("keydown", keys);
on("line document trouble", drawAlarms);
on("chosen list", follow);
on("document", () => {
  document.title = `${state.document.saved ? "" : "• "}${state.document.fields?.title ?? "A new job"} – Bedwright`;
});
addEventListener("pagehide", () => document.activeElement?.flush?.());
// On paper nothing can be opened: what is folded up is printed open.
let folded = [];
addEventListener("beforeprint", () => {
  folded = [...document.querySelectorAll("details:not([open], .no-print)")];
  for (const one of folded) one.open = true;
});
addEventListener("afterprint", () => {
  for (const one of folded) one.open = false;
});
turn(false);
start();
