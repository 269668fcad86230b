// Defines <rowlight-plan>: the planner as an element for any page. `embedding.html` tells how to use it, `rowlight-plan.d.ts` how it is typed.

import { Cause, NO_MENU, brokenBanner, chapters, element, explain, fetchPart, isBroken, load, markBroken, onBreak, room } from "./loader.js";

const NAME = "rowlight-plan";
const ATTRIBUTES = ["scenario", "units", "chapters", "controls", "year", "theme", "remember"];
const THEMES = ["auto", "light", "dark"];
/** How near the window a planner is fetched. */
const NEAR = "600px";
/** A file larger than this is no plan of ours. */
const LARGEST = 1_000_000;
/** The plan a planner starts with, as a file that leaves everything to it. */
const START = '{"version":1}';
/** A link as the planner writes it; anything else that is no JSON is the address of a file. */
const LINK = /^#?\d+\.[\w-]+(\.[\w~-]+)*$/;

// `all: initial` keeps inherited styles of the page out; what hides an element still hides what is in it.
const FRAME = `
  :host { display: block; }
  :host([hidden]) { display: none; }
  .rl-room { all: initial; display: block; isolation: isolate; visibility: inherit; pointer-events: inherit; container: rowlight / inline-size; }
  .rl-still img { display: block; width: 100%; height: auto; }
  .boot-message, .boot-banner { margin: 0 0 12px; padding: 10px 14px; background: #fbeadd; color: #1c2220; border-left: 4px solid #a83a00;
    font: 14px/1.45 system-ui, sans-serif; }
`;

const frame = new CSSStyleSheet();
frame.replaceSync(FRAME);

let styles = null;
const sheets = new Map();

/** The text of the planner's style sheet, fetched once for a page. */
function stylesText() {
  const address = new URL("./rowlight.css", import.meta.url);
  styles ??= fetchPart(address, "text/css").then((response) =>
    response.text().catch((cause) => {
      throw new Cause(`The download of ${address.pathname} broke off. Load the page again.`, { cause });
    }),
  );
  styles.catch(() => (styles = null));
  return styles;
}

/** The style sheet in a theme, made once for a page. */
function sheetFor(theme, text) {
  if (!sheets.has(theme)) {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(text);
    for (const rule of sheet.cssRules) {
      const asks = rule instanceof CSSMediaRule && rule.conditionText.includes("prefers-color-scheme");
      if (asks && theme !== "auto") rule.media.mediaText = theme === "dark" ? "all" : "not all";
    }
    sheets.set(theme, sheet);
  }
  return sheets.get(theme);
}

/** The text behind the attribute `scenario`: as it stands, or of the file it names. */
async function scenarioText(value) {
  const text = value?.trim();
  if (!text || text.startsWith("{") || LINK.test(text)) return text || undefined;
  let address;
  try {
    address = new URL(text, document.baseURI);
  } catch {
    throw new Cause(`scenario: “${text}” is neither a plan nor an address.`);
  }
  if (address.origin !== location.origin) {
    throw new Cause(`scenario: ${address.href} is on another host. Only files of this page's own are opened.`);
  }
  let response;
  try {
    response = await fetch(address);
  } catch {
    throw new Cause(`scenario: ${address.pathname} could not be fetched.`);
  }
  if (!response.ok) throw new Cause(`scenario: there is no ${address.pathname} (${response.status}).`);
  if (new URL(response.url).origin !== location.origin) {
    throw new Cause(`scenario: ${address.pathname} leads to another host. Only files of this page's own are opened.`);
  }
  const content = await response.text();
  if (content.length > LARGEST) throw new Cause(`scenario: ${address.pathname} is too large to be a plan.`);
  return content;
}

const asText = (scenario) => (typeof scenario === "string" ? scenario : JSON.stringify(scenario));

class RowlightPlan extends HTMLElement {
  static observedAttributes = ATTRIBUTES;
  #room = element("div", "rl-room");
  #place = element("div", "");
  #still = element("div", "rl-still");
  #observer = null;
  #starting = null;
  #handle = null;
  #stay = 0;
  #kept = null;
  // The plan a script of the page gave last; the attribute, set later, comes in its place.
  #latest = null;
  // What was set since the planner was taken away with its plan.
  #since = new Set();
  #turn = 0;
  #unbreak = null;

