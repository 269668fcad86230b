// Builds the lines an embedder copies, from a form and the planner below it.

import "./rowlight-plan.js";

const form = document.getElementById("choices");
const snippet = document.getElementById("snippet");
const preview = document.getElementById("preview");
const copied = document.getElementById("copied");
const folder = new URL("./", location.href);
const CHAPTERS = form.querySelectorAll("[name=chapters]").length;

let link = "";

const escaped = (text) => text.replaceAll("&", "&amp;").replaceAll('"', "&quot;");

/** What differs from an element without attributes. */
function attributes() {
  const chosen = new FormData(form);
  const chapters = chosen.getAll("chapters");
  const wanted = [];
  if (link) wanted.push(["scenario", link]);
  if (chapters.length > 0 && chapters.length < CHAPTERS) wanted.push(["chapters", chapters.join(" ")]);
  for (const [name, usual] of [["controls", "shown"], ["units", "us"], ["theme", "auto"]]) {
    let value = chosen.get(name);
    if (value === "some") value = chosen.getAll("group").join(" ") || "locked";
    if (value !== usual) wanted.push([name, value]);
  }
  return wanted;
}

function write() {
  const wanted = attributes();
  if (new FormData(form).get("way") === "element") {
    const words = wanted.map(([name, value]) => ` ${name}="${escaped(value)}"`).join("");
    snippet.value =
      `<script type="module" src="${folder}rowlight-plan.js"></script>\n` + `<rowlight-plan${words}></rowlight-plan>`;
  } else {
    const address = new URL("embed.html", folder);
    for (const [name, value] of wanted) address.searchParams.set(name, value);
    snippet.value =
      `<script type="module" src="${folder}rowlight-frame.js"></script>\n` +
      `<iframe data-rowlight src="${escaped(address.href)}" title="Planting planner" width="100%" height="900" loading="lazy"></iframe>`;
  }
  copied.textContent = "";
}

/** Shows the choices; what has been planned stays. */
function show() {
  for (const box of form.elements.group) box.disabled = form.elements.controls.value !== "some";
  for (const name of ["chapters", "controls", "units", "theme"]) {
    const [, value] = attributes().find(([wanted]) => wanted === name) ?? [];
    preview[name] = value ?? null;
  }
  write();
}

form.addEventListener("change", show);
preview.addEventListener("rowlight-change", (event) => {
  link = event.detail.link.split(".").slice(0, 2).join(".");
  write();
});
document.getElementById("copy").addEventListener("click", async () => {
  snippet.select();
  try {
    await navigator.clipboard.writeText(snippet.value);
    copied.textContent = "Copied.";
  } catch {
    copied.textContent = "Copy the marked lines with your keyboard.";
  }
});
show();
