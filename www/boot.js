// Starts the planner in the element `rowlight`. The picture in `still` stays until the planner stands in its place.

const host = document.getElementById("rowlight");
const still = document.getElementById("still");

// The smallest module with SIMD. (module (func (result v128) i32.const 0 i8x16.splat i8x16.popcnt))
const SIMD_WASM = new Uint8Array([
  0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, 123, 3, 2, 1, 0, 10, 10, 1, 8, 0, 65, 0, 253, 15, 253, 98, 11,
]);
// Two modules with the same planner: one sums light on many lanes at once, the other runs where that can't be done.
const name = typeof WebAssembly === "object" && WebAssembly.validate(SIMD_WASM) ? "rowlight" : "rowlight-plain";
const wasm = new URL(`./${name}_bg.wasm`, import.meta.url);

// The smallest module that uses what ours does beyond the first WebAssembly: a reference type. (module (func (param externref)))
const NEWER_WASM = new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 1, 111, 0]);

/** An error whose message is meant for the reader of the page. */
class Cause extends Error {}

function element(name, className, text) {
  const made = document.createElement(name);
  made.className = className;
  made.textContent = text;
  return made;
}

function say(message) {
  const line = element("p", "boot-message", message);
  line.setAttribute("role", "alert");
  host.replaceChildren(line);
}

async function fetchModule() {
  let response;
  try {
    response = await fetch(wasm);
  } catch (reason) {
    throw new Cause("The planner could not be fetched: the connection broke, or this page's policy (connect-src) forbids it.", {
      cause: reason,
    });
  }
  if (!response.ok) {
    throw new Cause(`A part of the planner is missing on this server: ${wasm.pathname} (${response.status}). Upload the whole folder.`);
  }
  const type = response.headers.get("Content-Type") ?? "none";
  if (!type.startsWith("application/wasm")) {
    throw new Cause(`This server sends ${wasm.pathname} with the type “${type}”. It must be “application/wasm”.`);
  }
  return response;
}

async function policyForbids() {
  try {
    await WebAssembly.compile(new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0]));
    return false;
  } catch {
    return true;
  }
}

async function start() {
  if (await policyForbids()) {
    throw new Cause("This page's policy forbids the planner. Its script-src must name 'wasm-unsafe-eval'.");
  }
  if (!WebAssembly.validate(NEWER_WASM)) {
    throw new Cause("This browser is too old for the planner. Any browser brought up to date since 2023 will do.");
  }
  const fetched = fetchModule();
  let glue;
  try {
    glue = await import(`./${name}.js`);
  } catch (reason) {
    fetched.catch(() => {});
    throw new Cause(`A part of the planner is missing on this server: ${name}.js. Upload the whole folder.`, { cause: reason });
  }
  await glue.default({ module_or_path: await fetched });
  host.replaceChildren();
  // Held by the element: a handle nobody holds is collected, and takes the page down with it.
  host.page = glue.mount(host);
  still?.remove();
}

// After a trap the module's memory is not to be trusted, so it isn't called again: `inert` keeps the reader's hands off the
// drawing, which stays as it was.
let broken = false;
function onBreak(reason) {
  if (broken || !(reason instanceof WebAssembly.RuntimeError)) return;
  broken = true;
  host.inert = true;
  const banner = element("div", "boot-banner", "");
  banner.setAttribute("role", "alert");
  const reload = element("button", "boot-reload", "Reload");
  reload.type = "button";
  reload.addEventListener("click", () => location.reload());
  banner.append(element("p", "", "Something broke. The last drawing is still shown. Your plan is saved."), reload);
  host.before(banner);
}
window.addEventListener("error", (event) => onBreak(event.error));
window.addEventListener("unhandledrejection", (event) => onBreak(event.reason));

start().catch((reason) => {
  if (reason instanceof WebAssembly.RuntimeError) {
    onBreak(reason);
  } else {
    say(
      (reason instanceof Cause ? reason.message : `The planner did not start: ${reason.message ?? reason}.`) +
        " The drawings below show the plan it starts with.",
    );
    console.error(reason);
  }
});
