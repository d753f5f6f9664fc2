/** The names of a plan, set once for each scale: clear of each other, of the fence and of what lies in the ground. */

import type { Flat } from "../flat/polyline.ts";
import { gateChoices } from "./gate_names.ts";
import { extentOf, flatOf, type PlanModel, type PlanPost } from "./model.ts";
import { type Box, Boxes, lengthInside, reach, type Stroke } from "./name_boxes.ts";
import {
  lineChoices,
  longestLeg,
  type NameChoice,
  type NamePlace,
  namePlace,
  obstacleChoices,
} from "./naming.ts";

/** Width of a letter of a name on the plan, about, and of that of a post, which is large; half the height of a name with the room about it, and without. */
const LETTER_PX = 7.5;
const POST_LETTER_PX = 9;
const HALF_LINE_PX = 8;
const HALF_LETTER_PX = 6;
/** Half the size of the mark of a post that is no line post. */
const HALF_POST_PX = 7;
/** Metres a pixel below which posts (but line posts), gates and things in the way have their names. */
export const NAMED_UNDER_M = { post: 0.25, gate: 0.6, obstacle: 1.2 };
/** A line has its name where that is no wider than this part of its longest leg. */
const PART_OF_LEG = 0.6;
/** What it costs to lie on another name, on the mark of a post, on a stroke (for each, and for its length), or beyond all. */
const COST = { name: 10, post: 5, fence: 4, thing: 3, length_px: 40, beyond: 6 };
/** Names farther than this beyond all that is drawn are cut where all of it is shown. */
const MARGIN_PX = 24;
/** Names of gates that are longer stand in two lines. */
const LONG = 18;
/** Where the name of a post may stand. [pixels] */
export const POST_NAME_PX = -16;
const POST_NAMES = [
  { right_px: 0, down_px: POST_NAME_PX, align: "center" },
  { right_px: 0, down_px: -POST_NAME_PX, align: "center" },
  { right_px: -12, down_px: 0, align: "right" },
  { right_px: 12, down_px: 0, align: "left" },
] as const;

/** How a name is set: from which place, how far from it, which way it is written from there, and turned. */
export type NameSet = Omit<NameChoice, "cost">;

/** How a name is set, and whether there is room for it: one that would lie on another is not shown as a rule. */
interface Placed {
  set: NameSet | undefined;
  hasRoom: boolean;
}

interface Sets {
  metres_px: number;
  posts: ReadonlyMap<string, NameSet>;
  gates: readonly Placed[];
  lines: ReadonlyMap<string, Placed>;
  obstacles: readonly Placed[];
}

export class PlanNames {
  private sets: Sets | null = null;
  private readonly fences: readonly Flat[];
  private readonly strokes: readonly Stroke[];
  private readonly fixed: readonly PlanPost[];
  /** Where what lies in the way is clear of the fence; sought when it is first asked for. */
  private readonly clear: Map<number, NamePlace | null>;

  /** Names of a model; what was found out for the model `before` is kept as long as it holds. */
  constructor(
    private readonly model: PlanModel,
    before: PlanNames | null = null,
  ) {
    const isAsBefore = before?.model.lines === model.lines && before.model.obstacles === model.obstacles;
    this.clear = before && isAsBefore ? before.clear : new Map();
    this.fences = model.lines.map(flatOf);
    this.fixed = model.posts.filter((post) => post.role !== "line");
    this.strokes = [
      ...model.lines.map(({ name }, place) => ({
        flat: this.fences[place] ?? [],
        weight: COST.fence,
        of: `line ${name}`,
      })),
      ...model.obstacles.map(({ points, shape }, row) => ({
        flat: (shape === "area" ? [...points, ...points.slice(0, 1)] : points).flat(),
        weight: COST.thing,
        of: `obstacle ${row}`,
      })),
    ];
  }

  /** The name of a post that is no line post; undefined where there is no room for it. */
  post(id: string, metres_px: number): NameSet | undefined {
    return this.at(metres_px).posts.get(id);
  }

  /** The name of a gate; where it has no room, of one that is to be shown all the same. */
  gate(place: number, metres_px: number, isWanted = false): NameSet | undefined {
    return shown(this.at(metres_px).gates[place], isWanted);
  }

