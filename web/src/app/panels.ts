/** The panels beside the drawing, by name: what each is called. */

import { type Key, wordOr } from "../texts/say.ts";

export const PANELS = [
  "findings",
  "chosen",
  "job",
  "posts",
  "order",
  "rolls",
  "tension",
  "strength",
  "price",
  "programme",
  "why",
  "history",
  "take_away",
] as const;

export type PanelName = (typeof PANELS)[number];

/** Views that a narrow screen shows as panels of their own. */
export const NARROW_VIEWS = ["plan", "section"] as const;

export type ViewName = PanelName | (typeof NARROW_VIEWS)[number];

export function titleOf(view: ViewName): Key {
  return `panel_${view}`;
}

/** Stages still to come, in the person's words. */
export function stageNames(stages: readonly string[]): string {
  return stages.map((stage) => wordOr(`stage_${stage.replace(/\W/g, "_")}`, stage)).join(", ");
}
