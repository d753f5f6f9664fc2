/** What the long section says: names of fixed posts where there is room, and the numbers of the post that is marked. */

import { say } from "../texts/say.ts";
import { type System, showForce, showLong, showSmall } from "../units/show.ts";
import type { Board } from "./board.ts";
import { type SectionPost, stationAlong } from "./model.ts";

const LINE_PX = 17;
const PAD_PX = 7;
/** Between a post and its numbers. */
const BESIDE_PX = 16;

export function drawNames(board: Board): void {
  const { brush, line, scale, frame, inks } = board;
  brush.textAlign = "center";
  brush.textBaseline = "bottom";
  brush.fillStyle = inks.ink;
  let free = Number.NEGATIVE_INFINITY;
  for (const post of line.posts) {
    if (post.role === "line") continue;
    const x = scale.across(post.station_m);
    if (x < Math.max(free, frame.left) || x > frame.left + frame.width) continue;
    const half = brush.measureText(post.id).width / 2 + 4;
    const isInside = x - half >= frame.left && x + half <= frame.left + frame.width;
    if (!isInside || x - half < free) continue;
    brush.fillText(post.id, x, frame.top - 6);
    free = x + half;
  }
}

/** The numbers of a post as the section says them: what it is and where; then what is sawn off, and what lifts it. */
export function saidOf(post: SectionPost, station_m: number, top_m: number, system: System): string[] {
  const stands = `${post.id}  ${showLong(station_m, system)}  ${showSmall(top_m - post.ground_m, system)}`;
  const cut_m = post.cut_m === null ? null : post.cut_m + post.top_m - top_m;
  const rest = [
    cut_m === null ? "" : `${say("cut")} ${showSmall(Math.max(0, cut_m), system)}`,
    post.uplift_n > 0 ? `${say("uplift")} ${showForce(post.uplift_n, system)}` : "",
  ].filter(Boolean);
  return rest.length ? [stands, rest.join("  ")] : [stands];
}

/** The numbers of the post under the hand, or of the chosen one, in a box beside it: its top stays in sight. */
export function drawSaid(board: Board): void {
  const { brush, line, scale, frame, inks, marked, system } = board;
  const { dragged, shifted } = marked;
  const pointed = marked.hovered >= 0 ? marked.hovered : marked.selected;
  const place = dragged?.place ?? shifted?.place ?? pointed;
  const post = line.posts[place];
  if (!post) return;
  const top_m = dragged?.top_m ?? post.top_m;
  const along_m = shifted?.station_m ?? post.station_m;
  const x = scale.across(along_m);
  if (x < frame.left - 1 || x > frame.left + frame.width + 1) return;
  const lines = saidOf(post, stationAlong(line, along_m), top_m, system);
  const width = Math.max(...lines.map((text) => brush.measureText(text).width)) + 2 * PAD_PX;
  const height = lines.length * LINE_PX + 4;
  const hasRoom = x + BESIDE_PX + width <= frame.left + frame.width;
  const left = hasRoom ? x + BESIDE_PX : Math.max(frame.left, x - BESIDE_PX - width);
  const lowest = frame.top + frame.height - height - 2;
  const y = Math.min(lowest, Math.max(frame.top + 2, scale.up(top_m) - height / 2));
  brush.fillStyle = inks.paper;
  brush.strokeStyle = inks.accent;
  brush.lineWidth = 1;
  brush.beginPath();
  brush.rect(left, y, width, height);
  brush.fill();
  brush.stroke();
  brush.fillStyle = inks.ink;
  brush.textAlign = "left";
  brush.textBaseline = "middle";
  lines.forEach((text, row) => {
    brush.fillText(text, left + PAD_PX, y + 2.5 + LINE_PX * (row + 0.5));
  });
}
