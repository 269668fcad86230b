// Starts the planner in the element `rowlight`. The picture in `still` stays until the planner stands in its place.

import { NO_MENU, brokenBanner, element, explain, isBroken, load, markBroken, name, onBreak } from "./loader.js";

const host = document.getElementById("rowlight");
const still = document.getElementById("still");

function say(message) {
  const line = element("p", "boot-message", message);
  line.setAttribute("role", "alert");
  host.replaceChildren(line);
}

/** What stands behind the address: a link to a plan, or nothing. */
function fragment() {
  return location.hash.length > 1 ? location.hash.slice(1) : undefined;
}

// The address names the plan shown or none: once the plan is another, its link goes.
function changed() {
  if (location.hash) history.replaceState(null, "", location.pathname + location.search);
}

async function start() {
  const glue = await load();
  host.replaceChildren();
  // Held by the element: a handle nobody holds is collected, and takes the page down with it.
  host.page = glue.mount(host, { alone: true, place: "rowlight.v1", scenario: fragment(), changed });
  still?.remove();
  window.addEventListener("hashchange", () => {
    const link = fragment();
    if (link && !isBroken()) host.page.open(link, true);
  });
  // Only here, on a page of the planner's own: never in somebody else's. Where it is forbidden the planner needs its network. It
  // fetches every file, so not on a line where each costs.
  if (!navigator.connection?.saveData) navigator.serviceWorker?.register(new URL(`./sw.js?module=${name}`, import.meta.url)).catch(() => {});
  const { shareMenu } = await import("./share.js");
  shareMenu(host, host.page, { alone: true });
}

// `inert` keeps the reader's hands off the drawing, which stays as it was.
onBreak(() => {
  host.inert = true;
  host.before(brokenBanner("Something broke. The last drawing is still shown. Your plan is saved."));
});
// On a page of its own there is no other module a trap could be of.
function look(reason) {
  if (reason instanceof WebAssembly.RuntimeError) markBroken();
}
window.addEventListener("error", (event) => look(event.error));
window.addEventListener("unhandledrejection", (event) => look(event.reason));

start().catch((reason) => {
  if (reason instanceof WebAssembly.RuntimeError) {
    markBroken();
  } else if (host.page) {
    console.error(reason);
    if (!isBroken()) host.page.lack(NO_MENU);
  } else {
    say(`${explain(reason)} The drawings below show the plan it starts with.`);
    console.error(reason);
  }
});