  line(name: string, metres_px: number, isWanted = false): NameSet | undefined {
    return shown(this.at(metres_px).lines.get(name), isWanted);
  }

  obstacle(row: number, metres_px: number, isWanted = false): NameSet | undefined {
    return shown(this.at(metres_px).obstacles[row], isWanted);
  }

  private clearPlace(row: number): NamePlace | null {
    const thing = this.model.obstacles[row];
    if (thing && !this.clear.has(row)) this.clear.set(row, namePlace(thing, this.fences));
    return this.clear.get(row) ?? null;
  }

  private at(metres_px: number): Sets {
    if (this.sets?.metres_px !== metres_px) this.sets = this.setAt(metres_px);
    return this.sets;
  }

  /** First the posts, which have the least choice; then gates, lines, and what lies in the way. */
  private setAt(metres_px: number): Sets {
    const { model } = this;
    const room = new Room(metres_px, this.strokes, model);
    const posts = new Map<string, NameSet>();
    if (metres_px < NAMED_UNDER_M.post) {
      for (const post of this.fixed) room.mark(post);
      for (const post of this.fixed) {
        const set = room.postName(post);
        if (set) posts.set(post.id, set);
      }
    }
    const gates = model.gates.map((gate) => {
      const name = inTwo(gate.name);
      const choices = gateChoices(gate, metres_px, name.split("\n").length);
      return room.set(name, choices, "", metres_px < NAMED_UNDER_M.gate);
    });
    const lines = new Map<string, Placed>();
    model.lines.forEach(({ name }, place) => {
      const flat = this.fences[place] ?? [];
      const longest = longestLeg(flat);
      const isNear = (PART_OF_LEG * longest.length_m) / metres_px >= widthOf([name]);
      lines.set(name, room.set(name, lineChoices(flat, longest), `line ${name}`, isNear));
    });
    const obstacles = model.obstacles.map((thing, row) =>
      room.set(
        titleOf(thing),
        obstacleChoices(thing, this.clearPlace(row), metres_px),
        `obstacle ${row}`,
        metres_px < NAMED_UNDER_M.obstacle,
      ),
    );
    return { metres_px, posts, gates, lines, obstacles };
  }
}

function shown(placed: Placed | undefined, isWanted: boolean): NameSet | undefined {
  return placed?.hasRoom || isWanted ? placed?.set : undefined;
}

/** A name, a long one in two lines: parted at the space that is nearest to its middle. */
export function inTwo(name: string): string {
  if (name.length <= LONG) return name;
  const spaces = [...name.matchAll(/ /g)].map(({ index }) => index);
  const off = (at: number) => Math.abs(at - name.length / 2);
  const [part] = spaces.sort((a, b) => off(a) - off(b));
  return part === undefined ? name : `${name.slice(0, part)}\n${name.slice(part + 1)}`;
}

/** What the plan calls a thing that lies in the way: with the letter of the public-works code. */
export function titleOf({ name, kind, letter }: PlanModel["obstacles"][number]): string {
  return letter ? `${letter} · ${name || kind}` : name || kind;
}

/** A leg of a stroke in pixels. */
type Leg = readonly [x0: number, y0: number, x1: number, y1: number, weight: number];

/** What is taken already at one scale. */
class Room {
  private readonly names = new Boxes();
  private readonly marks = new Boxes();
  private sought: { extent: readonly number[] | null } | null = null;

  constructor(
    private readonly metres_px: number,
    private readonly strokes: readonly Stroke[],
    private readonly model: PlanModel,
  ) {}

  mark({ at: [x, y] }: PlanPost): void {
    this.marks.add({
      x_px: x / this.metres_px,
      y_px: -y / this.metres_px,
      half_width_px: HALF_POST_PX,
      half_height_px: HALF_POST_PX,
      turn_rad: 0,
    });
  }

  /** Set the name of a post where it lies on no other: above it, or else below or beside. */
  postName({ id, at }: PlanPost): NameSet | undefined {
    for (const way of POST_NAMES) {
      const set = { at, ...way, turn_rad: 0 };
      const box = boxOf(POST_LETTER_PX * id.length, set, this.metres_px);
      if (this.names.upon(box) || (way !== POST_NAMES[0] && this.marks.upon(box))) continue;
      this.names.add(box);
      return set;
    }
    return undefined;
  }

