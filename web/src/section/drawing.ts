/** The long section on a canvas: ground, bands, posts, rails, top line, cuts and uplift, at a scale. */

import type { System } from "../units/show.ts";
import { type Brush, type Inks, inSight, type Marked } from "./board.ts";
import { drawGrid } from "./grid.ts";
import { drawBands, drawGround, drawRails, drawTopLine } from "./lines.ts";
import type { SectionLine } from "./model.ts";
import type { Frame, SectionScale } from "./scale.ts";
import { drawCuts, drawPosts, drawShifted } from "./standing.ts";
import { drawNames, drawSaid } from "./words.ts";

const LETTERS = "12px system-ui, sans-serif";

/** Draw everything of a line between two stations. */
export function drawSection(
  brush: Brush,
  line: SectionLine,
  scale: SectionScale,
  frame: Frame,
  inks: Inks,
  marked: Marked,
  system: System,
): void {
  brush.save();
  brush.font = LETTERS;
  drawGrid(brush, line, scale, frame, inks, system);
  brush.beginPath();
  brush.rect(frame.left, frame.top - 4, frame.width, frame.height + 8);
  brush.clip();
  drawGround(brush, line, scale, frame, inks);
  const shown = inSight(line, scale, frame);
  drawBands(brush, line, scale, inks, shown);
  drawRails(brush, line, scale, inks, shown);
  if (!shown.isDense) drawCuts(brush, line, scale, inks, marked, shown);
  drawPosts(brush, line, scale, inks, marked, shown);
  drawShifted(brush, line, scale, inks, marked);
  drawTopLine(brush, line, scale, inks, marked, shown);
  brush.restore();
  brush.save();
  brush.font = LETTERS;
  drawNames(brush, line, scale, frame, inks);
  drawSaid(brush, line, scale, frame, inks, marked, system);
  brush.restore();
}
