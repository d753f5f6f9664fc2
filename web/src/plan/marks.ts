/** The plan's model turned into marks for the map. */

import type Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import OlPoint from "ol/geom/Point.js";
import Polygon from "ol/geom/Polygon.js";
import type { Point } from "../flat/bearing.ts";
import type { FenceSource } from "./fence_source.ts";
import { markOf } from "./looks.ts";
import { flatOf, type PlanGate, type PlanLine, type PlanModel, type PlanObstacle } from "./model.ts";
import { longestLeg } from "./naming.ts";
import { titleOf } from "./plan_names.ts";
import { PostMarks } from "./post_marks.ts";

const LEAF_STEPS = 12;

/** Marks of what is there and cannot be fenced through, and of the points that a hand can take once it is chosen. */
export function obstacleMarks(model: PlanModel): Feature[] {
  return model.obstacles.flatMap((obstacle, row) => {
    const title = titleOf(obstacle);
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
  return model.lines.flatMap((line) => {
    const mark = markOf("line", line.name);
    mark.setGeometry(new LineString(flatOf(line), "XY"));
    const handles = line.points.map((point, corner) =>
      pointMark("corner", `${line.name}/${corner}`, point, { line: line.name, corner }),
    );
    return [mark, ...nameMarks(line), ...handles];
  });
}

/** The mark of a line's name: it lies along the longest leg, where the name may stand. */
function nameMarks(line: PlanLine): Feature[] {
  const flat = flatOf(line);
  const { leg, length_m } = longestLeg(flat);
  if (length_m === 0) return [];
  const mark = markOf("line-name", line.name);
  mark.setGeometry(new LineString(flat.slice(2 * leg, 2 * leg + 4), "XY"));
  return [mark];
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
    for (const [place, gate] of model.gates.entries()) {
      const look = `gate ${gate.hinge} ${gate.latch} ${gate.leaf_m} ${gate.opens}`;
      const mark = put(look, gate.name, () => gateMark(gate));
      mark.set("place", place, true);
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
  const mark = markOf("gate", gate.name);
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
