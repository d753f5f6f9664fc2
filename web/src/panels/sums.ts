/** Sums of the whole job that have a why: the word for each on the page, and the name by which its why is asked. */

import type { Key } from "../texts/say.ts";

export const SUMS = [
  { word: "fence_length", thing: "fence length" },
  { word: "posts", thing: "posts" },
  { word: "rail_length", thing: "rail length" },
  { word: "panel_rolls", thing: "rolls" },
  { word: "pulls", thing: "pulls" },
  { word: "bags_net", thing: "bags" },
] as const satisfies readonly { word: Key; thing: string }[];

export type Sum = (typeof SUMS)[number]["thing"];
