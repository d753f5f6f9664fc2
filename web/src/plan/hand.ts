/** The hand on the plan: it chooses, drags, boxes and draws, with the tool that it holds. */

import PointerInteraction from "ol/interaction/Pointer.js";
import type OlMap from "ol/Map.js";
import type MapBrowserEvent from "ol/MapBrowserEvent.js";
import type { Point } from "../flat/bearing.ts";
import { type DragBoard, Dragging } from "./dragging.ts";
import { type Held, isSame, postsInBox, takenOf } from "./hands.ts";
import { replace } from "./map.ts";
import { type SketchBoard, type Sketching, stroke } from "./sketching.ts";
import { handleUnder, isFinger, reachOf, thingsUnder } from "./under_hand.ts";

/** A press so near the one before is at the same place. [pixels] */
const SAME_PRESS_PX = { mouse: 8, touch: 20 };

/** The plan as the hand sees it, and what the hand asks of it. */
export interface PlanBoard extends SketchBoard, DragBoard {
  readonly locked: boolean;
  readonly chosen: string;
  readonly chosenRow: number;
  /** Points, lines and angles catch the hand. */
  readonly catching: boolean;
  /** Whether an obstacle's points stand in the job, not in a file. */
  isOwn(row: number): boolean;
  /** Draw the marks again as the model has them. */
  settle(): void;
  finish(closed?: boolean): void;
}

export class PlanHand {
  private box: Point | null = null;
  private drag: Dragging | null = null;
  /** What the last press took, and where. */
  private pressed: { thing: Held; pixel: readonly number[]; resolution: number } | null = null;

  constructor(
    private readonly map: OlMap,
    private readonly frame: HTMLElement,
    private readonly board: PlanBoard,
    private readonly sketching: Sketching,
  ) {
    map.addInteraction(
      new PointerInteraction({
        handleDownEvent: (event) => this.taken(event),
        handleDragEvent: (event) => this.dragged(event),
        handleUpEvent: (event) => this.dropped(event),
        handleMoveEvent: (event) => this.hovered(event),
        stopDown: (handled) => handled,
      }),
    );
    map.on("click", (event) => this.clicked(event));
    map.on("dblclick", (event) => {
      if (this.sketching.sketch.points.length) {
        event.preventDefault();
        board.finish();
      }
    });
  }

  /** Something is in the hand: the marks that it moves are not drawn anew. */
  get isHolding(): boolean {
    return this.drag !== null;
  }

  /** Let go of what is held and leave it where it was; false where nothing is held. */
  cancel(): boolean {
    const { drag } = this;
    if (!drag && !this.box) return false;
    this.drag = null;
    this.box = null;
    replace(this.board.sources.sketched, []);
    this.board.settle();
    if (drag?.moved) this.board.tell("try-ended", null);
    return true;
  }

  /** How far the hand is caught now: not at all with Alt, or where catching is off. [m] */
  private reach(event: MapBrowserEvent): number {
    const isFree = !this.board.catching || (event.originalEvent as PointerEvent).altKey;
    return isFree ? 0 : reachOf(this.map, event);
  }

  private taken(event: MapBrowserEvent): boolean {
    const { tool, locked } = this.board;
    if (tool === "box") {
      this.box = event.coordinate as unknown as Point;
      return true;
    }
    if (tool !== "choose" || locked) return false;
    const thing = this.draggable(event);
    if (!thing) return false;
    this.drag = new Dragging(thing, this.board);
    return true;
  }

  /** What a drag from here would move; null where it moves the view. */
  private draggable(event: MapBrowserEvent): Held | null {
    const handle = this.board.chosenRow >= 0 ? handleUnder(this.map, event) : null;
    if (handle && this.board.isOwn(handle.row ?? -1)) return handle;
    const things = thingsUnder(this.map, event, this.board.model);
    const [first] = things;
    if (first?.kind !== "corner") return first?.kind === "gate" ? first : null;
    // of corners at one place the chosen one is meant
    return things.find((each) => each.kind === "corner" && each.id === this.board.chosen) ?? first;
  }

  private dragged(event: MapBrowserEvent): void {
    const hand = event.coordinate as unknown as Point;
    if (this.box) {
      const [from, to] = [this.box, hand];
      const ring: Point[] = [from, [to[0], from[1]], to, [from[0], to[1]], from];
      replace(this.board.sources.sketched, [stroke(ring, true)]);
      return;
    }
    const moved = this.drag?.to(hand, this.reach(event));
    if (moved) this.board.tell("thing-dragged", moved);
  }

  private dropped(event: MapBrowserEvent): boolean {
    const { box, drag } = this;
    this.box = null;
    this.drag = null;
    if (box || drag) replace(this.board.sources.sketched, []);
    if (box)
      this.board.tell("posts-boxed", postsInBox(this.board.model, box, event.coordinate as unknown as Point));
    else if (drag?.moved) this.board.tell("thing-moved", drag.moved);
    return false;
  }

  private hovered(event: MapBrowserEvent): void {
    if (this.board.tool === "choose") {
      const [thing] = thingsUnder(this.map, event, this.board.model);
      const isHandle = this.board.chosenRow >= 0 && handleUnder(this.map, event) !== null;
      this.frame.style.cursor = isHandle ? "move" : thing ? "pointer" : "";
      this.board.tell("post-hovered", thing?.kind === "post" ? thing.id : "");
      return;
    }
    this.frame.style.cursor = "crosshair";
    if (this.board.tool !== "box")
      this.sketching.hover(event.coordinate as unknown as Point, this.reach(event));
  }

  private clicked(event: MapBrowserEvent): void {
    const { tool, locked } = this.board;
    if (tool === "box") return;
    if (tool === "choose") {
      this.choose(event);
      return;
    }
    if (locked && tool !== "measure") return;
    const hand = event.coordinate as unknown as Point;
    this.sketching.hover(hand, this.reach(event));
    const { isClosing, next } = this.sketching.sketch;
    if (isClosing) this.board.finish(true);
    else this.sketching.add(next?.point ?? hand);
  }

  /** Presses at one place walk through all that lies there. */
  private choose(event: MapBrowserEvent): void {
    const here = thingsUnder(this.map, event, this.board.model);
    const resolution = this.map.getView().getResolution() ?? 0;
    const before = this.pressed;
    const slop_px = isFinger(event) ? SAME_PRESS_PX.touch : SAME_PRESS_PX.mouse;
    const away_px = before
      ? Math.hypot(...event.pixel.map((each, i) => each - (before.pixel[i] ?? 0)))
      : Number.POSITIVE_INFINITY;
    const isAgain =
      away_px <= slop_px && before?.resolution === resolution && before.thing.id === this.board.chosen;
    const thing = takenOf(here, isAgain ? before.thing : null);
    this.pressed = thing && { thing, pixel: isAgain ? before.pixel : event.pixel, resolution };
    this.board.tell("thing-chosen", thing && { ...thing, here });
  }

  /** A thing was chosen from what lay under the press: the next press at its place goes on from there. */
  chose(thing: Held): void {
    const { pressed } = this;
    if (pressed && !isSame(pressed.thing, thing)) this.pressed = { ...pressed, thing };
  }
}
