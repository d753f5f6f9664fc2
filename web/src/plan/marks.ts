/** The plan's model turned into marks for the map. */

import type Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import OlPoint from "ol/geom/Point.js";
import Polygon from "ol/geom/Polygon.js";
import type { Point } from "../flat/bearing.ts";
import type { Flat } from "../flat/polyline.ts";
import type { FenceSource } from "./fence_source.ts";
import { GateNames, middleOf } from "./gate_names.ts";
import { markOf } from "./looks.ts";
import { flatOf, type PlanGate, type PlanLine, type PlanModel, type PlanObstacle } from "./model.ts";
import { lineNamePlace } from "./naming.ts";
import { PostMarks } from "./post_marks.ts";

const LEAF_STEPS = 12;

/** Marks of what is there and cannot be fenced through, and of the points that a hand can take once it is chosen. */
export function obstacleMarks(model: PlanModel): Feature[] {
  return model.obstacles.flatMap((obstacle, row) => {
    const title = obstacle.name || obstacle.kind;
    const mark = markOf("obstacle", obstacle.name, {
      colour: obstacle.colour,
      letter: obstacle.letter,
      title,
      row,
    });
    mark.setGeometry(obstacleShape(obstacle));
    const handles = obstacle.points.map((at, point) =>
      pointMark("obstacle-point", obstacle.name, at, { row, point }),
    );
    return [mark, ...handles];
  });
}

export function obstacleShape(obstacle: PlanObstacle): OlPoint | LineString | Polygon {
  const points = obstacle.points.map((point) => [...point]);
  if (obstacle.shape === "area") return new Polygon([points]);
  if (obstacle.shape === "line" && points.length > 1) return new LineString(points);
  return new OlPoint(points[0] ?? [0, 0]);
}

/** Marks of the lines, of their names, and of their corners, which a hand can take. */
export function lineMarks(model: PlanModel): Feature[] {
  const things = model.obstacles.map((obstacle) => obstacle.points.flat());
  return model.lines.flatMap((line) => {
    const mark = markOf("line", line.name);
    mark.setGeometry(new LineString(flatOf(line), "XY"));
    const handles = line.points.map((point, corner) =>
      pointMark("corner", `${line.name}/${corner}`, point, { line: line.name, corner }),
    );
    return [mark, ...nameMarks(line, things), ...handles];
  });
}

/** The name of a line beside its longest leg, the way that the leg runs. */
function nameMarks(line: PlanLine, things: readonly Flat[]): Feature[] {
  const flat = flatOf(line);
  let best = { length_m: 0, leg: 0 };
  for (let leg = 0; 2 * leg + 3 < flat.length; leg += 1) {
    const length_m = Math.hypot(...legWay(flat, leg));
    if (length_m > best.length_m) best = { length_m, leg };
  }
  if (best.length_m === 0) return [];
  const [east, north] = legWay(flat, best.leg);
  const start: Point = [flat[2 * best.leg] ?? 0, flat[2 * best.leg + 1] ?? 0];
  const steep_rad = Math.atan2(north, east);
  // words stand upright: a leg that runs west is read from its other end
  const turn_rad =
    Math.abs(steep_rad) > Math.PI / 2 + 1e-9 ? steep_rad - Math.PI * Math.sign(steep_rad) : steep_rad;
  const more = { turn_rad: -turn_rad, leg_m: best.length_m };
  return [pointMark("line-name", line.name, lineNamePlace(start, [east, north], things), more)];
}

function legWay(flat: readonly number[], leg: number): [east: number, north: number] {
  const [x0 = 0, y0 = 0, x1 = 0, y1 = 0] = flat.slice(2 * leg, 2 * leg + 4);
  return [x1 - x0, y1 - y0];
}

/** Marks of posts, braces and gates in a source; those that stay as they are are kept from answer to answer. */
export class FenceMarks {
  private kept = new Map<string, Feature>();
  private readonly posts: PostMarks;

  constructor(private readonly source: FenceSource) {
    this.posts = new PostMarks(source);
  }

  /** Show a model: a mark is known by its place and look, its name may change with the posts before it. */
  show(model: PlanModel): void {
    const next = new Map<string, Feature>();
    const added: Feature[] = [];
    let isOtherwise = false;
    const put = (look: string, name: string, make: () => Feature): Feature => {
      let key = look;
      while (next.has(key)) key += "+";
      const mark = this.kept.get(key) ?? make();
      if (mark.get("id") !== name) {
        mark.set("id", name, true);
        isOtherwise = true;
      }
      if (!this.kept.delete(key)) added.push(mark);
      next.set(key, mark);
      return mark;
    };
    for (const brace of model.braces)
      put(`brace ${brace.from} ${brace.to}`, brace.id, () => braceMark(brace));
    const names = new GateNames(model.gates);
    for (const [place, gate] of model.gates.entries()) {
      const look = `gate ${gate.hinge} ${gate.latch} ${gate.leaf_m} ${gate.opens}`;
      const mark = put(look, gate.name, () => gateMark(gate));
      mark.setProperties({ names, place }, true);
    }
    for (const place of model.were) put(`was ${place}`, "", () => pointMark("was", "", place));
    this.source.removeFeatures([...this.kept.values()]);
    if (added.length) this.source.addFeatures(added);
    this.kept = next;
    if (this.posts.show(model.posts) || isOtherwise) this.source.changed();
  }

  /** Draw these posts from however far. */
  point(ids: ReadonlySet<string>): void {
    this.source.pointed = this.posts.ofLinePosts(ids);
  }
}

function braceMark(brace: PlanModel["braces"][number]): Feature {
  const mark = markOf("brace", brace.id);
  mark.setGeometry(new LineString([[...brace.from], [...brace.to]]));
  return mark;
}

function gateMark(gate: PlanGate): Feature {
  const mark = markOf("gate", gate.name, { middle: new OlPoint([...middleOf(gate)]) });
  mark.setGeometry(new LineString(swung(gate).map((point) => [...point])));
  return mark;
}

function pointMark(kind: string, id: string, at: Point, more: Record<string, unknown> = {}): Feature {
  const mark = markOf(kind, id, more);
  mark.setGeometry(new OlPoint([...at]));
  return mark;
}

/** The leaf swung open a quarter turn: from the latch round to its open place, and back to the hinge. */
function swung(gate: PlanGate): Point[] {
  const shut = Math.atan2(gate.latch[1] - gate.hinge[1], gate.latch[0] - gate.hinge[0]);
  const arc = Array.from({ length: LEAF_STEPS + 1 }, (_, step): Point => {
    const angle = shut + (gate.opens * Math.PI * step) / (2 * LEAF_STEPS);
    return [gate.hinge[0] + gate.leaf_m * Math.cos(angle), gate.hinge[1] + gate.leaf_m * Math.sin(angle)];
  });
  return [gate.hinge, ...arc, gate.hinge];
}
