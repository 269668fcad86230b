// Fetches the planner's module once for a page, however many planners stand on it, and tells apart what can go wrong.

// The smallest module with SIMD. (module (func (result v128) i32.const 0 i8x16.splat i8x16.popcnt))
const SIMD_WASM = new Uint8Array([
  0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, 123, 3, 2, 1, 0, 10, 10, 1, 8, 0, 65, 0, 253, 15, 253, 98, 11,
]);
// Two modules with the same planner: one sums light on many lanes at once, the other runs where that can't be done.
export const name = typeof WebAssembly === "object" && WebAssembly.validate(SIMD_WASM) ? "rowlight" : "rowlight-plain";
const wasm = new URL(`./${name}_bg.wasm`, import.meta.url);
const glue = new URL(`./${name}.js`, import.meta.url);
// The script that fetches what the planner can do without until it stands, file by file.
const link = new URL(`./${name}-rooms.js`, import.meta.url);

// The smallest module that uses what ours does beyond the first WebAssembly: a reference type. (module (func (param externref)))
const NEWER_WASM = new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 1, 111, 0]);

const SCRIPT = "text/javascript";
const ANY_SCRIPT = /^(text|application)\/(x-)?(java|ecma)script/i;

/** An error whose message is meant for the reader of the page. */
export class Cause extends Error {}

/** What to tell a reader where the menu hasn't come. */
export const NO_MENU = "The menu “Share and save” could not be fetched. Load the page again; if it stays so, share.js is missing on the server.";

/** What to tell a reader of an error. */
export function explain(reason) {
  return reason instanceof Cause ? reason.message : `The planner did not start: ${reason?.message ?? reason}. Load the page again.`;
}

// What the page's policy has forbidden so far, by the words of the policy.
const forbidden = new Set();
document.addEventListener("securitypolicyviolation", (event) => forbidden.add(event.effectiveDirective.split("-", 2).join("-")));

/** Whether the policy was what kept a request of ours from being made. Browsers say so a moment after it has failed. */
async function isForbidden(directive) {
  await new Promise((done) => setTimeout(done, 100));
  return forbidden.has(directive);
}

export function element(name, className, text = "") {
  const made = document.createElement(name);
  made.className = className;
  made.textContent = text;
  return made;
}