  constructor() {
    super();
    const root = this.attachShadow({ mode: "open" });
    root.adoptedStyleSheets = [frame];
    this.#room.dir = "ltr";
    this.#room.lang = "en";
    const slot = document.createElement("slot");
    const picture = new Image();
    picture.src = new URL("./picture.svg", import.meta.url).href;
    picture.alt = "Plan of a trellised apple block, drawn to scale.";
    slot.append(picture);
    this.#still.append(slot);
    this.#room.append(this.#place, this.#still);
    root.append(this.#room);
  }

  connectedCallback() {
    for (const name of ATTRIBUTES) {
      // A property set before this class was known hides the accessor of its name.
      if (!Object.hasOwn(this, name)) continue;
      const value = this[name];
      delete this[name];
      this[name] = value;
    }
    if (this.#kept !== null) {
      this.#begin();
      return;
    }
    this.#observer = new IntersectionObserver((seen) => seen.some((entry) => entry.isIntersecting) && this.#begin(), {
      rootMargin: NEAR,
    });
    this.#observer.observe(this);
  }

  disconnectedCallback() {
    this.#stay += 1;
    this.#observer?.disconnect();
    this.#observer = null;
    this.#starting = null;
    this.#unbreak?.();
    this.#unbreak = null;
    if (this.#handle) {
      if (!isBroken()) {
        this.#kept = this.#handle.file() ?? null;
        this.#handle.free();
      }
      this.#handle = null;
    }
    this.#place.replaceChildren();
    this.#room.replaceChildren(this.#place, this.#still);
  }

  attributeChangedCallback(name, before, now) {
    if (before === now || isBroken()) return;
    if (name === "scenario") this.#latest = null;
    if (!this.#handle) {
      // A plan given anew takes the place of the one that was here before.
      if (name === "scenario") this.#kept = null;
      else this.#since.add(name);
      return;
    }
    if (name === "theme") this.#dress().catch(console.error);
    else if (name === "scenario") this.#take();
    else this.#set(name, now);
  }

  #set(name, value) {
    if (!["units", "chapters", "controls", "year"].includes(name) || (name === "year" && value === null)) return;
    this.#handle.set(name, value ?? (name === "units" ? "us" : ""));
  }

  #begin() {
    this.#observer?.disconnect();
    this.#starting ??= this.#mount();
    this.#starting.catch(() => {});
    return this.#starting;
  }

  async #mount() {
    const stay = this.#stay;
    try {
      let glue, given;
      do {
        [glue, given] = await Promise.all([load(), this.#given(), this.#dress()]);
        // The attribute may have been set again while the planner was on its way.
      } while (given.asked !== this.getAttribute("scenario"));
      const { text, wrong } = given;
      if (stay !== this.#stay) throw new Error("The element was taken away before the planner had come.");
      if (isBroken()) throw new Cause("The planner broke on this page. Load the page again.");
      const remember = this.getAttribute("remember");
      const handle = glue.mount(this.#place, {
        place: remember ? `rowlight.${remember}` : undefined,
        scenario: this.#latest ?? text,
        resumed: this.#kept ?? undefined,
        units: this.getAttribute("units") ?? undefined,
        chapters: this.getAttribute("chapters") ?? undefined,
        controls: this.getAttribute("controls") ?? undefined,
        year: this.getAttribute("year") ?? undefined,
        changed: () => this.#changed(),
      });
      this.#handle = handle;
      if (wrong) handle.say(wrong);
      if (this.#kept !== null) {
        for (const name of this.#since) this.#set(name, this.getAttribute(name));
      }
      this.#kept = null;
      this.#since.clear();
      this.#dress().catch(console.error);
      this.#room.replaceChildren(this.#place);
      this.#unbreak = onBreak(() => {
        this.#place.inert = true;
        this.#place.before(brokenBanner("Something broke. The last drawing is still shown."));
      });
      import("./share.js").then(({ shareMenu }) => this.#handle === handle && shareMenu(this.#place, handle, { alone: false })).catch((reason) => {
        console.error(reason);
        if (this.#handle === handle && !isBroken()) handle.lack(NO_MENU);
      });
      this.#tell("rowlight-ready", {});
    } catch (reason) {
      if (stay === this.#stay) this.#fail(reason);
      throw reason;
    }
  }

  #fail(reason) {
    this.#starting = null;
    if (reason instanceof WebAssembly.RuntimeError) markBroken();
    const line = element("p", "boot-message", `${explain(reason)} The picture shows a plan it could start with.`);
    line.setAttribute("role", "alert");
    this.#room.replaceChildren(line, this.#place, this.#still);
    this.#tell("rowlight-error", { message: explain(reason) });
    console.error(reason);
  }

  /** Tells the page of a change by hand. Figures of a chapter whose part doesn't come are missing from it. */
  async #changed() {
    const handle = this.#handle;
    await chapters().catch(() => {});
    if (handle && this.#handle === handle && !isBroken()) this.#tell("rowlight-change", handle.plan());
  }

  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  async #dress() {
    const text = await stylesText();
    const asked = this.getAttribute("theme");
    const theme = THEMES.includes(asked) ? asked : "auto";
    this.#room.dataset.theme = theme;
    this.shadowRoot.adoptedStyleSheets = [frame, sheetFor(theme, text)];
  }

  /** The plan the attribute asks for, or what is wrong with it. */
  async #given() {
    const asked = this.getAttribute("scenario");
    try {
      return { asked, text: await scenarioText(asked) };
    } catch (reason) {
      return { asked, wrong: explain(reason) };
    }
  }

  async #take() {
    const turn = ++this.#turn;
    const handle = this.#handle;
    const { text, wrong } = await this.#given();
    // A file may come after what was asked for later.
    if (this.#turn !== turn || this.#handle !== handle || isBroken()) return;
    if (wrong) handle.say(wrong);
    else {
      handle.open(text ?? START, true);
      if (this.hasAttribute("units")) this.#set("units", this.getAttribute("units"));
    }
  }

  async #ready() {
    if (!this.isConnected) throw new Error("The element must stand in a document.");
    await this.#begin();
    if (isBroken() || !this.#handle) throw new Error("The planner is no longer there.");
    return this.#handle;
  }

  async getScenario() {
    return (await this.#ready()).scenario();
  }

  async setScenario(scenario) {
    const handle = await this.#ready();
    this.#turn += 1;
    const text = asText(scenario);
    const wrong = handle.open(text, false);
    if (wrong) throw new RangeError(wrong);
    this.#latest = text;
  }

  /** The planner, once what is asked for has come; it may have been taken away or have broken meanwhile. */
  async #with(coming) {
    const handle = await this.#ready();
    await coming();
    if (isBroken() || this.#handle !== handle) throw new Error("The planner is no longer there.");
    return handle;
  }

  async getPlan() {
    return (await this.#with(chapters)).plan();
  }

  async getDrawing(view) {
    const handle = await this.#with(() => room("files"));
    const drawing = handle.drawing(view);
    if (drawing === undefined) throw new RangeError(`There is no drawing “${view}”.`);
    return drawing;
  }
}

for (const name of ATTRIBUTES) {
  Object.defineProperty(RowlightPlan.prototype, name, {
    configurable: true,
    enumerable: true,
    get() {
      return this.getAttribute(name);
    },
    set(value) {
      if (value === null || value === undefined) this.removeAttribute(name);
      else this.setAttribute(name, typeof value === "object" ? JSON.stringify(value) : String(value));
    },
  });
}

// A page that includes this file twice, from two addresses, keeps the first.
if (!customElements.get(NAME)) customElements.define(NAME, RowlightPlan);

/** Figures and findings of a scenario, without a planner on the page. */
export async function plan(scenario, units) {
  const glue = await load();
  await chapters();
  return glue.plan(scenario, units);
}
