/** The grid of the long section: stations below, elevations beside. */

import { withCommas } from "../units/show.ts";
import { type Board, rule } from "./board.ts";
import type { SectionLine } from "./model.ts";
import { axisSteps, type Frame, type SectionScale } from "./scale.ts";

const FOOT_M = 0.3048;
/** Width of a figure, about. */
const FIGURE_PX = 7;

/** Stations stand under the drawing as they are along the line: past a closed line's end they begin again. */
export function drawGrid(board: Board): void {
  const { brush, line, scale, frame, inks, system } = board;
  const unit = system === "us" ? FOOT_M : 1;
  brush.strokeStyle = inks.faint;
  brush.fillStyle = inks.soft;
  brush.lineWidth = 1;
  brush.textAlign = "center";
  brush.textBaseline = "top";
  const ticks = stationTicks(line, scale, frame, unit).map(([station, along_m]) => ({
    x: Math.round(scale.across(along_m)) + 0.5,
    words: withCommas(String(Number(station.toFixed(2)))),
  }));
  for (const [place, { x, words }] of ticks.entries()) {
    rule(brush, x, frame.top, x, frame.top + frame.height);
    // where a closed line begins again its first station may stand close behind the last: that gives way
    const next = ticks[place + 1];
    if (next && next.x - x < ((words.length + next.words.length) * FIGURE_PX) / 2 + FIGURE_PX) continue;
    brush.fillText(words, x, frame.top + frame.height + 4);
  }
  const heights = {
    low: scale.elevationAt(frame.top + frame.height) / unit,
    high: scale.elevationAt(frame.top) / unit,
  };
  brush.textAlign = "right";
  brush.textBaseline = "middle";
  for (const step of axisSteps(heights, frame.height / 36)) {
    const y = Math.round(scale.up(step * unit)) + 0.5;
    rule(brush, frame.left, y, frame.left + frame.width, y);
    brush.fillText(withCommas(String(Number(step.toFixed(2)))), frame.left - 6, y);
  }
  brush.textAlign = "left";
  brush.textBaseline = "top";
  brush.fillText(system === "us" ? "ft" : "m", 6, 4);
}

/** Round stations in view, each with its way from the first post: a closed line's begin again at its start. */
function stationTicks(
  line: SectionLine,
  scale: SectionScale,
  frame: Frame,
  unit: number,
): [number, number][] {
  const low = line.start_m + scale.stationAt(frame.left);
  const high = line.start_m + scale.stationAt(frame.left + frame.width);
  const whole = line.start_m > 0 ? line.length_m : Number.POSITIVE_INFINITY;
  const wanted = frame.width / 90 / (high - low);
  const within = (from: number, to: number, shift_m: number): [number, number][] =>
    to > from
      ? axisSteps({ low: from / unit, high: to / unit }, wanted * (to - from)).map((step) => [
          step,
          step * unit + shift_m - line.start_m,
        ])
      : [];
  return [...within(low, Math.min(high, whole), 0), ...within(Math.max(0, low - whole), high - whole, whole)];
}