/** Fetches a file of the planner, and says what is wrong with the answer. */
export async function fetchPart(address, type) {
  let response;
  try {
    response = await fetch(address);
  } catch (reason) {
    throw new Cause(
      (await isForbidden("connect-src"))
        ? `This page's policy forbids fetching the planner. Its connect-src must name ${address.origin}, or 'self' where that is this page's own host.`
        : `The planner could not be fetched: the connection to ${address.host} broke. Load the page again.`,
      { cause: reason },
    );
  }
  if (!response.ok) {
    throw new Cause(`A part of the planner is missing on this server: ${address.pathname} (${response.status}). Upload the whole folder.`);
  }
  const sent = response.headers.get("Content-Type") ?? "none";
  // A script may be sent with any of its older types, and some servers do.
  const fits = type === SCRIPT ? ANY_SCRIPT.test(sent) : sent.startsWith(type);
  if (!fits) {
    throw new Cause(`This server sends ${address.pathname} with the type “${sent}”. It must be “${type}”.`);
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

async function importGlue() {
  try {
    return await import(glue.href);
  } catch (reason) {
    await fetchPart(glue, SCRIPT);
    await fetchPart(link, SCRIPT);
    throw new Cause(
      (await isForbidden("script-src"))
        ? `This page's policy forbids running the planner. Its script-src must name ${glue.origin}, or 'self' where that is this page's own host.`
        : `${glue.pathname} could not be run: the file isn't whole. Load the page again; if it stays so, upload the whole folder anew.`,
      { cause: reason },
    );
  }
}

async function begin() {
  if (typeof WebAssembly !== "object") {
    throw new Cause("This browser is too old for the planner. Any browser brought up to date since 2023 will do.");
  }
  if (await policyForbids()) {
    throw new Cause("This page's policy forbids the planner. Its script-src must name 'wasm-unsafe-eval'.");
  }
  if (!WebAssembly.validate(NEWER_WASM)) {
    throw new Cause("This browser is too old for the planner. Any browser brought up to date since 2023 will do.");
  }
  const fetched = fetchPart(wasm, "application/wasm");
  fetched.catch(() => {});
  const module = await importGlue();
  const response = await fetched;
  try {
    await module.default({ module_or_path: response });
  } catch (reason) {
    if (reason instanceof WebAssembly.LinkError) {
      throw new Cause(`The files ${glue.pathname} and ${wasm.pathname} are of two versions. Upload the whole folder anew.`, { cause: reason });
    }
    if (reason instanceof WebAssembly.CompileError || reason instanceof TypeError) {
      throw new Cause(
        `The download of ${wasm.pathname} broke off. Load the page again; if it stays so, the file isn't whole on the server: upload it anew.`,
        { cause: reason },
      );
    }
    throw reason;
  }
  module.askWhy(async (key) => {
    const words = await why(key);
    if (!isBroken()) module.toldWhy(key, words);
  });
  return module;
}

let loading = null;

/** The planner's module, the same for everybody who asks; after a failure the next one tries again. */
export function load() {
  loading ??= begin().catch((reason) => {
    loading = null;
    throw reason;
  });
  return loading;
}

/** Why a part of the planner could not be fetched, in words. What was wrong stands on the console only, so its files are asked for once more. */
async function why(key) {
  try {
    const { FILES } = await import(link.href);
    const files = FILES[key].map((file) => new URL(file, link));
    for (const file of files) await fetchPart(file, "application/wasm");
    throw new Cause(`The download of ${files.at(-1).pathname} broke off, or it is of another version. Load the page again; if it stays so, upload the whole folder anew.`);
  } catch (reason) {
    return explain(reason);
  }
}

/** Fetches a part of the planner where it isn't there yet; rejects with the cause where it doesn't come, and the next one who asks tries again. */
export async function room(key) {
  const module = await load();
  if (!(await module.room(key))) throw new Cause(await why(key));
}

/** Fetches the parts that figures and findings of all chapters need. */
export async function chapters() {
  const module = await load();
  await Promise.all(module.chapterRooms().map(room));
}

// After a trap the module's memory is not to be trusted, so it isn't called again.
let broken = false;
const listeners = new Set();

export function isBroken() {
  return broken;
}

/** Calls the listener once when the module has broken, at once if it has already; returns how to stop that. */
export function onBreak(listener) {
  if (broken) listener();
  else listeners.add(listener);
  return () => listeners.delete(listener);
}

/** Tells everybody that the module has broken. */
export function markBroken() {
  if (broken) return;
  broken = true;
  // Not from within the module that is just breaking.
  setTimeout(() => {
    for (const listener of listeners) listener();
    listeners.clear();
  });
}

// A trap of ours names one of our files; another module's is no concern of ours.
const ours = new RegExp(`/${name}(-[a-z-]+)?_bg\\.wasm`);
function look(reason) {
  if (reason instanceof WebAssembly.RuntimeError && ours.test(reason.stack)) markBroken();
}
window.addEventListener("rowlight-broken", markBroken);
window.addEventListener("error", (event) => look(event.error));
window.addEventListener("unhandledrejection", (event) => look(event.reason));

/** What stands over a broken planner. */
export function brokenBanner(words) {
  const banner = element("div", "boot-banner");
  banner.setAttribute("role", "alert");
  const reload = element("button", "boot-reload", "Reload");
  reload.type = "button";
  reload.addEventListener("click", () => location.reload());
  banner.append(element("p", "", words), reload);
  return banner;
}
