/** Everything that can be chosen by its name, in groups. */

import { type Held, isSame } from "../plan/hands.ts";
import type { PlanModel } from "../plan/model.ts";
import { inPage } from "../texts/program.ts";
import { type Key, say } from "../texts/say.ts";
import { heldMark, marksOf, STANDING_TABLES } from "./standing.ts";

export interface Choice {
  held: Held;
  words: string;
}

const MOST = 400; // a list longer than that serves nobody: the plan does

/** Whether posts are too many to be listed: one is chosen by typing its name. */
export function hasManyPosts(model: PlanModel | null): boolean {
  return (model?.posts.length ?? 0) > MOST;
}

/** Groups that are not empty, each with its title; of one that is too long only what is chosen. */
export function chooserGroups(
  model: PlanModel | null,
  asked: Record<string, unknown>,
  held: Held | null = null,
): [title: string, things: Choice[]][] {
  if (!model) return [];
  const named = (held: Held): Choice => ({ held, words: held.id });
  const marks = marksOf(asked);
  const groups: [string, Choice[]][] = [
    [say("lines"), model.lines.map((line) => named({ kind: "line", id: line.name }))],
    [say("corners"), cornersOf(model)],
    [say("gates"), model.gates.map((gate) => named({ kind: "gate", id: gate.name }))],
    ...STANDING_TABLES.filter((table) => table !== "gate").map((table): [string, Choice[]] => [
      say(`table_${table}` as Key),
      marks
        .filter((mark) => mark.table === table)
        .map((mark) => ({ held: heldMark(mark), words: mark.words })),
    ]),
    [say("obstacles"), obstaclesOf(model)],
    [say("posts"), model.posts.map((post) => named({ kind: "post", id: post.id }))],
  ];
  return groups
    .map(([title, things]): [string, Choice[]] => [
      title,
      things.length > MOST ? things.filter((each) => isSame(each.held, held)) : things,
    ])
    .filter(([, things]) => things.length > 0);
}

function cornersOf(model: PlanModel): Choice[] {
  return model.lines.flatMap((line) =>
    line.points.map((_, corner) => ({
      held: { kind: "corner", id: `${line.name}/${corner}`, line: line.name, corner },
      words: say("corner_of", { number: corner + 1, line: line.name }),
    })),
  );
}

function obstaclesOf(model: PlanModel): Choice[] {
  return model.obstacles.map((thing, row) => ({
    held: { kind: "obstacle", id: thing.name, row },
    words: `${row + 1}. ${thing.name || inPage(thing.kind)}`,
  }));
}