  /** Set a name where it costs least, and take its room; from too far it has none. */
  set(name: string, choices: readonly NameChoice[], of: string, isNear: boolean): Placed {
    if (!isNear) return { set: choices[0], hasRoom: false };
    const lines = name.split("\n");
    const boxes = choices.map((choice) => boxOf(widthOf(lines), choice, this.metres_px, lines.length));
    const legs = this.legsNear(boxes, of);
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    choices.forEach((choice, place) => {
      const box = boxes[place] as Box;
      const cost = choice.cost < least ? choice.cost + this.costOf(box, legs) : least;
      if (cost < least) [best, least] = [place, cost];
    });
    const box = boxes[best];
    const hasRoom = box !== undefined && this.names.upon(box) === 0;
    if (hasRoom) this.names.add(box);
    return { set: choices[best], hasRoom };
  }

  private costOf(box: Box, legs: readonly Leg[]): number {
    const letters = { ...box, half_height_px: box.half_height_px - HALF_LINE_PX + HALF_LETTER_PX };
    let cost = COST.name * this.names.upon(box) + COST.post * this.marks.upon(box);
    if (this.isBeyond(box)) cost += COST.beyond;
    for (const [x0, y0, x1, y1, weight] of legs) {
      const inside_px = lengthInside(letters, x0, y0, x1, y1);
      if (inside_px > 0) cost += weight * (0.5 + inside_px / COST.length_px);
    }
    return cost;
  }

  /** Lowest and highest east and north of all that is drawn. */
  private get extent(): readonly number[] | null {
    this.sought ??= { extent: extentOf(this.model) };
    return this.sought.extent;
  }

  private isBeyond({ x_px, half_width_px }: Box): boolean {
    const [left = 0, , right = 0] = this.extent ?? [-Infinity, 0, Infinity];
    return (
      x_px - half_width_px < left / this.metres_px - MARGIN_PX ||
      x_px + half_width_px > right / this.metres_px + MARGIN_PX
    );
  }

  /** Legs of strokes that come near some of the boxes, but those of the name's own thing. */
  private legsNear(boxes: readonly Box[], of: string): Leg[] {
    const { metres_px } = this;
    const [left, right, high, low] = [
      Math.min(...boxes.map((box) => box.x_px - reach(box))),
      Math.max(...boxes.map((box) => box.x_px + reach(box))),
      Math.min(...boxes.map((box) => box.y_px - reach(box))),
      Math.max(...boxes.map((box) => box.y_px + reach(box))),
    ];
    const legs: Leg[] = [];
    for (const { flat, weight, of: owner } of this.strokes) {
      if (owner === of) continue;
      for (let at = 0; at + 3 < flat.length; at += 2) {
        const [x0, x1] = [(flat[at] ?? 0) / metres_px, (flat[at + 2] ?? 0) / metres_px];
        if (Math.max(x0, x1) < left || Math.min(x0, x1) > right) continue;
        const [y0, y1] = [-(flat[at + 1] ?? 0) / metres_px, -(flat[at + 3] ?? 0) / metres_px];
        if (Math.max(y0, y1) >= high && Math.min(y0, y1) <= low) legs.push([x0, y0, x1, y1, weight]);
      }
    }
    return legs;
  }
}

function widthOf(lines: readonly string[]): number {
  return LETTER_PX * Math.max(...lines.map((line) => line.length));
}

/** The box that a name of a width, in so many lines, fills where it is set so: what it is moved by turns with it. */
function boxOf(
  width_px: number,
  { at, right_px, down_px, align, turn_rad }: NameSet,
  metres_px: number,
  lines = 1,
): Box {
  const half_width_px = width_px / 2;
  const across = right_px + { left: half_width_px, center: 0, right: -half_width_px }[align];
  const [cos, sin] = [Math.cos(turn_rad), Math.sin(turn_rad)];
  return {
    x_px: at[0] / metres_px + across * cos - down_px * sin,
    y_px: -at[1] / metres_px + across * sin + down_px * cos,
    half_width_px,
    half_height_px: lines * HALF_LINE_PX,
    turn_rad,
  };
}
