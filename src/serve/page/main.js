// Shows that the page is alive: the document's name and the live run.

const main = document.getElementById("page");
const say = document.createElement("p");
main.append(say);

const shown = await (await fetch("/api/document")).json();
const events = new EventSource("/api/events");
events.addEventListener("run", (event) => {
  const run = JSON.parse(event.data);
  say.textContent = `${shown.file ?? "a new scenario"}: ${run.state}, ${run.found} designs`;
});
