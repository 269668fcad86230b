// Types of `rowlight-plan.js`. `embedding.html` tells how to use it.

import type { Chapter, ControlGroup, Drawing, Entries, FigureKey } from "./rowlight-scenario.js";

export type { Chapter, ControlGroup, Drawing, FigureKey };

/** What a person has set, in SI units: the object of a scenario file. What is absent takes its default. */
export type Scenario = Entries;

/** A link to a plan as the planner writes it, without an address before it. */
export type Link = string;

export type Units = "us" | "metric";
/** Everything, nothing but the years, or a list of groups and fields with spaces between. */
export type Controls = "shown" | "locked" | ControlGroup | (string & {});
export type Theme = "auto" | "light" | "dark";
export type Certainty = "standard" | "published" | "common practice" | "assumption";

/** One result. */
export interface Figure {
  readonly key: FigureKey;
  readonly label: string;
  /** The head it is listed under. */
  readonly subject: string;
  /** In SI units; `null` where the plan has no such value. */
  readonly value: number | null;
  /** In `unit`, not rounded. */
  readonly number: number | null;
  /** Unit of `number`; empty for a plain number. */
  readonly unit: string;
  /** As the planner writes it, or what is said in place of a value. */
  readonly text: string;
  readonly certainty: Certainty;
  readonly source: string;
}

/** Something the planner advises. */
export interface Finding {
  readonly rule: string;
  readonly severity: string;
  readonly title: string;
  /** What was found, and what cures it, as the planner says it. */
  readonly text: string;
  readonly source: string;
  /** What cures it, the least change first; empty where nothing within range does by itself. */
  readonly remedies: readonly Remedy[];
}

/** A change that cures a finding and brings no new one that asks for a fix. */
export interface Remedy {
  readonly text: string;
  /** Fields of a scenario and their values, as a scenario holds them. */
  readonly changes: Partial<Scenario>;
}

export interface Plan {
  /** Complete: every field is there. */
  readonly scenario: Scenario;
  readonly link: Link;
  readonly units: Units;
  readonly figures: readonly Figure[];
  /** The gravest first. */
  readonly findings: readonly Finding[];
}

/** Events of the element; all bubble and leave shadow roots. */
export interface RowlightPlanEvents {
  /** A hand has changed the plan. Not sent for what the page itself has set. Waits for the files of all chapters as `getPlan` does; where one can't be fetched, it is sent without what that file holds. */
  "rowlight-change": CustomEvent<Plan>;
  /** The planner stands. */
  "rowlight-ready": CustomEvent<Record<string, never>>;
  /** The planner can't start; the message says why and what to do. */
  "rowlight-error": CustomEvent<{ readonly message: string }>;
}

/** `<rowlight-plan>`. A property is its attribute; `null` takes it away. */
export interface RowlightPlan extends HTMLElement {
  /** The plan to begin with: JSON, a link, or the address of a scenario file on the same host. */
  get scenario(): string | null;
  set scenario(scenario: string | Scenario | null);
  get units(): string | null;
  set units(units: Units | null);
  /** Chapters shown, with spaces between; all where it is absent. */
  get chapters(): string | null;
  set chapters(chapters: string | null);
  get controls(): string | null;
  set controls(controls: Controls | null);
  /** The year shown. */
  get year(): string | null;
  set year(year: string | number | null);
  get theme(): string | null;
  set theme(theme: Theme | null);
  /** A name to keep the plan under in the browser's storage; without it nothing is kept. Read when the planner starts. */
  get remember(): string | null;
  set remember(remember: string | null);

  /** Each of these starts the planner if it hasn't started, and rejects where it can't or the element stands in no document. */
  getScenario(): Promise<Scenario>;
  /** One step to undo. Rejects with a `RangeError` that names the wrong fields, and changes nothing then. */
  setScenario(scenario: Scenario | Link): Promise<void>;
  /** Waits for the files of all chapters; rejects where one of them can't be fetched, and the next call tries again. */
  getPlan(): Promise<Plan>;
  /** The drawing as SVG. Waits for the file that makes files, and rejects where it can't be fetched. */
  getDrawing(view: Drawing): Promise<string>;

  addEventListener<K extends keyof RowlightPlanEvents>(
    type: K,
    listener: (this: RowlightPlan, event: RowlightPlanEvents[K]) => unknown,
    options?: boolean | AddEventListenerOptions,
  ): void;
  addEventListener<K extends keyof HTMLElementEventMap>(
    type: K,
    listener: (this: RowlightPlan, event: HTMLElementEventMap[K]) => unknown,
    options?: boolean | AddEventListenerOptions,
  ): void;
}

/** Figures and findings of a scenario, without a planner on the page. Waits for the files of all chapters. Rejects with an error that names the wrong fields. */
export function plan(scenario: Scenario | Link, units?: Units): Promise<Plan>;

declare global {
  interface HTMLElementTagNameMap {
    "rowlight-plan": RowlightPlan;
  }
}
