/** What is offered beside the chosen thing, where a new design lays posts otherwise. */

import type { ReactiveControllerHost } from "lit";
import { expect, test } from "vitest";
import { Choosing } from "../src/app/choosing.ts";
import type { DrawnJob } from "../src/app/drawn_job.ts";
import type { Point } from "../src/flat/bearing.ts";
import type { Held } from "../src/plan/hands.ts";

const corner: Held = { kind: "corner", id: "home/1", line: "home", corner: 1 };
const post: Held = { kind: "post", id: "P20" };
const line: Held = { kind: "line", id: "home", station_m: 60, at: [60, 0] };

function drawn(corner_at: Point, posts: Record<string, Point>): DrawnJob["plan"] {
  return {
    lines: [{ name: "home", points: [[0, 0], corner_at, [60, 40]] }],
    posts: Object.entries(posts).map(([id, at]) => ({ id, at, line: "home", station_m: at[0] })),
    gates: [],
    obstacles: [],
  } as unknown as DrawnJob["plan"];
}

function chosen(): { choosing: Choosing; show: (plan: DrawnJob["plan"]) => void } {
  const job = { plan: drawn([60, 0], { P20: [60, 0], P16: [48, 0] }), showLine: () => undefined };
  const host = { requestUpdate: () => undefined } as unknown as ReactiveControllerHost;
  const choosing = new Choosing(host, job as unknown as DrawnJob);
  choosing.choose({ ...corner, here: [corner, post, line] });
  return {
    choosing,
    show: (plan) => {
      job.plan = plan;
      choosing.drew();
    },
  };
}

test("what lay under the press is offered while it lies there, whatever else changes", () => {
  const { choosing, show } = chosen();
  expect(choosing.next).toMatchObject(post);
  show(drawn([60, 0], { P20: [60, 0], P16: [47, 0] }));
  expect(choosing.next).toMatchObject(post);
});

test("a corner that was dragged offers no post that stands elsewhere by now", () => {
  const { choosing, show } = chosen();
  show(drawn([48, 0], { P16: [48, 0], P20: [48, 12] }));
  expect(choosing.held).toEqual(corner);
  expect([choosing.next, choosing.others]).toEqual([null, []]);
});

test("nor one that is another post by now, or gone, though the corner stayed", () => {
  const { choosing, show } = chosen();
  show(drawn([60, 0], { P19: [60, 0], P20: [60, 3] }));
  expect(choosing.next).toBeNull();
  const other = chosen();
  other.show(drawn([60, 0], { P19: [60, 0] }));
  expect(other.choosing.next).toBeNull();
});

test("posts that are laid out anew stay chosen where they stand, whatever their number", () => {
  const { choosing, show } = chosen();
  choosing.choose(post);
  choosing.together(["P20", "P16"]);
  show(drawn([60, 0], { P21: [60, 0], P17: [48, 0], P20: [57, 0], P16: [45, 0] }));
  expect(choosing.held).toMatchObject({ id: "P21" });
  expect([...choosing.several]).toEqual(["P21", "P17"]);
  show(drawn([60, 0], { P21: [59, 0], P17: [47, 0] })); // moved a little: nobody stands where it stood
  expect([...choosing.several]).toEqual(["P21", "P17"]);
});
