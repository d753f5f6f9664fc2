/** The long section on a canvas: ground, bands, posts, rails, top line, cuts and uplift, at a scale. */

import { type Board, inSight } from "./board.ts";
import { drawGrid } from "./grid.ts";
import { drawBands, drawGround, drawRails, drawTopLine } from "./lines.ts";
import { drawCuts, drawPosts, drawShifted } from "./standing.ts";
import { drawNames, drawSaid } from "./words.ts";

const LETTERS = "12px system-ui, sans-serif";

/** Draw everything of a line between two stations. */
export function drawSection(board: Board): void {
  const { brush, frame } = board;
  brush.save();
  brush.font = LETTERS;
  drawGrid(board);
  brush.beginPath();
  brush.rect(frame.left, frame.top - 4, frame.width, frame.height + 8);
  brush.clip();
  drawGround(board);
  const shown = inSight(board);
  drawBands(board, shown);
  drawRails(board, shown);
  if (!shown.isDense) drawCuts(board, shown);
  drawPosts(board, shown);
  drawShifted(board);
  drawTopLine(board, shown);
  brush.restore();
  brush.save();
  brush.font = LETTERS;
  drawNames(board);
  drawSaid(board);
  brush.restore();
}
