// The menu "Share and save": the plan as a link and as a file, its drawings and tables for other programs.

import { element, isBroken, room } from "./loader.js";

/** A file larger than this is no plan of ours, and isn't read. */
const LARGEST = 1_000_000;
/** Pixels of a picture for each unit of a drawing. */
const SHARPNESS = 2;

const TABLES = [
  ["figures", "All figures"],
  ["orders", "Order list"],
  ["stations", "Every tree and post"],
];

function save(name, content, type) {
  const address = URL.createObjectURL(content instanceof Blob ? content : new Blob([content], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** An SVG as a PNG. A `data:` address, because a `blob:` one keeps some browsers from reading the canvas. */
export async function picture(svg) {
  const { width, height } = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement.viewBox.baseVal;
  const [x, y] = [width * SHARPNESS, height * SHARPNESS];
  const image = new Image();
  // Without a size of its own an SVG is drawn at whatever the browser likes.
  image.src = `data:image/svg+xml,${encodeURIComponent(svg.replace("<svg ", `<svg width="${x}" height="${y}" `))}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [x, y];
  const pen = canvas.getContext("2d");
  pen.fillStyle = "#fff";
  pen.fillRect(0, 0, x, y);
  pen.drawImage(image, 0, 0, x, y);
  return new Promise((done, fail) => canvas.toBlob((blob) => (blob ? done(blob) : fail(new Error("no picture"))), "image/png"));
}

/** Fills the place a planner keeps for its menu. `host` is the element the planner is mounted in. */
export function shareMenu(host, handle, { alone }) {
  const place = host.querySelector(".rl-share");
  if (!place) return;
  const menu = element("div", "rl-menu");
  const head = element("button", "rl-tool", "Share and save");
  head.type = "button";
  head.dataset.action = "share-menu";
  const box = element("div", "rl-menu-box");
  box.setAttribute("role", "group");
  box.setAttribute("aria-label", "Share and save");
  const status = element("p", "rl-menu-status");
  status.setAttribute("role", "status");

  const act = (name, words, work) => {
    const button = element("button", "rl-button", words);
    button.type = "button";
    button.dataset.action = name;
    button.addEventListener("click", async () => {
      if (isBroken()) return;
      try {
        status.textContent = (await work()) ?? "";
      } catch (reason) {
        status.textContent = `That did not work: ${reason.message}`;
      }
    });
    return button;
  };
  const row = (words, ...buttons) => {
    const line = element("div", "rl-menu-row");
    line.append(element("span", "", words), ...buttons);
    return line;
  };
  const abreast = (className, ...parts) => {
    const line = element("div", `rl-menu-row ${className}`);
    line.append(...parts);
    return line;
  };
  const part = (words, ...rows) => {
    const made = element("div", "rl-menu-part");
    made.append(element("p", "rl-menu-head", words), ...rows);
    return made;
  };

  const address = element("input", "rl-menu-link");
  address.readOnly = true;
  address.hidden = true;
  address.setAttribute("aria-label", "Link to this plan");
  const share = act("share-link", "Copy a link", async () => {
    const link = `#${handle.link()}`;
    if (alone) history.replaceState(null, "", link);
    address.value = new URL(link, alone ? location.href : new URL("./", import.meta.url)).href;
    address.hidden = false;
    address.select();
    try {
      await navigator.clipboard.writeText(address.value);
      return "The link is copied. It holds the whole plan.";
    } catch {
      return "Copy the link from the field. It holds the whole plan.";
    }
  });

  const read = async (file) => {
    if (file.size > LARGEST) return `${file.name} is too large to be a plan.`;
    const text = await file.text();
    if (isBroken() || !host.isConnected) return "";
    const wrong = handle.openByHand(text);
    return wrong ? `${file.name}: ${wrong}` : `${file.name} is open. Undo brings the plan before it back.`;
  };
  const chooser = element("input", "");
  chooser.type = "file";
  chooser.accept = ".json,application/json";
  chooser.hidden = true;
  chooser.addEventListener("change", async () => {
    const [file] = chooser.files;
    if (file && !isBroken()) status.textContent = await read(file);
    chooser.value = "";
  });
  const keep = act("save-file", "Save a file", () => {
    save("rowlight-plan.json", handle.file(), "application/json");
    return "Saved as rowlight-plan.json.";
  });
  const open = act("open-file", "Open …", () => chooser.click());
  open.classList.add("rl-menu-open");

  const drawing = async (view) => {
    await room("files");
    return handle.drawing(view);
  };
  const drawings = element("div", "rl-menu-part");
  const draw = () => {
    const rows = handle.drawings().map(([view, title]) =>
      row(
        title,
        act(`svg-${view}`, "SVG", async () => save(`rowlight-${view}.svg`, await drawing(view), "image/svg+xml")),
        act(`png-${view}`, "PNG", async () => save(`rowlight-${view}.png`, await picture(await drawing(view)))),
      ),
    );
    drawings.replaceChildren(...rows);
  };
  const table = async (name) => {
    await room("files");
    save(`rowlight-${name}.csv`, handle.table(name), "text/csv;charset=utf-8");
  };
  const tables = TABLES.map(([name, words]) => row(words, act(`csv-${name}`, "CSV", () => table(name))));

  const degrees = (name, words, most) => {
    const label = element("label", "rl-menu-degrees", `${words}, °`);
    const field = element("input", "");
    field.type = "number";
    field.step = "any";
    [field.min, field.max] = [-most, most];
    field.dataset.key = name;
    label.append(field);
    return [label, field];
  };
  const [latitude, north] = degrees("corner-latitude", "Latitude", 85);
  const [longitude, east] = degrees("corner-longitude", "Longitude", 180);
  const map = act("geojson", "GeoJSON", async () => {
    if (north.value === "" || east.value === "") {
      (north.value === "" ? north : east).focus();
      return "Say where the field’s corner lies.";
    }
    await room("files");
    save("rowlight-stations.geojson", handle.map(east.valueAsNumber, north.valueAsNumber), "application/geo+json");
    return "Saved as rowlight-stations.geojson.";
  });

  box.append(
    part("The plan", abreast("rl-menu-wide", share, keep, open), address, chooser),
    part("Drawings of this chapter", drawings),
    part("Tables for a spreadsheet", ...tables),
    part("Every tree and post on the map, from the corner on the left at the foot of the rows", abreast("rl-menu-map", latitude, longitude, map)),
    status,
  );
  menu.append(head, box);
  place.replaceChildren(menu);

  const away = (event) => {
    if (!menu.isConnected || !event.composedPath().includes(menu)) turn(false);
  };
  const turn = (open) => {
    box.hidden = !open;
    head.setAttribute("aria-expanded", open);
    if (open) document.addEventListener("pointerdown", away, true);
    else document.removeEventListener("pointerdown", away, true);
  };
  turn(false);
  head.addEventListener("click", () => {
    const open = box.hidden;
    if (open && !isBroken()) draw();
    status.textContent = "";
    address.hidden = true;
    turn(open);
  });
  menu.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || box.hidden) return;
    turn(false);
    head.focus();
  });

  const page = host.querySelector(".rl-page");
  // A file sets every input, so it is taken only where every input may be set.
  const free = () => page.dataset.controls === "shown";
  const holdsFile = (event) => free() && [...(event.dataTransfer?.types ?? [])].includes("Files");
  page.addEventListener("dragover", (event) => {
    if (holdsFile(event)) event.preventDefault();
  });
  page.addEventListener("drop", async (event) => {
    if (!holdsFile(event)) return;
    event.preventDefault();
    const [file] = event.dataTransfer.files;
    if (!file || isBroken()) return;
    // What is said of it stands in the menu.
    if (box.hidden) head.click();
    try {
      status.textContent = await read(file);
    } catch (reason) {
      status.textContent = `That did not work: ${reason.message}`;
    }
  });
}
