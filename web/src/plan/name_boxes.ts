/** Boxes of names in pixels, down and to the right, and what lies on them: other names, strokes of lines. */

/** A box turned about its middle, clockwise. */
export interface Box {
  x_px: number;
  y_px: number;
  half_width_px: number;
  half_height_px: number;
  turn_rad: number;
}

/** A stroke that names are to keep clear of: the legs of a line, in metres east and north. */
export interface Stroke {
  flat: ArrayLike<number>;
  /** What it costs to lie on it. */
  weight: number;
  /** Whose it is: a name may lie on its own. */
  of: string;
}

/** Whether two boxes share ground: no line parallel to a side of either parts them. */
export function overlap(a: Box, b: Box): boolean {
  const far_px = Math.hypot(b.x_px - a.x_px, b.y_px - a.y_px);
  if (far_px >= reach(a) + reach(b)) return false;
  return ![a.turn_rad, a.turn_rad + Math.PI / 2, b.turn_rad, b.turn_rad + Math.PI / 2].some((axis_rad) => {
    const apart_px = (b.x_px - a.x_px) * Math.cos(axis_rad) + (b.y_px - a.y_px) * Math.sin(axis_rad);
    return Math.abs(apart_px) >= shadow(a, axis_rad) + shadow(b, axis_rad) - 1e-9;
  });
}

/** How far a box reaches from its middle. */
export function reach(box: Box): number {
  return Math.hypot(box.half_width_px, box.half_height_px);
}

/** Half the length of a box as it falls on an axis. */
function shadow(box: Box, axis_rad: number): number {
  const turned = axis_rad - box.turn_rad;
  return box.half_width_px * Math.abs(Math.cos(turned)) + box.half_height_px * Math.abs(Math.sin(turned));
}

/** How much of a leg lies in a box. [pixels] */
export function lengthInside(box: Box, x0: number, y0: number, x1: number, y1: number): number {
  const [cos, sin] = [Math.cos(box.turn_rad), Math.sin(box.turn_rad)];
  const across = (x: number, y: number) => (x - box.x_px) * cos + (y - box.y_px) * sin;
  const down = (x: number, y: number) => (y - box.y_px) * cos - (x - box.x_px) * sin;
  let [from, to] = [0, 1];
  for (const [start, end, half] of [
    [across(x0, y0), across(x1, y1), box.half_width_px],
    [down(x0, y0), down(x1, y1), box.half_height_px],
  ] as const) {
    const way = end - start;
    if (Math.abs(way) < 1e-9) {
      if (Math.abs(start) >= half) return 0;
      continue;
    }
    const [one, other] = [(-half - start) / way, (half - start) / way];
    from = Math.max(from, Math.min(one, other));
    to = Math.min(to, Math.max(one, other));
  }
  return Math.max(to - from, 0) * Math.hypot(x1 - x0, y1 - y0);
}

const CELL_PX = 160;
const ROW_CELLS = 2 ** 26; // more than a plan has

/** Boxes by where they lie, so that those near one are found without a look at all. */
export class Boxes {
  private readonly cells = new Map<number, Box[]>();

  add(box: Box): void {
    for (const key of cellsOf(box)) {
      const cell = this.cells.get(key);
      if (cell) cell.push(box);
      else this.cells.set(key, [box]);
    }
  }

  /** How many lie on a box. */
  upon(box: Box): number {
    const found = new Set<Box>();
    for (const key of cellsOf(box))
      for (const each of this.cells.get(key) ?? []) if (overlap(each, box)) found.add(each);
    return found.size;
  }
}

/** Cells that a box reaches, each by one number. */
function cellsOf(box: Box): number[] {
  const reach_px = reach(box);
  const cell = (px: number) => Math.floor(px / CELL_PX);
  const [right, bottom] = [cell(box.x_px + reach_px), cell(box.y_px + reach_px)];
  const cells: number[] = [];
  for (let x = cell(box.x_px - reach_px); x <= right; x += 1)
    for (let y = cell(box.y_px - reach_px); y <= bottom; y += 1) cells.push(x * ROW_CELLS + y);
  return cells;
}
